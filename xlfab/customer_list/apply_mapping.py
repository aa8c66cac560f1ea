"""A list and its mapping turned into the rows of parts.csv and steps.csv."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from xlfab.core.errors import ScenarioError
from xlfab.customer_list.cell_grid import Sheet, address, shown
from xlfab.customer_list.designations import COMPARABLE
from xlfab.customer_list.find_tables import read_heading
from xlfab.customer_list.flat_blank import Blank, read_blank
from xlfab.customer_list.list_mapping import LEAVE_OUT, OPEN, Mapping, SheetMapping, column_number_of, used
from xlfab.customer_list.part_bends import read_bends
from xlfab.customer_list.part_steps import Value, steps_of
from xlfab.customer_list.questions import data_rows, material_name, sheet_of
from xlfab.customer_list.row_fields import SHOWN_LETTERS, Note, Row
from xlfab.customer_list.set_aside import above_heading, is_total, odd_columns, reason_to_set_aside

_NOT_IN_NAMES = re.compile(r"[^\w .-]")
LONGEST_NAME = 50
BREAKS = 5  # quantities at which a quote prices each part


@dataclass
class Intake:
    """What came of a list: rows of parts, the steps of each, where each stands, further lot sizes, parts whose bends could not be read, notes."""

    parts: list[dict[str, Value]] = field(default_factory=list)
    steps: list[list[dict[str, Value]]] = field(default_factory=list)
    places: list[tuple[str, int]] = field(default_factory=list)
    breaks: set[float] = field(default_factory=set)
    unread_bends: set[int] = field(default_factory=set)
    notes: list[Note] = field(default_factory=list)


def apply(sheets: list[Sheet], mapping: Mapping) -> Intake:
    """Read every table that the mapping does not leave out."""
    result = Intake(notes=list(_left_out(sheets, mapping)))
    for table in used(mapping):
        sheet = sheet_of(sheets, mapping, table)
        check_headings(sheet, table)
        for number in above_heading(sheet, table, mapping.sheets):
            told = " | ".join(sheet.filled(number))[:SHOWN_LETTERS]
            reason = "set aside: it stands above the heading"
            result.notes.append(Note(table.sheet, f"row {number + 1}", "row", told, reason))
        _read_table(sheet, table, mapping, result)
    if not result.parts:
        raise ScenarioError("nothing is left to read: every row of the list is left out or set aside")
    if len(result.breaks) > BREAKS:
        told = ", ".join(f"{value:g}" for value in sorted(result.breaks))[:SHOWN_LETTERS]
        result.notes.append(Note("", "heading", "lot", told, f"only the {BREAKS} smallest become price breaks"))
    _own_names(result)
    return result


def _left_out(sheets: list[Sheet], mapping: Mapping) -> Iterator[Note]:
    """A note on each sheet and table that is not read."""
    for name, reason in mapping.skipped.items():
        yield Note(name, "", "sheet", "", f"left out: {reason}")
    named = {table.sheet for table in mapping.sheets} | set(mapping.skipped)
    for name in [sheet.name[:500] for sheet in sheets] if len(sheets) > 1 else []:
        if name not in named:
            yield Note(name, "", "sheet", "", "left out: the mapping does not name it")
    for table in mapping.sheets:
        if table.sheet_state == LEAVE_OUT:
            yield Note(table.sheet, f"row {table.heading_first_row}", "sheet", "", "left out, as was answered")


def _read_table(sheet: Sheet, table: SheetMapping, mapping: Mapping, result: Intake) -> None:
    """Read the rows of one table into the result."""
    odd, top, pieces = odd_columns(sheet, table), top_level(sheet, table), 0.0
    for row in _rows(sheet, table, mapping):
        reason = reason_to_set_aside(row)
        if reason:
            row.note("row", reason, " | ".join(row.filled()))
            pieces = _check_total(row, pieces) if is_total(row) else pieces
        else:
            level = row.words("level")
            if top and level not in ("", top):
                row.note(
                    "lot", f"in level {level} of an assembly: this may be the number in one assembly, not in the order"
                )
            pieces += _take(row, result, [address(*place) for place in odd if place[0] == row.row])
        result.notes += [note for note in row.notes if note.cell != "heading" or note not in result.notes]


def check_headings(sheet: Sheet, table: SheetMapping) -> None:
    """Refuse a mapping whose headings do not stand where it says: it was made for another list."""
    first = table.heading_first_row - 1
    if first + table.heading_rows > len(sheet.rows):
        raise ScenarioError(
            f"sheet {sheet.name}: it ends in row {len(sheet.rows)}, the mapping has its heading in row {first + 1}; "
            "the mapping was made for another list"
        )
    texts = read_heading(sheet, first, table.heading_rows).texts
    for name, column in table.columns.items():
        if column.column == OPEN:
            raise ScenarioError(f"sheet {sheet.name}: the mapping leaves open which column is {name}")
        places = [column_number_of(part) - 1 for part in column.column.split("+")]
        found = "; ".join(texts.get(place, "") for place in places)[:500]
        if found != column.heading:
            raise ScenarioError(
                f"sheet {sheet.name}, cell {address(first, places[0])}: the heading is '{found}', the mapping says "
                f"'{column.heading}' for {name}; the mapping was made for another list"
            )


def _rows(sheet: Sheet, table: SheetMapping, mapping: Mapping) -> Iterator[Row]:
    for number in data_rows(sheet, table):
        row = Row(sheet, table, mapping, number)
        if row.filled():
            yield row


def _check_total(row: Row, pieces: float) -> float:
    """Hold a total of the list against the pieces that were read since the last one."""
    told = row.number("lot")
    if told is not None and pieces > 0 and abs(told.value - pieces) > 0.5:
        row.note(
            "lot",
            f"the list's total says {told.value:g} pieces, the rows read above it make {pieces:g}: look for the difference",
        )
    return pieces


def top_level(sheet: Sheet, table: SheetMapping) -> str:
    """The first level that a list of an assembly's parts names; "" where all are of one."""
    column = table.columns.get("level")
    places = [column_number_of(column.column) - 1] if column and column.column != OPEN else []
    levels = [
        shown(sheet.at(row, place))
        for place in places
        for row in data_rows(sheet, table)
        if sheet.at(row, place) is not None
    ]
    return levels[0] if len(set(levels)) > 1 else ""


