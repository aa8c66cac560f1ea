"""One sheet: a title, then blocks from top to bottom - lists, records side by side, shown results, text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import numpy as np

from xlfab.core.errors import FormulaError
from xlfab.core.units import Unit, unit_label
from xlfab.tables.table import Column, Fixed, Ref, Table
from xlfab.workbook.grid import Place, cached, calls_function, fill, is_input
from xlfab.workbook.style import HEAD, SERIES
from xlfab.workbook.validation import rounded, validate

if TYPE_CHECKING:
    from xlfab.workbook.book import Book

_UPRIGHT = 95  # characters across that still print well on an upright page
_TABS = {"result": SERIES[1], "input": "#E8C547", "calc": "#B8C1C8", "about": HEAD}


@dataclass
class Shown:
    """A row of results: a label, references to cells that stand elsewhere, and a remark."""

    label: str
    items: Sequence[Ref | str | float]
    remark: str = ""
    strong: bool = False


@dataclass
class _Cell:
    row: int
    column: int
    kind: str
    value: Any
    unit: Unit | None = None
    align: str = ""
    span: int = 0
    down: int = 1


@dataclass(repr=False)
class Sheet:
    """A sheet being planned."""

    book: Book
    name: str
    title: str
    lead: str
    tab: str
    landscape: bool = True
    fit_height: bool = False
    row: int = 0
    charts: list[Any] = field(default_factory=list)
    list_rows: set[int] = field(default_factory=set)  # the first rows of lists
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)
    _cells: list[_Cell] = field(default_factory=list)
    columns: list[tuple[Table, Column, Place]] = field(default_factory=list)
    refs: list[tuple[int, int, Ref, str]] = field(default_factory=list)
    _freeze: tuple[int, int] | None = None
    _repeat: tuple[int, int] | None = None
    _marked: int | None = None
    _ruled: list[Table] = field(default_factory=list)
    _sole: bool = True  # no block follows the first list, so its heading can stay in view and be repeated
    _blank: list[Ref] = field(default_factory=list)

    def __post_init__(self) -> None:
        if len(self.name) > 31:
            raise FormulaError(f"sheet name '{self.name}' has more than 31 characters")
        self._cells.append(_Cell(0, 0, "title", self.title))
        self.heights[0] = 24
        self.row = 1
        if self.lead:
            self.text(self.lead)
        self.row += 1

    # --- blocks -----------------------------------------------------------------------------------------------------

    def text(self, text: str, kind: str = "note", span: int = 7, lines: int = 0) -> None:
        """A line of text across columns, high enough to be read whole."""
        self._cells.append(_Cell(self.row, 0, kind, text, span=span))
        width = sum(self.widths.get(column, 34 if column == 0 else 13) for column in range(span))
        self.heights[self.row] = 12.5 * (lines or -(-len(text) // max(40, int(width * 1.05))))
        self.row += 1

    def subtitle(self, text: str, span: int = 7) -> None:
        """A heading inside the sheet."""
        self._sole = self._sole and self._freeze is None
        self.row += 1
        self._cells.append(_Cell(self.row, 0, "subtitle", text, span=span))
        self.heights[self.row] = 16
        self.row += 1

    def put_text(self, column: int, text: str, kind: str = "text", span: int = 1, down: int = 1) -> None:
        """A text in the current row, across columns and rows if wanted."""
        self._cells.append(_Cell(self.row, column, kind, text, span=span, down=down))

    def put_ref(self, column: int, item: Ref, kind: str = "text", span: int = 1) -> None:
        """A result that stands elsewhere, in the current row."""
        self.refs.append((self.row, column, item, kind))
        if span > 1:
            self._cells.append(_Cell(self.row, column, kind, None, span=span))

    def put_column(self, column: int, table: Table, name: str) -> None:
        """A record's own value in the current row."""
        place = Place(self.name, self.row, column, 1)
        self.book.grid.put(table, name, place)
        self.columns.append((table, table.columns[name], place))

    def put_unit(self, column: int, item: Ref) -> None:
        """The unit of a result, in the current row."""
        unit = self.book.grid.shown(item.table.columns[item.column].unit)[0]
        self._cells.append(_Cell(self.row, column, "unit", self._unit(unit)))

    def table(
        self, table: Table, columns: Sequence[str] | None = None, under: Mapping[str, Ref] = MappingProxyType({})
    ) -> None:
        """A list: headings, units (or a figure of its own under a heading), and one line a row."""
        names = list(columns) if columns is not None else list(table.columns)
        head = self.row
        self.list_rows.add(head + 2)
        for offset, name in enumerate(names):
            column = table.columns[name]
            unit, _ = self.book.grid.shown(column.unit)
            self._cells.append(_Cell(head, offset, "head", column.label))
            if name in under:
                self.refs.append((head + 1, offset, under[name], "strong"))
            else:
                self._cells.append(_Cell(head + 1, offset, "unit", self._unit(unit)))
            place = Place(self.name, head + 2, offset, table.rows.shown)
            self.book.grid.put(table, name, place)
            self.columns.append((table, column, place))
            width = max(9.0, min(16.0, 1.1 * max(map(len, column.label.split()), default=8) + 2))
            if column.unit is None:
                values = [str(item) for item in table.value(name)[:200]]
                width = max(width, min(34.0, 1.05 * max(map(len, values), default=8) + 2))
            self.widths[offset] = max(self.widths.get(offset, 0), width)
        self.heights[head] = max(self.heights.get(head, 0), 38)
        if self._freeze is None:
            self._freeze = (head + 2, 1)
            self._repeat = (head, head + 1)
        self.row = head + 2 + table.rows.shown + 1

    def records(
        self,
        tables: Sequence[Table],
        headings: Sequence[str],
        columns: Sequence[str] | None = None,
        remarks: dict[str, str] | None = None,
    ) -> None:
        """Records side by side: a line for each field with its unit, a column for each record, and a remark."""
        names = list(columns) if columns is not None else list(tables[0].columns)
        self._head(["", "Unit", *headings, *(["Remark"] if remarks else [])])
        for name in names:
            column = tables[0].columns[name]
            self._label(column.label, column.unit)
            for offset, table in enumerate(tables, 2):
                place = Place(self.name, self.row, offset, 1)
                self.book.grid.put(table, name, place)
                self.columns.append((table, table.columns[name], place))
                if column.unit is None and not is_input(column):
                    self._high(max(map(len, map(str, table.value(name))), default=0), 28)
            if remarks:
                self._remark(len(tables) + 2, remarks.get(name, ""))
            self.row += 1
        self._wide(len(tables), bool(remarks))
        self.row += 1

    def show(self, headings: Sequence[str], rows: Sequence[Shown], remark: str = "", width: float = 15) -> int:
        """Results that stand elsewhere, side by side: each cell refers to its source. Returns the first row of values."""
        self._head([headings[0], "Unit", *headings[1:], *([remark] if remark else [])])
        first = self.row
        count = len(headings) - 1
        for line in rows:
            kind = "strong" if line.strong else "calc"
            unit = next((item.table.columns[item.column].unit for item in line.items if isinstance(item, Ref)), None)
            self._label(line.label, unit, "strong_label" if line.strong else "label")
            for offset, item in enumerate(line.items, 2):
                if isinstance(item, Ref):
                    self.refs.append((self.row, offset, item, kind))
                    if item.table.columns[item.column].unit is None:
                        words = [len(str(word)) for word in item.table.value(item.column)]
                        self._high(max(words, default=0), int(width) - 1)
                elif isinstance(item, str):
                    self._cells.append(_Cell(self.row, offset, "label", item))
                    self._high(len(item), int(self.widths.get(offset, width)))
                else:
                    self._cells.append(_Cell(self.row, offset, kind, item, unit))
            if remark:
                self._remark(count + 2, line.remark)
            self.row += 1
        self._wide(count, bool(remark), width)
        self.row += 1
        return first

    def _label(self, text: str, unit: Unit | None, kind: str = "label") -> None:
        self._cells.append(_Cell(self.row, 0, kind, text))
        self._cells.append(_Cell(self.row, 1, "unit", self._unit(self.book.grid.shown(unit)[0])))
        self._high(len(text), 40)

    def _remark(self, offset: int, text: str) -> None:
        self._cells.append(_Cell(self.row, offset, "label", text))
        self._high(len(text), 46)

    def _wide(self, count: int, remark: bool, width: float = 15) -> None:
        self.widths[0] = max(self.widths.get(0, 0), 36)
        self.widths[1] = max(self.widths.get(1, 0), 10)
        for offset in range(2, count + 2):
            self.widths[offset] = max(self.widths.get(offset, 0), width)
        if remark:
            self.widths[count + 2] = max(self.widths.get(count + 2, 0), 46)

    def lines(self, headings: Sequence[str], rows: Sequence[Sequence[str]], widths: Sequence[float]) -> None:
        """A table of text."""
        self._head(headings)
        for line in rows:
            for offset, text in enumerate(line):
                self._cells.append(_Cell(self.row, offset, "label", text))
                self._high(len(text), int(widths[offset]))
            self.row += 1
        self.widths.update(dict(enumerate(widths)))

    def rule_lines(self, table: Table) -> None:
        """Rule only those lines of a list that are used, so that spare ones stay white on the printed page."""
        self._ruled.append(table)

    def mark_checks(self, column: int) -> None:
        """Colour the check cells of a column: the text says it, the colour repeats it."""
        self._marked = column

    def blank_if_none(self, items: Sequence[Ref]) -> None:
        """Results that need not exist: their error value stays in the cell, for sums, and is not seen."""
        self._blank += items

    def words(self, item: Ref, kind: str = "verdict", span: int = 7, height: float = 18) -> None:
        """A text result across columns."""
        self.refs.append((self.row, 0, item, kind))
        self._cells.append(_Cell(self.row, 0, kind, None, span=span))
        self.heights[self.row] = height
        self.row += 1

    def _head(self, texts: Sequence[str]) -> None:
        for offset, text in enumerate(texts):
            self._cells.append(_Cell(self.row, offset, "head", text))
        for offset, text in enumerate(texts):
            self._high(len(text), int(self.widths.get(offset, 36 if offset == 0 else 14)))
        self.row += 1

    def _high(self, characters: int, width: int) -> None:
        lines = max(1, -(-characters // width))
        self.heights[self.row] = max(self.heights.get(self.row, 0), 13.0 * lines + 2)

    def _unit(self, unit: Unit | None) -> str:
        if unit is None:
            return ""
        return "%" if unit.suffix == "share" else unit_label(unit.suffix, self.book.currency)

    # --- writing ----------------------------------------------------------------------------------------------------

    def write(self, sheet: Any, styles: Any) -> None:
        """Write the planned sheet."""
        self._set_up(sheet)
        for cell in self._cells:
            self._write_cell(sheet, styles, cell)
        for table, column, place in self.columns:
            self._write_column(sheet, styles, table, column, place)
        for row, offset, item, kind in self.refs:
            self._write_reference(sheet, styles, row, offset, item, kind)
        self._write_rules(sheet, styles)
        self._write_marks(sheet, styles)
        sheet.protect(
            "", {"format_columns": True, "format_rows": True, "select_locked_cells": True, "autofilter": True}
        )

    def _set_up(self, sheet: Any) -> None:
        """Window and page: widths, heights, what stays in view, and how it prints."""
        sheet.hide_gridlines(2)
        sheet.set_tab_color(_TABS[self.tab])
        sheet.set_paper(self.book.paper)
        sheet.set_margins(0.5, 0.5, 0.6, 0.6)
        wide = sum(self.widths.values())
        landscape = self.landscape and wide > _UPRIGHT
        if landscape:
            sheet.set_landscape()
        # a list too wide to be read on one page goes over several, its first column repeated
        across = max(1, round(wide / (170 if landscape else 125)))
        sheet.fit_to_pages(across, 1 if self.fit_height else 0)
        if across > 1:
            sheet.repeat_columns(0, 0)
        sheet.set_footer(f"&L&8{self.book.title.replace('&', '&&')}&C&8&A&R&8Page &P of &N")
        for number, width in self.widths.items():
            sheet.set_column(number, number, width)
        for row, height in self.heights.items():
            sheet.set_row(row, height)
        if self._freeze and self._sole:
            sheet.freeze_panes(*self._freeze)
        if self._repeat and self._sole:
            sheet.repeat_rows(*self._repeat)

    def _write_cell(self, sheet: Any, styles: Any, cell: _Cell) -> None:
        form = styles(cell.kind, cell.unit, cell.align)
        if cell.span > 1:
            last = (cell.row + cell.down - 1, cell.column + cell.span - 1)
            sheet.merge_range(cell.row, cell.column, *last, cell.value or "", form)
        elif isinstance(cell.value, float):
            unit, scale = self.book.grid.shown(cell.unit)
            sheet.write_number(cell.row, cell.column, cell.value / scale, styles(cell.kind, unit))
        elif cell.value is not None:
            sheet.write_string(cell.row, cell.column, str(cell.value), form)

    def _write_rules(self, sheet: Any, styles: Any) -> None:
        for table in self._ruled:
            first, *_, last = [place for one, _, place in self.columns if one is table]
            used = {"type": "formula", "criteria": f'=$A{first.row + 1}<>""', "format": styles.ruled}
            sheet.conditional_format(first.row, first.column, first.row + last.count - 1, last.column, used)

    def _write_marks(self, sheet: Any, styles: Any) -> None:
        """Colour the answers of checks, OK or anything else; error values that mean 'there is none' are not seen."""
        for item in self._blank:
            place = self.book.grid.place(item)
            rule = {"type": "errors", "format": styles("none")}
            sheet.conditional_format(place.row, place.column, place.row, place.column, rule)
        if self._marked is None:
            return
        for text, kind in (("OK", "good"), ("", "bad")):
            rule = {
                "type": "text",
                "criteria": "begins with" if text else "not containing",
                "value": text or "OK",
                "format": styles(kind),
            }
            for _, column, place in self.columns:
                if column.unit is None and place.column == self._marked:
                    sheet.conditional_format(place.row, place.column, place.row, place.column, rule)

    def _write_column(self, sheet: Any, styles: Any, table: Table, column: Column, place: Place) -> None:
        grid = self.book.grid
        unit, scale = grid.shown(column.unit)
        values = np.asarray(table.value(column.name)).reshape(-1)
        if is_input(column):
            form = styles("input", unit)
            spare = [column.spare] * (place.count - len(values))
            for index, value in enumerate([*values, *spare]):
                if value is None or value != value:  # NaN: only the user knows it
                    sheet.write_blank(place.row + index, place.column, None, form)
                elif column.unit is None:
                    sheet.write_string(place.row + index, place.column, str(value), form)
                else:
                    sheet.write_number(place.row + index, place.column, rounded(float(value) / scale, scale), form)
            validate(sheet, self.book.grid, place, column, self.book.currency)
            return
        if isinstance(column.rule, Fixed):
            self._write_fixed(sheet, styles, place, values, unit, scale)
            return
        # a single result in words is read whole; in lists one line a row is kept
        kind = "label" if column.unit is None and place.count == 1 else "line" if table in self._ruled else "calc"
        form = styles(kind, unit, zero=column.zero)
        key = table.rows.key
        empty = key is not None and key.table.rows is not table.rows and not len(key.table.value(key.column))
        template = grid.formula(table, column)
        call = grid.form == "call" and self.book.flavour == "names" and calls_function(column)
        for index in range(place.count):
            row, text = place.row + index, "=" + fill(template, index)
            value = cached(values[index], scale) if index < len(values) and not empty else ""
            if call:
                sheet.write_dynamic_array_formula(row, place.column, row, place.column, text, form, value)
            else:
                sheet.write_formula(row, place.column, text, form, value)

    def _write_fixed(self, sheet: Any, styles: Any, place: Place, values: Any, unit: Unit | None, scale: float) -> None:
        form = styles("fixed", unit)
        for index, value in enumerate(values):
            if isinstance(value, str):
                sheet.write_string(place.row + index, place.column, value, form)
            else:
                sheet.write_number(place.row + index, place.column, float(value) / scale, form)

    def reference(self, item: Ref) -> str:
        """The formula of a cell that shows what stands elsewhere."""
        text = fill("=" + self.book.grid.place(item).cell(self.name), 0)
        return text if item.table.columns[item.column].unit else text + '&""'  # an empty text is not a 0

    def _write_reference(self, sheet: Any, styles: Any, row: int, offset: int, item: Ref, kind: str) -> None:
        column = item.table.columns[item.column]
        unit, scale = self.book.grid.shown(column.unit)
        values = np.asarray(item.table.value(item.column)).reshape(-1)
        value = cached(values[0], scale) if len(values) else ""
        text = self.reference(item)
        align = ""
        if column.unit is None and kind in ("calc", "strong"):  # a text among figures stands where the figures stand
            kind, align = "label", "right"
        sheet.write_formula(row, offset, text, styles(kind, unit, align), value)
