"""A workbook that has been used, with the record of how it was built: its cells by table and column, wherever they stand now."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from xlsxwriter.utility import xl_rowcol_to_cell

from xlfab.core.errors import ScenarioError
from xlfab.used_workbook.file_parts import Parts
from xlfab.used_workbook.moved import Moved, grown, moved_texts, other_name
from xlfab.used_workbook.sheet_part import CellContent, SheetPart, read_sheet
from xlfab.workbook import build_record
from xlfab.workbook.record_schema import BuildRecord, ColumnRecord


@dataclass
class Used:
    """A used workbook. Rows and columns are counted from 0, as in the record."""

    path: Path
    parts: Parts
    known: BuildRecord
    sound: bool
    columns: dict[tuple[str, str], ColumnRecord] = field(default_factory=dict)
    sheets: dict[str, SheetPart] = field(default_factory=dict)  # by the name they were built with
    own: list[SheetPart] = field(default_factory=list)  # the user's own sheets
    moved: dict[str, Moved] = field(default_factory=dict)
    listed: dict[tuple[str, str], set[str]] = field(default_factory=dict)

    @classmethod
    def open(cls, path: Path) -> Used:
        """Open a workbook; ScenarioError where it is none, or was not built by xlfab."""
        parts = Parts.open(path)
        if build_record.SHEET not in parts.sheets:
            raise ScenarioError(
                f"{path}: it holds no record of how it was built; only workbooks built by xlfab can be audited or read"
            )
        record = parts.guarded(read_sheet, parts, build_record.SHEET)
        lines = [
            str(cell.value) for (_, at), cell in sorted(record.cells.items()) if at == 0 and cell.value is not None
        ]
        known, sound = build_record.read(path, [*lines, "", ""] if len(lines) < 2 else lines)
        used = cls(path, parts, known, sound, {item.place: item for item in known.columns})
        parts.guarded(used._read_sheets)
        return used

    def _read_sheets(self) -> None:
        found = {name: read_sheet(self.parts, name) for name in self.parts.sheets if name != build_record.SHEET}
        self.sheets = {name: found.pop(name) for name in self.known.sheets if name in found}
        for name in self.known.sheets:
            if name not in self.sheets and (now := other_name(self.known.texts.get(name, []), list(found.values()))):
                self.sheets[name] = found.pop(now)
        self.own = list(found.values())
        for name, sheet in self.sheets.items():
            texts = self.known.texts.get(name, [])
            made = moved_texts(texts, sheet)
            made.grown = grown([item for item in self.known.columns if item.sheet == name], texts, sheet, made)
            self.moved[name] = made

    def has(self, sheet: str) -> bool:
        """True if a sheet is still there, under whatever name."""
        return sheet in self.sheets

    def at(self, item: ColumnRecord, number: int) -> tuple[int, int]:
        """Where a row of a column stands now."""
        moved = self.moved[item.sheet]
        return moved.row(item.row) + number, moved.column(item.at)

    def where(self, item: ColumnRecord, number: int) -> str:
        """The name of the cell."""
        return cell_name(*self.at(item, number))

    def cell(self, item: ColumnRecord, number: int) -> CellContent | None:
        """What a row of a column holds."""
        return self.sheets[item.sheet].cells.get(self.at(item, number))

    def raw(self, item: ColumnRecord, number: int) -> Any:
        """The formula in a row of a column, or what stands in it."""
        return self.sheets[item.sheet].raw(*self.at(item, number))

    def value_of(self, item: ColumnRecord, number: int) -> Any:
        """The number or text in a row of a column, the stored one where it holds a formula."""
        cell = self.cell(item, number)
        return None if cell is None else cell.value

    def count(self, item: ColumnRecord) -> int:
        """The rows of a column now."""
        return max(0, item.count + self.moved[item.sheet].grown.get((item.row, item.at), 0))

    def rows(self, item: ColumnRecord) -> list[int]:
        """The rows of a column that are used: those whose key is filled, all of them where there is no key."""
        key = self.columns.get(item.key) if item.key else None
        if key is None or not self.has(key.sheet) or key.count != item.count:
            return list(range(self.count(item)))
        return [number for number in range(self.count(key)) if filled(self.value_of(key, number))]

    def names(self, item: ColumnRecord) -> set[str]:
        """The names in a column, in small letters; read once, however many cells choose from them."""
        if item.place not in self.listed:
            cells = (self.value_of(item, number) for number in self.rows(item))
            self.listed[item.place] = {str(value).strip().casefold() for value in cells}
        return self.listed[item.place]


def same_value(now: Any, built: Any) -> bool:
    """True if a cell holds what was built: numbers within what programs keep of them, empty is empty."""
    if isinstance(now, float) and isinstance(built, float):
        return abs(now - built) <= 1e-9 * max(abs(now), abs(built), 1e-3)
    return bool(now == built or (not filled(now) and not filled(built)))


def filled(value: Any) -> bool:
    """True if a cell is not empty."""
    return value is not None and str(value).strip() != ""


def cell_name(row: int, column: int) -> str:
    """The name of a cell, row and column counted from 0."""
    return str(xl_rowcol_to_cell(row, column))
