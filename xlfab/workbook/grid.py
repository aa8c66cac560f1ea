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
from xlfab.core.registry import Function
from xlfab.core.units import UNITS, Unit, factor, shown_unit
from xlfab.tables.table import (
    AtLeast,
    Calc,
    Column,
    Count,
    Input,
    Largest,
    Lookup,
    OverRange,
    Peak,
    Ref,
    Running,
    Table,
    Total,
)
from xlfab.trace.expression import Expression, number, ref, trace, traced
from xlfab.trace.formula import LIMIT, plain, shortest

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

    def term(self, item: Ref | float, sheet: str) -> Expression:
        """A reference as a term of a formula, in the unit that is computed with."""
        if not isinstance(item, Ref):
            return number(item)
        cell = ref(self.place(item).cell(sheet))
        scale = self.shown(item.table.columns[item.column].unit)[1]
        return cell if scale == 1.0 else Expression("*", cell, number(scale))

    def formula(self, table: Table, column: Column) -> str:
        """The formula of a column, with marks where the row number goes; empty in spare rows until their key is filled."""
        text = self._bare(table, column)
        if table.rows.key is None:
            return text
        sheet = self.place(Ref(table, column.name)).sheet
        return f'IF({self.place(table.rows.key).cell(sheet)}="","",{text})'

    def _bare(self, table: Table, column: Column) -> str:
        rule = column.rule
        sheet = self.place(Ref(table, column.name)).sheet
        if isinstance(rule, Calc):
            return self._calculation(column, rule, sheet)
        if isinstance(rule, Lookup):
            keys = self._keys(rule.source.table, rule.source_key).range(sheet)
            values = self.place(rule.source).range(sheet)
            found = f"INDEX({values},MATCH({self.place(rule.key).cell(sheet)},{keys},{int(rule.steps)}))"
            return _unless_blank([found], found) if is_stated_number(rule.source) else found
        if isinstance(rule, Total):
            return self._total(rule, sheet)
        if isinstance(rule, Count):
            keys = self._keys(rule.source_key.table, rule.source_key.column).range(sheet)
            return f"COUNTIF({keys},{self.place(rule.key).cell(sheet)})"
        if isinstance(rule, AtLeast | Largest | Peak):
            return self._extreme(rule, sheet)
        if isinstance(rule, Running):
            place = self.place(Ref(table, rule.column))
            letters = xl_col_to_name(place.column)
            total = f"SUM(${letters}${place.row + 1}:{place.cell(sheet)})"
            return f"{total}-{place.cell(sheet)}" if rule.before else total
        if isinstance(rule, OverRange):
            return self._over_range(rule, sheet)
        raise FormulaError(f"{table.name}.{column.name} is an input and has no formula")

    def _total(self, rule: Total, sheet: str) -> str:
        values = self.place(rule.source).range(sheet)
        if rule.where is not None:
            return f"SUMIF({self.place(rule.where).range(sheet)},1,{values})"
        if rule.key is None:
            return f"SUM({values})"
        keys = self._keys(rule.source.table, rule.source_key).range(sheet)
        return f"SUMIF({keys},{self.place(rule.key).cell(sheet)},{values})"

    def _extreme(self, rule: AtLeast | Largest | Peak, sheet: str) -> str:
        if isinstance(rule, AtLeast):
            by = self.place(Ref(rule.source.table, rule.by)).range(sheet)
            return f"INDEX({self.place(rule.source).range(sheet)},MATCH(MIN({by}),{by},0))"
        if isinstance(rule, Largest):
            return f"MAX({','.join(f'ABS({self.place(item).cell(sheet)})' for item in rule.sources)})"
        return f"{'MIN' if rule.least else 'MAX'}({self.place(rule.source).range(sheet)})"

    def _keys(self, table: Table, column: str) -> Place:
        """Where keys are looked for: as typed, where the column repeats them, since programs go through stated cells much faster."""
        rule, key = table.columns[column].rule, table.rows.key
        repeated = (
            isinstance(rule, Calc) and rule.arguments == (key,) and key is not None and key.table.rows is table.rows
        )
        return self.place(key if repeated and key is not None else Ref(table, column))

    def _calculation(self, column: Column, rule: Calc, sheet: str) -> str:
        scale = self.shown(column.unit)[1]
        terms = [self.term(item, sheet) for item in rule.arguments]
        if isinstance(rule.function, Function) and self.form == "call":
            text = f"{rule.function.spec.cell_name}({','.join(plain(term) for term in terms)})"
            return _unless_blank(self._may_pass_blank(rule, sheet), text if scale == 1.0 else f"{text}/{scale!r}")
        root = traced(rule.function, terms) if isinstance(rule.function, Function) else trace(rule.function, terms)
        if scale != 1.0:
            root = Expression("/", root, number(scale))
        text = plain(root) if self.form == "plain" else shortest(root)
        for cell in self._calculated(rule, sheet):
            text = text.replace(f"ISNUMBER({cell})*", "")
        if column.unit is None and root.op == "ref":
            text += '&""'  # an empty text is not a 0
        text = _unless_blank(self._may_pass_blank(rule, sheet), text)
        return _inside_limit(getattr(rule.function, "__name__", column.name), text)

    def _calculated(self, rule: Calc, sheet: str) -> list[str]:
        """Cells that hold a number or an error value and are never blank: their range alone decides, a text being above every number."""
        if not isinstance(rule.function, Function):
            return []
        refs = [item for item in rule.arguments if isinstance(item, Ref)]
        return [self.place(item).cell(sheet) for item in refs if isinstance(item.rule, (Calc, Lookup, Total, Count))]

    def _may_pass_blank(self, rule: Calc, sheet: str) -> list[str]:
        """Cells that a function would take for 0 when they are blank: multiplied by a unit factor, or given to an add-in by LibreOffice."""
        if not isinstance(rule.function, Function):
            return []
        cells = []
        for item, argument in zip(rule.arguments, rule.function.spec.arguments, strict=True):
            if isinstance(item, Ref) and is_stated_number(item) and argument.accepts(0.0, 0.0):
                cell = self.place(item).cell(sheet)
                if (self.form == "call" or self.term(item, sheet).op != "ref") and cell not in cells:
                    cells.append(cell)
        return cells

    def _over_range(self, rule: OverRange, sheet: str) -> str:
        texts = []
        for item in rule.arguments:
            if isinstance(item, Ref):
                place = self.place(item)
                texts.append(place.range(sheet) if place.count > 1 else place.cell(sheet))
            else:
                texts.append(repr(item))
        if self.form == "call":
            return f"{rule.function.spec.cell_name}({','.join(texts)})"
        if rule.function.spec.native is None:
            raise FormulaError(f"{rule.function.spec.name} has no form for a workbook without add-in")
        return _inside_limit(rule.function.spec.name, rule.function.spec.native(*texts))


