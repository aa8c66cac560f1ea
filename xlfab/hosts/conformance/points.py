"""The points at which a function is compared in all hosts: usual and hard ranges, edges, just outside, blanks and text.

Points are rounded to six digits, as a person would type them, and are the same in every run.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.arguments import Argument
from xlfab.core.registry import Function

Point = tuple[Any, ...]  # one value an argument: a number, None for a blank cell, text, or a tuple for a range of cells
# spreadsheets take two numbers as equal from the 15th digit on, so "just outside" must be farther away than that
_STEP = 1e-9


def reference(function: Function, point: Point) -> float:
    """What Python gives for one point; NaN where it refuses."""
    try:
        return float(function(*point))
    except ValueError:
        return float("nan")


def roughness(function: Function, chosen: list[Point]) -> NDArray[np.float64]:
    """How much of each result double arithmetic itself leaves uncertain, in the unit of the result.

    Found by running the bare formula in extended precision at the point and a few rounding steps beside it, and by moving each
    argument by one rounding. Where terms cancel, hosts that round in another order may differ by this much.
    """
    rough = np.zeros(len(chosen))
    if function.spec.is_range:
        return rough
    table = np.array([[v if isinstance(v, float) else np.nan for v in point] for point in chosen]).T
    eps = np.finfo(float).eps
    with np.errstate(all="ignore"):
        exact = np.asarray(function.formula(*table.astype(np.longdouble)))
        for step in range(-3, 4):
            near = table * (1 + step * eps)
            double = np.asarray(function.formula(*near), dtype=float)
            extended = np.asarray(function.formula(*near.astype(np.longdouble)))
            rough = np.fmax(rough, np.abs((double - extended).astype(float)))
        for place in range(len(table)):
            moved = table.astype(np.longdouble)
            moved[place] *= 1 + np.longdouble(eps)
            change = np.asarray(function.formula(*moved)) - exact
            rough = np.fmax(rough, np.abs(change.astype(float)))
    return np.where(np.isfinite(rough), rough, 0.0)


def points(function: Function, count: int = 320) -> list[Point]:
    """At least `count` points: edges, just outside, blank and text for every argument, the rest inside the ranges.

    >>> from xlfab.catalogue import FUNCTIONS
    >>> len(points(FUNCTIONS["energy_kwh"])) >= 320
    True
    """
    rng = np.random.default_rng(zlib.crc32(function.spec.name.encode()))
    base = _with_result(function, rng, 40)
    chosen = list(_edges(function, base)) + list(_refused(function, base))
    rest = max(count - len(chosen), count // 2)
    chosen += _with_result(function, rng, rest * 2 // 3)
    chosen += [_draw(function, rng, False) for _ in range(rest - rest * 2 // 3)]
    return chosen


def _with_result(function: Function, rng: np.random.Generator, count: int) -> list[Point]:
    """Points that have a result, as far as they can be found; every fourth from the whole allowed range."""
    kept: list[Point] = []
    spare: list[Point] = []
    for index in range(12 * count):
        point = _draw(function, rng, index % 4 != 3)
        (kept if np.isfinite(reference(function, point)) else spare).append(point)
        if len(kept) == count:
            break
    return kept + spare[: count - len(kept)]


def _draw(function: Function, rng: np.random.Generator, usual: bool) -> Point:
    length = int(rng.integers(3, 12))
    return tuple(
        _range(item, rng, length) if item.is_range else _value(item, rng, usual) for item in function.spec.arguments
    )


def _value(item: Argument, rng: np.random.Generator, usual: bool) -> float:
    """One value inside the usual range (or the hard one), even over the range or over its orders of magnitude."""
    if item.unit.suffix == "switch":
        return float(rng.integers(0, 2))
    low, high = item.usual if usual and item.usual else (item.low, item.high)
    value = rng.uniform(low, high)
    if low >= 0 and rng.random() < 0.6:
        value = np.exp(rng.uniform(np.log(max(low, high * 1e-5)), np.log(high)))
    elif low < 0 < high and rng.random() < 0.6:
        value = rng.choice((low, high)) * 10 ** rng.uniform(-9, 0)
    if item.unit.suffix in ("count", "year", "years") and rng.random() < 0.7:
        value = np.round(value)
    value = float(f"{value:.6g}")
    return value if item.accepts(value, value) else float(f"{(low + high) / 2:.6g}")


def _range(item: Argument, rng: np.random.Generator, length: int) -> tuple[float, ...]:
    """A row of values; of amounts that may be negative, mostly an outlay first and returns after it."""
    if item.unit.suffix == "share":
        parts = rng.integers(1, 100, length)
        first = [float(f"{part / parts.sum():.3f}") for part in parts[1:]]
        return (float(f"{1 - sum(first):.3f}"), *first)  # shares of one whole
    if item.low >= 0:
        return tuple(_value(item, rng, True) for _ in range(length))
    scale = 10 ** rng.uniform(2, 6)
    flows = rng.uniform(0.05, 0.9, length) * scale
    flows[0] = -scale * rng.uniform(0.3, 2)
    if rng.random() < 0.25:
        flows *= rng.choice((-1.0, 1.0), length)
    if rng.random() < 0.2:
        flows[rng.integers(1, length)] = 0.0
    return tuple(float(f"{flow:.6g}") for flow in flows)


def _edges(function: Function, base: list[Point]) -> Iterator[Point]:
    """Each argument at both ends of its range and just outside, the others taken from points with a result."""
    for place, item in enumerate(function.spec.arguments):
        ends = []
        for bound, outward in ((item.low, -1), (item.high, 1)):
            ends += [bound, bound + outward * _STEP * max(1.0, abs(bound))]
        for number, end in enumerate(ends):
            for other in (number, number + 7):
                yield _changed(base[(place + other) % len(base)], place, end)


def _refused(function: Function, base: list[Point]) -> Iterator[Point]:
    """Each argument once as a blank cell and once as text."""
    for place in range(len(function.spec.arguments)):
        for wrong in (None, "text"):
            yield _changed(base[place % len(base)], place, wrong)


def _changed(point: Point, place: int, value: Any) -> Point:
    if isinstance(point[place], tuple):
        value = (*point[place][:-1], value)
    return (*point[:place], value, *point[place + 1 :])
