"""What is compared: a function, its points, and what Python gives for them. And how two results are compared."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.registry import Function
from xlfab.hosts.conformance.points import Point, points, reference, roughness

Results = NDArray[np.float64]
TOLERANCE = 1e-12
SLACK = 100  # roundings that a host may make in another order than Python
# what a host gave that is neither a number nor an error value (text, blank, true, a stale result): never acceptable
WRONG = np.inf


@dataclass(frozen=True)
class Case:
    """A function at its points; `expected` holds Python's results, NaN where there is none; `rough` what double arithmetic leaves open."""

    function: Function
    points: list[Point]
    expected: Results
    rough: Results

    @property
    def width(self) -> int:
        """How many cells a point takes at most in one row."""
        return max(len(cells_of(point)) for point in self.points)

    def apart(self, got: Iterable[float]) -> Results:
        """Relative difference at each point; where double arithmetic itself is rough, what lies within that roughness does not count."""
        found = np.asarray(list(got), dtype=float)
        with np.errstate(invalid="ignore"):
            within = np.abs(self.expected - found) <= SLACK * self.rough
        apart = difference(self.expected, found)
        return np.where(within, np.minimum(apart, TOLERANCE), apart)


def case(function: Function, count: int) -> Case:
    """A function with its points and their expected results."""
    chosen = points(function, count)
    expected = np.array([reference(function, point) for point in chosen])
    return Case(function, chosen, expected, roughness(function, chosen))


def cells_of(point: Point) -> list[Any]:
    """A point as the cells of one row; a range of cells takes one cell each."""
    cells: list[Any] = []
    for value in point:
        cells.extend(value) if isinstance(value, tuple) else cells.append(value)
    return cells


def references_of(point: Point, row: int) -> list[str]:
    """The cell or range of each argument of a point that stands in a row, from column A on."""
    from xlsxwriter.utility import xl_range, xl_rowcol_to_cell

    texts: list[str] = []
    column = 0
    for value in point:
        if isinstance(value, tuple):
            texts.append(xl_range(row, column, row, column + len(value) - 1))
            column += len(value)
        else:
            texts.append(xl_rowcol_to_cell(row, column))
            column += 1
    return texts


def as_result(value: Any) -> float:
    """What stands in a cell as a result: a number, NaN for an error value, WRONG for anything else.

    >>> as_result("2.5"), as_result("#NUM!"), as_result("Err:502"), as_result("")
    (2.5, nan, nan, inf)
    """
    if isinstance(value, str):
        if value.startswith(("#", "Err:")):
            return float("nan")
        try:
            value = float(value)
        except ValueError:
            return WRONG
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return WRONG
    return float(value) if np.isfinite(value) and value != STALE else WRONG


STALE = -987654.25  # stored in the file as every result: what comes back like this was not recalculated


def difference(expected: Results, got: Iterable[float]) -> Results:
    """Relative difference point by point; 0 where both have no result, infinite where only one has.

    A result of exactly 0 has no relative difference: there the difference is against the function's median result.
    """
    got = np.asarray(list(got), dtype=float)
    known = np.abs(expected[np.isfinite(expected) & (expected != 0)])
    usual = float(np.median(known)) if known.size else 1.0
    size = np.where(expected == 0, usual, np.maximum(np.abs(expected), np.abs(got)))
    with np.errstate(all="ignore"):
        relative = np.where(expected == got, 0.0, np.abs(expected - got) / size)
    only_one = np.isnan(expected) != np.isnan(got)
    relative = np.where(np.isnan(expected) & np.isnan(got), 0.0, relative)
    return np.where(only_one | np.isinf(got), np.inf, relative)
