"""Rules that take each row by itself: registered functions, and sums, differences, products and choices with their units checked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import numpy as np

from xlfab.core.registry import Function
from xlfab.tables.cells import Block, Cells, Step
from xlfab.tables.rules import Printer, Ref, Rule, Term, guarded
from xlfab.trace.expression import Expression, number, number_or, trace, traced


@dataclass(frozen=True)
class RowRule(Rule):
    """A value from the same row of other columns. `apply` works on numbers, arrays and symbolic cells alike."""

    arguments: tuple[Term, ...]

    def apply(self, *values: Any) -> Any:
        """The value of a row."""
        raise NotImplementedError

    def needs(self) -> list[Ref]:
        return [item for item in self.arguments if isinstance(item, Ref)]

    @property
    def by_row(self) -> tuple[Term, ...]:
        return self.arguments

    def row_wise(self, own: Ref) -> bool:
        if own.unit is None:
            return False
        return own.table.rows.count == 1 or any(item.table.rows.count > 1 for item in self.needs())

    def step(self, slots: list[int], place: int) -> Step:
        apply = self.apply
        return lambda cells, block: apply(*[cells.values[slot] for slot in slots])

    def whole(self, own: Ref) -> Any:
        result = np.asarray(self.evaluated([_argument(item) for item in self.arguments]))
        shape = (*result.shape[:-1], own.table.rows.count)
        return result if result.shape == shape else np.broadcast_to(result, shape)

    def evaluated(self, values: list[Any]) -> Any:
        """The value of whole columns: a text, or a number that is the same in every row."""
        return self.apply(*values)

    def traced(self, printer: Printer) -> Expression:
        """The rule on symbolic cells."""
        return trace(self.apply, [printer.term(item) for item in self.arguments])

    def needed_numbers(self, printer: Printer) -> list[str]:
        """Cells that the user states and that must hold a number: a blank one would count as 0."""
        return list(dict.fromkeys(printer.cell(item) for item in self.needs() if item.may_be_blank))

    def formula(self, own: Ref, printer: Printer) -> str:
        root, scale = self.traced(printer), printer.scale(own.unit)
        if scale != 1.0:
            root = Expression("/", root, number(scale))
        text = printer.write(root)
        if own.unit is None and root.op == "ref":
            text += '&""'  # an empty text is not a 0
        return guarded(self.needed_numbers(printer), text)


def _argument(item: Term) -> Any:
    if not isinstance(item, Ref):
        return np.float64(item)
    return item.known if item.table.rows.count else np.float64(np.nan)  # a record that is still to be filled in


@dataclass(frozen=True)
class Apply(RowRule):
    """A registered function: ranges are checked, in Python and in the cell."""

    function: Function
    calls = True

    def apply(self, *values: Any) -> Any:
        return self.function.formula(*values)

    def evaluated(self, values: list[Any]) -> Any:
        return self.function(*values, invalid="nan")

    def step(self, slots: list[int], place: int) -> Step:
        on_rows = self.function.on_rows

        def checked(cells: Cells, block: Block) -> Any:
            spans = [cells.span(slot) for slot in slots]
            result, cells.spans[place] = on_rows([cells.values[slot] for slot in slots], spans)
            return result

        return checked

    def traced(self, printer: Printer) -> Expression:
        # a cell with a formula holds a number or an error value and is never blank: its range alone decides, a text being above it
        sure = [isinstance(item, Ref) and item.rule.follows for item in self.arguments]
        return traced(self.function, [printer.term(item) for item in self.arguments], sure=sure)

    def needed_numbers(self, printer: Printer) -> list[str]:
        """Cells that the function would take for 0: multiplied by a unit factor, or given to an add-in by LibreOffice."""
        pairs = zip(self.arguments, self.function.spec.arguments, strict=True)
        blank = [item for item, wanted in pairs if isinstance(item, Ref) and item.may_be_blank and wanted.accepts(0, 0)]
        cells = [printer.cell(item) for item in blank if printer.form == "call" or printer.scale(item.unit) != 1.0]
        return list(dict.fromkeys(cells))

    def formula(self, own: Ref, printer: Printer) -> str:
        if printer.form != "call":
            return super().formula(own, printer)
        terms = ",".join(printer.write(printer.term(item)) for item in self.arguments)
        text, scale = f"{self.function.spec.cell_name}({terms})", printer.scale(own.unit)
        return guarded(self.needed_numbers(printer), text if scale == 1.0 else f"{text}/{scale!r}")


@dataclass(frozen=True)
class Words(RowRule):
    """What the figures say, in words: a plain function that gives a text."""

    function: Callable[..., Any]

    def apply(self, *values: Any) -> Any:
        return self.function(*values)

    def needed_numbers(self, printer: Printer) -> list[str]:
        return []  # the words themselves say what is missing


@dataclass(frozen=True)
class Unchecked(Words):
    """A number by a plain function: no units, no range, no source. To be replaced by a rule or a registered function."""


@dataclass(frozen=True)
class NumberOr(RowRule):
    """A number where there is one, else words: for results that people read, never for results that are summed.

    The number is the first argument, or a registered function of all of them; the words a text, or made from the other arguments.
    """

    words: str | Callable[..., Any]
    function: Function | None = None

    def apply(self, *values: Any) -> Any:
        if self.function is not None:
            return number_or(self.function.formula(*values), self.words)
        value, *rest = values
        return number_or(value, self.words if isinstance(self.words, str) else self.words(*rest))

    def row_wise(self, own: Ref) -> bool:
        return False

    def needed_numbers(self, printer: Printer) -> list[str]:
        return []


@dataclass(frozen=True)
class Copy(RowRule):
    """A column as it is, from another table."""

    def apply(self, *values: Any) -> Any:
        return values[0]

    @property
    def copied(self) -> Ref | None:
        source = self.arguments[0]
        return source if isinstance(source, Ref) else None


@dataclass(frozen=True)
class Sum(RowRule):
    """A sum; a sign of -1 takes the term off."""

    signs: tuple[int, ...]

    def apply(self, *values: Any) -> Any:
        found = values[0] if self.signs[0] > 0 else -values[0]
        for value, sign in zip(values[1:], self.signs[1:], strict=True):
            found = found + value if sign > 0 else found - value
        return found


@dataclass(frozen=True)
class Product(RowRule):
    """A product: the first `tops` arguments times each other, over the rest; `factor` turns it into the unit of the column."""

    tops: int
    factor: Fraction

    def apply(self, *values: Any) -> Any:
        found = values[0]
        for value in values[1 : self.tops]:
            found = found * value
        for value in values[self.tops :]:
            found = found / value
        if self.factor.numerator != 1:
            found = found * float(self.factor.numerator)
        return found if self.factor.denominator == 1 else found / float(self.factor.denominator)


@dataclass(frozen=True)
class Excess(RowRule):
    """By how much the first value exceeds the others together; 0 where it does not."""

    def apply(self, *values: Any) -> Any:
        found = values[0]
        for value in values[1:]:
            found = found - value
        return np.maximum(found, 0.0)


@dataclass(frozen=True)
class Apart(RowRule):
    """How far two values are apart."""

    def apply(self, *values: Any) -> Any:
        return np.abs(values[0] - values[1])


@dataclass(frozen=True)
class Above(RowRule):
    """How many of several values are above 0."""

    def apply(self, *values: Any) -> Any:
        found = [np.where(value > 0, 1.0, 0.0) for value in values]
        return sum(found[1:], found[0])


@dataclass(frozen=True)
class Share(RowRule):
    """A part over the whole; 0 where there is no whole."""

    def apply(self, *values: Any) -> Any:
        part, whole = values
        return np.where(whole == 0, 0.0, part / np.where(whole == 0, 1.0, whole))


@dataclass(frozen=True)
class Larger(RowRule):
    """The largest (or the smallest) of several values of a row."""

    least: bool = False

    def apply(self, *values: Any) -> Any:
        found = values[0]
        for value in values[1:]:
            found = np.minimum(found, value) if self.least else np.maximum(found, value)
        return found


@dataclass(frozen=True)
class Switched(RowRule):
    """The one value where a switch is on, the other where it is off."""

    def apply(self, *values: Any) -> Any:
        switch, on, off = values
        return np.where(switch > 0, on, off)


@dataclass(frozen=True)
class ByWord(RowRule):
    """A value chosen by a word: the first argument is the word, the last holds where it is none of `words`."""

    words: tuple[str, ...]

    def apply(self, *values: Any) -> Any:
        word, *choices, found = values
        for said, value in reversed(list(zip(self.words, choices, strict=True))):
            found = np.where(word == said, value, found)
        return found
