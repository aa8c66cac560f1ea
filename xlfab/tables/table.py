"""A calculation laid out as tables: each column is an input, a calculation of other columns, a look-up or a total.

The same tables give the numbers (worked out by `xlfab.tables.plan`) and the sheets of a workbook (printed by
`xlfab.workbook.grid`), so that a formula and its cached value come from one place. A record is a table of one row; its
numbers may also be a batch of variants of shape (variants, 1), which carries through every total.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from xlfab.core.arguments import label_of
from xlfab.core.errors import InputError
from xlfab.core.registry import Function
from xlfab.core.units import ends_in_unit, split_name
from xlfab.tables.plan import fill
from xlfab.tables.rules import (
    AtLeast,
    Calc,
    Column,
    Count,
    Fixed,
    Input,
    Largest,
    Lookup,
    OverRange,
    Peak,
    Ref,
    Rows,
    Rule,
    Running,
    Total,
)

__all__ = [
    "AtLeast",
    "Calc",
    "Column",
    "Count",
    "Fixed",
    "Input",
    "Largest",
    "Lookup",
    "OverRange",
    "Peak",
    "Ref",
    "Rows",
    "Rule",
    "Running",
    "Table",
    "Total",
]


@dataclass(eq=False, repr=False)
class Table:
    """Named columns over one set of rows."""

    name: str
    title: str
    rows: Rows
    columns: dict[str, Column] = field(default_factory=dict)
    note: str = ""
    known: dict[str, Any] = field(default_factory=dict)  # values so far: of inputs, and of what has been asked for

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
        if name not in self.known:
            fill([self[name]])
        return self.known[name]

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
        like: str = "",
    ) -> Ref:
        """Add an input column. Text values make a text column; `like` is the name whose bounds hold, if not its own."""
        array = np.asarray(values)
        text = array.dtype.kind in "OUS"
        if array.ndim == 0:
            array = array.reshape(1)
        reference = self._add(name, Input(), label, note, text)
        self.columns[name].choices = choices
        self.columns[name].spare = spare
        self.columns[name].like = like
        self.known[name] = array if text else array.astype(np.float64, copy=False)
        return reference

    def fix(self, name: str, values: Any, label: str = "", note: str = "") -> Ref:
        """Add a column of values worked out beforehand. A figure that does not exist may be words."""
        array = np.atleast_1d(np.asarray(values))
        reference = self._add(name, Fixed(), label, note, text=not ends_in_unit(name))
        self.known[name] = array
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
        self,
        name: str,
        source: Ref,
        key: str = "",
        source_key: str = "",
        label: str = "",
        note: str = "",
        where: Ref | None = None,
    ) -> Ref:
        """Add the sum of another table's column: by key, over the rows with a switch on, or over all its rows."""
        return self._add(name, Total(source, self[key] if key else None, source_key, where), label, note)

    def at_least(self, name: str, source: Ref, by: str, label: str = "") -> Ref:
        """Add the value that another table's column has in the row in which its column `by` is least."""
        text = source.table.columns[source.column].unit is None
        return self._add(name, AtLeast(source, by), label or source.table.columns[source.column].label, text=text)

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
        return other.rows is self.rows or other.rows.shown == 1

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

    def evaluate(self) -> None:
        """Compute every column that has no values yet."""
        fill([Ref(self, name) for name in self.columns])
