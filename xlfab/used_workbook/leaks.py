"""What of the seller's is in a workbook file, and whether any of it is left: in cells, formulas, names, texts, properties."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from lxml import etree

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_SHORT = 4  # a text of fewer characters says nothing and occurs everywhere
_LONG = 12  # a text of as many characters is known again inside a longer one
# parts whose numbers are sizes, colours and places of things
_LOOKS = re.compile(r"^xl/(theme|styles|drawings/drawing|metadata|media)|\.rels$|^\[Content_Types\]")


@dataclass(frozen=True)
class Private:
    """One private value: a number or a text, and the cell that held it."""

    cell: str
    value: float | str


def _tree(data: bytes) -> Any:
    return etree.fromstring(data, etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False))


def _strings(parts: dict[str, bytes]) -> list[str]:
    if "xl/sharedStrings.xml" not in parts:
        return []
    root = _tree(parts["xl/sharedStrings.xml"])
    return ["".join(item.itertext(f"{_MAIN}t")) for item in root.findall(f"{_MAIN}si")]


def _sheet_part(parts: dict[str, bytes], name: str) -> str:
    book = _tree(parts["xl/workbook.xml"])
    space = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
    ids = [item.get(f"{space}id") for item in book.iter(f"{_MAIN}sheet") if item.get("name") == name]
    if not ids:
        return ""
    relations = _tree(parts["xl/_rels/workbook.xml.rels"])
    target = next(item.get("Target") for item in relations if item.get("Id") == ids[0])
    return str(target[1:] if target.startswith("/") else f"xl/{target}")


def private_of(parts: dict[str, bytes], sheet: str) -> list[Private]:
    """Every value that a sheet alone holds: numbers typed or worked out there, and texts that stand nowhere else."""
    part = _sheet_part(parts, sheet)
    if not part:
        return []
    strings = _strings(parts)
    elsewhere = {
        text
        for name, data in parts.items()
        if name.startswith("xl/worksheets/sheet") and name != part
        for _, text in _cells(_tree(data), strings)
        if isinstance(text, str)
    }
    referred = _repeated(parts[part])
    return [
        Private(cell, value)
        for cell, value in _cells(_tree(parts[part]), strings)
        if cell not in referred and _telling(value) and value not in elsewhere
    ]


def _telling(value: float | str) -> bool:
    """True if a value would be known again: not 0, 1, 25 or a word of three letters."""
    if isinstance(value, str):
        return len(value) >= _SHORT
    return abs(value) >= 1000 or len(f"{abs(value):.12g}".replace(".", "").strip("0")) > 2


def _repeated(data: bytes) -> set[str]:
    """Cells that only repeat another sheet's value: not private."""
    place = r"'?[\w .]+'?!\$?[A-Z]+\$?\d+"
    simple = re.compile(rf"^(?:{place}|IF\(ISNUMBER\(({place})\),\1,#NUM!\))$")
    return {
        cell.get("r")
        for cell in _tree(data).iter(f"{_MAIN}c")
        if (formula := cell.find(f"{_MAIN}f")) is not None and simple.match(formula.text or "")
    }


def _cells(root: Any, strings: list[str]) -> list[tuple[str, float | str]]:
    """The values of a sheet by cell: numbers and texts."""
    found: list[tuple[str, float | str]] = []
    for cell in root.iter(f"{_MAIN}c"):
        value, kind = cell.find(f"{_MAIN}v"), cell.get("t")
        value = value if value is not None and value.text else None  # other programs leave an empty one behind
        inline = "".join(cell.itertext(f"{_MAIN}t"))
        if kind == "s" and value is not None:
            found.append((cell.get("r"), strings[int(value.text)]))
        elif kind in ("inlineStr", "str"):
            found.append((cell.get("r"), inline or ("" if value is None else value.text or "")))
        elif value is not None and kind in (None, "n"):
            found.append((cell.get("r"), float(value.text)))
    return found


def leaks(parts: dict[str, bytes], private: list[Private], sheet: str) -> list[str]:
    """Where a private value, or the name of the private sheet in a formula, is still found: one sentence each."""
    found, strings = [], _strings(parts)
    refers = re.compile(rf"(^|[^\w])'?{re.escape(sheet)}'?!")
    for name, data in parts.items():
        if not name.endswith((".xml", ".rels")):
            continue
        root = _tree(data)
        cells = _cells(root, strings) if name.startswith("xl/worksheets/sheet") else []
        words = _words(root, bool(cells))
        if refers.search(words):
            found.append(f"{name} refers to the sheet {sheet}")
        for item in private:
            where = [f"{name} {cell}" for cell, value in cells if _same(value, item.value)]
            if not where and _stands(item.value, words, name):
                where = [name]
            found += [f"{place} holds the value of {sheet}!{item.cell}" for place in where]
    return found


def _words(root: Any, is_sheet: bool) -> str:
    """What can be read in a part: texts and attributes; on a sheet the formulas and prompts, for its cells are looked at one by one."""
    skipped = {f"{_MAIN}{tag}" for tag in ("c", "row", "col", "v")} if is_sheet else set()
    words = []
    for item in root.iter():
        if item.tag not in skipped:
            words += [item.text or "", *item.attrib.values()]
    return "\n".join(words)


def _same(one: float | str, other: float | str) -> bool:
    if isinstance(one, str) or isinstance(other, str):
        return isinstance(one, str) and isinstance(other, str) and _inside(other, one)
    return abs(one - other) <= 1e-9 * max(abs(one), abs(other), 1e-12)


def _inside(text: str, words: str) -> bool:
    """True if a private text stands in other words; a short one, such as a label, only where it stands alone."""
    return text in words if len(text) >= _LONG else text in words.split("\n")


def _stands(value: float | str, words: str, name: str) -> bool:
    """True if a text, or a figure as it is written, stands in the words and formulas of a part."""
    if isinstance(value, str):
        return _inside(value, words)
    if _LOOKS.search(name):
        return False
    return re.search(_written(value), words) is not None


@cache
def _written(value: float) -> re.Pattern[str]:
    """A figure in the ways in which people and programs write it: 91350.75, 91,350.75, 91 350,750, 9.135075E+04."""
    digits = f"{abs(value):.12g}"
    if "e" in digits:
        return re.compile(re.escape(digits))
    whole, _, part = digits.partition(".")
    groups = [whole[max(0, end - 3) : end] for end in range(len(whole), 0, -3)][::-1]
    plain = r"[ ,.'\u2019\u00a0\u2009\u202f]?".join(groups) + (rf"[.,]{part}0*" if part else r"(?:[.,]0+)?")
    mantissa, _, power = f"{abs(value):.11e}".partition("e")
    scientific = (
        rf"{re.escape(mantissa.rstrip('0').rstrip('.'))}0*[eE]{'-' if int(power) < 0 else '[+]?'}0*{abs(int(power))}"
    )
    return re.compile(rf"(?<![\w.])(?:{plain}|{scientific})(?![\w]|[.,]\d)")
