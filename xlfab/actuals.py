"""Actual times of finished lots against the estimate: bias and spread by operation, and factors that the user may accept.

Ratios of times are skewed, so the middle is the median, its interval the distribution-free one from order statistics, and the
spread the quartile ratio. A factor is suggested only where the interval leaves out 1: inside it, the estimate is as good as any.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.errors import ScenarioError
from xlfab.reading import read_csv

COLUMNS = ("lot", "operation", "estimated_min", "actual_min")
CONFIDENCE = 0.9
LEAST_LOTS = 5


@dataclass(frozen=True)
class Bias:
    """One operation: lots, totals, median of actual over estimate with its interval, quartile ratio, suggested factor if any."""

    operation: str
    lots: int
    estimated_min: float
    actual_min: float
    median_ratio: float
    low: float
    high: float
    quartile_ratio: float
    factor: float | None


def read_actuals(path: Path) -> Any:
    """A table of lots from CSV with columns lot, operation, estimated_min, actual_min; faults name the line."""
    import pandas as pd

    rows = [row for row in read_csv(path) if any(cell.strip() for cell in row)]
    header = [cell.strip().lower() for cell in rows[0]] if rows else []
    missing = [name for name in COLUMNS if name not in header]
    if missing:
        raise ScenarioError(f"{path}: column {', '.join(missing)} is missing; found: {', '.join(header)}")
    if len(rows) < 2:
        raise ScenarioError(f"{path}: has a header and no rows")
    faults, records = [], []
    for line, row in enumerate(rows[1:], 2):
        cells = dict(zip(header, (cell.strip() for cell in row), strict=False))
        record: dict[str, Any] = {name: cells.get(name, "") for name in COLUMNS}
        for name in ("estimated_min", "actual_min"):
            value = _positive(record[name])
            if value is None:
                faults.append(f"line {line}, {name}: '{record[name]}' must be a number above 0")
            record[name] = value
        if not record["operation"]:
            faults.append(f"line {line}, operation: the cell is empty")
        records.append(record)
    if faults:
        raise ScenarioError(
            f"{path}: " + "; ".join(faults[:20]) + (f"; and {len(faults) - 20} more" if len(faults) > 20 else "")
        )
    return pd.DataFrame(records, columns=list(COLUMNS))


def _positive(text: Any) -> float | None:
    try:
        value = float(str(text).replace(",", ".") if str(text).count(",") == 1 and "." not in str(text) else text)
    except ValueError:
        return None
    return value if 0 < value < math.inf else None


def biases(table: Any) -> list[Bias]:
    """Bias and spread of every operation, the one with most estimated time first."""
    found = [_bias(str(name), group) for name, group in table.groupby("operation", sort=False)]
    return sorted(found, key=lambda item: -item.estimated_min)


def _bias(name: str, group: Any) -> Bias:
    ratios = np.sort((group["actual_min"] / group["estimated_min"]).to_numpy())
    low, high = median_interval(ratios)
    first, middle, third = np.quantile(ratios, [0.25, 0.5, 0.75])
    clear = len(ratios) >= LEAST_LOTS and (low > 1 or high < 1)
    return Bias(
        operation=name,
        lots=len(ratios),
        estimated_min=float(group["estimated_min"].sum()),
        actual_min=float(group["actual_min"].sum()),
        median_ratio=float(middle),
        low=low,
        high=high,
        quartile_ratio=float(third / first),
        factor=round(float(middle), 2) if clear else None,
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
