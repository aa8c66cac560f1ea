"""Writing a planned sheet: cells, columns of tables, references, conditions, window and page."""

from __future__ import annotations

from typing import Any

import numpy as np
from xlsxwriter.utility import quote_sheetname, xl_rowcol_to_cell

from xlfab.tables.table import Column, Ref, Table
from xlfab.workbook.grid import Grid, Place, cached, fill
from xlfab.workbook.sheet import Cell, Sheet
from xlfab.workbook.style import FONT, TABS
from xlfab.workbook.validation import rounded, validate

_PAGES = {9: (690, 1010), 1: (710, 945)}  # pixels that fit across A4 and Letter at full size, upright and lying
_FOOT = f'&"{FONT},Regular"&9'
_LEAST_SCALE = 90  # per cent: 9 pt becomes 8.1 pt, and nothing is printed smaller


class SheetWriter:
    """Writes one planned sheet into a worksheet."""

    def __init__(self, plan: Sheet, sheet: Any, styles: Any) -> None:
        self.plan = plan
        self.sheet = sheet
        self.styles = styles
        self.grid: Grid = plan.book.grid

    def write(self) -> None:
        """Write everything but the charts."""
        self.plan.settle()
        self._window()
        self._page()
        for cell in self.plan.cells:
            self._cell(cell)
        for table, column, place in self.plan.columns:
            self._column(table, column, place)
        for row, offset, item, kind in self.plan.refs:
            self._reference(row, offset, item, kind)
        self._rules()
        self._marks()
        self._differs()
        if not self.plan.folded_rows and not self.plan.folded_columns:  # no program opens a fold on a protected sheet
            allowed = ("format_columns", "format_rows", "select_locked_cells", "autofilter")
            self.sheet.protect("", dict.fromkeys(allowed, True))

    # --- window and page --------------------------------------------------------------------------------------------

    def _window(self) -> None:
        plan, sheet = self.plan, self.sheet
        sheet.hide_gridlines(2)
        sheet.set_tab_color(TABS[plan.tab])
        sheet.set_default_row(12.5)
        sheet.outline_settings(True, False, False, False)
        for number in range(max([*plan.widths, *plan.folded_columns], default=-1) + 2):
            options: dict[str, Any] = {"level": 1, "hidden": True} if number in plan.folded_columns else {}
            if number not in plan.folded_columns and number + 1 in plan.folded_columns:
                options = {"collapsed": True}
            if options or number in plan.widths:
                sheet.set_column(number, number, plan.widths.get(number, 9), None, options)
        for row in sorted({*plan.heights, *plan.folded_rows, *(row - 1 for row in plan.folded_rows)}):
            options = {"level": 1, "hidden": True} if row in plan.folded_rows else {}
            if row not in plan.folded_rows and row + 1 in plan.folded_rows:
                options = {"collapsed": True}
            sheet.set_row(row, plan.heights.get(row), None, options)
        if plan.freeze and plan.sole:
            sheet.freeze_panes(*plan.freeze)

    def _page(self) -> None:
        plan, sheet = self.plan, self.sheet
        sheet.set_paper(plan.book.paper)
        sheet.set_margins(0.45, 0.45, 0.45, 0.65)
        last = plan.print_to if plan.print_to is not None else max(plan.widths, default=0)
        seen = [number for number in plan.widths if number not in plan.folded_columns and number <= last]
        wide = sum(int(plan.widths[number] * 7 + 5) for number in seen)
        upright, across = _PAGES[plan.book.paper]
        lies = plan.landscape and 100 * upright < _LEAST_SCALE * wide
        if lies:
            sheet.set_landscape()
        scale = 100 * (across if lies else upright) // max(wide, 1)
        if plan.fit_height:
            sheet.fit_to_pages(1, 1)
        elif scale >= _LEAST_SCALE and not plan.breaks:
            sheet.fit_to_pages(1, 0)
        else:  # too wide for one page: it goes over several, its first column repeated
            sheet.set_print_scale(min(100, max(_LEAST_SCALE, scale)))
            if scale < _LEAST_SCALE:
                sheet.repeat_columns(0, 0)
        if plan.print_to is not None:
            sheet.print_area(0, 0, plan.row, plan.print_to)
        if plan.breaks:
            sheet.set_h_pagebreaks(plan.breaks)
        title = plan.book.title.replace("&", "&&")
        sheet.set_footer(f"&L{_FOOT}{title}&R{_FOOT}&A, page &P of &N", {"scale_with_doc": False})
        if plan.repeat and plan.sole:
            sheet.repeat_rows(*plan.repeat)

    # --- cells ------------------------------------------------------------------------------------------------------

    def _cell(self, cell: Cell) -> None:
        form = self.styles(cell.kind, cell.unit, cell.align)
        if cell.span > 1 or cell.down > 1:
            last = (cell.row + cell.down - 1, cell.column + max(cell.span, 1) - 1)
            self.sheet.merge_range(cell.row, cell.column, *last, cell.value or "", form)
        elif cell.link:
            to = f"internal:{quote_sheetname(cell.link)}!A1"
            self.sheet.write_url(cell.row, cell.column, to, form, str(cell.value))
        elif isinstance(cell.value, float):
            unit, scale = self.grid.shown(cell.unit)
            value = rounded(cell.value / scale, scale)
            self.sheet.write_number(cell.row, cell.column, value, self.styles(cell.kind, unit))
        elif cell.value is not None:
            self.sheet.write_string(cell.row, cell.column, str(cell.value), form)

    def _column(self, table: Table, column: Column, place: Place) -> None:
        unit, scale = self.grid.shown(column.unit)
        values = np.asarray(table.value(column.name)).reshape(-1)
        if column.rule.stated:
            self._inputs(column, place, values, unit, scale)
        elif not column.rule.follows:
            self._fixed(place, values, unit, scale)
        else:
            self._formulas(table, column, place, values, unit, scale)

    def _inputs(self, column: Column, place: Place, values: Any, unit: Any, scale: float) -> None:
        form = self.styles("input", unit)
        spare = [column.spare] * (place.count - len(values))
        for row, value in enumerate([*values, *spare], place.row):
            if value is None or value != value:  # NaN: only the user knows it
                self.sheet.write_blank(row, place.column, None, form)
            elif column.unit is None:
                self.sheet.write_string(row, place.column, str(value), form)
            else:
                self.sheet.write_number(row, place.column, rounded(float(value) / scale, scale), form)
        validate(self.sheet, self.grid, place, column, self.plan.book.currency)

    def _fixed(self, place: Place, values: Any, unit: Any, scale: float) -> None:
        form = self.styles("fixed", unit)
        for row, value in enumerate(values, place.row):
            if isinstance(value, str) and not value:
                continue  # a unit or a figure that is shown may have its place here
            if isinstance(value, str):
                self.sheet.write_string(row, place.column, value, form)
            else:
                self.sheet.write_number(row, place.column, float(value) / scale, form)

    def _formulas(self, table: Table, column: Column, place: Place, values: Any, unit: Any, scale: float) -> None:
        # a single result in words is read whole; in lists one line a row is kept
        kind = "label" if column.unit is None and place.count == 1 else "line" if table in self.plan.ruled else "calc"
        form = self.styles(kind, unit, zero=column.zero)
        key = table.rows.key
        empty = key is not None and key.table.rows is not table.rows and not len(key.table.value(key.column))
        template = self.grid.formula(table, column)
        call = self.grid.form == "call" and self.plan.book.flavour == "names" and column.rule.calls
        for index in range(place.count):
            row, text = place.row + index, "=" + fill(template, index)
            value = cached(values[index], scale) if index < len(values) and not empty else ""
            if call:
                self.sheet.write_dynamic_array_formula(row, place.column, row, place.column, text, form, value)
            else:
                self.sheet.write_formula(row, place.column, text, form, value)

    def _reference(self, row: int, offset: int, item: Ref, kind: str) -> None:
        column = item.table.columns[item.column]
        unit, scale = self.grid.shown(column.unit)
        values = np.asarray(item.table.value(item.column)).reshape(-1)
        value = cached(values[0], scale) if len(values) else ""
        align = ""
        if column.unit is None and kind.partition("|")[0] in (
            "calc",
            "strong",
        ):  # a text among figures stands where the figures stand
            kind, align = "label", "right"
        self.sheet.write_formula(row, offset, self.plan.reference(item), self.styles(kind, unit, align), value)

    # --- conditions -------------------------------------------------------------------------------------------------

    def _rules(self) -> None:
        for table in self.plan.ruled:
            first, *_, last = [place for one, _, place in self.plan.columns if one is table]
            used = {"type": "formula", "criteria": f'=$A{first.row + 1}<>""', "format": self.styles.ruled}
            self.sheet.conditional_format(first.row, first.column, first.row + last.count - 1, last.column, used)

    def _marks(self) -> None:
        """Colour the answers of checks, OK or anything else; error values that mean 'there is none' are not seen."""
        for item in self.plan.blank:
            place = self.grid.place(item)
            rule = {"type": "errors", "format": self.styles("none")}
            self.sheet.conditional_format(*place.area, rule)
        for text, kind in (("OK", "good"), ("", "bad")):
            rule = {
                "type": "text",
                "criteria": "begins with" if text else "not containing",
                "value": text or "OK",
                "format": self.styles(kind),
            }
            for _, column, place in self.plan.columns:
                if column.unit is None and place.column in self.plan.marked:
                    self.sheet.conditional_format(place.row, place.column, place.row, place.column, rule)

    def _differs(self) -> None:
        """Mark inputs that are not at their default."""
        for row, column, default in self.plan.compared:
            cell, other = xl_rowcol_to_cell(row, column), xl_rowcol_to_cell(row, default)
            test = f"=ABS({cell}-{other})>0.000000001*ABS({other})"
            rule = {"type": "formula", "criteria": test, "format": self.styles.differs}
            self.sheet.conditional_format(row, column, row, column, rule)
