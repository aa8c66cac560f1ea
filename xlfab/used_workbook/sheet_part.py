"""One sheet of a used file: formulas and stored values of its cells, what is hidden, locked, checked on typing, laid over."""

from __future__ import annotations

import io
import re
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from lxml import etree
from openpyxl.formula.translate import Translator
from xlsxwriter.utility import xl_cell_to_rowcol, xl_rowcol_to_cell

from xlfab.core.workbook_reading import column_number
from xlfab.used_workbook.file_parts import Parts, children, text_of

_RANGE = re.compile(r"\$?([A-Z]*)\$?([0-9]*)(?::\$?([A-Z]*)\$?([0-9]*))?")
_LIMITS = ("formula1", "formula2")
LAST_ROW, LAST_COLUMN = 1_048_575, 16_383
Area = tuple[int, int, int, int]  # first row, first column, last row, last column; counted from 0


class CellContent(NamedTuple):
    """What a cell holds: its formula (with `=`) if any, its number or text, and which look it has."""

    formula: str | None
    value: Any
    look: int


@dataclass
class Rule:
    """What may be typed into cells: areas, kind and limits as the file states them."""

    areas: list[Area]
    kind: str
    limits: tuple[str, str]
    operator: str


@dataclass
class SheetPart:
    """A sheet. Rows and columns are counted from 0."""

    name: str
    state: str
    cells: dict[tuple[int, int], CellContent] = field(default_factory=dict)
    hidden_rows: list[int] = field(default_factory=list)
    hidden_columns: list[tuple[int, int]] = field(default_factory=list)
    protected: bool = False
    rules: list[Rule] = field(default_factory=list)
    conditions: list[tuple[list[Area], int]] = field(default_factory=list)
    last_row: int = 0

    def raw(self, row: int, column: int) -> Any:
        """The formula of a cell, or what stands in it; None where it is empty."""
        cell = self.cells.get((row, column))
        return None if cell is None else cell.formula if cell.formula is not None else cell.value


def areas(text: str) -> list[Area]:
    """The areas of a list of ranges; whole columns and rows reach to the end of the sheet."""
    found = []
    for one in text.split():
        match = _RANGE.fullmatch(one.rpartition("!")[2])
        if match is None or not (match[1] or match[2]):
            continue
        top = int(match[2]) - 1 if match[2] else 0
        left = column_number(match[1]) - 1 if match[1] else 0
        single = ":" not in one
        bottom = (int(match[4]) - 1 if match[4] else LAST_ROW) if not single else top
        right = (column_number(match[3]) - 1 if match[3] else LAST_COLUMN) if not single else left
        found.append((top, left, bottom, right))
    return found


def covers(area: Area, row: int, column: int) -> bool:
    """True if a cell lies in an area."""
    return area[0] <= row <= area[2] and area[1] <= column <= area[3]


def read_sheet(parts: Parts, name: str) -> SheetPart:
    """Read one sheet in one pass."""
    part, state = parts.sheets[name]
    sheet = SheetPart(name, state)
    shared: dict[str, tuple[str, str]] = {}
    row = -1
    wanted = [f"{{*}}{name}" for name in ("row", "col", "sheetProtection", "dataValidation", "conditionalFormatting")]
    options = {"tag": wanted, "resolve_entities": False, "no_network": True, "load_dtd": False}
    for _, element in etree.iterparse(io.BytesIO(parts.data[part]), events=("end",), **options):
        kind = etree.QName(element).localname
        if kind == "row":
            row = int(element.get("r") or row + 2) - 1
            _row(sheet, parts, element, row, shared)
            element.clear()
        elif kind == "col" and (element.get("hidden") in ("1", "true") or float(element.get("width", 9)) < 0.5):
            sheet.hidden_columns.append((int(element.get("min")) - 1, int(element.get("max")) - 1))
        elif kind == "sheetProtection":
            sheet.protected = element.get("sheet") in ("1", "true")
        elif kind == "dataValidation":
            sheet.rules.append(_rule(element))
        elif kind == "conditionalFormatting":
            _conditions(sheet, element)
    return sheet


def _row(sheet: SheetPart, parts: Parts, element: Any, row: int, shared: dict[str, tuple[str, str]]) -> None:
    if element.get("hidden") in ("1", "true") or (element.get("ht") is not None and float(element.get("ht")) < 0.5):
        sheet.hidden_rows.append(row)
    column = -1
    for cell in element.iterchildren("{*}c"):
        place = cell.get("r")
        at = xl_cell_to_rowcol(place) if place else (row, column + 1)
        column = at[1]
        sheet.cells[at] = CellContent(_formula(cell, at, shared), _value(cell, parts), int(cell.get("s", 0)))
        sheet.last_row = max(sheet.last_row, at[0])


def _formula(cell: Any, at: tuple[int, int], shared: dict[str, tuple[str, str]]) -> str | None:
    """The formula of a cell; one that is shared with others stands in the first of them alone."""
    element = next(iter(children(cell, "f")), None)
    if element is None:
        return None
    text = element.text or ""
    if element.get("t") == "shared":
        key, here = element.get("si", ""), xl_rowcol_to_cell(*at)
        if text:
            shared[key] = "=" + text, here
        elif key in shared:
            first, origin = shared[key]
            return str(Translator(first, origin=origin).translate_formula(here))
    return "=" + text if text else None


def _value(cell: Any, parts: Parts) -> Any:
    """The number or text of a cell."""
    kind = cell.get("t", "n")
    if kind == "inlineStr":
        return text_of(cell)
    element = next(iter(children(cell, "v")), None)
    text = None if element is None else element.text
    if text is None:
        return None
    if kind == "s":
        return parts.strings[int(text)]
    if kind == "b":
        return text in ("1", "true")
    return float(text) if kind == "n" else text


def _rule(element: Any) -> Rule:
    """A rule for typing; programs put those that refer to another sheet into an extension, with its areas as an element."""
    first, second = ("".join(text for item in children(element, name) for text in item.itertext()) for name in _LIMITS)
    where = element.get("sqref") or " ".join(item.text or "" for item in children(element, "sqref"))
    return Rule(areas(where), element.get("type", "none"), (first, second), element.get("operator", "between"))


def _conditions(sheet: SheetPart, element: Any) -> None:
    for rule in children(element, "cfRule"):
        if rule.get("dxfId") is not None:
            sheet.conditions.append((areas(element.get("sqref", "")), int(rule.get("dxfId"))))
