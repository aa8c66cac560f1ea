"""A calculation laid out as tables: each column is an input, a calculation of other columns, a look-up or a total.

The same tables give the numbers (evaluated here, vectorised and in chunks of rows) and the sheets of a workbook (printed by
`xlfab.workbook.grid`), so that a formula and its cached value come from one place. A record is a table of one row; its
numbers may also be a batch of variants of shape (variants, 1), which carries through every total.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from xlfab.arguments import label_of
from xlfab.errors import InputError
from xlfab.registry import Function
from xlfab.units import Unit, split_name

CHUNK = 8192  # rows worked on at once, so that the terms stay in the processor's cache


@dataclass(eq=False)
class Rows:
    """The rows that several tables share: row 7 of one is row 7 of the other.

    A workbook can have `spare` rows below them, for the user to fill: a row counts as used once its `key` is filled.
    """

    name: str
    count: int
    spare: int = 0
    key: Ref | None = None

    @property
    def shown(self) -> int:
        """The rows of a sheet, spare ones included."""
        return self.count + self.spare


@dataclass(frozen=True)
class Ref:
    """A column of a table, to be used by another."""

    table: Table
    column: str


@dataclass(frozen=True)
class Input:
    """Values that the user states."""


@dataclass(frozen=True)
class Calc:
    """A function of other columns, element by element. A plain Python function (a sum, a difference) is traced without checks."""

    function: Callable[..., Any]
    arguments: tuple[Ref | float, ...]


@dataclass(frozen=True)
class Lookup:
    """The value of another table's column in the row whose key equals this row's; with `steps`, in the last row whose key is not above it."""

    key: Ref
    source: Ref
    source_key: str
    steps: bool = False


@dataclass(frozen=True)
class Total:
    """The sum of another table's column over the rows whose key equals this row's; over all rows where there is no key."""

    source: Ref
    key: Ref | None = None
    source_key: str = ""


@dataclass(frozen=True)
class Count:
    """How many rows of another table have this row's key."""

    key: Ref
    source_key: Ref


@dataclass(frozen=True)
class Running:
    """The running sum of a column of the same table; `before` leaves out the row itself."""

    column: str
    before: bool


@dataclass(frozen=True)
class OverRange:
    """A range function (net present value, say) of whole columns and single values."""

    function: Function
    arguments: tuple[Ref | float, ...]


@dataclass(frozen=True)
class Peak:
    """The largest (or the least) value of another table's column."""

    source: Ref
    least: bool = False


@dataclass(frozen=True)
class Largest:
    """The largest absolute value of several single cells of one unit."""

    sources: tuple[Ref, ...]


Rule = Input | Calc | Lookup | Total | Count | Running | OverRange | Peak | Largest


@dataclass
class Column:
    """One column: its name (with the unit at its end, unless text), how it comes about, and what to say of it."""

    name: str
    rule: Rule
    label: str
    unit: Unit | None
    note: str = ""
    choices: tuple[str, ...] | Ref = ()
    spare: float | str | None = None  # what an input shows in a spare row


