"""A calculation laid out as tables: each column is an input, a calculation of other columns, a look-up or a total.

The same tables give the numbers (worked out by `xlfab.tables.plan`) and the sheets of a workbook (printed by
`xlfab.workbook.grid`), so that a formula and its cached value come from one place. A record is a table of one row; its
numbers may also be a batch of variants of shape (variants, 1), which carries through every total.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from xlfab.core.arguments import label_of
from xlfab.core.errors import InputError
from xlfab.core.registry import Function
from xlfab.core.unit_products import factor_of
from xlfab.core.units import Unit, ends_in_unit, split_name
from xlfab.tables.list_rules import AtLeast, Count, Largest, Lookup, OverRange, Peak, RowOf, Running, StepLookup, Total
from xlfab.tables.margin_rules import Failing, Unknown, Worst
from xlfab.tables.plan import fill
from xlfab.tables.row_rules import (
    Above,
    Apart,
    Apply,
    ByWord,
    Copy,
    Excess,
    Larger,
    NumberOr,
    Product,
    Share,
    Sum,
    Switched,
    Unchecked,
    Words,
)
from xlfab.tables.rules import Column, Fixed, Input, Ref, Rows, Rule, Term, origin

__all__ = ["Column", "Ref", "Rows", "Rule", "Table"]


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

    def column(self, name: str, rule: Rule, label: str = "", note: str = "", text: bool = False) -> Ref:
        """Add a column by a rule of any kind."""
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
        reference = self.column(name, Input(), label, note, text)
        self.columns[name].choices = choices
        self.columns[name].spare = spare
        self.columns[name].like = like
        self.known[name] = array if text else array.astype(np.float64, copy=False)
        return reference

    def fix(self, name: str, values: Any, label: str = "", note: str = "") -> Ref:
        """Add a column of values worked out beforehand. A figure that does not exist may be words."""
        array = np.atleast_1d(np.asarray(values))
        reference = self.column(name, Fixed(), label, note, text=not ends_in_unit(name))
        self.known[name] = array
        return reference

    # --- from the same row of other columns; names are columns of this table ----------------------------------------

    def add(
        self,
        name: str,
        function: Callable[..., Any],
        *arguments: str | Term,
        label: str = "",
        note: str = "",
        text: bool = False,
    ) -> Ref:
        """Add a registered function of other columns, its units checked; with `text`, words by a plain function."""
        terms = self._terms(name, arguments)
        if isinstance(function, Function):
            self._check_units(name, function, terms)
            return self.column(name, Apply(terms, function), label, note)
        rule = Words(terms, function) if text else Unchecked(terms, function)
        return self.column(name, rule, label, note, text)

    def copy(self, name: str, source: str | Ref, label: str = "", note: str = "") -> Ref:
        """Add a column as it is, of the same unit or text."""
        (item,) = self._terms(name, (source,))
        assert isinstance(item, Ref)
        if item.unit is not None:
            self._alike(name, item)
        return self.column(name, Copy((item,)), label, note, text=item.unit is None)

    def sum(self, name: str, *items: str | Term, label: str = "", note: str = "") -> Ref:
        """Add a sum of columns in one unit."""
        terms = self._terms(name, items)
        self._alike(name, *terms)
        return self.column(name, Sum(terms, (1,) * len(terms)), label, note)

    def difference(self, name: str, first: str | Term, *others: str | Term, label: str = "", note: str = "") -> Ref:
        """Add a column less others in the same unit."""
        terms = self._terms(name, (first, *others))
        self._alike(name, *terms)
        return self.column(name, Sum(terms, (1, *[-1] * len(others))), label, note)

    def times(
        self, name: str, *items: str | Term, over: Sequence[str | Term] = (), label: str = "", note: str = ""
    ) -> Ref:
        """Add a product, over others if wanted. The units must make the column's; a factor (60 s a min) is put in."""
        tops, bottoms = self._terms(name, items), self._terms(name, over)
        factor = factor_of(self._units(name, tops), self._units(name, bottoms), split_name(name)[1])
        return self.column(name, Product((*tops, *bottoms), len(tops), factor), label, note)

    def excess(self, name: str, first: str | Term, *others: str | Term, label: str = "", note: str = "") -> Ref:
        """Add by how much a column exceeds others in the same unit; 0 where it does not."""
        terms = self._terms(name, (first, *others))
        self._alike(name, *terms)
        return self.column(name, Excess(terms), label, note)

    def apart(self, name: str, first: str | Ref, second: str | Ref, label: str = "", note: str = "") -> Ref:
        """Add how far two columns in one unit are apart."""
        terms = self._terms(name, (first, second))
        self._alike(name, *terms)
        return self.column(name, Apart(terms), label, note)

    def above(self, name: str, *items: str | Ref, label: str = "") -> Ref:
        """Add how many of several columns are above 0."""
        return self.column(name, Above(self._terms(name, items)), label)

    def smaller(self, name: str, *items: str | Term, label: str = "", note: str = "") -> Ref:
        """Add the smallest of several columns in one unit."""
        terms = self._terms(name, items)
        self._alike(name, *terms)
        return self.column(name, Larger(terms, True), label, note)

    def unknown(self, name: str, *items: str | Ref, label: str = "") -> Ref:
        """Add a switch that is on where any of several columns has no result."""
        return self.column(name, Unknown(self._terms(name, items)), label)

    def failing(self, name: str, unknown: str | Ref, *margins: str | Ref, label: str = "") -> Ref:
        """Add how many of several margins are below 0; 1 where the switch `unknown` is on."""
        return self.column(name, Failing(self._terms(name, (unknown, *margins))), label)

    def worst(self, name: str, unknown: str | Ref, margins: Mapping[str, str | Ref], label: str = "") -> Ref:
        """Add the least of several margins, each over what is needed in its unit."""
        for margin, needed in margins.items():
            self._units_over(name, *self._terms(name, (margin, needed)))
        pairs = [item for pair in margins.items() for item in pair]
        return self.column(name, Worst(self._terms(name, (unknown, *pairs))), label)

    def share(self, name: str, part: str | Ref, whole: str | Ref, label: str = "", note: str = "") -> Ref:
        """Add a part over its whole, or a mean (kWh over h is kW); 0 where there is no whole."""
        terms = self._terms(name, (part, whole))
        of, all_ = self._units(name, terms)
        if factor_of([of], [all_], split_name(name)[1]) != 1:
            raise InputError(
                f"{self.name}.{name}: {of.label} over {all_.label} goes into no {split_name(name)[1].label}"
            )
        return self.column(name, Share(terms), label, note)

    def larger(self, name: str, *items: str | Term, label: str = "", note: str = "") -> Ref:
        """Add the largest of several columns in one unit."""
        terms = self._terms(name, items)
        self._alike(name, *terms)
        return self.column(name, Larger(terms), label, note)

    def switched(self, name: str, switch: str | Ref, on: str | Term, off: str | Term, label: str = "") -> Ref:
        """Add the one column where a switch is above 0, the other where it is not."""
        terms = self._terms(name, (switch, on, off))
        self._alike(name, *terms[1:])
        return self.column(name, Switched(terms), label)

    def by_word(
        self, name: str, word: str | Ref, choices: Mapping[str, str | Term], other: str | Term, note: str = ""
    ) -> Ref:
        """Add the column that a word chooses, `other` where it is none of them."""
        terms = self._terms(name, (word, *choices.values(), other))
        self._alike(name, *terms[1:])
        return self.column(name, ByWord(terms, tuple(choices)), note=note)

    def number_or(
        self,
        name: str,
        value: str | Ref | Function,
        words: str | Callable[..., Any],
        *arguments: str | Term,
        label: str = "",
    ) -> Ref:
        """Add a number (a column, or a registered function) where there is one, else words: a text, or what a plain function says."""
        if isinstance(value, Function):
            terms = self._terms(name, arguments)
            self._check_units(name, value, terms)
            return self.column(name, NumberOr(terms, words, value), label)
        terms = self._terms(name, (value, *arguments))
        self._alike(name, terms[0])
        return self.column(name, NumberOr(terms, words), label)

    # --- from other lists -------------------------------------------------------------------------------------------

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
        keys = Ref(source.table, source_key)
        label = label or source.label
        if steps:
            return self.column(name, StepLookup(self[key], source, keys), label, text=text)
        if source.table.rows is self.rows and origin(self[key]) == origin(keys):
            return self.copy(name, source, label)
        row, link = self._row_of(self[key], keys)
        return self.column(name, Lookup(source, row, link), label, text=text)

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
        """Add the sum of another table's column: over all its rows, those with a switch on, or by the key that names each row here."""
        if not key:
            return self.column(name, Total(source, where=where), label, note)
        row, link = source.table._row_of(Ref(source.table, source_key), self[key])
        return self.column(name, Total(source, row, link, where), label, note)

    def at_least(self, name: str, source: Ref, by: str, label: str = "") -> Ref:
        """Add the value that another table's column has in the row in which its column `by` is least."""
        rule = AtLeast(source, Ref(source.table, by))
        return self.column(name, rule, label or source.label, text=source.unit is None)

    def count(self, name: str, key: str, source_key: Ref, label: str = "") -> Ref:
        """Add the number of another table's rows with this row's key; of this table's own rows, those that share the key."""
        alike = source_key.table.rows is self.rows
        row, link = (self if alike else source_key.table)._row_of(source_key, self[key])
        return self.column(name, Count(row, link, row if alike else None), label)

    def row_of(self, key: str, keys: Ref) -> Ref:
        """Add the column that says in which row of another list the key stands; look-ups, totals and counts then go by it."""
        return self._row_of(self[key], keys)[0]

    def _row_of(self, key: Ref, keys: Ref) -> tuple[Ref, RowOf]:
        """The column that says where each key stands in another list; one for all tables over the same rows."""
        links, pair = key.table.rows.links, (origin(key), origin(keys))
        if pair not in links:
            word = pair[0].column
            name = next(name for name in _row_names(word) if name not in self.columns)
            links[pair] = self.column(name, RowOf(key, keys), f"Row of its {word.replace('_', ' ')}")
        row = links[pair]
        link = row.rule
        assert isinstance(link, RowOf)
        return row, link

    def running(self, name: str, column: str, before: bool = False, label: str = "") -> Ref:
        """Add the running sum of a column of this table."""
        return self.column(name, Running(self[column], before), label)

    def peak(self, name: str, source: Ref, label: str = "") -> Ref:
        """Add the largest value of another table's column."""
        return self.column(name, Peak(source), label)

    def least(self, name: str, source: Ref, label: str = "") -> Ref:
        """Add the least value of another table's column."""
        return self.column(name, Peak(source, True), label)

    def largest(self, name: str, *sources: Ref, label: str = "") -> Ref:
        """Add the largest absolute value of single cells."""
        return self.column(name, Largest(sources), label)

    def over(self, name: str, function: Function, *arguments: Term, label: str = "", note: str = "") -> Ref:
        """Add a range function over whole columns of other tables."""
        return self.column(name, OverRange(function, arguments), label, note)

    # --- checks -----------------------------------------------------------------------------------------------------

    def _terms(self, name: str, items: Sequence[str | Term]) -> tuple[Term, ...]:
        terms = tuple(self[item] if isinstance(item, str) else item for item in items)
        for item in terms:
            if isinstance(item, Ref) and item.table.rows is not self.rows and item.table.rows.shown != 1:
                raise InputError(
                    f"{self.name}.{name}: rows of {item.table.name} do not match; use a look-up or a total"
                )
        return terms

    def _units_over(self, name: str, part: Term, whole: Term) -> None:
        """The one over the other is in the unit of the column."""
        of, all_ = self._units(name, (part, whole))
        if factor_of([of], [all_], split_name(name)[1]) != 1:
            raise InputError(
                f"{self.name}.{name}: {of.label} over {all_.label} goes into no {split_name(name)[1].label}"
            )

    def _units(self, name: str, terms: Sequence[Term]) -> list[Unit]:
        """The units of the columns among terms; a text is no number."""
        found = [(item.column, item.unit) for item in terms if isinstance(item, Ref)]
        for column, unit in found:
            if unit is None:
                raise InputError(f"{self.name}.{name}: {column} is text, and a number is wanted")
        return [unit for _, unit in found if unit is not None]

    def _alike(self, name: str, *terms: Term) -> None:
        """All terms are in the unit of the column, a year aside."""
        wanted = split_name(name)[1]
        for unit in self._units(name, terms):
            if factor_of([unit], [], wanted) != 1:
                raise InputError(f"{self.name}.{name}: a column in {unit.label} does not go into one in {wanted.label}")

    def _check_units(self, name: str, function: Function, terms: tuple[Term, ...]) -> None:
        spec = function.spec
        if len(terms) != len(spec.arguments):
            raise InputError(
                f"{self.name}.{name}: {spec.name} takes {len(spec.arguments)} arguments, {len(terms)} given"
            )
        pairs = [(split_name(name)[1], spec.unit, name)]
        for item, argument in zip(terms, spec.arguments, strict=True):
            if isinstance(item, Ref):
                pairs.append((item.unit or argument.unit, argument.unit, item.column))
        for given, wanted, which in pairs:
            if given is not wanted:
                raise InputError(f"{self.name}.{name}: {which} is in {given.label}, {spec.name} wants {wanted.label}")

    def evaluate(self) -> None:
        """Compute every column that has no values yet."""
        fill([Ref(self, name) for name in self.columns])


def _row_names(word: str) -> Iterator[str]:
    yield f"{word}_row_count"
    for number in itertools.count(2):
        yield f"{word}_row_{number}_count"
