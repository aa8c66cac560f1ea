"""The one reader of numbers that somebody typed or a program exported: strict, bounded, and it asks where a text has two readings.

    decimal_number("1.234,5", ",")     the decimal mark is known: 1234.5
    decimal_number("12,50")            it is not known, but the text proves it: 12.5
    decimal_number("1,234")            TwoReadings: 1234 or 1.234? The caller asks, or looks at the column
    column = number_column(texts)      the column proves its mark; .values, .decimal, .faults by row
    finite(raw)                        a value from TOML, JSON or a workbook cell, already a number

Read: a sign in front, thousands in groups of three (the other mark, a space or an apostrophe, one of them in a number), an
exponent. Refused with the reason, never guessed: `1_5`, `50-`, `1.2.3`, `1,00,000`, `0,125` with a decimal point, `nan`, `inf`,
superscripts, more than 40 characters. Units are the caller's: cut them off first. No number here depends on the locale.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from xlfab.core.errors import InputError

LONGEST = (
    40  # characters of one number: a double has at most 17 digits that count, the rest is room for signs and groups
)
_SAME = str.maketrans({"−": "-", "’": "'", "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " "})
_SHAPE = re.compile(r"(?P<sign>[-+]?)(?P<body>[0-9.,' ]*[0-9][0-9.,' ]*?)(?P<exponent>[eE][-+]?[0-9]{1,3})?", re.ASCII)
_SEPARATOR = re.compile(r"[.,' ]")
_OTHER = {".": ",", ",": "."}
_MARK = {".": "point", ",": "comma"}


class Unreadable(InputError):
    """A text that is no number; the message says why, without the text itself."""


class TwoReadings(Unreadable):
    """A text that is two numbers, by which mark is the decimal one: `readings` holds both, the decimal point's first."""

    def __init__(self, readings: tuple[float, float]) -> None:
        super().__init__(f"can be read as {readings[0]:g} or as {readings[1]:g}: say which mark is the decimal one")
        self.readings = readings


def decimal_number(text: str, decimal: str | None = None, grouped: bool = True) -> float:
    """A text as a number; `decimal` is "." or ",", or None where nobody has said it; `grouped` allows thousands in groups.

    Errors: Unreadable with the reason; TwoReadings where the mark is not known and both readings are sound.

    >>> decimal_number("1.234,5", ","), decimal_number("1'200"), decimal_number("−0,75"), decimal_number("1.5e3", ".")
    (1234.5, 1200.0, -0.75, 1500.0)
    >>> decimal_number("1,234")
    Traceback (most recent call last):
    xlfab.core.numbers.TwoReadings: can be read as 1234 or as 1.234: say which mark is the decimal one
    """
    sign, body, exponent = _parts(text)
    mark = decimal or proved_mark(body)
    if mark == "?":
        raise TwoReadings((_value(sign, body, exponent, ".", grouped), _value(sign, body, exponent, ",", grouped)))
    return _value(sign, body, exponent, mark or ".", grouped)


def _parts(text: str) -> tuple[str, str, str]:
    if len(text) > LONGEST:
        raise Unreadable(f"has {len(text)} characters; a number has at most {LONGEST}")
    match = _SHAPE.fullmatch(_plain(text))
    if match is None:
        raise Unreadable("is not a number" if text.strip() else "is empty")
    return match["sign"], match["body"].strip(), match["exponent"] or ""


def _plain(text: str) -> str:
    """The text with plain minus, apostrophe and spaces; blank where it is too long for a number."""
    return text.translate(_SAME).strip() if len(text) <= LONGEST else ""


def proved_mark(text: str) -> str | None:
    """The decimal mark that a text proves: "." or ","; "?" where it could be either; None where it has neither.

    >>> [proved_mark(text) for text in ("12,5", "1.234,5", "1,234", "0.125", "1.234.567", "1 234,567", "120")]
    [',', ',', '?', '.', ',', ',', None]
    """
    marks = re.findall(r"[.,]", text[: LONGEST + 1])
    if not marks:
        return None
    if len(set(marks)) == 2:
        return str(marks[-1])
    if len(marks) > 1:
        return _OTHER[marks[0]]  # a mark that stands twice parts thousands
    before, _, after = text.partition(marks[0])
    open_question = re.fullmatch(r"[-+]?[1-9][0-9]{0,2}", before.strip()) and re.fullmatch(r"[0-9]{3}", after.strip())
    return "?" if open_question else str(marks[0])


