"""A mapping proposed from a list itself. What the list does not prove stays open."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import islice

from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.bend_text import angles_of, bends_of
from xlfab.customer_list.cell_grid import Cell, Number, Sheet, letters, shown
from xlfab.customer_list.designations import without_thickness
from xlfab.customer_list.find_tables import FoundTable, find_tables
from xlfab.customer_list.headings import OTHER, Meaning, meaning
from xlfab.customer_list.list_mapping import FIELDS, OPEN, Candidate, Column, Mapping, SheetMapping
from xlfab.customer_list.quantity import LONGEST_CELL, Unreadable, clean, decimal_evidence, quantity, sizes

LENGTHS = ("thickness", "length", "width", "size", "flanges", "bend_length", "sheet_size")
NUMBERS = (*LENGTHS, "lot", "yearly", "stations", "sheet_use", "mass")
CHECKS = ("item", "mass", "count_unit", "level")  # never asked about: they name a part or check a figure
TEXTS = ("part", "description", "material")  # of these a column that is surely named goes before one that may be meant
MOST_TABLES, MOST_LEGS = 200, 20
_STATED_UNIT = re.compile(r"\b(?:in|en|are)\s+(mm|millimet|inch|zoll)", re.IGNORECASE)
_GAUGE_WORD = re.compile(r"\b(?:gauge|gage|ga)\b", re.IGNORECASE)


def propose(sheets: list[Sheet]) -> Mapping:
    """The mapping that the list suggests; sheets without a heading are skipped, and said to be."""
    mapping = Mapping()
    for sheet in sheets:
        tables = find_tables(sheet)
        for table in tables[: MOST_TABLES - len(mapping.sheets)]:
            mapping.sheets.append(_table_mapping(sheet, table))
        if not tables:
            mapping.skipped[sheet.name] = "no row names three fields that are known"
    return mapping


def _table_mapping(sheet: Sheet, table: FoundTable) -> SheetMapping:
    columns = {name: _column(sheet, table, name, places) for name, places in _places(table).items()}
    _part_column(sheet, table, columns)
    _thickness_within_material(sheet, table, columns)
    data = range(table.first_data_row, table.last_row + 1)
    hidden = any(sheet.filled(row) for row in sheet.hidden_rows & set(data))
    struck = bool(sheet.struck_rows & set(data))
    places = [place for name, item in columns.items() if name in NUMBERS for place in cells_of(item)]
    return SheetMapping(
        sheet=sheet.name[:500],
        heading_first_row=table.first_row + 1,
        heading_rows=table.rows,
        last_row=0 if table.last_row == len(sheet.rows) - 1 else table.last_row + 1,
        decimal=decimal_mark(text for place in places for text in _texts(sheet, table, place)),
        sheet_state=OPEN if sheet.hidden else "",
        hidden_rows=OPEN if hidden else "",
        struck_rows=OPEN if struck else "",
        angles=OPEN if any(abs(angle - 90) > 0.01 for angle in _angles(sheet, table, columns)) else "",
        columns=columns,
    )


def _places(table: FoundTable) -> dict[str, list[int]]:
    """The columns of each field; of texts those that only may be meant give way to those that are named surely."""
    found: dict[str, list[int]] = {}
    for column, item in table.meanings.items():
        if item.field and (item.field not in OTHER or item.field in CHECKS):
            found.setdefault(item.field, []).append(column)
    for name, places in found.items():
        sure = [place for place in places if table.meanings[place].sure]
        if sure and name in (*TEXTS, *CHECKS):
            found[name] = sure
    return {name: found[name] for name in FIELDS if name in found}


def _column(sheet: Sheet, table: FoundTable, name: str, places: list[int]) -> Column:
    """The column of a field where it is certain; else the candidates."""
    meanings = [table.meanings[place] for place in places]
    if name == "flanges" and 1 < len(places) <= MOST_LEGS and all(item.series for item in meanings):
        units = {_unit(sheet, table, name, place) for place in places}
        heading = "; ".join(table.texts[place] for place in places)
        return Column(
            column="+".join(map(letters, places)), heading=heading[:500], unit=units.pop() if len(units) == 1 else OPEN
        )
    candidates = {letters(place): _candidate(sheet, table, name, place) for place in places}
    sure = len(places) == 1 and meanings[0].sure and places[0] not in sheet.hidden_columns
    if sure or name in CHECKS:
        place, item = next(iter(candidates.items()))
        return Column(column=place, **item.model_dump())
    heading = "; ".join(f"{place} {item.heading}" for place, item in candidates.items())
    return Column(column=OPEN, heading=heading[:500], candidates=dict(islice(candidates.items(), 50)))


def _candidate(sheet: Sheet, table: FoundTable, name: str, place: int) -> Candidate:
    return Candidate(
        heading=table.texts[place],
        unit=_unit(sheet, table, name, place),
        order=list(table.meanings[place].order),
        hidden=place in sheet.hidden_columns,
    )


def _part_column(sheet: Sheet, table: FoundTable, columns: dict[str, Column]) -> None:
    """Where no column surely names the parts, the position or the description may: the user says."""
    if "part" in columns:
        return
    item = columns.get("item")
    if item and any(not text.isdigit() for place in cells_of(item) for text in _names(sheet, table, place)):
        columns["part"] = item.model_copy()  # names, not numbers of lines
        return
    others = [name for name in ("item", "description") if name in columns and columns[name].column != OPEN]
    candidates = {columns[name].column: Candidate(heading=columns[name].heading) for name in others}
    if candidates:
        heading = "; ".join(f"{place} {item.heading}" for place, item in candidates.items())
        columns["part"] = Column(column=OPEN, heading=heading, candidates=candidates)


def _names(sheet: Sheet, table: FoundTable, place: int) -> Iterator[str]:
    """The texts of a column in the rows that have more than one."""
    for row in range(table.first_data_row, table.last_row + 1):
        if len(sheet.filled(row)) > 2 and (text := material_text(sheet.at(row, place))) and not meaning(text).sure:
            yield text


def _thickness_within_material(sheet: Sheet, table: FoundTable, columns: dict[str, Column]) -> None:
    """S235JR 2 mm: the thickness stands in the material's column, where it has none of its own."""
    material = columns.get("material")
    if "thickness" in columns or "size" in columns or material is None or material.column == OPEN:
        return
    place = column_number(material.column) - 1
    if any(without_thickness(text)[1] for text in _texts(sheet, table, place)):
        columns["thickness"] = Column(column=material.column, heading=material.heading)


