"""Products and quotients of units: whether they make the unit that is wanted, and by which number.

A year is the period that everything is counted over, so "a year" in a unit counts as nothing; shares, ratios, counts and
switches are plain numbers. Money, angles, lengths, times and masses are kept apart.
"""

from __future__ import annotations

import ast
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from xlfab.core.errors import InputError
from xlfab.core.units import Unit

_KINDS = 5  # length, time, mass, angle, money


@dataclass(frozen=True)
class _Measure:
    """A number of base units, and the power of each kind."""

    size: Fraction
    powers: tuple[int, ...] = (0,) * _KINDS

    def raised(self, power: int) -> _Measure:
        return _Measure(self.size**power, tuple(item * power for item in self.powers))

    def times(self, other: _Measure, power: int = 1) -> _Measure:
        right = other.raised(power)
        return _Measure(self.size * right.size, tuple(a + b for a, b in zip(self.powers, right.powers, strict=True)))


_NONE = _Measure(Fraction(1))
_M, _S, _KG, _DEGREE, _CUR = (_Measure(Fraction(1), tuple(int(i == n) for i in range(_KINDS))) for n in range(_KINDS))
_JOULE = _KG.times(_M, 2).times(_S, -2)


def _of(number: float, measure: _Measure) -> _Measure:
    return _Measure(Fraction(str(number)) * measure.size, measure.powers)


_WORDS = {
    "dimensionless": _NONE,
    "year": _NONE,
    "m": _M,
    "mm": _of(0.001, _M),
    "s": _S,
    "min": _of(60, _S),
    "h": _of(3600, _S),
    "kg": _KG,
    "N": _JOULE.times(_M, -1),
    "kN": _of(1000, _JOULE.times(_M, -1)),
    "MPa": _of(1e6, _JOULE.times(_M, -3)),
    "bar": _of(1e5, _JOULE.times(_M, -3)),
    "liter": _of(0.001, _M.raised(3)),
    "J": _JOULE,
    "kJ": _of(1000, _JOULE),
    "kWh": _of(3600000, _JOULE),
    "kW": _of(1000, _JOULE.times(_S, -1)),
    "kV": _of(1000, _JOULE.times(_S, -1)),  # with A, whose name stands for nothing: kV*A is a power
    "A": _NONE,
    "degree": _DEGREE,
}


@cache
def _measure(unit: Unit) -> _Measure:
    found = _read(ast.parse(unit.pint, mode="eval").body, unit)
    return found.times(_CUR) if unit.suffix == "cur" or unit.suffix.startswith("cur_") else found


def _read(node: ast.expr, unit: Unit) -> _Measure:
    if isinstance(node, ast.BinOp):
        left = _read(node.left, unit)
        if isinstance(node.op, ast.Pow):
            return left.raised(ast.literal_eval(node.right))
        return left.times(_read(node.right, unit), -1 if isinstance(node.op, ast.Div) else 1)
    if isinstance(node, ast.Constant):
        return _NONE
    if isinstance(node, ast.Name) and node.id in _WORDS:
        return _WORDS[node.id]
    raise InputError(f"nothing is computed in {unit.label}")


def factor_of(tops: Sequence[Unit], bottoms: Sequence[Unit], wanted: Unit) -> Fraction:
    """What a product of the units `tops` over `bottoms` is multiplied by to be in the unit `wanted`; InputError if it cannot be.

    >>> from xlfab.core.units import UNITS
    >>> factor_of([UNITS["s"], UNITS["count"]], [], UNITS["h_per_year"])
    Fraction(1, 3600)
    """
    found = _NONE
    for unit in tops:
        found = found.times(_measure(unit))
    for unit in bottoms:
        found = found.times(_measure(unit), -1)
    found = found.times(_measure(wanted), -1)
    if any(found.powers):
        over = "".join(f" / {unit.label}" for unit in bottoms)
        product = " x ".join(unit.label for unit in tops) + over
        raise InputError(f"{product} does not make {wanted.label}".replace("{cur}", "currency"))
    return found.size
