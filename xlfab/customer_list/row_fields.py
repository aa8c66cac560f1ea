"""Reading the fields of one row by the mapping. What cannot be read is noted with sheet, cell, text and reason, and left empty."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from xlfab.core.arguments import argument
from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.cell_grid import Cell, Number, Odd, Sheet, address, shown
from xlfab.customer_list.designations import without_thickness
from xlfab.customer_list.gauges import thickness_mm
from xlfab.customer_list.list_mapping import LENGTH_UNITS, Mapping, SheetMapping
from xlfab.customer_list.propose import material_text
from xlfab.customer_list.quantity import Quantity, Unreadable, in_mm, quantity, sizes, unit_of

SHOWN_LETTERS = 200  # of a cell in a note
_SEVERAL = re.compile(r"[0-9]{1,7}(?: ?[/;|] ?[0-9]{1,7}){1,9}")
_THREE_DECIMALS = re.compile(r"[1-9][0-9]{0,2}[.,]000")


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

    def places(self, name: str) -> list[int]:
        """The columns of a field, counted from 0; none where the list has no such column."""
        column = self.mapping.columns.get(name)
        return [column_number(part) - 1 for part in column.column.split("+")] if column else []

    def cells(self, name: str) -> list[Cell]:
        """The cells of a field."""
        return [self.sheet.at(self.row, place) for place in self.places(name)]

    def cell(self, name: str) -> Cell:
        """The cell of a field that has one column; nothing where the list has no such column."""
        return next(iter(self.cells(name)), None)

    def has(self, name: str) -> bool:
        """True if the list has a column for the field."""
        return name in self.mapping.columns

    def filled(self) -> list[str]:
        """What stands in the cells that the mapping uses, each once."""
        columns = dict.fromkeys(place for name in self.mapping.columns for place in self.places(name))
        return [shown(cell) for cell in (self.sheet.at(self.row, place) for place in columns) if cell is not None]

    def note(self, name: str, reason: str, text: str | None = None) -> None:
        """Book a note on a field's cell."""
        places = self.places(name)
        place = address(self.row, places[0]) if places else f"row {self.row + 1}"
        told = shown(self.cell(name)) if text is None else text
        self.notes.append(Note(self.mapping.sheet, place, name, told[:SHOWN_LETTERS], reason))

    def note_list(self, name: str, reason: str) -> None:
        """Book a note that holds for the whole list; it is kept once."""
        self.notes.append(Note(self.mapping.sheet, "heading", name, "", reason))

    def text(self, name: str) -> str:
        """A text; whole numbers without a point."""
        cell = self.cell(name)
        if isinstance(cell, Odd):
            self.note(name, cell.reason)
            return ""
        if isinstance(cell, Number) and cell.rounded:
            self.note(
                name,
                f"the sheet shows {cell.shown}, the cell holds {cell.value:.10g}: what it shows is taken for the name",
            )
        return material_text(cell)

    def words(self, name: str) -> str:
        """A text of a field, without a note; "" where the list has none."""
        return material_text(self.cell(name))

    def length(self, name: str, known: str) -> float | None:
        """A length in mm, inside the allowed range of the vocabulary's name `known`."""
        return self._read(name, known, lambda item: self._length_mm(item, name))

    def count(self, name: str, known: str) -> float | None:
        """A number of pieces."""
        cell = self.cell(name)
        several = self.several(name)
        if several:
            listed = ", ".join(f"{value:g}" for value in several)
            self.note(
                name, f"several quantities: {listed}; the first is taken for the lot, all of them as price breaks"
            )
            return self.inside(name, known, several[0])

        def convert(item: Quantity) -> float:
            counted_in = self.words("count_unit")
            if counted_in and unit_of(counted_in) != "count" and unit_of(counted_in) not in LENGTH_UNITS:
                raise Unreadable(f"the list counts it in '{counted_in}'; a number of pieces is wanted")
            if item.unit not in (None, "count"):
                raise Unreadable(f"'{item.unit}' is no unit of a number of pieces")
            if item.value != int(item.value):
                raise Unreadable("not a whole number")
            return item.value

        value = self._read(name, known, convert)
        if value is not None and value < 1000 and isinstance(cell, str) and _THREE_DECIMALS.match(cell):
            self.note(name, f"read as {value:g}; if the mark parts thousands it is {value * 1000:g}")
        return value

    def several(self, name: str) -> list[float]:
        """The quantities of a cell that holds several, such as 10/50/100."""
        cell = self.cell(name)
        if isinstance(cell, str) and _SEVERAL.fullmatch(cell):
            return [float(part) for part in re.split(r"[/;|]", cell)]
        return []

    def share(self, name: str, known: str) -> float | None:
        """A share of one, or percent with its sign."""

        def convert(item: Quantity) -> float:
            if item.unit not in (None, "%"):
                raise Unreadable(f"'{item.unit}' is no unit of a share")
            return item.value / 100 if item.unit == "%" else item.value

        return self._read(name, known, convert)

    def number(self, name: str) -> Quantity | None:
        """A number with its unit and no note: for figures that only check others."""
        return self.read(self.cell(name))

    def read(self, cell: Cell) -> Quantity | None:
        """A cell's quantity, or None where it has none."""
        try:
            return (
                Quantity(cell.value, cell.unit or None)
                if isinstance(cell, Number)
                else quantity(shown(cell), self.mapping.decimal)
            )
        except Unreadable:
            return None

    def lengths(self, name: str) -> list[float] | None:
        """Several lengths, in one cell or in several, in mm; None with a note where one of them cannot be read."""
        cells = [cell for cell in self.cells(name) if cell is not None]
        try:
            if len(self.places(name)) > 1:
                return [self._length_mm(self._quantity(name, cell), name) for cell in cells]
            cell = self.cell(name)
            if not isinstance(cell, str):
                raise Unreadable("empty" if cell is None else "several sizes are wanted, such as 1200 x 600")
            text = re.sub(r"[/+]", "x", cell) if name == "flanges" else cell
            return [self._length_mm(item, name) for item in sizes(text, self.mapping.decimal)]
        except Unreadable as error:
            self.note(name, str(error))
            return None

    def _length_mm(self, item: Quantity, name: str) -> float:
        column = self.mapping.columns[name].unit
        unit = item.unit or column
        if item.unit and column not in ("", "?", item.unit):
            self.note(name, f"the cell says {item.unit}, its column says {column}: its own unit is taken")
        said = unit_of(self.words("count_unit"))
        if said in LENGTH_UNITS and item.unit is None and unit not in ("gauge", said):
            raise Unreadable(f"the column is in {unit or '?'}, the row says '{said}'")
        if unit == "gauge":
            material = without_thickness(material_text(self.cell("material")))[0] or "*"
            return thickness_mm(item.value, self.whole.gauges.get(material, "?"))
        return in_mm(item, unit or "?")

    def _quantity(self, name: str, cell: Cell) -> Quantity:
        if cell is None:
            raise Unreadable("empty")
        if isinstance(cell, Odd):
            raise Unreadable(cell.reason)
        if isinstance(cell, Number):
            if cell.spread:
                self.note(name, "one cell over several rows: its number is taken for each of them")
            if cell.rounded:
                self.note(
                    name, f"the sheet shows {cell.shown}, the cell holds {cell.value:.6g}: what it holds is taken"
                )
            return Quantity(cell.value, cell.unit or None)
        if name == "thickness" and self.places(name) == self.places("material"):
            cell = without_thickness(cell)[1]
        return quantity(cell, self.mapping.decimal)

    def _read(self, name: str, known: str, convert: Callable[[Quantity], float]) -> float | None:
        try:
            value = convert(self._quantity(name, self.cell(name)))
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
