"""Reading one cell as a quantity: decimal point or comma, thousands, fractions of an inch, feet and inches, gauge numbers, units."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from xlfab.core.numbers import LONGEST, Unreadable, decimal_number, proved_mark

__all__ = ["Quantity", "Unreadable", "clean", "decimal_evidence", "in_mm", "quantity", "sizes", "unit_of"]

LONGEST_CELL = 200  # characters of a cell that is read as a quantity; longer is a remark

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
    "stücke": "count",
    "unit": "count",
    "units": "count",
    "nos": "count",
    "pièces": "count",
    "uds": "count",
    "ud": "count",
    "pzi": "count",
    "pz": "count",
    "pzas": "count",
    "kg": "kg",
    "g": "g",
    "lb": "lb",
    "lbs": "lb",
    "nr": "count",
    "no": "count",
}
_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}
_QUOTES = str.maketrans(
    {"”": '"', "“": '"', "″": '"', "„": '"', "’": "'", "′": "'", "‘": "'", "⁄": "/", "−": "-", "–": "-"}
)
_DIGITS = r"[0-9][0-9.,]*(?:[ '][0-9]{3}(?![0-9]))*(?:[.,][0-9]+)?"
_FRACTION = r"(?:[0-9]{1,6}[ -]+)?[0-9]{1,6} ?/ ?[0-9]{1,6}"
_NUMBER = re.compile(rf"(?P<number>{_FRACTION}|{_DIGITS}|[.,][0-9]+)")
_FEET = re.compile(
    rf"(?P<feet>[0-9]{{1,6}}) ?(?:'|ft\.?|feet) ?-? ?(?:(?P<inches>{_FRACTION}|{_DIGITS}) ?(?:\"|in\.?|inch(?:es)?)?)"
)
_THOUSANDS = re.compile(r"[0-9]{3}(?:[.,][0-9]+)?")
_GAUGE_FIRST = re.compile(r"(?:ga|gage|gauge|#)\.? ?(?P<number>[0-9]{1,3})")
_LABEL = re.compile(r"(?:[a-z]|[a-z]{3,9}) ?[=:] ?")  # t=2, L: 300


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
    if len(text) > LONGEST_CELL:
        raise Unreadable(f"has {len(text)} characters; a size or a number of pieces has at most {LONGEST_CELL}")
    spaced = "".join(f" {mark}" if unicodedata.decomposition(mark).startswith("<fraction>") else mark for mark in text)
    plain = unicodedata.normalize("NFKC", spaced).translate(_QUOTES).replace("''", '"')
    return " ".join(plain.split())


def decimal_evidence(text: str) -> str | None:
    """Which decimal mark the number in a text proves: '.' or ',', '?' if it could be either, None if it has neither.

    Only the number speaks: the point of a unit ("1.000 St.") proves nothing.

    >>> [decimal_evidence(text) for text in ("12,5", "1.234,5", "1,234", "0.125", "120", "1.000 St.", "Nr. 3")]
    [',', ',', '?', '.', None, '?', None]
    """
    found = _NUMBER.match(_LABEL.sub("", clean(text).lower(), count=1))
    if found is None or "/" in found["number"] or len(found["number"]) > LONGEST:
        return None
    return proved_mark(found["number"].rstrip(".,"))


def quantity(text: str, decimal: str = ".") -> Quantity:
    """Read a whole cell; Unreadable with a reason where anything in it is not understood.

    >>> quantity('3-1/2"'), quantity("16 ga"), quantity("1.250,5 mm", ",")
    (Quantity(value=3.5, unit='in'), Quantity(value=16.0, unit='gauge'), Quantity(value=1250.5, unit='mm'))
    """
    plain = _LABEL.sub("", clean(text).lower(), count=1)
    feet = _FEET.fullmatch(plain)
    if feet and not _THOUSANDS.fullmatch(plain.partition("'")[2]):  # 1'200 and 1'200,5 are twelve hundred
        return Quantity(float(feet["feet"]) * 12 + _amount(feet["inches"], decimal), "in")
    gauge = _GAUGE_FIRST.fullmatch(plain)
    if gauge:
        return Quantity(float(gauge["number"]), "gauge")
    found = _NUMBER.match(plain)
    if found is None:
        raise Unreadable("no number")
    rest = plain[found.end() :].strip(" .")
    if not rest:
        return Quantity(_amount(found["number"], decimal))
    unit = unit_of(rest)
    if unit is None:
        raise Unreadable(f"'{rest}' after the number is not understood")
    return Quantity(_amount(found["number"], decimal), unit)


def _amount(text: str, decimal: str) -> float:
    if "/" not in text:
        return decimal_number(text, decimal)
    *whole, fraction = re.split(r"[ -]+(?=[0-9]+ ?/)", text)
    top, bottom = (int(part) for part in fraction.split("/"))
    if bottom == 0 or (whole and top >= bottom):
        raise Unreadable(f"'{fraction}' is not a fraction of one")
    return float(int(whole[0]) if whole else 0) + top / bottom


def sizes(text: str, decimal: str = ".") -> list[Quantity]:
    """Several sizes in one cell, such as 1200 x 600 x 2 mm; a length's unit at the end holds for all before it that have none.

    >>> [item.value for item in sizes("1200 x 600 x 2,5 mm", ",")]
    [1200.0, 600.0, 2.5]
    """
    found = [quantity(part, decimal) for part in re.split(r"\s*[x×*]\s*", clean(text).lower()) if part]
    last = found[-1].unit if found and found[-1].unit in _MM else None  # 48 x 24 x 16 ga: the gauge is the last one's
    return [Quantity(item.value, item.unit or last) for item in found]


def in_mm(item: Quantity, unit: str) -> float:
    """A length in mm, in its own unit or else in the column's."""
    own = item.unit or unit
    if own not in _MM:
        raise Unreadable("no unit for it is stated" if own == "?" else f"'{own}' is no length")
    return item.value * _MM[own]
