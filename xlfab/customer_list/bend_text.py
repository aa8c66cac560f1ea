"""Bends from a short text: a count (4), a count with an angle (2x90), the sides (2L + 2W), up and down."""

from __future__ import annotations

import re
from dataclasses import dataclass

from xlfab.core.numbers import Unreadable, decimal_number
from xlfab.customer_list.quantity import clean

MOST_BENDS = 50
LEAST_ANGLE = 31  # a number alone up to 30 counts bends, a larger one would be an angle
SMALLEST_ANGLE, LARGEST_ANGLE = 10, 180
_NO_BENDS = frozenset(
    ["none", "no", "keine", "kein", "ohne", "flat", "eben", "nil", "-", "0", "/", "aucun", "nessuna", "ninguno"]
)
_WORDS = re.compile(
    r"\b(?:bends?|folds?|kantungen|kantung|kanten|biegungen|biegung|off|degrees|at|plis|times|mal|stk)\b\.?|(?:deg|grad)\b\.?|[°@]"
)
_SIDES = {
    "l": "length",
    "long": "length",
    "lang": "length",
    "length": "length",
    "länge": "length",
    "w": "width",
    "b": "width",
}
_SIDES |= {"width": "width", "short": "width", "kurz": "width", "breite": "width"}
_WAYS = {
    "up": True,
    "u": True,
    "auf": True,
    "hoch": True,
    "down": False,
    "dn": False,
    "d": False,
    "ab": False,
    "runter": False,
}
_ITEM = re.compile(
    r"(?:(?P<times>[0-9]{1,2})[x×*])?(?P<number>[0-9]{1,3}(?:[.,][0-9]{1,2})?)[x×*]?"
    rf"(?: ?(?P<side>{'|'.join(_SIDES)}))?(?: ?(?P<way>{'|'.join(_WAYS)}))?"
)


@dataclass(frozen=True)
class Bend:
    """One bend: its angle in degrees, the side along which it runs, and whether it goes up, each None where the text does not say."""

    angle_deg: float | None = None
    along: str | None = None
    up: bool | None = None


def bends_of(text: str, decimal: str = ".") -> list[Bend]:
    """The bends that a text names; Unreadable where any of it is not understood.

    >>> len(bends_of("4")), bends_of("2x90")[0].angle_deg, len(bends_of("1x90° 2x45°")), bends_of("none")
    (4, 90.0, 3, [])
    >>> [bend.along for bend in bends_of("1L + 2W")], [bend.up for bend in bends_of("1x90 up 1x90 down")]
    (['length', 'width', 'width'], [True, False])
    """
    plain = " ".join(_WORDS.sub(" ", clean(text).lower()).split())
    if plain in _NO_BENDS or clean(text).lower() in _NO_BENDS:
        return []
    found: list[Bend] = []
    alone: list[bool] = []
    tight = re.sub(r" ?([x×*]) ?(?=[0-9])", r"\1", plain)
    for part in re.split(r" ?[,;+/&] ?| (?=[0-9])", tight):
        item = _ITEM.fullmatch(part.strip())
        if item is None:
            raise Unreadable(f"'{text[:40]}' names no bends that are understood; write 2x90, or 1x90 2x45")
        count, angle, single = _count_and_angle(item, decimal)
        alone.append(single)
        found += [Bend(angle, _SIDES.get(item["side"] or ""), _WAYS.get(item["way"] or ""))] * count
        if len(found) > MOST_BENDS:
            raise Unreadable(f"more than {MOST_BENDS} bends")
    if len(alone) == 1 and alone[0] and found[0].angle_deg is not None:
        raise Unreadable(f"'{text[:40]}' may be an angle or a number of bends; write 1x{text[:10]}, or the number")
    if len(alone) > 1 and any(alone) and not all(bend.angle_deg for bend in found):
        raise Unreadable(f"'{text[:40]}' mixes numbers of bends with angles; write 1x90 2x45")
    return found


def angles_of(text: str, decimal: str = ".") -> list[float]:
    """The angles of a cell that names only angles, in degrees.

    >>> angles_of("90°"), angles_of("90 / 135")
    ([90.0], [90.0, 135.0])
    """
    parts = [part for part in re.split(r"[/;+&\s]+", _WORDS.sub(" ", clean(text).lower())) if part]
    found = [decimal_number(part, decimal) for part in parts]
    if not found or len(found) > MOST_BENDS or not all(0 <= angle <= LARGEST_ANGLE for angle in found):
        raise Unreadable(f"'{text[:40]}' names no angles of bends from 0 to {LARGEST_ANGLE}")
    return found


def _count_and_angle(item: re.Match[str], decimal: str) -> tuple[int, float | None, bool]:
    """How many bends an item names and at which angle, and whether it is a number alone."""
    number = decimal_number(item["number"], decimal)
    if item["times"] is not None:
        if number < SMALLEST_ANGLE:
            raise Unreadable(f"{number:g} is no angle of a bend in '{item[0]}'")
        return int(item["times"]), number, False
    counts = number < LEAST_ANGLE
    if counts and number != int(number):
        raise Unreadable(f"{number:g} is no number of bends")
    alone = item["side"] is None and item["way"] is None
    return (int(number), None, alone) if counts else (1, number, alone)
