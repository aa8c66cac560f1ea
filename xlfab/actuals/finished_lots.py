"""Actual times of finished lots against the estimate: bias and spread by operation, and factors that the user may accept.

Ratios of times are skewed, so the middle is the median, its interval the distribution-free one from order statistics, and the
spread the quartile ratio. A factor is suggested only where the interval leaves out 1: inside it, the estimate is as good as any.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import ScenarioError
from xlfab.core.numbers import Unreadable, decimal_number
from xlfab.core.reading import numbered_csv

COLUMNS = ("lot", "operation", "estimated_min", "actual_min")
CONFIDENCE = 0.9
LEAST_LOTS = 5
SHOWN, SHOWN_LETTERS = 20, 40
MOST_MINUTES = 1e7  # twenty years in one lot
# operations whose times a quote corrects by a factor, and what else they are called
FACTORS = {
    "shear": "shear_time_factor_ratio",
    "press brake": "brake_time_factor_ratio",
    "set-up": "setup_time_factor_ratio",
}
_ALSO = {
    "shear": ("shearing", "cutting"),
    "press brake": ("brake", "bending", "press braking"),
    "set-up": ("set up", "setup"),
}
_NAMED = {other: name for name, others in _ALSO.items() for other in (name.replace("-", " "), *others)}


@dataclass(frozen=True)
class Bias:
    """One operation: lots, totals, quartiles of actual over estimate, the median's interval, and a factor if one is suggested."""

    operation: str
    lots: int
    estimated_min: float
    actual_min: float
    median_ratio: float
    low: float
    high: float
    first_quartile: float
    third_quartile: float
    factor: float | None

    @property
    def quartile_ratio(self) -> float:
        """Third over first quartile: how far lots lie apart."""
        return self.third_quartile / self.first_quartile

    @property
    def total_ratio(self) -> float:
        """Actual over estimated time of all lots together."""
        return self.actual_min / self.estimated_min

    @property
    def finding(self) -> str:
        """What the lots say, in words."""
        if self.factor is not None:
            return "longer than estimated" if self.factor > 1 else "shorter than estimated"
        if self.lots < LEAST_LOTS:
            return f"too few lots: {LEAST_LOTS} are needed"
        return "no clear difference"


def operation_of(text: str) -> str:
    """An operation by the name that is used here, whatever the spelling; other operations stay as they are called.

    >>> operation_of("Set_up"), operation_of(" BENDING"), operation_of("Welding bench")
    ('set-up', 'press brake', 'Welding bench')
    """
    plain = " ".join(text.split())
    return _NAMED.get(re.sub(r"[-_]", " ", plain).casefold(), plain)


def read_actuals(path: Path) -> Any:
    """A table of lots from CSV with columns lot, operation, estimated_min, actual_min; faults name the line."""
    import pandas as pd

    lines = [(line, row) for line, row in numbered_csv(path) if any(cell.strip() for cell in row)]
    header = [cell.strip().lower() for cell in lines[0][1]] if lines else []
    missing = [name for name in COLUMNS if name not in header]
    if missing:
        raise ScenarioError(f"{path}: column {', '.join(missing)} is missing; found: {', '.join(header)}")
    if len(lines) < 2:
        raise ScenarioError(f"{path}: has a header and no rows")
    faults: list[str] = []
    records = [_record(dict(zip(header, row, strict=False)), f"line {line}", faults) for line, row in lines[1:]]
    if faults:
        more = f"; and {len(faults) - SHOWN} more" if len(faults) > SHOWN else ""
        raise ScenarioError(f"{path}: " + "; ".join(faults[:SHOWN]) + more)
    return pd.DataFrame(records, columns=list(COLUMNS))


def _record(cells: dict[str, str], where: str, faults: list[str]) -> dict[str, Any]:
    record: dict[str, Any] = {name: cells.get(name, "").strip() for name in COLUMNS}
    for name in ("estimated_min", "actual_min"):
        try:
            record[name] = _minutes(record[name])
        except Unreadable as error:
            faults.append(
                f"{where}, {name}: '{record[name][:SHOWN_LETTERS]}' {error}: write minutes above 0, such as 12.5"
            )
    if not record["operation"]:
        faults.append(f"{where}, operation: the cell is empty")
    record["operation"] = operation_of(record["operation"])
    return record


def _minutes(text: str) -> float:
    value = decimal_number(text)
    if not 0 < value <= MOST_MINUTES:
        raise Unreadable(f"must be above 0 and at most {MOST_MINUTES:g}")
    return value


def biases(table: Any) -> list[Bias]:
    """Bias and spread of every operation, the one with most estimated time first."""
    groups = table.groupby(table["operation"].str.casefold(), sort=False)
    found = [_bias(str(group["operation"].iloc[0]), group) for _, group in groups]
    return sorted(found, key=lambda item: -item.estimated_min)


def _bias(name: str, group: Any) -> Bias:
    ratios = np.sort((group["actual_min"] / group["estimated_min"]).to_numpy())
    low, high = median_interval(ratios)
    first, middle, third = (float(value) for value in np.quantile(ratios, [0.25, 0.5, 0.75]))
    clear = len(ratios) >= LEAST_LOTS and (low > 1 or high < 1)
    return Bias(
        operation=name,
        lots=len(ratios),
        estimated_min=float(group["estimated_min"].sum()),
        actual_min=float(group["actual_min"].sum()),
        median_ratio=middle,
        low=low,
        high=high,
        first_quartile=first,
        third_quartile=third,
        factor=round(middle, 3) if clear else None,
    )


def median_interval(ordered: Any) -> tuple[float, float]:
    """The narrowest pair of order statistics that holds the median with the stated confidence; from 0 to infinity where too few.

    The chance that the median lies below the r-th value is a binomial sum, whatever the distribution.

    >>> median_interval(np.arange(1.0, 11.0))
    (2.0, 9.0)
    """
    count = len(ordered)
    tail = 0.0
    rank = 0  # how many values can be left out on each side
    while rank < count // 2:
        tail += math.comb(count, rank) / 2**count
        if 2 * tail > 1 - CONFIDENCE:
            break
        rank += 1
    if rank == 0:
        return 0.0, math.inf
    return float(ordered[rank - 1]), float(ordered[count - rank])
