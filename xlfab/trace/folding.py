"""What of an operation is known before any cell is: sums with 0, products with 1, operations on constants.

A result takes the place of constants only where it has few digits: 1/2 is 0.5, but 1/3 stays 1/3, which programs read faster and
compute to the last bit.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Callable
from fractions import Fraction
from typing import Any

DIGITS = 15  # that spreadsheets keep of a constant
_RATIO = 1000  # denominators up to which a long constant is taken for a ratio

_CONSTANT: dict[str, Callable[..., float]] = {
    "+": operator.add,
    "-": operator.sub,
    "*": operator.mul,
    "/": operator.truediv,
    "^": operator.pow,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
    "=": operator.eq,
    "<>": operator.ne,
    "neg": operator.neg,
    "abs": abs,
    "floor": math.floor,
    "min": min,
    "max": max,
    "isnumber": math.isfinite,
}
_NEVER_FAIL = {"+", "-", "*", "neg", "abs", "min", "max", "if", "<", "<=", ">", ">=", "=", "<>", "floor"}


def folded(op: str, terms: tuple[Any, ...]) -> Any:
    """What an operation comes to: one of its terms, a number, or None where it has to stay."""
    numbers = [term.terms[0] if term.op == "number" else None for term in terms]
    known = all(value is not None and math.isfinite(value) for value in numbers)
    if known and op in _CONSTANT:
        return _constant(op, numbers)
    if op == "if" and numbers[0] is not None:
        return terms[1] if numbers[0] else terms[2]
    if op == "neg" and terms[0].op == "neg":
        return terms[0].terms[0]
    return _neutral(op, terms, numbers) if len(terms) == 2 else None


def _constant(op: str, numbers: list[Any]) -> float | None:
    try:
        found = _CONSTANT[op](*numbers)
    except (ArithmeticError, ValueError):
        return None
    exact = not isinstance(found, complex) and math.isfinite(found) and few_digits(float(found))
    return float(found) if exact else None


def _neutral(op: str, terms: tuple[Any, ...], numbers: list[Any]) -> Any:
    """A term to which the other adds nothing."""
    first, second = numbers
    if (op in ("+", "-") and second == 0) or (op in ("*", "/", "^") and second == 1):
        return terms[0]
    if (op == "+" and first == 0) or (op == "*" and first == 1):
        return terms[1]
    if op == "*" and ((first == 0 and _has_a_value(terms[1])) or (second == 0 and _has_a_value(terms[0]))):
        return 0.0
    return None


def _has_a_value(term: Any) -> bool:
    """True if a term cannot fail by itself: then 0 times it is 0."""
    if term.op == "number":
        return bool(math.isfinite(term.terms[0]))
    return term.op == "ref" or (term.op in _NEVER_FAIL and all(map(_has_a_value, term.terms)))


def few_digits(value: float) -> bool:
    """True if a number is written with as many digits as a spreadsheet keeps.

    >>> few_digits(0.001), few_digits(1 / 3)
    (True, False)
    """
    return float(f"{value:.{DIGITS}g}") == value


def as_ratio(value: float) -> tuple[float, float] | None:
    """Numerator and denominator of a long constant that is a simple ratio, to the last bit.

    >>> as_ratio(1 / 3), as_ratio(0.5), as_ratio(0.1234567890123456)
    ((1.0, 3.0), None, None)
    """
    if not math.isfinite(value) or few_digits(value):
        return None
    near = Fraction(value).limit_denominator(_RATIO)
    exact = near.numerator / near.denominator == value
    return (float(near.numerator), float(near.denominator)) if exact else None
