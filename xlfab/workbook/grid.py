"""From tables to cells: where each column stands, and the formula of each of its cells.

A place says where a column's values are; formulas are printed once a column and filled down, so that every row of a
column holds the same formula. Cells can be shown in US customary units: a reference then carries the unit factor.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

import numpy as np
from xlsxwriter.utility import quote_sheetname, xl_col_to_name

from xlfab.core.errors import FormulaError
from xlfab.core.units import UNITS, Unit, factor, shown_unit
from xlfab.tables.rules import Term
from xlfab.tables.table import Column, Ref, Table
from xlfab.trace.expression import Expression, number, ref
from xlfab.trace.spreadsheet import inside_limit, plain, shortest

_ROW = re.compile(r"§(\d+)§")
FORMS = ("let", "plain", "call")


Area = tuple[int, int, int, int]  # first row, first column, last row, last column


@dataclass(frozen=True)
class Place:
    """Where the values of a column stand: first cell (zero-based) and how many, downwards."""

    sheet: str
    row: int
    column: int
    count: int

    def cell(self, seen_from: str) -> str:
        """The cell of the row being printed (the row number is put in later), or the one cell of a record."""
        letters = xl_col_to_name(self.column)
        text = f"${letters}${self.row + 1}" if self.count == 1 else f"${letters}§{self.row + 1}§"
        return self._prefix(seen_from) + text

    def first(self, seen_from: str) -> str:
        """The first cell of the column."""
        return f"{self._prefix(seen_from)}${xl_col_to_name(self.column)}${self.row + 1}"

    def range(self, seen_from: str) -> str:
        """The whole column of values."""
        letters = xl_col_to_name(self.column)
        return f"{self._prefix(seen_from)}${letters}${self.row + 1}:${letters}${self.row + self.count}"

    @property
    def area(self) -> Area:
        """The cells, as charts and conditions want them."""
        return self.row, self.column, self.row + self.count - 1, self.column

    def _prefix(self, seen_from: str) -> str:
        # quoted only where needed, as programs write it: they then know a formula again from the row above and read it once
        return "" if seen_from == self.sheet else f"{quote_sheetname(self.sheet)}!"


class Grid:
    """All places of a workbook, and the formulas between them. `form` is 'let', 'plain' or 'call'; `system` 'metric' or 'us'."""

    def __init__(self, form: str = "let", system: str = "metric") -> None:
        self.form = form
        self.system = system
        self.places: dict[tuple[int, str], Place] = {}
        self._kept: list[Table] = []  # keeps the tables alive, so that their ids stay theirs

    def put(self, table: Table, column: str, place: Place) -> None:
        """Say where a column stands. A column stands in one place only."""
        key = (id(table), column)
        if key in self.places:
            raise FormulaError(f"{table.name}.{column} is placed twice")
        self.places[key] = place
        self._kept.append(table)

    def place(self, item: Ref) -> Place:
        """Where a referenced column stands; one that only repeats another, and has no cells of its own, stands where that one does."""
        found = self.places.get((id(item.table), item.column))
        if found is None:
            repeated = repeats(item)
            if repeated is not None:
                return self.place(repeated)
            raise FormulaError(f"{item.table.name}.{item.column} is used in a formula but stands on no sheet")
        return found

    def has(self, item: Ref) -> bool:
        """True if a column stands on a sheet, itself or as the one that it repeats."""
        if (id(item.table), item.column) in self.places:
            return True
        repeated = repeats(item)
        return repeated is not None and self.has(repeated)

    def shown(self, unit: Unit | None) -> tuple[Unit | None, float]:
        """The unit in which a quantity is shown, and the factor from shown to computed."""
        if unit is None:
            return None, 1.0
        suffix = shown_unit(unit.suffix, self.system)
        return UNITS[suffix], float(f"{factor(suffix, unit.suffix):.15g}")  # the digits that programs keep

    def formula(self, table: Table, column: Column) -> str:
        """The formula of a column, with marks where the row number goes; empty in spare rows until their key is filled."""
        own = Ref(table, column.name)
        printer = CellPrinter(self, own)
        text = inside_limit(f"{table.name}.{column.name}", column.rule.formula(own, printer))
        return text if table.rows.key is None else f'IF({printer.cell(table.rows.key)}="","",{text})'


def repeats(item: Ref) -> Ref | None:
    """The column of the same rows that a column repeats cell by cell, if it does."""
    source, rows = item.rule.copied, item.table.rows
    if source is None or rows.spare or source.unit is not item.unit:
        return None
    return source if source.table.rows is rows or source.table.rows.shown == rows.shown == 1 else None


class CellPrinter:
    """Where columns stand, seen from the cells of one column, and how their formulas are written."""

    def __init__(self, grid: Grid, own: Ref) -> None:
        self.form = grid.form
        self._grid = grid
        self._own = grid.place(own)
        self._name = f"{own.table.name}.{own.column}"

    def cell(self, item: Ref) -> str:
        """The cell of a column in the row being printed, or the one cell of a record."""
        return self._grid.place(item).cell(self._own.sheet)

    def cells(self, item: Ref) -> str:
        """All cells of a column."""
        return self._grid.place(item).range(self._own.sheet)

    def first(self, item: Ref) -> str:
        """The first cell of a column."""
        return self._grid.place(item).first(self._own.sheet)

    def row_number(self) -> str:
        """The number of the row being printed, counted from 1."""
        return f"ROW()-ROW({self._own.first(self._own.sheet)})+1"

    def so_far(self, item: Ref) -> str:
        """The cells of a column from the first to the row being printed."""
        return f"{self.first(item)}:{self._grid.place(item).cell(self._grid.place(item).sheet)}"

    def term(self, item: Term) -> Expression:
        """A cell as a term of a formula, in the unit that is computed with."""
        if not isinstance(item, Ref):
            return number(item)
        cell, scale = ref(self.cell(item)), self.scale(item.unit)
        return cell if scale == 1.0 else Expression("*", cell, number(scale))

    def scale(self, unit: Unit | None) -> float:
        """What a number as shown is multiplied by to be in the unit that is computed with."""
        return self._grid.shown(unit)[1]

    def write(self, root: Expression) -> str:
        """An expression as text."""
        return shortest(root) if self.form == "let" else plain(root, self._name)


def fill(template: str, index: int) -> str:
    """Put the row numbers of one row into a formula."""
    return _ROW.sub(lambda match: str(int(match.group(1)) + index), template)


def cached(value: Any, scale: float) -> Any:
    """A computed value as the cell shows it: text as it is, NaN as an error value."""
    if isinstance(value, str):
        return value
    if not np.isfinite(value):
        return "#NUM!"
    return float(value) / scale
