"""What the functions of the Calc add-in need while they run, on Python's own library alone.

This file is copied into the add-in as it is: the Python that comes with LibreOffice has no numpy. Where a calculation has no
result the helpers give NaN instead of raising, because a term may stand in a branch that is not taken.
"""

from __future__ import annotations

import math
import struct
from collections.abc import Callable, Sequence
from typing import Any

_nan = float("nan")
# LibreOffice keeps an error value inside a matrix as a NaN that carries the error's number; 503 is #NUM!
ERROR = struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | 503))[0]


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
    """A cell's value as a number; NaN for a blank, text or an error value."""
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else _nan


def result(value: Any) -> float:
    """What goes back to the cell: a number, or the error value where there is none."""
    value = number(value)
    return value if math.isfinite(value) else ERROR


def rows_of(value: Any) -> Any:
    """An argument as rows of cells; a single value is one row of one cell."""
    return value if isinstance(value, (tuple, list)) else ((value,),)


def spread(function: Callable[..., float], arguments: Sequence[Any]) -> Any:
    """A function over ranges: single values, rows and columns are repeated to the size of the largest range."""
    tables = [rows_of(value) for value in arguments]
    height = max(len(table) for table in tables)
    width = max(len(table[0]) for table in tables)
    for table in tables:
        if len(table) not in (1, height) or len(table[0]) not in (1, width):
            return ERROR
    if height == 1 and width == 1:
        return result(function(*[number(table[0][0]) for table in tables]))
    return tuple(
        tuple(result(function(*[_at(table, row, column) for table in tables])) for column in range(width))
        for row in range(height)
    )


def _at(table: Any, row: int, column: int) -> float:
    line = table[row if len(table) > 1 else 0]
    return number(line[column if len(line) > 1 else 0])


def whole(
    function: Callable[..., Any], arguments: Sequence[Any], is_range: Sequence[bool], bounds: Sequence[tuple[Any, ...]]
) -> float:
    """A function of whole ranges: each range becomes one list; anything but numbers inside the bounds has no result."""
    values = []
    for value, as_list, (low, high, low_open, high_open) in zip(arguments, is_range, bounds):  # noqa: B905 - runs in older Python too
        cells = [number(cell) for row in rows_of(value) for cell in row]
        for cell in cells:
            if not ((cell > low if low_open else cell >= low) and (cell < high if high_open else cell <= high)):
                return ERROR
        if not as_list and len(cells) != 1:
            return ERROR
        values.append(cells if as_list else cells[0])
    try:
        return result(function(*values))
    except (ArithmeticError, ValueError):
        return ERROR
