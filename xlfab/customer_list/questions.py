"""What a mapping leaves open, asked one by one with its readings worked out, and the answers put in."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from xlfab.core.errors import ScenarioError
from xlfab.core.numbers import TwoReadings, decimal_number
from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.cell_grid import Cell, Number, Sheet, shown
from xlfab.customer_list.designations import COMPARABLE, OPEN_NAME, look_up, without_thickness
from xlfab.customer_list.headings import meaning
from xlfab.customer_list.list_mapping import (
    BEND_ANGLES,
    LEAVE_OUT,
    LENGTH_UNITS,
    OPEN,
    READ,
    Column,
    Mapping,
    MaterialName,
    SheetMapping,
    label,
    used,
)
from xlfab.customer_list.propose import NUMBERS, is_gauge, material_text
from xlfab.customer_list.quantity import Quantity, Unreadable, in_mm, quantity
from xlfab.customer_list.row_fields import Row
from xlfab.customer_list.set_aside import reason_to_set_aside

_DIGITS = re.compile(r"[0-9]+")
NONE = "none"  # the answer that a list has no such column
MOST_MATERIALS = 5000
MOST_FURTHER = 10  # columns of other lot sizes


@dataclass(frozen=True)
class Question:
    """What the mapping leaves open: where, what is asked, and the answers that are allowed (empty: any text)."""

    place: tuple[str, ...]
    text: str
    choices: tuple[str, ...]
    needed: bool = True


def sheet_of(sheets: list[Sheet], mapping: Mapping, table: SheetMapping) -> Sheet:
    """The sheet of a table; of a list with one sheet that one, whatever its name."""
    by_name = {sheet.name[:500]: sheet for sheet in sheets}
    one = len(sheets) == len({item.sheet for item in mapping.sheets}) == 1
    sheet = by_name.get(table.sheet) or (sheets[0] if one else None)
    if sheet is None:
        raise ScenarioError(f"the list has no sheet '{table.sheet}'; it has {', '.join(by_name)}")
    return sheet


def data_rows(sheet: Sheet, table: SheetMapping) -> range:
    """The rows of a table below its heading, counted from 0."""
    return range(
        table.heading_first_row + table.heading_rows - 1, min(table.last_row or len(sheet.rows), len(sheet.rows))
    )


def questions(
    mapping: Mapping, sheets: list[Sheet], known_materials: tuple[str, ...] = (), gauge_tables: tuple[str, ...] = ()
) -> list[Question]:
    """Everything in a mapping that is still open. Ask again after each answer: one answer can raise the next question."""
    found: list[Question] = []
    for table in used(mapping):
        found += _of_sheet(sheet_of(sheets, mapping, table), table, label(mapping, table))
    found += _of_sheets_alike(sheets, mapping)
    for table in used(mapping):
        sheet = sheet_of(sheets, mapping, table)
        found += [*_of_columns(sheet, table, label(mapping, table)), *_of_gauges(sheet, table, mapping, gauge_tables)]
        _fill_materials(sheet, table, mapping, known_materials)
    return found + _of_materials(mapping, known_materials)


def _of_sheet(sheet: Sheet, table: SheetMapping, name: str) -> Iterator[Question]:
    choices = (READ, LEAVE_OUT)
    if sheet.hidden and table.sheet_state in ("", OPEN):
        yield Question(("hidden", name, "sheet"), f"Sheet {name} is hidden. Read it, or leave it out?", choices)
    rows = set(data_rows(sheet, table))
    for kind, state, apart in (
        ("hidden", table.hidden_rows, sheet.hidden_rows),
        ("struck", table.struck_rows, sheet.struck_rows),
    ):
        if state == OPEN:
            numbers = [str(row + 1) for row in sorted(apart & rows) if sheet.filled(row)]
            word = "hidden" if kind == "hidden" else "struck through"
            shown_rows = ", ".join(numbers[:20]) + (" and more" if len(numbers) > 20 else "")
            text = f"Sheet {name}: {len(numbers)} rows are {word} ({shown_rows}). Read them, or leave them out?"
            yield Question((kind, name, "rows"), text, choices)


def _of_sheets_alike(sheets: list[Sheet], mapping: Mapping) -> Iterator[Question]:
    """Tables that name the same parts may be an older and a newer issue: the user says which is read."""
    settled = [table for table in used(mapping) if table.sheet_state != OPEN]
    names = [set(_names(sheet_of(sheets, mapping, table), table)) for table in settled]
    counts = Counter(name for group in names for name in group)
    for table, group in zip(settled, names, strict=True):
        twice = sum(counts[name] > 1 for name in group)
        if twice and not table.sheet_state:
            name = label(mapping, table)
            text = f"Sheet {name} names {twice} parts that another table names too. Read it, or leave it out?"
            yield Question(("sheet", name), text, (READ, LEAVE_OUT))


def _names(sheet: Sheet, table: SheetMapping) -> Iterator[str]:
    column = table.columns.get("part")
    if column is not None and column.column != OPEN:
        for row in data_rows(sheet, table):
            text = material_text(sheet.at(row, column_number(column.column) - 1))
            if text and not meaning(text).sure:
                yield text.casefold()


def _of_columns(sheet: Sheet, table: SheetMapping, name: str) -> Iterator[Question]:
    if table.decimal == OPEN:
        text = f"Sheet {name}: is the decimal mark a point or a comma?{_both_readings(sheet, table)}"
        yield Question(("decimal", name), text, (".", ","))
    for key, column in table.columns.items():
        if column.column == OPEN:
            hidden = "".join(f" (column {place} is hidden)" for place, item in column.candidates.items() if item.hidden)
            text = f"Sheet {name}: which column is {key}? Found: {column.heading}{hidden}"
            yield Question(("column", name, key), text, (*column.candidates, NONE))
        elif column.unit == OPEN and key == "thickness":
            text = f"Sheet {name}: unit of {key} (column {column.column}, '{column.heading}')?{_as_units(sheet, table, column)}"
            yield Question(("unit", name, key), text, (*LENGTH_UNITS, "gauge"))
    sizes = {
        key: column
        for key, column in table.columns.items()
        if column.column != OPEN and column.unit == OPEN and key != "thickness"
    }
    if sizes:
        listed = ", ".join(f"{key} (column {column.column}, '{column.heading}')" for key, column in sizes.items())
        first = next(iter(sizes.values()))
        yield Question(
            ("unit", name, "+".join(sizes)),
            f"Sheet {name}: unit of {listed}?{_as_units(sheet, table, first)}",
            LENGTH_UNITS,
        )
    if table.angles == OPEN:
        text = f"Sheet {name}: does the angle say how far the sheet is bent (0 is flat), or the angle between the legs (180 is flat)?"
        yield Question(("angles", name), text, BEND_ANGLES)


def _cells(sheet: Sheet, table: SheetMapping, column: Column) -> Iterator[Cell]:
    named = column.candidates if column.column == OPEN else column.column.split("+")
    for row in data_rows(sheet, table):
        for place in named:
            cell = sheet.at(row, column_number(place) - 1)
            if cell is not None:
                yield cell


def _both_readings(sheet: Sheet, table: SheetMapping) -> str:
    for key, column in table.columns.items():
        for cell in _cells(sheet, table, column) if key in NUMBERS else ():
            try:
                if isinstance(cell, str):
                    decimal_number(cell.split(" ")[0])
            except TwoReadings as both:
                return f" '{cell}' is {both.readings[0]:g} with a point and {both.readings[1]:g} with a comma"
            except Unreadable:
                continue
    return " Both stand in the list"


def _as_units(sheet: Sheet, table: SheetMapping, column: Column) -> str:
    """The first number in mm, as each of the two usual units."""
    for cell in _cells(sheet, table, column):
        try:
            value = (
                cell.value
                if isinstance(cell, Number)
                else quantity(shown(cell), table.decimal.replace(OPEN, ".")).value
            )
        except Unreadable:
            continue
        return f" {shown(cell)} is {value:g} mm, or {in_mm(Quantity(value, 'in'), ''):.4g} mm if it is in inches"
    return ""


def material_name(sheet: Sheet, table: SheetMapping, row: int) -> str:
    """The customer's name of a row's material, without the thickness that may stand behind it."""
    column = table.columns.get("material")
    if column is None or column.column == OPEN:
        return ""
    return without_thickness(material_text(sheet.at(row, column_number(column.column) - 1)))[0]


def _of_gauges(
    sheet: Sheet, table: SheetMapping, mapping: Mapping, gauge_tables: tuple[str, ...]
) -> Iterator[Question]:
    column = table.columns.get("thickness")
    if column is None or OPEN in (column.column, column.unit):
        return
    asked: set[str] = set()
    for row in data_rows(sheet, table):
        cell = sheet.at(row, column_number(column.column) - 1)
        if column.column == (table.columns["material"].column if "material" in table.columns else ""):
            cell = without_thickness(material_text(cell))[1]
        name = material_name(sheet, table, row) or "*"
        aside = not cell or name in asked or reason_to_set_aside(Row(sheet, table, mapping, row))
        if cell and not aside and mapping.gauges.get(name, OPEN) == OPEN and is_gauge(cell, column.unit):
            asked.add(name)
            yield Question(("gauge", name), f"Which gauge table holds for '{name}'?", gauge_tables)


def _fill_materials(sheet: Sheet, table: SheetMapping, mapping: Mapping, known: tuple[str, ...]) -> None:
    """Look up each of the customer's material names that the mapping does not hold yet."""
    if any(column.column == OPEN for column in table.columns.values()):
        return
    for row in data_rows(sheet, table):
        text = material_name(sheet, table, row)[:500]
        if text and text not in mapping.materials and not reason_to_set_aside(Row(sheet, table, mapping, row)):
            if len(mapping.materials) >= MOST_MATERIALS:
                raise ScenarioError(
                    f"sheet {sheet.name}: more than {MOST_MATERIALS} names of materials; is it the right column?"
                )
            found = look_up(text, known)
            mapping.materials[text] = MaterialName(material=found.material or OPEN, how=found.how, why=found.why[:500])


