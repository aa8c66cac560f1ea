"""What a meter's channel shows of its own faults: codes for over range, a range that cuts off, a unit that cannot be, a row number."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.meter.log_columns import Column, Roles

if TYPE_CHECKING:
    from xlfab.meter.log_file import Log

Values = NDArray[np.floating[Any]]
LEAST_KW, MOST_KW = (
    0.3,
    200.0,
)  # the highest readings of one machine lie between these; beyond them the unit is asked for
NOTHING_KW = 0.08
CODE_TIMES, CODE_RATIO = 3, 3.0  # a code stands so often, so far above every other reading
CODE_OFTEN = 20  # or so many times as often as any other value below zero
CUT_TIMES, CUT_SHARE = 20, 0.04  # readings at exactly the highest value, and their share of those above half of it
NEGATIVE_CODES = (-1, -9, -99, -999, -9999, -99999, -32768)


def without_codes(power: Values, load: list[Column], log: Log) -> Values:
    """Take out values that stand often and far above all others (9999, 65535), and -1 or -999 in place of a reading."""
    factor = load[0].factor if len(load) == 1 else 1.0
    for _ in range(3):
        top = np.nanmax(power)
        mine = power == top
        rest = np.nanmax(np.where(mine, np.nan, power)) if not mine.all() else top
        if np.sum(mine) < CODE_TIMES or top < CODE_RATIO * max(rest, 1e-9):
            break
        power = _taken_out(power, mine, float(top) / factor, log)
    below = power[power < 0]
    for code in NEGATIVE_CODES:
        mine = power == np.float32(code) * np.float32(factor)
        times, others = int(mine.sum()), np.unique(below)
        usual = (len(below) - times) / max(len(others) - 1, 1)  # how often any other value below zero stands
        if times >= CODE_TIMES and times > CODE_OFTEN * usual and _out_of_place(power, mine):
            power = _taken_out(power, mine, code, log)
    return power


def _out_of_place(power: Values, mine: NDArray[np.bool_]) -> bool:
    """True if values below zero are more than the noise of a machine that is off: far below, or beside high readings."""
    places, high = np.flatnonzero(mine), float(np.nanquantile(power, 0.999))
    beside = power[np.concatenate([np.maximum(places - 1, 0), np.minimum(places + 1, len(power) - 1)])]
    return float(power[places[0]]) < -0.005 * high or float(np.nanmedian(beside)) > 0.1 * high


def _taken_out(power: Values, mine: NDArray[np.bool_], raw: float, log: Log) -> Values:
    log.limits.append(
        f"{int(mine.sum())} readings are exactly {raw:g}, far from all others: a code of the logger (over range, no reading), left out. "
        "If it means over range, strokes and the 15-minute maximum are read too low"
    )
    return np.asarray(np.where(mine, np.float32(np.nan), power))


def check_unit(power: Values, roles: Roles, unit: str, file: str) -> None:
    """Refuse a power that no machine has, unless the user has said the unit."""
    high = float(np.nanquantile(power, 0.995))
    if unit or NOTHING_KW <= high <= MOST_KW:
        return
    heading = roles.load[0].heading
    what = "more than a press brake or shear draws" if high > MOST_KW else "less than a machine draws at work"
    raise ScenarioError(
        f"{file}: by the heading '{heading}' the highest readings are {high:.3g} kW, {what}: is the unit in the heading wrong? "
        "Say the unit of the values with --unit W or --unit kW (Wh or kWh for energy)"
    )


def check_range(power: Values, log: Log) -> None:
    """Say so where many readings stand at exactly the highest value of all: the meter's range cut them off."""
    top = np.nanmax(power)
    with np.errstate(invalid="ignore"):
        at_top, high = int(np.sum(power >= top * (1 - 1e-5))), int(np.sum(power > 0.5 * top))
        below = int(np.sum((power > 0.985 * top) & (power < top * (1 - 1e-5))))
    if (
        at_top >= CUT_TIMES
        and at_top > CUT_SHARE * high
        and at_top > 2 * below
        and len(np.unique(power[:200_000])) > 100
    ):
        log.limits.append(
            f"{at_top} readings stand at exactly {top:.4g} kW, the highest of all: the meter's range may cut off what is above "
            "(clipped); power and energy of strokes and the 15-minute maximum may be too low"
        )


def stroke_increments(series: dict[int, Values], column: Column | None, named: bool, log: Log) -> Values | None:
    """Strokes in each row, from a running count or from marks of 0 and 1; a row number is none."""
    if column is None:
        return None
    counts = np.nan_to_num(series[column.place])
    if counts.max(initial=0) <= 1:
        return counts
    steps = np.maximum(np.diff(counts, prepend=counts[:1]), 0)
    if np.mean(steps > 0) <= 0.5:
        return steps
    if named:
        raise ScenarioError(
            f"{log.title}: '{column.heading}' rises in almost every row: it is a row number, not a count of strokes"
        )
    log.notes.append(f"'{column.heading}' rises in almost every row, so it is not taken for a count of strokes")
    return None
