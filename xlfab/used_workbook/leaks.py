"""What of a used workbook is the seller's alone, and whether any of it is in a file that goes to a customer.

The seller's tables carry a mark of their own in the record; whatever else was typed on their sheet is the seller's too. Looked for
are figures as they are, rounded, or written in words, and texts as a whole or three words of them in a row.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from lxml import etree

from xlfab.used_workbook.file_parts import Parts, tree
from xlfab.used_workbook.open_used import Used, cell_name
from xlfab.used_workbook.sheet_part import read_sheet
from xlfab.workbook.build_record import short_text

_TELLING, _LETTERS, _WORDS = 3, 12, 3  # digits, letters and words from which on a thing is known again
_NUMBER = re.compile(
    r"(?<![\w.,])[-+]?(\d[\d.,'\u2019\u00a0\u2009\u202f ]*\d|\d)(?:[eE]([-+]?\d+))?\s*(%|k\b|K\b|T\b|thousand|tausend|mil\b|[Mm]io?\b|million)?"
)
_TIMES = {"%": 0.01, "k": 1e3, "K": 1e3, "T": 1e3, "thousand": 1e3, "tausend": 1e3, "mil": 1e3}
_PARTS = re.compile(r"^(docProps/|xl/workbook\.xml|xl/charts/|xl/drawings/|xl/comments|customXml/)")


@dataclass(frozen=True)
class Private:
    """One thing that is the seller's: a figure or a text, and the cell that held it."""

    sheet: str
    cell: str
    value: float | str
    derived: bool = False  # worked out from others: a figure that rounds it by chance is no leak


def private_of(used: Used) -> list[Private]:
    """Everything that is the seller's alone."""
    tables = [item for item in used.known.columns if item.private]
    public = {
        used.value_of(item, 0)
        for item in used.known.columns
        if item.stated and not item.private and used.has(item.sheet)
    }
    found: list[Private] = []
    for item in tables:
        for number in range(item.count if used.has(item.sheet) else 0):
            value = used.value_of(item, number)
            if _telling(value) and (item.stated or value not in public):  # a formula may repeat what all may see
                found.append(Private(item.sheet, used.where(item, number), value, not item.stated))
    for name in dict.fromkeys(item.sheet for item in tables if used.has(item.sheet)):
        found += _typed_beside(used, name)
    for one in list(found):
        if isinstance(one.value, str):
            found += [Private(one.sheet, one.cell, number) for number in _numbers(one.value) if _telling(number)]
    return list(dict.fromkeys(found))


def _typed_beside(used: Used, name: str) -> Iterator[Private]:
    """What somebody typed on the seller's sheet beside what was built there."""
    known = {
        (used.at(item, number)) for item in used.known.columns if item.sheet == name for number in range(item.count)
    }
    texts = {text for _, _, text in used.known.texts.get(name, [])}
    for (row, at), cell in used.sheets[name].cells.items():
        value = cell.value
        built = isinstance(value, str) and short_text(value) in texts
        if (row, at) not in known and not built and _telling(value):
            yield Private(name, cell_name(row, at), value)


def _telling(value: Any) -> bool:
    """True if a value would be known again: not 0, 1, 25 or a word of three letters."""
    if isinstance(value, bool) or value is None:
        return False
    if isinstance(value, str):
        return len(value.strip()) > _TELLING
    return len(f"{abs(value):.12g}".replace(".", "").strip("0")) >= _TELLING or abs(value) >= 1000


def leaks(file: Parts, private: list[Private]) -> list[str]:
    """Where something private is still found: one sentence each."""
    if not private:
        return []
    found = []
    for name in file.sheets:
        for place, cell in read_sheet(file, name).cells.items():
            if cell.formula is None and cell.value is not None:
                stated = cell.look < len(file.looks) and not file.looks[cell.look].locked
                for item in private:
                    if _is(item, cell.value, stated):
                        found.append(_sentence(f"{name}!{cell_name(*place)}", item))
    for part, data in file.data.items():
        if _PARTS.match(part):
            for text in _texts(tree(data)):
                found += [_sentence(part, item) for item in private if _is(item, text, False)]
    return found


def _sentence(place: str, item: Private) -> str:
    return f"{place} holds what stands in {item.sheet}!{item.cell}"


def _texts(root: Any) -> Iterator[str]:
    """Words of a part: texts and attributes, without figures that charts keep of cells."""
    for element in root.iter(etree.Element):
        if not isinstance(element.tag, str) or etree.QName(element).localname in ("v", "definedName", "f"):
            continue
        yield from (text for text in (element.text, element.get("name"), element.get("descr")) if text and text.strip())


def _is(private: Private, value: float | str, stated: bool) -> bool:
    """True if a value is the private one, repeats it in words, or rounds it."""
    one = private.value
    if isinstance(value, str):
        if isinstance(one, str):
            return _repeats(one, value)
        return any(_rounds(number, one, private.derived) for number in _numbers(value))
    if not stated or isinstance(one, str):
        return False  # other figures follow from the inputs
    return abs(value - one) <= 1e-9 * abs(one) if private.derived else _rounds(value, one, False)


def _repeats(private: str, text: str) -> bool:
    one, other = private.casefold().split(), text.casefold().split()
    if one == other or (len(private) >= _LETTERS and " ".join(one) in " ".join(other)):
        return True
    rows = {tuple(other[at : at + _WORDS]) for at in range(len(other) - _WORDS + 1)}
    mine = (tuple(one[at : at + _WORDS]) for at in range(len(one) - _WORDS + 1))
    return any(row in rows for row in mine if len(" ".join(row)) >= _LETTERS)


def _numbers(text: str) -> list[float]:
    """The figures in a text, each in both readings of its point and comma where two are possible; a percentage as a share too."""
    found: list[float] = []
    for digits, power, unit in _NUMBER.findall(text):
        bare = re.sub(r"['\u2019\u00a0\u2009\u202f ]", "", digits).strip(".,")
        for written in {_plain(bare, ".", ","), _plain(bare, ",", ".")} - {""}:
            times = _TIMES.get(unit, 1e6 if unit else 1.0)
            value = float(written) * 10.0 ** (int(power) if power and abs(int(power)) < 300 else 0)
            found += [value * times, value] if unit else [value]
    return found


def _plain(text: str, point: str, group: str) -> str:
    """A figure as Python reads it, if its signs fit this reading."""
    whole, _, part = text.partition(point)
    if group in whole and not re.fullmatch(rf"\d{{1,3}}(?:{re.escape(group)}\d{{3}})+", whole):
        return ""
    whole = whole.replace(group, "")
    return f"{whole}.{part or 0}" if whole.isdigit() and (not part or part.isdigit()) and len(whole) < 300 else ""


def _rounds(value: float, private: float, derived: bool) -> bool:
    """True if a figure is the private one, or that rounded to three digits or more; to two thousands if it was stated."""
    value, private = abs(value), abs(private)
    if abs(value - private) <= 1e-9 * max(value, private):
        return True
    mantissa, _, power = f"{value:.11e}".partition("e")
    digits = len(mantissa.replace(".", "").rstrip("0"))
    unit = 10.0 ** (int(power) - digits + 1)
    enough = digits >= _TELLING or (not derived and digits == _TELLING - 1 and unit >= 1000)
    return enough and abs(value - private) <= unit * 0.5000001 and value > 0
