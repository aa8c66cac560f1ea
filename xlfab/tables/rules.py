"""A column of a table: its name and unit, and the rule by which it comes about."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from xlfab.core.registry import Function
from xlfab.core.units import Unit

if TYPE_CHECKING:
    from xlfab.tables.table import Table


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
    def known(self) -> Any:
        """The column's values, which have been worked out."""
        return self.table.known[self.column]


@dataclass(frozen=True)
class Input:
    """Values that the user states."""


@dataclass(frozen=True)
class Fixed:
    """Values that were worked out when the workbook was built: shown, and following no input."""


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
    """The sum of another table's column over the rows whose key equals this row's; over all rows where there is no key.

    With `where`, a switch of the same rows, only rows that have it on are added up: an error value in any other row does no harm.
    """

    source: Ref
    key: Ref | None = None
    source_key: str = ""
    where: Ref | None = None


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


@dataclass(frozen=True)
class AtLeast:
    """The value of a column in the row in which another column of its table is least: the first such row."""

    source: Ref
    by: str


Rule = Input | Fixed | Calc | Lookup | Total | Count | Running | OverRange | Peak | Largest | AtLeast


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
