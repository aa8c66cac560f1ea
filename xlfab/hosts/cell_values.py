"""What a spreadsheet hands over, as numbers: anything that is no number becomes NaN, which goes back as an error value."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np

from xlfab.core.errors import InputError
from xlfab.core.registry import Function

# How COM hands over an error cell (#NULL!, #DIV/0!, #VALUE!, #REF!, #NAME?, #NUM!, #N/A, ...): whole numbers of this span
_ERROR_CODES = range(-2146826300, -2146826200)


def cell_number(value: Any) -> float:
    """One cell as a number; NaN for a blank, text, a truth value, a date or an error cell: none of them is guessed at.

    >>> cell_number(2.5), cell_number(None), cell_number("2.5"), cell_number(True)
    (2.5, nan, nan, nan)
    """
    if isinstance(value, bool) or not isinstance(value, (int, float, Decimal)):
        return float("nan")
    if isinstance(value, int) and value in _ERROR_CODES:
        return float("nan")
    return float(value)


def with_all_digits(value: Any, bare: Any) -> Any:
    """Cells as COM hands them over, but amounts from `bare`: of a cell with a currency format COM makes a Decimal of four digits.

    >>> with_all_digits(((Decimal("0.1235"), "text"),), ((0.12345678, "text"),))
    ((0.12345678, 'text'),)
    """
    if isinstance(value, (list, tuple)):
        return tuple(with_all_digits(*pair) for pair in zip(value, bare, strict=True))
    return bare if isinstance(value, Decimal) else value


def holds_currency(value: Any) -> bool:
    """True if some cell is an amount of money to COM."""
    return any(map(holds_currency, value)) if isinstance(value, (list, tuple)) else isinstance(value, Decimal)


def cell_numbers(value: Any) -> Any:
    """A cell as a float, or a range (rows of cells) as a float array of its shape."""
    if isinstance(value, (list, tuple)):
        rows = value if value and isinstance(value[0], (list, tuple)) else [value]
        return np.array([[cell_number(item) for item in row] for row in rows], dtype=float)
    return cell_number(value)


def call_on_cells(function: Function, arguments: tuple[Any, ...]) -> list[list[float]]:
    """Call a registered function on cells and ranges, broadcast as numpy does; a grid of results, NaN where there is none."""
    values = [cell_numbers(item) for item in arguments]
    if function.spec.is_range:
        values = [
            np.asarray(v).reshape(-1) if a.is_range else v for v, a in zip(values, function.spec.arguments, strict=True)
        ]
    try:
        result = np.asarray(function(*values, invalid="nan"), dtype=float)
    except InputError:  # ranges whose shapes do not fit together
        result = np.asarray(np.nan)
    if result.ndim < 2:
        result = result.reshape(1, -1)
    return [[float(item) for item in row] for row in result]
