"""Turning what a caller gives into float64 arrays, and finding the first bad element."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.arguments import Argument
from xlfab.core.errors import InputError

Numbers = NDArray[np.float64]


def as_numbers(value: Any, argument: Argument) -> Numbers | float:
    """A float or float64 array of the same shape; text, blanks, dates and objects are refused, never guessed."""
    if type(value) is float or type(value) is np.float64:
        return value
    if value is None or isinstance(value, (str, bytes, bool)):
        raise InputError(f"{argument.label} ({argument.name}) = {value!r} is not a number")
    if isinstance(value, int):
        return float(value)
    array = np.asarray(value)
    if array.dtype.kind not in "fiu":
        raise InputError(f"{argument.label} ({argument.name}) holds {array.dtype} values, not numbers")
    return array.astype(np.float64, copy=False)


def span(value: Numbers | float) -> tuple[float, float]:
    """The least and the greatest element, NaN if any is NaN: two reductions, no temporary."""
    if isinstance(value, float):
        return value, value
    return np.minimum.reduce(value, axis=None), np.maximum.reduce(value, axis=None)


def inside(value: Numbers | float, argument: Argument) -> bool:
    """True if every element lies inside the hard bounds (NaN does not)."""
    if not isinstance(value, float) and value.size == 0:
        return True
    return argument.accepts(*span(value))


def bad_elements(value: Numbers | float, argument: Argument) -> NDArray[np.bool_]:
    """Mark the elements outside the hard bounds, NaN among them."""
    array = np.asarray(value)
    above = array > argument.low if argument.low_open else array >= argument.low
    below = array < argument.high if argument.high_open else array <= argument.high
    return ~(above & below)


def complaint(value: Numbers | float, argument: Argument) -> str:
    """One sentence on the first bad element: label, name, value, unit, allowed range, place."""
    array = np.asarray(value)
    place = ""
    if array.ndim:
        index = np.unravel_index(int(np.argmax(bad_elements(array, argument))), array.shape)
        place = f" (element {', '.join(str(i) for i in index)})"
        array = array[index]
    unit = argument.unit.label.replace("{cur}", "currency")
    return f"{argument.label} ({argument.name}) = {float(array):.12g} {unit} must be {argument.allowed}{place}"


def cells(values: Any) -> list[Any]:
    """A range's cells one after the other: single numbers, or an array of draws each where the range has leading axes.

    >>> cells([1, 2.5])
    [1.0, 2.5]
    """
    array = np.asarray(values, dtype=np.float64)
    return array.tolist() if array.ndim == 1 else list(np.ascontiguousarray(np.moveaxis(array, -1, 0)))


def ordered(values: Any) -> list[Any]:
    """A range's cells from the smallest to the largest; with leading axes, each draw in its own order.

    >>> ordered([3, 1, 2])
    [1.0, 2.0, 3.0]
    """
    return cells(np.sort(np.asarray(values, dtype=np.float64), axis=-1))
