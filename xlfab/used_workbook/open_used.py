"""A workbook that has been used, with the record of how it was built: its cells by table and column."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from xlsxwriter.utility import xl_rowcol_to_cell

from xlfab.core.workbook_reading import open_workbook
from xlfab.workbook import build_record

_TOKEN = re.compile(
    r"""(?P<text>"(?:[^"]|"")*")|(?P<sheet>'(?:[^']|'')*'!)|(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:E[-+]?[0-9]+)?(?![A-Z0-9_.]))"""
    r"|(?P<word>[A-Z_$\\][A-Z0-9_.$\\]*!?)|(?P<space>\s+)",
    re.IGNORECASE,
)
_FAR = 60  # rows within which a moved block is looked for
_REFERENCE = re.compile(r"(?:'[^']*'!|[A-Z0-9_.]+!)?[A-Z]{1,3}[0-9]+(?::[A-Z]{1,3}[0-9]+)?|#REF!", re.IGNORECASE)


def normal(formula: str) -> str:
    """A formula without what programs change when they save: prefixes, dollar signs, spaces, quotes, case, digits of numbers.

    >>> normal("=_xlfn.LET(_xlpm.a, 'Parts'!$A$6*1.50,_xlpm.a)") == normal("=let(a,Parts!A6*1.5,A)")
    True
    """
    return _TOKEN.sub(_plain, formula.lstrip("="))


def _plain(match: re.Match[str]) -> str:
    if match["text"] is not None:
        return match["text"]
    if match["space"] is not None:
        return ""
    if match["number"] is not None:
        return format(float(match["number"]), ".12g")  # programs save 15 digits
    word = match[0].replace("$", "").upper()
    for prefix in ("_XLFN.", "_XLWS.", "_XLPM."):
        word = word.replace(prefix, "")
    return word.replace("'", "") if match["sheet"] is not None else word


def skeleton(formula: str) -> str:
    """A formula with every reference left out: equal skeletons differ in their ranges only."""
    return _REFERENCE.sub("@", normal(formula))


@dataclass
class Used:
    """A used workbook. Rows and columns are counted from 0, as in the record."""

    path: Path
    book: Any
    known: dict[str, Any]
    sound: bool
    values: Any = None
    columns: dict[tuple[str, str], dict[str, Any]] = field(default_factory=dict)
    shifts: dict[tuple[str, str], int] = field(default_factory=dict)
    listed: dict[tuple[str, str], set[str]] = field(default_factory=dict)

    @classmethod
    def open(cls, path: Path) -> Used:
        """Open a workbook with its formulas; its values are read when somebody asks for the value of a formula."""
        book = open_workbook(path, formulas=True)
        known, sound = build_record.read(path, book)
        return cls(path, book, known, sound, None, {(item["table"], item["column"]): item for item in known["columns"]})

    def has(self, sheet: str) -> bool:
        """True if the sheet is still there."""
        return sheet in self.book.sheetnames

    def raw(self, sheet: str, row: int, column: int) -> Any:
        """What a cell holds: a number, a text, a formula as text, or None."""
        value = self.book[sheet].cell(row + 1, column + 1).value
        return getattr(value, "text", value)  # an array formula is an object of its own

    def value(self, sheet: str, row: int, column: int) -> Any:
        """The number or text of a cell, the stored one where it holds a formula."""
        raw = self.raw(sheet, row, column)
        if not is_formula(raw):
            return raw
        if self.values is None:
            self.values = open_workbook(self.path)
        return self.values[sheet].cell(row + 1, column + 1).value

    def value_of(self, item: dict[str, Any], number: int) -> Any:
        """The number or text in a row of a column."""
        return self.value(item["sheet"], item["row"] + self.shift(item) + number, item["at"])

    def rows(self, item: dict[str, Any]) -> list[int]:
        """The rows of a column that are used: those whose key is filled, all of them where there is no key."""
        key = self.columns.get(tuple(item["key"])) if "key" in item else None
        if key is None or not self.has(key["sheet"]) or key["count"] != item["count"]:
            return list(range(item["count"]))
        return [number for number in range(item["count"]) if filled(self.value_of(key, number))]

    def names(self, item: dict[str, Any]) -> set[str]:
        """The names in a column, in small letters; read once, however many cells choose from them."""
        place = item["table"], item["column"]
        if place not in self.listed:
            cells = (self.value(item["sheet"], item["row"] + number, item["at"]) for number in self.rows(item))
            self.listed[place] = {str(value).strip().casefold() for value in cells}
        return self.listed[place]

    def shift(self, item: dict[str, Any]) -> int:
        """By how many rows a column stands elsewhere than built; 0 where its heading stands as built, or nowhere near."""
        place = item["table"], item["column"]
        if place not in self.shifts:
            self.shifts[place] = self._shift(item)
        return self.shifts[place]

    def _shift(self, item: dict[str, Any]) -> int:
        sheet, label = item["sheet"], item.get("heading", item["label"])
        row, column = (item["row"] - 2, item["at"]) if item["list"] else (item["row"], 0)
        for far in range(_FAR):
            for shift in (far, -far):
                if row + shift >= 0 and self.raw(sheet, row + shift, column) == label:
                    return shift
        return 0


def is_formula(raw: Any) -> bool:
    """True if a cell's content is a formula."""
    return isinstance(raw, str) and raw.startswith("=")


def filled(value: Any) -> bool:
    """True if a cell is not empty."""
    return value is not None and str(value).strip() != ""


def cell_name(row: int, column: int) -> str:
    """The name of a cell, row and column counted from 0."""
    return str(xl_rowcol_to_cell(row, column))
