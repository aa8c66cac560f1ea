"""Formulas as programs write them: the same formula in many spellings, its references, and where two differ."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from xlfab.core.workbook_reading import column_number

_PLACE = r"\$?[A-Z]{1,3}\$?[0-9]{1,7}"
_SHEET = r"(?:'(?:[^']|'')*'|(?:\[[0-9]+\])?[^\W\d][\w.]*|\[[0-9]+\])!"
_TOKEN = re.compile(
    rf"""(?P<text>"(?:[^"]|"")*")
    |(?P<ref>(?P<sheet>{_SHEET})?(?P<first>{_PLACE})(?::(?:{_SHEET})?(?P<last>{_PLACE}))?(?![\w.(]))
    |(?P<broken>(?:{_SHEET})?\#REF!)
    |(?P<error>\#[A-Z0-9/]+[!?]?)
    |(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:E[-+]?[0-9]+)?(?![\w.]))
    |(?P<word>(?:{_SHEET})?[^\W\d][\w.]*)
    |(?P<space>[\s@]+)
    |(?P<other>.)""",
    re.IGNORECASE | re.VERBOSE,
)
_PREFIX = re.compile(r"_XLFN\.|_XLWS\.|_XLPM\.|_XLUDF\.")
_CELL = re.compile(r"\$?([A-Z]+)\$?([0-9]+)")
_WORKBOOK = re.compile(r"\[[^\]]*\]")
BROKEN = "#REF!"


@dataclass(frozen=True)
class Area:
    """A cell or range that a formula refers to: sheet in small letters (empty for its own), first and last row and column from 0."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int


@dataclass(frozen=True)
class Formula:
    """A formula without what programs change when they save: prefixes, dollar signs, spaces, quotes, case, digits of numbers."""

    words: tuple[str, ...]  # with @ for each reference
    areas: tuple[Area | str, ...]  # BROKEN where a reference is lost
    spelled: tuple[str, ...]  # every word and reference in one spelling, for showing


@lru_cache(maxsize=4096)
def parsed(formula: str) -> Formula:
    """Take a formula apart.

    >>> parsed("=_xlfn.LET(_xlpm.a, 'Parts'!$A$6:$A$6*1.50,_xlpm.a)") == parsed("=let(a,Parts!A6*1.5,A)")
    True
    >>> parsed("=[1]!FAB_ENERGY_KWH($B$6,1)").words == parsed("=FAB_ENERGY_KWH(B6,1)").words
    True
    """
    words: list[str] = []
    areas: list[Area | str] = []
    spelled: list[str] = []
    for match in _TOKEN.finditer(formula.lstrip("=")):
        kind = match.lastgroup if match["ref"] is None else "ref"
        if kind == "space":
            continue
        if kind == "ref":
            area = _area(match)
            areas.append(area)
            words.append("@")
            spelled.append(_spelled(area))
        elif kind == "broken":
            areas.append(BROKEN)
            words.append("@")
            spelled.append(BROKEN)
        else:
            words.append(_word(match, kind or ""))
            spelled.append(words[-1])
    return Formula(tuple(words), tuple(areas), tuple(spelled))


def _area(match: re.Match[str]) -> Area:
    sheet = (match["sheet"] or "").removesuffix("!").replace("''", "\0").replace("'", "").replace("\0", "'")
    (top, left), (bottom, right) = (_cell(one or match["first"]) for one in (match["first"], match["last"]))
    return Area(sheet.casefold(), min(top, bottom), min(left, right), max(top, bottom), max(left, right))


def _cell(text: str) -> tuple[int, int]:
    match = _CELL.fullmatch(text.upper())
    assert match is not None
    return int(match[2]) - 1, column_number(match[1]) - 1


def _spelled(area: Area) -> str:
    from xlsxwriter.utility import xl_range

    return (f"{area.sheet}!" if area.sheet else "") + str(xl_range(area.top, area.left, area.bottom, area.right))


def _word(match: re.Match[str], kind: str) -> str:
    if kind == "number":
        return format(float(match[0]), ".12g")  # programs save 15 digits
    if kind == "text":
        return match[0]
    if kind == "word":  # a call of an add-in is stored with the file or the folder that it came from
        return _PREFIX.sub("", match[0].rpartition("!")[2].upper())
    return match[0].upper()


def outside(formula: str) -> bool:
    """True if a formula refers to a cell of another file."""
    return any(isinstance(item, Area) and _WORKBOOK.search(item.sheet) for item in parsed(formula).areas)


def from_where_they_differ(one: str, other: str, most: int = 70) -> tuple[str, str]:
    """Two formulas, each from a little before the first word in which they differ.

    >>> from_where_they_differ("=A1+2*B1", "=A1+3*B1", 8)
    ('A1+2*B1', 'A1+3*B1')
    """
    first, second = parsed(one).spelled, parsed(other).spelled
    pairs = enumerate(zip(first, second, strict=False))
    place = next((at for at, (a, b) in pairs if a != b), min(len(first), len(second)))
    start = max(0, place - 4)
    return _from(first, start, most), _from(second, start, most)


def _from(words: tuple[str, ...], start: int, most: int) -> str:
    text = "".join(words[start:])
    return ("... " if start else "") + (text if len(text) <= most else text[: most - 4] + " ...")
