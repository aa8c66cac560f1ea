"""Reading the fields of one row by the mapping. What cannot be read is noted with sheet, cell, text and reason, and left empty."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from xlfab.core.arguments import argument
from xlfab.core.errors import ScenarioError
from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.cell_grid import Cell, Odd, Sheet, address
from xlfab.customer_list.gauges import thickness_mm
from xlfab.customer_list.list_mapping import Mapping, SheetMapping
from xlfab.customer_list.propose import material_text
from xlfab.customer_list.quantity import Quantity, Unreadable, in_mm, quantity, sizes


@dataclass(frozen=True)
class Note:
    """A cell that was not read, or read in a way that the user should see."""

    sheet: str
    cell: str
    field: str
    shown: str
    reason: str


@dataclass
class Row:
    """One row of the list, read field by field."""

    sheet: Sheet
    mapping: SheetMapping
    whole: Mapping
    row: int
    notes: list[Note] = field(default_factory=list)

    def cell(self, name: str) -> Cell:
        """The cell of a field; nothing where the list has no such column."""
        column = self.mapping.columns.get(name)
        return self.sheet.at(self.row, column_number(column.column) - 1) if column else None

    def has(self, name: str) -> bool:
        """True if the list has a column for the field."""
        return name in self.mapping.columns

    def note(self, name: str, reason: str, shown: str | None = None) -> None:
        """Book a note on a field's cell."""
        column = self.mapping.columns.get(name)
        place = address(self.row, column_number(column.column) - 1) if column else f"row {self.row + 1}"
        self.notes.append(
            Note(self.mapping.sheet, place, name, show(self.cell(name)) if shown is None else shown, reason)
        )

    def text(self, name: str) -> str:
        """A text; whole numbers without a point."""
        cell = self.cell(name)
        if isinstance(cell, Odd):
            self.note(name, cell.reason)
        return material_text(cell)

    def length(self, name: str, known: str) -> float | None:
        """A length in mm, inside the allowed range of the vocabulary's name `known`."""
        return self._read(name, known, lambda item: self._length_mm(item, name))

    def count(self, name: str, known: str, whole: bool = True) -> float | None:
        """A number of pieces."""

        def convert(item: Quantity) -> float:
            if item.unit not in (None, "count"):
                raise Unreadable(f"'{item.unit}' is no unit of a number of pieces")
            if whole and item.value != int(item.value):
                raise Unreadable("not a whole number")
            return item.value

        return self._read(name, known, convert)

    def share(self, name: str, known: str) -> float | None:
        """A share of one, or percent with its sign."""

        def convert(item: Quantity) -> float:
            if item.unit not in (None, "%"):
                raise Unreadable(f"'{item.unit}' is no unit of a share")
            return item.value / 100 if item.unit == "%" else item.value

        return self._read(name, known, convert)

    def lengths(self, name: str) -> list[float] | None:
        """Several lengths in one cell, in mm."""
        cell = self.cell(name)
        if not isinstance(cell, str):
            self.note(name, "empty" if cell is None else "several sizes are wanted, such as 1200 x 600")
            return None
        try:
            text = cell.replace("/", "x").replace("+", "x") if name == "flanges" else cell
            return [self._length_mm(item, name) for item in sizes(text, self.mapping.decimal)]
        except Unreadable as error:
            self.note(name, str(error))
            return None

    def _length_mm(self, item: Quantity, name: str) -> float:
        unit = item.unit or self.mapping.columns[name].unit
        if unit == "gauge":
            material = material_text(self.cell("material")) or "*"
            return thickness_mm(item.value, self.whole.gauges.get(material, "?"))
        return in_mm(item, unit)

    def _read(self, name: str, known: str, convert: Callable[[Quantity], float]) -> float | None:
        cell = self.cell(name)
        try:
            if cell is None:
                raise Unreadable("empty")
            if isinstance(cell, Odd):
                raise Unreadable(cell.reason)
            item = Quantity(cell) if isinstance(cell, float) else quantity(cell, self.mapping.decimal)
            value = convert(item)
        except Unreadable as error:
            self.note(name, str(error))
            return None
        return self.inside(name, known, value)

    def inside(self, name: str, known: str, value: float) -> float | None:
        """The value if it is allowed; outside the usual range it stays, with a note."""
        item = argument(known)
        if not item.accepts(value, value):
            self.note(name, f"{value:.6g} {item.unit.label} is not allowed: {item.allowed}")
            return None
        if item.usual and not item.usual[0] <= value <= item.usual[1]:
            low, high = item.usual
            self.note(
                name, f"read as {value:.6g} {item.unit.label}, outside the usual {low:g} to {high:g}: check the unit"
            )
        return value


def show(cell: Cell) -> str:
    """A cell as the user sees it."""
    if isinstance(cell, Odd):
        return cell.shown
    return material_text(cell)


def check_headings(sheet: Sheet, mapping: SheetMapping) -> None:
    """Refuse a mapping whose headings do not stand where it says: it was made for another list."""
    from xlfab.customer_list.headings import read_heading

    texts = read_heading(sheet, mapping.heading_first_row - 1, mapping.heading_rows).texts
    for name, column in mapping.columns.items():
        found = texts.get(column_number(column.column) - 1, "")
        if found != column.heading:
            place = f"{column.column}{mapping.heading_first_row}"
            raise ScenarioError(
                f"sheet {sheet.name}, cell {place}: the heading is '{found}', the mapping says '{column.heading}' for {name}; "
                "the mapping was made for another list"
            )