@dataclass(eq=False)
class Table:
    """Named columns over one set of rows."""

    name: str
    title: str
    rows: Rows
    columns: dict[str, Column] = field(default_factory=dict)
    note: str = ""
    _values: dict[str, Any] = field(default_factory=dict)

    @classmethod
    def record(cls, name: str, title: str) -> Table:
        """A table of one row."""
        return cls(name, title, Rows(name, 1))

    def __getitem__(self, name: str) -> Ref:
        if name not in self.columns:
            raise InputError(f"table {self.name} has no column {name}")
        return Ref(self, name)

    def value(self, name: str) -> Any:
        """The values of a column, evaluated if need be: shape (rows,), or (variants, rows) in a batch."""
        if name not in self._values:
            self.evaluate()
        return self._values[name]

    def number(self, name: str) -> float:
        """The one value of a record's column."""
        return float(np.asarray(self.value(name)).reshape(-1)[0])

    def _add(self, name: str, rule: Rule, label: str = "", note: str = "", text: bool = False) -> Ref:
        if name in self.columns:
            raise InputError(f"table {self.name} has column {name} twice")
        unit = None if text else split_name(name)[1]
        if not label:
            label = name.replace("_", " ").capitalize() if text else label_of(name)
        self.columns[name] = Column(name, rule, label, unit, note)
        return Ref(self, name)

    def put(
        self,
        name: str,
        values: Any,
        label: str = "",
        note: str = "",
        choices: tuple[str, ...] | Ref = (),
        spare: float | str | None = None,
    ) -> Ref:
        """Add an input column. Text values make a text column."""
        array = np.asarray(values)
        text = array.dtype.kind in "OUS"
        if array.ndim == 0:
            array = array.reshape(1)
        reference = self._add(name, Input(), label, note, text)
        self.columns[name].choices = choices
        self.columns[name].spare = spare
        self._values[name] = array if text else array.astype(np.float64)
        return reference

    def add(
        self,
        name: str,
        function: Callable[..., Any],
        *arguments: str | Ref | float,
        label: str = "",
        note: str = "",
        text: bool = False,
    ) -> Ref:
        """Add a column calculated from others; names are columns of this table. Units are checked for registered functions."""
        refs = tuple(self[item] if isinstance(item, str) else item for item in arguments)
        for item in refs:
            if isinstance(item, Ref) and not self._fits(item.table):
                raise InputError(
                    f"{self.name}.{name}: rows of {item.table.name} do not match; use a look-up or a total"
                )
        if isinstance(function, Function):
            self._check_units(name, function, refs)
        return self._add(name, Calc(function, refs), label, note, text)

    def lookup(
        self,
        name: str,
        key: str,
        source: Ref,
        source_key: str,
        label: str = "",
        text: bool = False,
        steps: bool = False,
    ) -> Ref:
        """Add a column found in another table by key; with `steps` the keys rise and each row holds from its key on."""
        rule = Lookup(self[key], source, source_key, steps)
        return self._add(name, rule, label or source.table.columns[source.column].label, text=text)

    def total(
        self, name: str, source: Ref, key: str = "", source_key: str = "", label: str = "", note: str = ""
    ) -> Ref:
        """Add the sum of another table's column, by key or over all its rows."""
        return self._add(name, Total(source, self[key] if key else None, source_key), label, note)

    def count(self, name: str, key: str, source_key: Ref, label: str = "") -> Ref:
        """Add the number of another table's rows with this row's key."""
        return self._add(name, Count(self[key], source_key), label)

    def running(self, name: str, column: str, before: bool = False, label: str = "") -> Ref:
        """Add the running sum of a column of this table."""
        return self._add(name, Running(self[column].column, before), label)

    def peak(self, name: str, source: Ref, label: str = "") -> Ref:
        """Add the largest value of another table's column."""
        return self._add(name, Peak(source), label)

    def largest(self, name: str, *sources: Ref, label: str = "") -> Ref:
        """Add the largest absolute value of single cells."""
        return self._add(name, Largest(sources), label)

    def least(self, name: str, source: Ref, label: str = "") -> Ref:
        """Add the least value of another table's column."""
        return self._add(name, Peak(source, True), label)

    def over(self, name: str, function: Function, *arguments: Ref | float, label: str = "", note: str = "") -> Ref:
        """Add a range function over whole columns of other tables."""
        return self._add(name, OverRange(function, arguments), label, note)

    def _fits(self, other: Table) -> bool:
        return other.rows is self.rows or other.rows.count == 1

    def _check_units(self, name: str, function: Function, refs: tuple[Ref | float, ...]) -> None:
        spec = function.spec
        if len(refs) != len(spec.arguments):
            raise InputError(
                f"{self.name}.{name}: {spec.name} takes {len(spec.arguments)} arguments, {len(refs)} given"
            )
        pairs = [(split_name(name)[1], spec.unit, name)]
        for item, argument in zip(refs, spec.arguments, strict=True):
            if isinstance(item, Ref):
                pairs.append((item.table.columns[item.column].unit or argument.unit, argument.unit, item.column))
        for given, wanted, which in pairs:
            if given is not wanted:
                raise InputError(f"{self.name}.{name}: {which} is in {given.label}, {spec.name} wants {wanted.label}")

    # --- evaluation -------------------------------------------------------------------------------------------------

    def evaluate(self) -> None:
        """Compute every column that has no values yet, in the written order."""
        pending = [column for column in self.columns.values() if column.name not in self._values]
        rowwise = [column for column in pending if isinstance(column.rule, Calc)]
        chunked = self.rows.count > CHUNK and len(rowwise) > 1
        run: list[Column] = []
        for column in pending:
            if chunked and isinstance(column.rule, Calc) and self._flat(column.rule):
                run.append(column)
                continue
            self._evaluate_run(run)
            run = []
            self._values[column.name] = self._evaluate_one(column.rule)
        self._evaluate_run(run)

    def _flat(self, rule: Calc) -> bool:
        """True if no argument is a batch of variants (then rows can be worked on in chunks)."""
        return all(
            np.ndim(item.table.value(item.column)) == 1
            for item in rule.arguments
            if isinstance(item, Ref) and item.table is not self
        )

    def _evaluate_run(self, run: list[Column]) -> None:
        """Compute a run of row-wise columns chunk by chunk."""
        if not run:
            return
        for column in run:
            self._values[column.name] = np.empty(self.rows.count)
        for start in range(0, self.rows.count, CHUNK):
            part = slice(start, start + CHUNK)
            for column in run:
                assert isinstance(column.rule, Calc)
                self._values[column.name][part] = self._apply(column.rule, part)

    def _argument(self, item: Ref | float, part: slice | None) -> Any:
        if not isinstance(item, Ref):
            return item
        value = item.table.value(item.column) if item.table is not self else self._values[item.column]
        if value.shape[-1] == 1 and self.rows.count != 1:
            return float(value[0]) if value.ndim == 1 and value.dtype == np.float64 else value
        return value if part is None else value[part]

    def _apply(self, rule: Calc, part: slice | None) -> Any:
        arguments = [self._argument(item, part) for item in rule.arguments]
        if isinstance(rule.function, Function):
            return rule.function(*arguments, invalid="nan")
        with np.errstate(all="ignore"):
            return rule.function(*arguments)

    def _evaluate_one(self, rule: Rule) -> Any:
        if isinstance(rule, Calc):
            result = np.asarray(self._apply(rule, None))
            return np.broadcast_to(result, (*result.shape[:-1], self.rows.count))
        if isinstance(rule, Lookup):
            values = rule.source.table.value(rule.source.column)
            keys, wanted = rule.source.table.value(rule.source_key), self._values[rule.key.column]
            index = np.searchsorted(keys, wanted, "right") - 1 if rule.steps else _positions(keys, wanted)
            return np.take(values, index, axis=-1)
        if isinstance(rule, Count):
            known, counts = np.unique(rule.source_key.table.value(rule.source_key.column), return_counts=True)
            found = dict(zip(known.tolist(), counts.tolist(), strict=True))
            return np.array([found.get(key, 0) for key in self._values[rule.key.column]], dtype=np.float64)
        if isinstance(rule, Total):
            return self._total(rule)
        if isinstance(rule, Largest):
            return np.max([np.abs(item.table.value(item.column)) for item in rule.sources], axis=0)
        if isinstance(rule, Peak):
            values = rule.source.table.value(rule.source.column)
            return (values.min if rule.least else values.max)(axis=-1, keepdims=True)
        if isinstance(rule, Running):
            values = self._values[rule.column]
            sums = np.cumsum(values, axis=-1)
            return sums - values if rule.before else sums
        if isinstance(rule, OverRange):
            arguments = [_range_argument(item) for item in rule.arguments]
            return np.asarray(rule.function(*arguments, invalid="nan")).reshape(*np.shape(arguments[-1])[:-1], 1)
        raise InputError("an input column has no values")

    def _total(self, rule: Total) -> Any:
        values = rule.source.table.value(rule.source.column)
        if rule.key is None:
            return values.sum(axis=-1, keepdims=True)
        index = _positions(self._values[rule.key.column], rule.source.table.value(rule.source_key))
        if values.ndim == 1:
            return np.bincount(index, weights=values, minlength=self.rows.count)
        return np.stack([np.bincount(index, weights=row, minlength=self.rows.count) for row in values])


def _range_argument(item: Ref | float) -> Any:
    if not isinstance(item, Ref):
        return item
    values = item.table.value(item.column)
    if item.table.rows.count > 1:
        return values
    return values[..., 0] if values.ndim > 1 else float(values[0])


def _positions(keys: Any, wanted: Any) -> Any:
    """Where each wanted key stands among the keys (which are unique)."""
    wanted = np.asarray(wanted)
    if len(keys) and len(wanted) > 64:
        order = np.argsort(keys)
        found = np.searchsorted(keys, wanted, sorter=order)
        return order[np.minimum(found, len(keys) - 1)]
    place = {key: number for number, key in enumerate(keys)}
    return np.array([place[key] for key in wanted], dtype=np.intp)