def repeats(item: Ref) -> Ref | None:
    """The column of the same rows that a column repeats cell by cell, if it does."""
    column = item.table.columns[item.column]
    rule, rows = column.rule, item.table.rows
    if not isinstance(rule, Calc) or isinstance(rule.function, Function) or len(rule.arguments) != 1 or rows.spare:
        return None
    (source,) = rule.arguments
    if not isinstance(source, Ref) or source.table.columns[source.column].unit is not column.unit:
        return None
    same = source.table.rows is rows or source.table.rows.shown == rows.shown == 1
    return source if same and trace(rule.function, [ref("x")]).op == "ref" else None


def _inside_limit(name: str, text: str) -> str:
    if len(text) >= LIMIT:
        raise FormulaError(f"{name}: the formula would pass {LIMIT} characters")
    return text


def fill(template: str, index: int) -> str:
    """Put the row numbers of one row into a formula."""
    return _ROW.sub(lambda match: str(int(match.group(1)) + index), template)


def calls_function(column: Column) -> bool:
    """True if the column is a registered function (which add-in flavours write as a call)."""
    rule = column.rule
    return isinstance(rule, OverRange) or (isinstance(rule, Calc) and isinstance(rule.function, Function))


def _unless_blank(cells: list[str], text: str) -> str:
    """A formula that gives an error value where one of the cells holds no number."""
    return f"IF({'*'.join(f'ISNUMBER({cell})' for cell in cells)},{text},#NUM!)" if cells else text


def is_stated_number(item: Ref) -> bool:
    """True if the user states the column and it holds numbers: then a cell of it can be blank."""
    column = item.table.columns[item.column]
    return is_input(column) and column.unit is not None


def is_input(column: Column) -> bool:
    """True if the user states the column."""
    return isinstance(column.rule, Input)


def cached(value: Any, scale: float) -> Any:
    """A computed value as the cell shows it: text as it is, NaN as an error value."""
    if isinstance(value, str):
        return value
    if not np.isfinite(value):
        return "#NUM!"
    return float(value) / scale
