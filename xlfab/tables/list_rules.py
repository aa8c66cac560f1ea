"""Rules that look into other lists: rows found by key, totals, counts, running sums, largest values, range functions.

Keys are compared once, by `RowOf`; every look-up, total and count goes by the row number that it found. A spreadsheet's own
SUMIF, COUNTIF and MATCH on texts take 1.1 for 1.10, 001 for 1, and * and ? for any letters.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.core.errors import FormulaError
from xlfab.core.registry import Function
from xlfab.tables.cells import ALL, Step
from xlfab.tables.keys import first_rows, places
from xlfab.tables.rules import Printer, Ref, Rule, Term, guarded, origin
from xlfab.tables.sums import Sums


@dataclass(frozen=True)
class RowOf(Rule):
    """In which row of another list this row's key stands, counted from 1. Upper and lower case are the same."""

    key: Ref
    keys: Ref

    def needs(self) -> list[Ref]:
        return [self.key, self.keys]

    @property
    def places(self) -> Any:
        """The rows counted from 0, as whole numbers."""
        if origin(self.key) == origin(self.keys):  # equal keys among the rows themselves
            return first_rows(self.keys.known)
        return places(self.keys, self.key)

    def whole(self, own: Ref) -> Any:
        return self.places + 1.0

    def formula(self, own: Ref, printer: Printer) -> str:
        cell, list_ = printer.cell(self.key), printer.cells(origin(self.keys))
        match = f"MATCH({cell},{list_},0)"
        if self.key.unit is not None:
            return match
        # MATCH is fast but takes * and ? for any letters: where it found another name, all of them are compared
        same = f'({list_}&""={cell}&"")'
        number = f"(ROW({list_})-ROW({printer.first(origin(self.keys))})+1)"
        only = f'((SUMPRODUCT(--{same})=1)*({cell}<>""))'
        right = f"IFERROR(INDEX({list_},{match})={cell},0)"
        return f"IF({right},{match},SUMPRODUCT({same}*{number})/{only})"


@dataclass(frozen=True)
class Lookup(Rule):
    """The value of another list's column in the row that `row` says."""

    source: Ref
    row: Ref
    link: RowOf

    def needs(self) -> list[Ref]:
        return [self.source, self.link.key, self.link.keys]

    def row_wise(self, own: Ref) -> bool:
        return own.unit is not None

    def step(self, slots: list[int], place: int) -> Step:
        array, rows = self.source.known, self.link.places
        if array.ndim == 2:
            return lambda cells, block: array[block[0]].take(rows[block[1]], axis=1)
        return lambda cells, block: array.take(rows[block[1]])

    def whole(self, own: Ref) -> Any:
        return self.source.known.take(self.link.places, axis=-1)

    def formula(self, own: Ref, printer: Printer) -> str:
        found = f"INDEX({printer.cells(self.source)},{printer.cell(self.row)})"
        return guarded([found], found) if self.source.may_be_blank else found


@dataclass(frozen=True)
class StepLookup(Rule):
    """The value in the last row of a list whose key is not above this row's number; the keys rise."""

    key: Ref
    source: Ref
    keys: Ref

    def needs(self) -> list[Ref]:
        return [self.key, self.source, self.keys]

    @property
    def by_row(self) -> tuple[Term, ...]:
        return (self.key,)

    def row_wise(self, own: Ref) -> bool:
        return own.unit is not None

    def step(self, slots: list[int], place: int) -> Step:
        array, starts, key = self.source.known, self.keys.known, slots[0]
        return lambda cells, block: array.take(np.searchsorted(starts, cells.values[key], "right") - 1)

    def whole(self, own: Ref) -> Any:
        return self.source.known.take(np.searchsorted(self.keys.known, self.key.known, "right") - 1, axis=-1)

    def formula(self, own: Ref, printer: Printer) -> str:
        row = f"MATCH({printer.cell(self.key)},{printer.cells(origin(self.keys))},1)"
        found = f"INDEX({printer.cells(self.source)},{row})"
        return guarded([found], found) if self.source.may_be_blank else found


@dataclass(frozen=True)
class Total(Rule):
    """The sum of another list's column: over all rows, or over those that `row` says belong to this row.

    With `where`, a switch of the same rows, only rows that have it on are added up: an error value in any other row does no harm.
    """

    source: Ref
    row: Ref | None = None
    link: RowOf | None = None
    where: Ref | None = None

    def needs(self) -> list[Ref]:
        where = [] if self.where is None else [self.where]
        return [self.source, *where, *([] if self.link is None else [self.link.key, self.link.keys])]

    @property
    def by_row(self) -> tuple[Term, ...]:
        return (self.source,)

    @property
    def adds_up(self) -> Ref | None:
        return self.source

    def sums(self, own: Ref, variants: int) -> Sums:
        place = None if self.link is None else self.link.places
        return Sums(place, own.table.rows.count, variants, None if self.where is None else self.where.known > 0)

    def whole(self, own: Ref) -> Any:
        values = self.source.known
        batch = [item.known for item in (self.source, self.where) if item is not None and item.known.ndim == 2]
        if batch:
            values = np.broadcast_to(values, batch[0].shape)
        found = self.sums(own, len(batch[0]) if batch else 0)
        found.take(ALL, values)
        return found.result

    def formula(self, own: Ref, printer: Printer) -> str:
        values = printer.cells(self.source)
        if self.where is not None:
            return f"SUMIF({printer.cells(self.where)},1,{values})"
        if self.row is None:
            return f"SUM({values})"
        return f"SUMIF({printer.cells(self.row)},{printer.row_number()},{values})"


