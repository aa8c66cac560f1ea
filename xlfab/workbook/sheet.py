"""One sheet being planned: a title, then blocks from top to bottom - lists, records side by side, shown results, text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from xlfab.core.errors import FormulaError
from xlfab.core.units import Unit, unit_label
from xlfab.tables.table import Column, Ref, Table
from xlfab.workbook.grid import Area, Place, fill

if TYPE_CHECKING:
    from xlfab.workbook.book import Book

_LIST_WIDTH = 16.0  # characters; words of a list get more


@dataclass
class Shown:
    """A row of results: a label, references to cells that stand elsewhere, and a remark."""

    label: str
    items: Sequence[Ref | str | float]
    remark: str = ""
    strong: bool = False
    whole: bool = False  # money without cents


@dataclass(frozen=True)
class Stands:
    """A column of a list. With a `group` its label stands over it and those beside it, and `head` (a machine, say) in its own heading."""

    table: Table
    name: str
    head: str = ""
    group: str = ""
    fold: bool = False


@dataclass
class Cell:
    """A text or figure that belongs to no table."""

    row: int
    column: int
    kind: str
    value: Any
    unit: Unit | None = None
    align: str = ""
    span: int = 0
    down: int = 1
    link: str = ""
    flows: bool = False  # runs across the page, however wide that is in the end


@dataclass(repr=False)
class Sheet:
    """A sheet being planned."""

    book: Book
    name: str
    title: str
    lead: str
    tab: str
    says: str = ""  # what the index says of it
    landscape: bool = True
    fit_height: bool = False
    row: int = 0
    charts: list[Any] = field(default_factory=list)
    list_rows: set[int] = field(default_factory=set)  # the first rows of lists
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)
    cells: list[Cell] = field(default_factory=list)
    columns: list[tuple[Table, Column, Place]] = field(default_factory=list)
    refs: list[tuple[int, int, Ref, str]] = field(default_factory=list)
    headings: dict[tuple[int, str], str] = field(default_factory=dict)  # of columns that do not stand under their label
    folded_rows: set[int] = field(default_factory=set)
    _terms: set[int] = field(default_factory=set)  # columns that a list folds
    _seen: set[int] = field(default_factory=set)  # columns that a list shows
    marked: set[int] = field(default_factory=set)  # columns of checks
    ruled: list[Table] = field(default_factory=list)
    blank: list[Ref] = field(default_factory=list)
    compared: list[tuple[int, int, int]] = field(default_factory=list)  # row, column of a value, column of its default
    freeze: tuple[int, int] | None = None
    repeat: tuple[int, int] | None = None
    sole: bool = True  # no block follows the first list, so its heading can stay in view and be repeated
    breaks: list[int] = field(default_factory=list)
    print_to: int | None = None  # the last column that is printed

    def __post_init__(self) -> None:
        if len(self.name) > 31:
            raise FormulaError(f"sheet name '{self.name}' has more than 31 characters")
        self.cells.append(Cell(0, 0, "title", self.title))
        self.heights[0] = 22
        self.row = 1
        if self.book.sheets:
            first = self.book.sheets[0].name
            self.cells.append(Cell(1, 0, "link", f"Back to {first}", link=first))
            self.row = 2
        if self.lead:
            self.text(self.lead)
        self.row += 1

    # --- texts and single cells -------------------------------------------------------------------------------------

    def text(self, text: str, kind: str = "note", span: int = 7, lines: int = 0) -> None:
        """A line of text across columns, high enough to be read whole."""
        self.cells.append(Cell(self.row, 0, kind, text, span=span, flows=not lines))
        if lines:
            self.heights[self.row] = 12.5 * lines
        self.row += 1

    def subtitle(self, text: str, span: int = 7) -> None:
        """A heading inside the sheet."""
        self.sole = self.sole and self.freeze is None
        self.row += 1
        self.cells.append(Cell(self.row, 0, "subtitle", text, span=span, flows=True))
        self.heights[self.row] = 16
        self.row += 1

    def settle(self) -> None:
        """Once every width is known: keep running text inside the page, in rows that are high enough."""
        seen = [column for column in self.widths if column not in self.folded_columns]
        last = min(max(seen, default=0), self.print_to if self.print_to is not None else 10**6)
        for cell in self.cells:
            if cell.flows:
                cell.span = min(last + 1, max(cell.span, 1)) if cell.kind != "subtitle" else last + 1
                width = sum(self.widths.get(column, 9.0) for column in range(cell.span) if column in seen)
                lines = -(-len(str(cell.value)) // max(20, int(width * 1.22)))
                if cell.kind != "subtitle":
                    self.heights[cell.row] = max(self.heights.get(cell.row, 0), 12.5 * lines)

    def put_text(
        self, column: int, text: str, kind: str = "text", span: int = 1, down: int = 1, link: str = ""
    ) -> None:
        """A text in the current row, across columns and rows if wanted; a link leads to a sheet."""
        self.cells.append(Cell(self.row, column, kind, text, span=span, down=down, link=link))

    def put_ref(self, column: int, item: Ref, kind: str = "text", span: int = 1, down: int = 1) -> None:
        """A result that stands elsewhere, in the current row."""
        self.refs.append((self.row, column, item, kind))
        if span > 1 or down > 1:
            self.cells.append(Cell(self.row, column, kind, None, span=span, down=down))

    def put_number(self, column: int, value: float, unit: Unit | None, kind: str = "calc") -> None:
        """A figure that is worked out beforehand, in the current row."""
        self.cells.append(Cell(self.row, column, kind, float(value), unit))

    def put_column(self, column: int, table: Table, name: str) -> None:
        """A record's own value in the current row."""
        self.stand(table, name, Place(self.name, self.row, column, 1))

    def put_unit(self, column: int, item: Ref) -> None:
        """The unit of a result, in the current row."""
        self.cells.append(Cell(self.row, column, "unit", self.unit_of(item.table.columns[item.column])))

    def area(self, item: Ref, count: int | None = None) -> tuple[str, Area]:
        """Where a column stands, for a chart; its first rows alone if a count is given."""
        place = self.book.grid.place(item)
        return place.sheet, Place(place.sheet, place.row, place.column, count or place.count).area

    def stand(self, table: Table, name: str, place: Place) -> None:
        """Say where a column stands, and write it there."""
        self.book.grid.put(table, name, place)
        self.columns.append((table, table.columns[name], place))

    @property
    def folded_columns(self) -> set[int]:
        """Columns that are folded: terms in every list of the sheet."""
        return self._terms - self._seen

    # --- lists ------------------------------------------------------------------------------------------------------

    def table(
        self,
        table: Table,
        columns: Sequence[str] | None = None,
        under: Mapping[str, Ref] = MappingProxyType({}),
        main: Sequence[str] = (),
    ) -> None:
        """A list: headings, units (or a figure of its own under a heading), and one line a row.

        Where `main` names columns, those come first, and all others are folded.
        """
        names = list(columns) if columns is not None else list(table.columns)
        if main:
            names = [*(name for name in main if name in names), *(name for name in names if name not in main)]
        self.block([Stands(table, name, fold=bool(main) and name not in main) for name in names], under)

    def block(self, columns: Sequence[Stands], under: Mapping[str, Ref] = MappingProxyType({})) -> None:
        """Columns of tables that share their rows, each under its heading and unit."""
        grouped = any(item.group for item in columns)
        head = self.row + grouped
        shown = columns[0].table.rows.shown
        self.list_rows.add(head + 2)
        for offset, item in enumerate(columns):
            column = item.table.columns[item.name]
            self._head_of(head, offset, item, under)
            self.stand(item.table, item.name, Place(self.name, head + 2, offset, shown))
            self.widths[offset] = max(self.widths.get(offset, 0), self._list_width(item, column))
            (self._terms if item.fold else self._seen).add(offset)
        if grouped:
            self._groups(columns)
        self.heights[head] = max(self.heights.get(head, 0), 38)
        if self.freeze is None:
            self.freeze = (head + 2, 1)
            self.repeat = (self.row, head + 1)
        self.row = head + 2 + shown + 1

    def _head_of(self, head: int, offset: int, item: Stands, under: Mapping[str, Ref]) -> None:
        column = item.table.columns[item.name]
        text = item.head or column.label
        self.cells.append(Cell(head, offset, "head", text))
        if text != column.label:
            self.headings[id(item.table), item.name] = text
        if item.name in under:
            self.refs.append((head + 1, offset, under[item.name], "strong"))
        else:
            self.cells.append(Cell(head + 1, offset, "unit", self.unit_of(column)))

    def _groups(self, columns: Sequence[Stands]) -> None:
        """What several columns have in common, over them."""
        offset = 0
        for text, members in groupby(columns, key=lambda item: (item.group, item.fold)):
            count = len(list(members))
            if text[0]:
                self.cells.append(Cell(self.row, offset, "group", text[0], span=count))
            offset += count
        self.heights[self.row] = 25

    def _list_width(self, item: Stands, column: Column) -> float:
        words = (item.head or column.label).split()
        width = max(8.0, min(_LIST_WIDTH, 1.0 * max(map(len, words), default=8) + 1.5))
        if column.unit is None:
            values = [str(value) for value in item.table.value(item.name)[:200]]
            width = max(width, min(34.0, 1.0 * max(map(len, values), default=8) + 2))
        return width

    # --- records and results ----------------------------------------------------------------------------------------

    def records(
        self,
        tables: Sequence[Table],
        headings: Sequence[str],
        columns: Sequence[str] | None = None,
        remarks: Mapping[str, str] | None = None,
        main: Sequence[str] = (),
    ) -> None:
        """Records side by side: a line for each field with its unit, a column for each record, and a remark.

        Where `main` names fields, those come first, and all others are folded below them.
        """
        names = list(columns) if columns is not None else list(dict.fromkeys(n for t in tables for n in t.columns))
        if main:
            names = [*(name for name in main if name in names), *(name for name in names if name not in main)]
        self.heads(["", "Unit", *headings, *(["Remark"] if remarks else [])])
        for name in names:
            self._record_line(tables, name)
            if remarks:
                self._remark(len(tables) + 2, remarks.get(name, ""))
            if main and name not in main:
                self.folded_rows.add(self.row)
            self.row += 1
        self._wide(len(tables), bool(remarks))
        self.row += 1

    def _record_line(self, tables: Sequence[Table], name: str) -> None:
        column = next(table.columns[name] for table in tables if name in table.columns)
        self.label(column.label, column.unit)
        for offset, table in enumerate(tables, 2):
            if name in table.columns:
                self.stand(table, name, Place(self.name, self.row, offset, 1))
                if column.unit is None and not column.rule.stated:
                    self.high(max(map(len, map(str, table.value(name))), default=0), int(self.widths.get(offset, 28)))

    def show(self, headings: Sequence[str], rows: Sequence[Shown], remark: str = "", width: float = 15) -> int:
        """Results that stand elsewhere, side by side: each cell refers to its source. Returns the first row of values."""
        self.heads([headings[0], "Unit", *headings[1:], *([remark] if remark else [])])
        first = self.row
        count = len(headings) - 1
        for line in rows:
            kind = "strong" if line.strong else "calc"
            unit = next((item.table.columns[item.column].unit for item in line.items if isinstance(item, Ref)), None)
            self.label(line.label, unit, "strong_label" if line.strong else "label")
            for offset, item in enumerate(line.items, 2):
                self._shown(
                    offset, item, f"{kind}|0" if line.whole else kind, unit, int(self.widths.get(offset, width))
                )
            if remark:
                self._remark(count + 2, line.remark)
            self.row += 1
        self._wide(count, bool(remark), width)
        self.row += 1
        return first

    def _shown(self, offset: int, item: Ref | str | float, kind: str, unit: Unit | None, width: int) -> None:
        if isinstance(item, Ref):
            self.refs.append((self.row, offset, item, kind))
            if item.table.columns[item.column].unit is None:
                words = [len(str(word)) for word in item.table.value(item.column)]
                self.high(max(words, default=0), width - 1)
        elif isinstance(item, str):
            self.cells.append(Cell(self.row, offset, "label", item))
            self.high(len(item), width)
        else:
            self.cells.append(Cell(self.row, offset, kind, item, unit))

    def label(self, text: str, unit: Unit | None, kind: str = "label") -> None:
        """The label of the current row and its unit."""
        self.cells.append(Cell(self.row, 0, kind, text))
        self.cells.append(Cell(self.row, 1, "unit", self._unit(self.book.grid.shown(unit)[0])))
        self.high(len(text), int(self.widths.get(0, 34)) + 4)

    def _remark(self, offset: int, text: str) -> None:
        self.cells.append(Cell(self.row, offset, "label", text))
        self.high(len(text), int(self.widths.get(offset, 46)))

    def _wide(self, count: int, remark: bool, width: float = 15) -> None:
        self.widths[0] = max(self.widths.get(0, 0), 34)
        self.widths[1] = max(self.widths.get(1, 0), 9)
        for offset in range(2, count + 2):
            self.widths[offset] = max(self.widths.get(offset, 0), width)
        if remark:
            self.widths[count + 2] = max(self.widths.get(count + 2, 0), 46)

    def lines(
        self, headings: Sequence[str], rows: Iterable[Sequence[str]], widths: Sequence[float], open_columns: int = 0
    ) -> None:
        """A table of text; with a number of open columns all others are folded."""
        self._terms.update(range(open_columns, len(widths)) if open_columns else ())
        self.widths.update(dict(enumerate(widths)))
        self.heads(headings)
        for line in rows:
            for offset, text in enumerate(line):
                self.cells.append(Cell(self.row, offset, "label", text))
                if offset not in self._terms:
                    self.high(len(text), int(widths[offset]))
            self.row += 1

    def words(self, item: Ref, kind: str = "verdict", span: int = 7, height: float = 18) -> None:
        """A text result across columns."""
        self.put_ref(0, item, kind, span)
        self.heights[self.row] = height
        self.row += 1

    def heads(self, texts: Sequence[str]) -> None:
        """A line of headings; the next line is the current row after it."""
        for offset, text in enumerate(texts):
            self.cells.append(Cell(self.row, offset, "head", text))
            self.high(len(text), int(self.widths.get(offset, 36 if offset == 0 else 14)))
        self.row += 1

    def high(self, characters: int, width: int) -> None:
        """Make the current row high enough for a text in a column of a width."""
        lines = max(1, -(-characters // max(width, 1)))
        self.heights[self.row] = max(self.heights.get(self.row, 0), 12.0 * lines + 1.5)

    def unit_of(self, column: Column) -> str:
        """The unit of a column as shown."""
        return self._unit(self.book.grid.shown(column.unit)[0])

    def _unit(self, unit: Unit | None) -> str:
        if unit is None:
            return ""
        return "%" if unit.suffix == "share" else unit_label(unit.suffix, self.book.currency)

    def reference(self, item: Ref) -> str:
        """The formula of a cell that shows what stands elsewhere."""
        text = fill("=" + self.book.grid.place(item).cell(self.name), 0)
        return text if item.table.columns[item.column].unit else text + '&""'  # an empty text is not a 0

    # --- looks ------------------------------------------------------------------------------------------------------

    def rule_lines(self, table: Table) -> None:
        """Rule only those lines of a list that are used, so that spare ones stay white on the printed page."""
        self.ruled.append(table)

    def mark_checks(self, column: int) -> None:
        """Colour the check cells of a column: the text says it, the colour repeats it."""
        self.marked.add(column)

    def blank_if_none(self, items: Sequence[Ref]) -> None:
        """Results that need not exist: their error value stays in the cell, for sums, and is not seen."""
        self.blank += items

    def fold(self, first: int, last: int) -> None:
        """Fold rows away, to be opened by the sign in the margin."""
        self.folded_rows.update(range(first, last + 1))