def _value(sign: str, body: str, exponent: str, decimal: str, grouped: bool) -> float:
    whole, _, rest = body.partition(decimal)
    if not re.fullmatch(r"[0-9]*", rest):
        twice = decimal in rest
        raise Unreadable(f"has two decimal {_MARK[decimal]}s" if twice else f"has digits apart after '{decimal}'")
    parted = set(_SEPARATOR.findall(whole))
    if parted:
        if not grouped:
            raise Unreadable(
                f"has '{min(parted)}' between its digits: write it without, with a decimal {_MARK[decimal]}"
            )
        groups = _SEPARATOR.split(whole)
        if len(parted) > 1 or not re.fullmatch(r"[1-9][0-9]{0,2}", groups[0]) or any(len(g) != 3 for g in groups[1:]):
            raise Unreadable(f"has '{min(parted)}' where no thousands end (the decimal mark is '{decimal}')")
        whole = "".join(groups)
    if not (whole or rest):
        raise Unreadable("is not a number")
    number = float(f"{sign}{whole or '0'}.{rest or '0'}{exponent}")
    if not math.isfinite(number):
        raise Unreadable("is too large")
    return number


def finite(raw: object) -> float:
    """A number from TOML, JSON or a cell as a float; texts, true and false, blanks, NaN and infinity are Unreadable.

    >>> finite(3), finite(2.5)
    (3.0, 2.5)
    """
    if isinstance(raw, bool) or not isinstance(raw, (int, float)):
        raise Unreadable("is not a number")
    try:
        number = float(raw)
    except OverflowError:
        raise Unreadable("is too large") from None
    if not math.isfinite(number):
        raise Unreadable("is not a finite number")
    return number


@dataclass(frozen=True)
class NumberColumn:
    """A column read: NaN where a row has a fault or is blank, the decimal mark (None: never needed), faults by row from 0."""

    values: list[float]
    decimal: str | None
    faults: dict[int, str] = field(default_factory=dict)
    open_question: str | None = None  # the first text with two readings, where no other row proves the mark


def column_mark(texts: Iterable[str]) -> str | None:
    """The mark that the readable texts of a column prove; "?" where they leave it open or contradict; None where none has one.

    >>> column_mark(["1,234", "0,5"]), column_mark(["1,234", "12"]), column_mark(["12", "7"]), column_mark(["0,5", "0.5"])
    (',', '?', None, '?')
    """
    found = {proved_mark(text) for text in map(_plain, texts) if _SHAPE.fullmatch(text)}
    proved = found & {".", ","}
    if len(proved) == 1:
        return proved.pop()
    return "?" if proved or "?" in found else None


def number_column(texts: Sequence[str], decimal: str | None = None, grouped: bool = True) -> NumberColumn:
    """Read a whole column, each different text once. Blank cells are NaN without a fault; nothing is guessed.

    Where no mark is given, the column's own texts prove it; while they leave it open, rows with two readings are faults and
    `open_question` names the first of them.

    >>> number_column(["1,234", "0,5", "", "12-"])
    NumberColumn(values=[1.234, 0.5, nan, nan], decimal=',', faults={3: 'is not a number'}, open_question=None)
    """
    different = dict.fromkeys(texts)
    mark = decimal or column_mark(different)
    known = mark if mark in _OTHER else None
    read: dict[str, float | str] = {text: _read(text, known, grouped) for text in different}
    values = [value if isinstance(value, float) else math.nan for value in (read[text] for text in texts)]
    faults = {row: value for row, value in enumerate(read[text] for text in texts) if isinstance(value, str)}
    unclear = next((text for text in different if known is None and proved_mark(_plain(text)) == "?"), None)
    return NumberColumn(values, known, faults, unclear)


def _read(text: str, decimal: str | None, grouped: bool) -> float | str:
    if not text.strip():
        return math.nan
    try:
        return decimal_number(text, decimal, grouped)
    except Unreadable as error:
        return str(error)