def _take(row: Row, result: Intake, odd: list[str]) -> float:
    """Read one row into the result; its pieces."""
    for place in odd:
        row.note(
            "row",
            f"a number stands alone in {place}, in a column of words: a decimal comma without quotes may have moved the row",
        )
    blank = read_blank(row)
    lot, yearly = _lots(row, result)
    assume = row.whole.assume
    part: dict[str, Value] = {
        "part": row.text("part"),
        "description": row.text("description"),
        "material": _material(row),
        "thickness_mm": blank.thickness,
        "blank_length_mm": blank.length,
        "blank_width_mm": blank.width,
        "lot_size_count": lot,
        "yearly_quantity_count": yearly,
        "tool_stations_count": row.count("stations", "tool_stations_count") if row.has("stations") else assume.tool_stations_count,
        "sheet_use_share": row.share("sheet_use", "sheet_use_share") if row.has("sheet_use") else assume.sheet_use_share,
        "stored_program_switch": assume.stored_program_switch,
    }  # fmt: skip
    if not part["part"]:
        row.note("part", "empty: the part has no name")
    _check_mass(row, blank, str(part["material"]), lot)
    result.parts.append(part)
    bends = read_bends(row, blank)
    if bends is None:
        result.unread_bends.add(len(result.steps))
    result.steps.append(steps_of(row, part, blank, bends or []))
    result.places.append((row.sheet.name, row.row + 1))
    return lot or 0.0


def _material(row: Row) -> str:
    found = material_name(row.sheet, row.mapping, row.row)
    if not row.has("material"):
        row.note_list("material", "the list has no column for it")
        return ""
    known = row.whole.materials.get(found)
    if known is None or known.material == OPEN:
        why = "no known material is named so; the text is kept, put in the right name" if found else "empty"
        row.note("material", why + (f". {known.why}" if known and known.why else ""))
        return found
    if known.how == COMPARABLE:
        row.note("material", f"taken as {known.material}: {known.why}")
    return known.material


def _lots(row: Row, result: Intake) -> tuple[float | None, float | None]:
    """Lot size and yearly quantity; of the two, a list that has one gives the other by the lots a year."""
    lots = row.whole.assume.yearly_lots_count
    lot = row.count("lot", "lot_size_count") if row.has("lot") else None
    yearly = row.count("yearly", "yearly_quantity_count") if row.has("yearly") else None
    result.breaks |= set(row.several("lot")) | _further(row)
    if row.has("lot") and not row.has("yearly"):
        yearly = None if lot is None else lot * lots
    if row.has("yearly") and not row.has("lot"):
        lot = None if yearly is None else max(1.0, round(yearly / lots))
        row.note_list("lot", f"the list states no lot size: the yearly quantity in {lots:g} lots is assumed")
    if not row.has("yearly") and not row.has("lot"):
        row.note_list("lot", "the list has no column for the quantity")
    return lot, yearly


def _further(row: Row) -> set[float]:
    """Lot sizes in further columns, the chosen one among them."""
    column = row.mapping.columns.get("lot")
    if column is None or not column.further:
        return set()
    found: set[float] = set()
    for place in [*column.further.split("+"), column.column]:
        cell = row.sheet.at(row.row, column_number_of(place) - 1)
        value = row.read(cell)
        if value is not None and value.value >= 1 and value.value == int(value.value):
            found.add(value.value)
    return found


def _check_mass(row: Row, blank: Blank, material: str, lot: float | None) -> None:
    """The list's own mass beside that of the blank: far apart, one of the sizes, their unit or the material may be wrong."""
    told = row.number("mass")
    mine = blank.mass_kg(material)
    if told is None or mine is None or told.unit not in (None, "kg", "g", "lb") or told.value <= 0:
        return
    mass = told.value * {"g": 0.001, "lb": 0.45359237}.get(told.unit or "kg", 1.0)
    if not any(0.25 <= mass / (mine * pieces) <= 1.2 for pieces in (1.0, lot or 1.0)):
        row.note(
            "mass", f"the list says {mass:.4g} kg, the blank as read is {mine:.4g} kg: check sizes, unit and material"
        )


def _own_names(result: Intake) -> None:
    """Give every part a name of its own in the characters that are allowed, and say where it was changed."""
    taken: dict[str, int] = {}
    for part, steps, (sheet, row) in zip(result.parts, result.steps, result.places, strict=True):
        given = str(part["part"] or "")
        name = base = " ".join(_NOT_IN_NAMES.sub("_", given).split()).lstrip(" ._-")[:LONGEST_NAME] or "unnamed"
        number = 2
        while name.casefold() in taken:
            name, number = f"{base} {number}", number + 1
        if name != given:
            reason = (
                f"named '{name}': part names start with a letter or digit, and hold letters, digits, space . _ - only"
            )
            if base != name:
                reason = (
                    f"named '{name}': the name stands in row {taken[base.casefold()]} already; the same part twice?"
                )
            result.notes.append(Note(sheet, f"row {row}", "part", given, reason))
        taken[name.casefold()] = row
        for record in (part, *steps):
            record["part"] = name
