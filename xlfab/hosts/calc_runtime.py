"""What the functions of the Calc add-in need while they run, on Python's own library alone.

This file is copied into the add-in as it is: the Python that comes with LibreOffice has no numpy. Where a calculation has no
result the helpers give NaN instead of raising, because a term may stand in a branch that is not taken.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

_nan = float("nan")
# what a cell shows as #NUM!: LibreOffice takes a result that is no number as an error value, in ranges too
ERROR = ((_nan,),)


def _div(a: float, b: float) -> float:
    try:
        return a / b
    except ZeroDivisionError:
        return _nan


def _pow(a: float, b: float) -> float:
    try:
        value: Any = float(a) ** b
    except (ZeroDivisionError, OverflowError):
        return _nan
    return _nan if isinstance(value, complex) else float(value)


def _guarded(function: Callable[[float], float], low: float, high: float) -> Callable[[float], float]:
    """A function of `math` with NaN outside the span in which it has a result."""

    def guarded(x: float) -> float:
        if not low <= x <= high:
            return _nan
        try:
            return function(x)
        except (ValueError, OverflowError):
            return _nan

    return guarded


_sqrt = _guarded(math.sqrt, 0.0, math.inf)
_exp = _guarded(math.exp, -math.inf, 709.7)
_log = _guarded(math.log, 5e-324, math.inf)
_log10 = _guarded(math.log10, 5e-324, math.inf)
_log2 = _guarded(math.log2, 5e-324, math.inf)
_asin = _guarded(math.asin, -1.0, 1.0)
_acos = _guarded(math.acos, -1.0, 1.0)
_floor = _guarded(lambda x: float(math.floor(x)), -1e300, 1e300)


def _is_number(x: Any) -> bool:
    return isinstance(x, float) and math.isfinite(x)


def number(value: Any) -> float:
    """A cell's value as a number; NaN for text or for what is not there. (LibreOffice itself hands over a single blank cell as 0.)"""
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else _nan


def result(value: Any) -> float:
    """What goes back to a cell: a number, or NaN where there is none."""
    value = number(value)
    return value if math.isfinite(value) else _nan


def rows_of(value: Any) -> Any:
    """An argument as rows of cells; a single value is one row of one cell."""
    return value if isinstance(value, (tuple, list)) else ((value,),)


def spread(function: Callable[..., float], arguments: Sequence[Any]) -> Any:
    """A function over ranges: single values, rows and columns are repeated to the size of the largest range."""
    tables = [rows_of(value) for value in arguments]
    height = max(len(table) for table in tables)
    width = max(len(table[0]) for table in tables)
    if any(len(table) not in (1, height) or len(table[0]) not in (1, width) for table in tables):
        return ERROR
    return tuple(
        tuple(result(function(*[_at(table, row, column) for table in tables])) for column in range(width))
        for row in range(height)
    )


def _at(table: Any, row: int, column: int) -> float:
    line = table[row if len(table) > 1 else 0]
    return number(line[column if len(line) > 1 else 0])


def whole(function: Callable[..., Any], bounds: Sequence[Any], arguments: Sequence[Any]) -> Any:
    """A function of whole ranges: each range becomes one list; anything but numbers inside the bounds has no result.

    `bounds` says for each argument whether it is a range, its lowest and highest value, and whether those two lie outside.
    """
    values: list[Any] = []
    for value, (as_list, low, high, low_open, high_open) in zip(arguments, bounds):  # noqa: B905 - older Python has no strict
        cells = [number(cell) for row in rows_of(value) for cell in row]
        inside = [(x > low if low_open else x >= low) and (x < high if high_open else x <= high) for x in cells]
        if not all(inside) or not (as_list or len(cells) == 1):
            return ERROR
        values.append(cells if as_list else cells[0])
    try:
        return ((result(function(*values)),),)
    except (ArithmeticError, ValueError):
        return ERROR


class Arrays:
    """The few array operations that functions of whole ranges use, for single numbers."""

    nan = _nan
    sqrt = staticmethod(_sqrt)
    log = staticmethod(_log)
    exp = staticmethod(_exp)
    abs = staticmethod(abs)

    @staticmethod
    def max(a: float) -> float:
        """The largest of one number."""
        return a

    @staticmethod
    def where(condition: Any, yes: float, no: float) -> float:
        """One of two numbers."""
        return yes if condition else no

    @staticmethod
    def maximum(a: float, b: float) -> float:
        """The larger of two numbers."""
        return a if a > b else b

    @staticmethod
    def minimum(a: float, b: float) -> float:
        """The smaller of two numbers."""
        return a if a < b else b

    @staticmethod
    def isfinite(a: float) -> bool:
        """True for a number that is neither NaN nor infinite."""
        return math.isfinite(a)
