"""A mapping proposed from a list itself. What the list does not prove stays open."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from xlfab.customer_list.cell_grid import Cell, Sheet, letters
from xlfab.customer_list.headings import Heading, find_heading
from xlfab.customer_list.list_mapping import OPEN, Column, Mapping, SheetMapping
from xlfab.customer_list.quantity import Unreadable, clean, decimal_evidence, sizes

LENGTHS = ("thickness", "length", "width", "size", "flanges", "bend_length")
NUMBERS = (*LENGTHS, "lot", "yearly", "stations", "bends", "sheet_use")
_STATED_UNIT = re.compile(r"\b(?:in|en|are)\s+(mm|millimet|inch|zoll)", re.IGNORECASE)


def propose(sheets: list[Sheet], known_materials: tuple[str, ...] = ()) -> Mapping:
    """The mapping that the list suggests; sheets without a heading are skipped, and said to be."""
    mapping = Mapping()
    for sheet in sheets:
        heading = find_heading(sheet)
        if heading is None:
            mapping.skipped[sheet.name] = "no row names three fields that are known"
            continue
        proposed = _sheet_mapping(sheet, heading)
        mapping.sheets.append(proposed)
        _note_materials(sheet, heading, proposed, mapping, known_materials)
    return mapping


def _sheet_mapping(sheet: Sheet, heading: Heading) -> SheetMapping:
    columns: dict[str, Column] = {}
    for name in dict.fromkeys(heading.fields.values()):
        places = [column for column, field in heading.fields.items() if field == name]
        found = [f"{letters(place)} {heading.texts[place]}" for place in places]
        if len(places) == 1:
            columns[name] = Column(letters(places[0]), heading.texts[places[0]])
            columns[name].unit = _unit(sheet, heading, name, places[0])
        else:
            columns[name] = Column(OPEN, "; ".join(found), _unit(sheet, heading, name, places[0]))
    texts = [
        cell for column, field in heading.fields.items() if field in NUMBERS for cell in _texts(sheet, heading, column)
    ]
    return SheetMapping(sheet.name, heading.first_row + 1, heading.rows, _decimal(texts), columns)


def cells_below(sheet: Sheet, heading: Heading, column: int) -> Iterator[Cell]:
    """The cells of a column below the heading."""
    return (sheet.at(row, column) for row in range(heading.last_row + 1, len(sheet.rows)))


def _texts(sheet: Sheet, heading: Heading, column: int) -> list[str]:
    return [clean(cell) for cell in cells_below(sheet, heading, column) if isinstance(cell, str)]


def _unit(sheet: Sheet, heading: Heading, name: str, column: int) -> str:
    """The unit of a column: its heading's, else none needed where each cell has its own, else what the title rows say."""
    if name not in LENGTHS:
        return ""
    if column in heading.units:
        return heading.units[column]
    cells = [cell for cell in cells_below(sheet, heading, column) if isinstance(cell, (str, float))]
    if cells and all(isinstance(cell, str) and _own_unit(cell) for cell in cells):
        return ""
    for row in islice(sheet.rows, heading.first_row):
        for cell in row:
            found = _STATED_UNIT.search(cell) if isinstance(cell, str) else None
            if found:
                return "mm" if found[1].lower().startswith(("mm", "mil")) else "in"
    return OPEN


def _own_unit(text: str) -> bool:
    for decimal in ".,":
        try:
            return all(item.unit for item in sizes(text, decimal))
        except Unreadable:
            continue
    return True  # no quantity at all: it will be reported, and asks for no unit


def _decimal(texts: list[str]) -> str:
    found = {decimal_evidence(part) for text in texts for part in re.split(r"[x×*/\s]", text)} - {None}
    if found <= {"."}:
        return "."
    return "," if found == {","} else _majority(texts, found)


def _majority(texts: list[str], found: set[str | None]) -> str:
    """Texts that could be either follow the ones that prove a mark; where both marks are proven, the user must say."""
    proven = found - {"?"}
    return str(proven.pop()) if len(proven) == 1 else OPEN


def _note_materials(
    sheet: Sheet, heading: Heading, proposed: SheetMapping, mapping: Mapping, known_materials: tuple[str, ...]
) -> None:
    """The customer's material names: the same as a known one but for case and spaces, or open. Gauge tables go by material."""
    place = {field: column for column, field in heading.fields.items()}
    known = {_plain(name): name for name in known_materials}
    for row in range(heading.last_row + 1, len(sheet.rows)):
        cell = sheet.at(row, place["material"]) if "material" in place else None
        material = material_text(cell)
        if material and material not in mapping.materials:
            mapping.materials[material] = known.get(_plain(material), OPEN)
        thick = sheet.at(row, place["thickness"]) if "thickness" in place else None
        if thick is not None and _is_gauge(thick, proposed.columns["thickness"].unit):
            mapping.gauges.setdefault(material or "*", OPEN)


def material_text(cell: Cell) -> str:
    """The customer's name of a material; numbers such as 1.4301 or 304 are names here."""
    if isinstance(cell, float):
        return f"{cell:.12g}"
    return cell if isinstance(cell, str) else ""


def _plain(name: str) -> str:
    return "".join(name.casefold().split())


def _is_gauge(cell: Cell, unit: str) -> bool:
    if isinstance(cell, str):
        try:
            own = sizes(cell)[0].unit
        except (Unreadable, IndexError):
            return False
        return (own or unit) == "gauge"
    return unit == "gauge"
