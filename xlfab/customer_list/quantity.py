"""Reading one cell as a quantity: decimal point or comma, thousands, fractions of an inch, feet and inches, gauge numbers, units."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

_UNITS = {
    "mm": "mm",
    "millimeter": "mm",
    "millimetre": "mm",
    "cm": "cm",
    "m": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    "zoll": "in",
    '"': "in",
    "ft": "ft",
    "feet": "ft",
    "foot": "ft",
    "'": "ft",
    "ga": "gauge",
    "gage": "gauge",
    "gauge": "gauge",
    "#": "gauge",
    "%": "%",
    "pc": "count",
    "pcs": "count",
    "pieces": "count",
    "piece": "count",
    "ea": "count",
    "each": "count",
    "off": "count",
    "stk": "count",
    "stck": "count",
    "stück": "count",
    "st": "count",
    "pzi": "count",
    "pz": "count",
    "pzas": "count",
    "nr": "count",
    "no": "count",
}
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
_QUOTES = str.maketrans(
    {"”": '"', "“": '"', "″": '"', "„": '"', "’": "'", "′": "'", "‘": "'", "⁄": "/", "−": "-", "–": "-"}
)
_DIGITS = r"[0-9][0-9.,]*(?:[ '][0-9]{3}(?![0-9]))*(?:[.,][0-9]+)?"
_FRACTION = r"(?:[0-9]+[ -]+)?[0-9]+ ?/ ?[0-9]+"
_NUMBER = re.compile(rf"(?P<number>{_FRACTION}|{_DIGITS}|[.,][0-9]+)")
_FEET = re.compile(
    rf"(?P<feet>[0-9]+) ?(?:'|ft\.?|feet) ?-? ?(?:(?P<inches>{_FRACTION}|{_DIGITS}) ?(?:\"|in\.?|inch(?:es)?)?)"
)
_GAUGE_FIRST = re.compile(r"(?:ga|gage|gauge|#)\.? ?(?P<number>[0-9]+)")


class Unreadable(ValueError):
    """Why a cell could not be read as a quantity."""


@dataclass(frozen=True)
class Quantity:
    """A number and the unit written beside it in the cell, if any."""

    value: float
    unit: str | None = None


def unit_of(text: str) -> str | None:
    """The unit that a word means.

    >>> unit_of("Inches"), unit_of("mm."), unit_of("big")
    ('in', 'mm', None)
    """
    return _UNITS.get(text.strip(" .()[]").lower())


def clean(text: str) -> str:
    """A cell's text with quotes, dashes and vulgar fractions in plain characters.

    >>> clean("3½”")
    '3 1/2"'
    """
    spaced = "".join(f" {mark}" if unicodedata.decomposition(mark).startswith("<fraction>") else mark for mark in text)
    plain = unicodedata.normalize("NFKC", spaced).translate(_QUOTES).replace("''", '"')
    return " ".join(plain.split())


def number(text: str, decimal: str) -> float:
    """A plain number with a stated decimal mark; the other mark, a space or an apostrophe may part thousands.

    >>> number("1.234,5", ","), number("1 200", "."), number("0,75", ",")
    (1234.5, 1200.0, 0.75)
    """
    thousands = "." if decimal == "," else ","
    whole, _, rest = text.partition(decimal)
    groups = re.split(rf"[{re.escape(thousands)} ']", whole)
    grouped = len(groups) == 1 or (1 <= len(groups[0]) <= 3 and all(len(group) == 3 for group in groups[1:]))
    if (
        not grouped
        or not re.fullmatch(r"[0-9]*", rest)
        or not re.fullmatch(r"[0-9]*", "".join(groups))
        or not (whole or rest)
    ):
        raise Unreadable(f"not a number with the decimal mark '{decimal}'")
    return float(f"{''.join(groups) or '0'}.{rest or '0'}")


def decimal_evidence(text: str) -> str | None:
    """Which decimal mark a text proves: '.' or ',', '?' if it could be either, None if it has neither.

    >>> [decimal_evidence(text) for text in ("12,5", "1.234,5", "1,234", "0.125", "120")]
    [',', ',', '?', '.', None]
    """
    found = re.search(r"[0-9.,]*[.,][0-9.,]*", text)
    if found is None:
        return None
    marks = re.findall(r"[.,]", found[0])
    if len(set(marks)) == 2:
        return marks[-1]
    if len(marks) > 1:
        return "," if marks[0] == "." else "."
    before, after = re.split(r"[.,]", found[0])
    open_question = len(after) == 3 and 1 <= len(before) <= 3 and before != "0"
    return "?" if open_question else marks[0]


def quantity(text: str, decimal: str = ".") -> Quantity:
    """Read a whole cell; Unreadable with a reason where anything in it is not understood.

    >>> quantity('3-1/2"'), quantity("16 ga"), quantity("1.250,5 mm", ",")
    (Quantity(value=3.5, unit='in'), Quantity(value=16.0, unit='gauge'), Quantity(value=1250.5, unit='mm'))
    """
    plain = clean(text).lower()
    feet = _FEET.fullmatch(plain)
    if feet and not re.fullmatch(r"[0-9]{3}", plain.partition("'")[2]):  # 1'200 is twelve hundred
        return Quantity(float(feet["feet"]) * 12 + _amount(feet["inches"], decimal), "in")
    gauge = _GAUGE_FIRST.fullmatch(plain)
    if gauge:
        return Quantity(float(gauge["number"]), "gauge")
    found = _NUMBER.match(plain)
    if found is None:
        raise Unreadable("no number")
    rest = plain[found.end() :].strip(" .-")
    if not rest:
        return Quantity(_amount(found["number"], decimal))
    unit = unit_of(rest)
    if unit is None:
        raise Unreadable(f"'{rest}' after the number is not understood")
    return Quantity(_amount(found["number"], decimal), unit)


def _amount(text: str, decimal: str) -> float:
    if "/" not in text:
        return number(text, decimal)
    *whole, fraction = re.split(r"[ -]+(?=[0-9]+ ?/)", text)
    top, bottom = (int(part) for part in fraction.split("/"))
    if bottom == 0 or (whole and top >= bottom):
        raise Unreadable(f"'{fraction}' is not a fraction of one")
    return float(int(whole[0]) if whole else 0) + float(Fraction(top, bottom))


def sizes(text: str, decimal: str = ".") -> list[Quantity]:
    """Several sizes in one cell, such as 1200 x 600 x 2 mm; a unit at the end holds for all before it that have none.

    >>> [item.value for item in sizes("1200 x 600 x 2,5 mm", ",")]
    [1200.0, 600.0, 2.5]
    """
    found = [quantity(part, decimal) for part in re.split(r"\s*[x×*]\s*", clean(text).lower()) if part]
    last = found[-1].unit if found else None
    return [Quantity(item.value, item.unit or last) for item in found]


def in_mm(item: Quantity, unit: str) -> float:
    """A length in mm, in its own unit or else in the column's."""
    own = item.unit or unit
    if own not in _MM:
        raise Unreadable("no unit for it is stated" if own == "?" else f"'{own}' is no length")
    return item.value * _MM[own]