@dataclass(frozen=True)
class Count(Rule):
    """How many rows of another list belong to this row. `own` is where this row's number stands if it is not the row itself."""

    row: Ref
    link: RowOf
    own: Ref | None = None

    def needs(self) -> list[Ref]:
        return [self.link.key, self.link.keys]

    def whole(self, own: Ref) -> Any:
        found = np.bincount(self.link.places, minlength=own.table.rows.count).astype(np.float64)
        return found if self.own is None else found[self.link.places]

    def formula(self, own: Ref, printer: Printer) -> str:
        number = printer.row_number() if self.own is None else printer.cell(self.own)
        return f"COUNTIF({printer.cells(self.row)},{number})"


@dataclass(frozen=True)
class Running(Rule):
    """The running sum of a column of the same table; `before` leaves out the row itself."""

    source: Ref
    before: bool

    def needs(self) -> list[Ref]:
        return [self.source]

    def whole(self, own: Ref) -> Any:
        values = self.source.known
        sums = np.cumsum(values, axis=-1)
        return sums - values if self.before else sums

    def formula(self, own: Ref, printer: Printer) -> str:
        total = f"SUM({printer.so_far(self.source)})"
        return f"{total}-{printer.cell(self.source)}" if self.before else total


@dataclass(frozen=True)
class Peak(Rule):
    """The largest (or the least) value of another list's column."""

    source: Ref
    least: bool = False

    def needs(self) -> list[Ref]:
        return [self.source]

    def whole(self, own: Ref) -> Any:
        values = self.source.known
        if not values.shape[-1]:
            return np.zeros(1)  # as MAX and MIN of no number
        return (values.min if self.least else values.max)(axis=-1, keepdims=True)

    def formula(self, own: Ref, printer: Printer) -> str:
        return f"{'MIN' if self.least else 'MAX'}({printer.cells(self.source)})"


@dataclass(frozen=True)
class AtLeast(Rule):
    """The value of a column in the row in which another column of its list is least: the first such row."""

    source: Ref
    by: Ref

    def needs(self) -> list[Ref]:
        return [self.source, self.by]

    def whole(self, own: Ref) -> Any:
        values, by = self.source.known, self.by.known
        if not values.shape[-1]:
            return np.array([""], dtype=object) if self.source.unit is None else np.zeros(1)
        place = np.argmin(by, axis=-1)
        if by.ndim == 1:
            return values[..., place : place + 1]
        return np.take_along_axis(np.broadcast_to(values, by.shape), place[:, np.newaxis], axis=-1)

    def formula(self, own: Ref, printer: Printer) -> str:
        by, none = printer.cells(self.by), '""' if self.source.unit is None else "0"
        return f"IF(COUNT({by})=0,{none},INDEX({printer.cells(self.source)},MATCH(MIN({by}),{by},0)))"


@dataclass(frozen=True)
class Largest(Rule):
    """The largest absolute value of several single cells of one unit."""

    sources: tuple[Ref, ...]

    def needs(self) -> list[Ref]:
        return list(self.sources)

    def whole(self, own: Ref) -> Any:
        return np.max([np.abs(item.known) for item in self.sources], axis=0)

    def formula(self, own: Ref, printer: Printer) -> str:
        return f"MAX({','.join(f'ABS({printer.cell(item)})' for item in self.sources)})"


@dataclass(frozen=True)
class OverRange(Rule):
    """A range function (net present value, say) of whole columns and single values."""

    function: Function
    arguments: tuple[Term, ...]
    calls = True

    def needs(self) -> list[Ref]:
        return [item for item in self.arguments if isinstance(item, Ref)]

    def whole(self, own: Ref) -> Any:
        arguments = [_values(item) for item in self.arguments]
        return np.asarray(self.function(*arguments, invalid="nan")).reshape(*np.shape(arguments[-1])[:-1], 1)

    def formula(self, own: Ref, printer: Printer) -> str:
        spec = self.function.spec
        texts = [_cells(item, printer) for item in self.arguments]
        if printer.form == "call":
            return f"{spec.cell_name}({','.join(texts)})"
        if spec.native is None:
            raise FormulaError(f"{spec.name} has no form for a workbook without add-in")
        return spec.native(*texts)


def _values(item: Term) -> Any:
    if not isinstance(item, Ref):
        return item
    values = item.known
    if item.table.rows.count > 1:
        return values
    return values[..., 0] if values.ndim > 1 else float(values[0])


def _cells(item: Term, printer: Printer) -> str:
    if not isinstance(item, Ref):
        return repr(item)
    return printer.cells(item) if item.table.rows.shown > 1 else printer.cell(item)