def _of_materials(mapping: Mapping, known: tuple[str, ...]) -> list[Question]:
    found = []
    for name, item in mapping.materials.items():
        if item.how == OPEN_NAME:
            text = f"Which material is '{name}'?" + (f" {item.why[0].upper()}{item.why[1:]}" if item.why else "")
            found.append(Question(("material", name), text, known, needed=False))
        elif item.how == COMPARABLE:
            text = f"Is '{name}' to be taken as {item.material}? {item.why}. Enter takes it"
            found.append(Question(("material", name), text, known, needed=False))
    return found


def answer(mapping: Mapping, question: Question, text: str) -> None:
    """Put an answer into the mapping; ScenarioError where it is not among the choices."""
    if question.choices and text not in question.choices:
        raise ScenarioError(f"'{text[:60]}' is none of {', '.join(question.choices)}")
    kind, *place = question.place
    if kind == "gauge":
        mapping.gauges[place[0]] = text
        return
    if kind == "material":
        mapping.materials[place[0]] = MaterialName(material=text, how="user")
        return
    table = next(item for item in mapping.sheets if label(mapping, item) == place[0])
    if kind == "column":
        _choose(table, place[1], text)
    elif kind == "unit":
        for key in place[1].split("+"):
            table.columns[key].unit = text
    else:
        name = {"decimal": "decimal", "angles": "angles", "sheet": "sheet_state", "struck": "struck_rows"}.get(kind)
        setattr(table, name or ("sheet_state" if place[1] == "sheet" else "hidden_rows"), text)


def _choose(table: SheetMapping, name: str, text: str) -> None:
    if text == NONE:
        del table.columns[name]
        return
    column = table.columns[name]
    chosen = column.candidates[text]
    stem = _DIGITS.sub("", chosen.heading).strip()
    alike = [place for place, item in column.candidates.items() if _DIGITS.sub("", item.heading).strip() == stem]
    further = "+".join([place for place in alike if place != text][:MOST_FURTHER]) if name == "lot" else ""
    table.columns[name] = Column(column=text, further=further, **chosen.model_dump())
