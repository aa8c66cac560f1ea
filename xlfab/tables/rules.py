"""What a rule is: how a column comes about, what it needs, how it is worked out, and how it is printed.

Each rule is one class. Rules that take each row by itself are in `row_rules`, those that look into other lists in `list_rules`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Protocol

from xlfab.core.errors import FormulaError, InputError
from xlfab.core.units import Unit
from xlfab.tables.cells import Step

if TYPE_CHECKING:
    from xlfab.tables.sums import Sums
    from xlfab.tables.table import Table
    from xlfab.trace.expression import Expression


@dataclass(eq=False)
class Rows:
    """The rows that several tables share: row 7 of one is row 7 of the other.

    A workbook can have `spare` rows below them, for the user to fill: a row counts as used once its `key` is filled.
    """

    name: str
    count: int
    spare: int = 0
    key: Ref | None = None
    places: dict[tuple[int, int], Any] = field(default_factory=dict, repr=False)  # of its keys in other tables
    links: dict[tuple[Ref, Ref], Ref] = field(default_factory=dict, repr=False)  # columns that hold such places

    @property
    def shown(self) -> int:
        """The rows of a sheet, spare ones included."""
        return self.count + self.spare


@dataclass(frozen=True)
class Ref:
    """A column of a table, to be used by another."""

    table: Table
    column: str

    @property
    def rule(self) -> Rule:
        """How the column comes about."""
        return self.table.columns[self.column].rule

    @property
    def unit(self) -> Unit | None:
        """Its unit; None for text."""
        return self.table.columns[self.column].unit

    @property
    def label(self) -> str:
        """Its heading."""
        return self.table.columns[self.column].label

    @property
    def known(self) -> Any:
        """The column's values, which have been worked out."""
        return self.table.known[self.column]

    @property
    def may_be_blank(self) -> bool:
        """True if the user states the column and it holds numbers: then a cell of it can be blank."""
        return self.rule.stated and self.unit is not None


Term = Ref | float


class Printer(Protocol):
    """What a rule asks when it is printed: where columns stand, seen from the cell being printed, and in which form."""

    form: str  # 'let', 'plain' or 'call'

    def cell(self, item: Ref) -> str:
        """The cell of a column in the row being printed, or the one cell of a record."""

    def cells(self, item: Ref) -> str:
        """All cells of a column."""

    def first(self, item: Ref) -> str:
        """The first cell of a column."""

    def row_number(self) -> str:
        """The number of the row being printed, counted from 1."""

    def so_far(self, item: Ref) -> str:
        """The cells of a column from the first to the row being printed."""

    def term(self, item: Term) -> Expression:
        """A cell as a term of a formula, in the unit that is computed with."""

    def scale(self, unit: Unit | None) -> float:
        """What a number as shown is multiplied by to be in the unit that is computed with."""

    def write(self, root: Expression) -> str:
        """An expression as text."""


class Rule:
    """How a column comes about. A new kind of column is a new class that says all that is asked here."""

    stated = False  # the user states the values
    follows = True  # the values follow from others, by a formula
    calls = False  # a registered function, which add-in flavours write as a call

    def needs(self) -> list[Ref]:
        """The columns that a column is made from."""
        return []

    @property
    def by_row(self) -> tuple[Term, ...]:
        """What is taken row by row: it may come from the same pass."""
        return ()

    @property
    def copied(self) -> Ref | None:
        """The column that is repeated as it is, if this is a copy."""
        return None

    @property
    def adds_up(self) -> Ref | None:
        """The column whose rows are added up, if this is a total."""
        return None

    def row_wise(self, own: Ref) -> bool:
        """True if each row's number depends on its own row alone, and not all rows on the same cells."""
        return False

    def step(self, slots: list[int], place: int) -> Step:
        """How a block of a row-wise column is worked out from the slots of what it takes by row; `place` is its own slot."""
        raise NotImplementedError

    def sums(self, own: Ref, variants: int) -> Sums:
        """What takes in the blocks of the column that is added up."""
        raise NotImplementedError

    def whole(self, own: Ref) -> Any:
        """The values of a column that is not worked out block by block."""
        raise InputError(f"{own.table.name}.{own.column} is an input without values")

    def formula(self, own: Ref, printer: Printer) -> str:
        """The formula of a cell of the column."""
        raise FormulaError(f"{own.table.name}.{own.column} is an input and has no formula")


@dataclass(frozen=True)
class Input(Rule):
    """Values that the user states."""

    stated = True
    follows = False


@dataclass(frozen=True)
class Fixed(Rule):
    """Values that were worked out when the workbook was built: shown, and following no input."""

    follows = False


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
    like: str = ""  # the name whose bounds hold for an input, if not its own
    zero: str = ""  # what a sheet shows in place of a 0
    stated_in: Ref | None = None  # where the user states what stands in for an input here


def origin(item: Ref) -> Ref:
    """The column that a column of the same rows repeats, as it was typed; the column itself where it repeats none."""
    source = item.rule.copied
    while source is not None and source.table.rows is item.table.rows:
        item, source = source, source.rule.copied
    return item


def guarded(cells: list[str], text: str) -> str:
    """A formula that gives an error value where one of the cells holds no number."""
    return f"IF({'*'.join(f'ISNUMBER({cell})' for cell in cells)},{text},#NUM!)" if cells else text
