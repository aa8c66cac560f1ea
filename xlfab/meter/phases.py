"""Three phases of one machine: each must draw, and draw about as much as the others, or a clamp is reversed or missing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.meter.log_columns import Column, Roles

if TYPE_CHECKING:
    from xlfab.meter.log_file import Log

Values = NDArray[np.floating[Any]]
DEAD_SHARE, UNEVEN_SHARE, LEANING_SHARE = (
    0.02,
    0.5,
    0.75,
)  # of the weakest phase to the strongest, while the machine works
SUM_SHARE = 0.05  # between a total and the sum of its phases


def check(roles: Roles, series: dict[int, Values], log: Log) -> None:
    """Check sign and balance of the phases, and that a total is their sum. ScenarioError where they cannot be right."""
    columns = roles.power if len(roles.power) > 1 else roles.checked
    if not columns:
        if roles.named and roles.power[0].phase:
            log.limits.append(
                f"only phase '{roles.power[0].heading}' counts, as you said: other phases are not in any figure"
            )
        return
    values = [series[column.place] * np.float32(column.factor) for column in columns]
    _check_signs(columns, values, log.title)
    if len(columns) >= 3 or not roles.named:
        _check_balance(roles, columns, values, log)
    if roles.checked:
        if len(columns) == 3:
            _check_total(roles.power[0], series[roles.power[0].place] * np.float32(roles.power[0].factor), values, log)
        return
    log.notes.append(f"sum of {len(columns)} phases: {', '.join(column.heading for column in columns)}")
    if len(columns) < 3:
        log.limits.append(f"{len(columns)} columns are added, as you said: a third phase is not in any figure")


def _check_signs(columns: list[Column], values: list[Values], file: str) -> None:
    means = [float(np.nanmean(value, dtype=np.float64)) for value in values]
    if all(mean <= 0 for mean in means):
        raise ScenarioError(f"{file}: power is negative most of the time: the current clamps point the wrong way")
    strongest = max(abs(mean) for mean in means)
    wrong = [place for place, mean in enumerate(means) if mean < -0.02 * strongest]
    if wrong:
        names = ", ".join(f"'{columns[place].heading}'" for place in wrong)
        raise ScenarioError(
            f"{file}: phase {names} is negative while the others draw power: its current clamp is reversed. As it stands the mean is "
            f"{sum(means):.3g} kW, with all phases drawing {sum(abs(mean) for mean in means):.3g} kW; turn the clamp round and log again"
        )


def _check_balance(roles: Roles, columns: list[Column], values: list[Values], log: Log) -> None:
    """Compare the phases where the machine works: there a motor on three phases draws evenly."""
    busiest = np.maximum.reduce([np.abs(value) for value in values])
    working = busiest >= 0.5 * np.nanquantile(busiest, 0.995)
    shares = np.array([float(np.nanmean(value[working], dtype=np.float64)) for value in values])
    weakest = int(np.argmin(shares))
    ratio = float(shares[weakest] / max(shares.max(), 1e-9))
    told = ", ".join(f"'{column.heading}' {kw:.3g} kW" for column, kw in zip(columns, shares, strict=True))
    if ratio < DEAD_SHARE or (ratio < UNEVEN_SHARE and not roles.named):
        what = "draws nothing" if ratio < DEAD_SHARE else "draws less than half of the strongest"
        say = " ".join(f'--column "{column.heading}"' for column in columns)
        way = "" if ratio < DEAD_SHARE else f"; if the machine is so, say {say}"
        raise ScenarioError(
            f"{log.title}: phase '{columns[weakest].heading}' {what} while the machine works ({told}): is its clamp missing, open or "
            f"set to another range? Check it and log again{way}"
        )
    if ratio < LEANING_SHARE:
        log.limits.append(
            f"the phases are out of balance while the machine works ({told}): check clamps and ranges before you use it"
        )


def _check_total(total: Column, power: Values, values: list[Values], log: Log) -> None:
    whole = float(np.nanmean(power, dtype=np.float64))
    parts = sum(float(np.nanmean(value, dtype=np.float64)) for value in values)
    if abs(whole - parts) > SUM_SHARE * max(abs(whole), abs(parts)) + 0.005:
        raise ScenarioError(
            f"{log.title}: '{total.heading}' has a mean of {whole:.3g} kW and its phases together {parts:.3g} kW: one of them is wrong; "
            "name the columns that count with --column"
        )