def cells_of(item: Column) -> list[int]:
    """The columns that a field has or may have, counted from 0."""
    named = item.candidates if item.column == OPEN else item.column.split("+")
    return [column_number(place) - 1 for place in named]


def cells_below(sheet: Sheet, table: FoundTable, column: int) -> Iterator[Cell]:
    """The cells of a column below the heading."""
    return (sheet.at(row, column) for row in range(table.first_data_row, table.last_row + 1))


def _texts(sheet: Sheet, table: FoundTable, column: int) -> list[str]:
    cells = cells_below(sheet, table, column)
    return [clean(cell) for cell in cells if isinstance(cell, str) and len(cell) <= LONGEST_CELL]


def _angles(sheet: Sheet, table: FoundTable, columns: dict[str, Column]) -> Iterator[float]:
    """Every angle that the list states."""
    for name in ("bends", "bends_length", "bends_width", "bend_angle"):
        for place in cells_of(columns[name]) if name in columns else []:
            for cell in cells_below(sheet, table, place):
                try:
                    if name == "bend_angle":
                        yield from angles_of(shown(cell))
                    else:
                        yield from (bend.angle_deg for bend in bends_of(shown(cell)) if bend.angle_deg is not None)
                except Unreadable:
                    continue  # its own note comes when the row is read


def _unit(sheet: Sheet, table: FoundTable, name: str, place: int) -> str:
    """The unit of a column: its own heading's, else none needed where each cell has its own, else what the title rows say."""
    if name not in LENGTHS:
        return ""
    said: Meaning = table.meanings[place]
    if said.unit and said.unit not in ("%", "kg", "g", "lb"):
        return said.unit
    cells = [cell for cell in cells_below(sheet, table, place) if isinstance(cell, (str, Number))]
    if cells and all(_own_unit(cell) for cell in cells):
        return ""
    if name == "thickness" and _GAUGE_WORD.search(table.texts[place]):
        return OPEN  # numbers of a gauge, or a thickness: both are called so
    for row in islice(sheet.rows, table.first_row):
        for cell in row:
            found = _STATED_UNIT.search(cell) if isinstance(cell, str) and len(cell) <= LONGEST_CELL else None
            if found:
                return "mm" if found[1].lower().startswith(("mm", "mil")) else "in"
    return OPEN


def _own_unit(cell: str | Number) -> bool:
    """True if a cell says its unit itself, or holds no quantity: then it is reported, and asks for no unit."""
    if isinstance(cell, Number):
        return bool(cell.unit)
    if not any(letter.isdigit() for letter in cell):
        return True
    for decimal in ".,":
        try:
            return all(item.unit for item in sizes(cell, decimal))
        except Unreadable:
            continue
    return True


def decimal_mark(texts: Iterable[str]) -> str:
    """The decimal mark that numbers prove: "." where none has a mark; "?" where the marks leave it open or contradict.

    >>> decimal_mark(["1.000 St.", "250"]), decimal_mark(["1.250,5", "1.000"]), decimal_mark(["12"]), decimal_mark(["1.5", "1,5"])
    ('?', ',', '.', '?')
    """
    found = {decimal_evidence(part) for text in texts for part in re.split(r"\s*[x×*;]\s*", text)} - {None}
    proven = found - {"?"}
    if not found:
        return "."
    return str(proven.pop()) if len(proven) == 1 else OPEN


def material_text(cell: Cell) -> str:
    """A text as it is shown; numbers such as 1.4301 or 304 are names here."""
    if isinstance(cell, Number):
        return cell.shown
    return cell if isinstance(cell, str) else ""


def is_gauge(cell: Cell, unit: str) -> bool:
    """True if a cell of thickness is a gauge number, in a column of that unit."""
    if isinstance(cell, Number):
        return (cell.unit or unit) == "gauge"
    if not isinstance(cell, str):
        return False
    try:
        own = quantity(cell).unit
    except Unreadable:
        return False
    return (own or unit) == "gauge"
