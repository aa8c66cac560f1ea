"""How a customer's list is to be read: which column is which field, in which unit, and what is assumed where the list says nothing.

A mapping is proposed, shown, completed by the user and saved as a TOML file that can be used again for the customer's next list.
What is not known stands in it as "?".
"""

from __future__ import annotations

import tomllib
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_text

OPEN = "?"
LENGTH_UNITS = ("mm", "cm", "m", "in", "ft")

# what a customer's list never says; judgement or common practice, shown before it is used, changed in the mapping
ASSUMED: dict[str, float | str] = {
    "sheet_use_share": 0.8,
    "tool_stations_count": 1,
    "yearly_lots_count": 1,
    "bend_along": "length",
    "bend_angle_deg": 90,
    "die_opening_thickness_ratio": 8,
    "inside_radius_thickness_ratio": 1.3,
    "gauge_x_mm": 0,
    "cuts_along_length_count": 1,
    "cuts_along_width_count": 1,
}


@dataclass
class Column:
    """One column of the list that is used: its letters, its heading as found, the unit of cells that name none."""

    column: str
    heading: str
    unit: str = ""


@dataclass
class SheetMapping:
    """One sheet: the rows of its heading (counted from 1), its decimal mark and its columns by field."""

    sheet: str
    heading_first_row: int
    heading_rows: int
    decimal: str
    columns: dict[str, Column] = field(default_factory=dict)


@dataclass
class Mapping:
    """A whole list: its sheets, the customer's material names, the gauge table of each, and what is assumed."""

    sheets: list[SheetMapping] = field(default_factory=list)
    materials: dict[str, str] = field(default_factory=dict)
    gauges: dict[str, str] = field(default_factory=dict)
    assume: dict[str, float | str] = field(default_factory=lambda: dict(ASSUMED))
    skipped: dict[str, str] = field(default_factory=dict)


def save(mapping: Mapping, path: Path) -> None:
    """Write a mapping to a file."""
    path.write_text(as_toml(mapping), encoding="utf-8")


def as_toml(mapping: Mapping) -> str:
    """A mapping as the text of its file."""
    import tomlkit

    document = tomlkit.document()
    document.add(
        tomlkit.comment(
            "How a list of parts is read. Replace every ? and check the rest; what is assumed is yours to change."
        )
    )
    for key, value in asdict(mapping).items():
        document.add(key, tomlkit.item(value))
    return tomlkit.dumps(document)


def load(path: Path) -> Mapping:
    """Read a mapping; ScenarioError names what does not belong in it."""
    try:
        data = tomllib.loads(read_text(path))
    except tomllib.TOMLDecodeError as error:
        raise ScenarioError(f"{path}: not a sound TOML file ({error})") from error
    _check_keys(path, data, {item.name for item in fields(Mapping)}, "")
    sheets = [_sheet(path, item) for item in data.get("sheets", [])]
    if not sheets:
        raise ScenarioError(f"{path}: it names no sheet")
    assume = {**ASSUMED, **data.get("assume", {})}
    _check_keys(path, assume, set(ASSUMED), "assume: ")
    return Mapping(sheets, data.get("materials", {}), data.get("gauges", {}), assume, data.get("skipped", {}))


def _sheet(path: Path, data: dict[str, Any]) -> SheetMapping:
    names = {item.name for item in fields(SheetMapping)}
    _check_keys(path, data, names, "sheets: ")
    missing = names - set(data)
    if missing:
        raise ScenarioError(f"{path}: sheet {data.get('sheet', OPEN)} lacks {', '.join(sorted(missing))}")
    columns = {}
    for name, item in data["columns"].items():
        _check_keys(path, item, {part.name for part in fields(Column)}, f"{name}: ")
        columns[name] = Column(**item)
    return SheetMapping(**{**data, "columns": columns})


def _check_keys(path: Path, data: dict[str, Any], allowed: set[str], where: str) -> None:
    unknown = set(data) - allowed
    if unknown:
        raise ScenarioError(
            f"{path}: {where}{', '.join(sorted(unknown))} unknown; allowed: {', '.join(sorted(allowed))}"
        )


@dataclass(frozen=True)
class Question:
    """What the mapping leaves open: where, what is asked, and the answers that are allowed (empty: any text)."""

    place: tuple[str, ...]
    text: str
    choices: tuple[str, ...]
    needed: bool = True


def questions(
    mapping: Mapping, known_materials: tuple[str, ...] = (), gauge_tables: tuple[str, ...] = ()
) -> list[Question]:
    """Everything in a mapping that is still open."""
    found = []
    for sheet in mapping.sheets:
        if sheet.decimal == OPEN:
            text = f"Sheet {sheet.sheet}: is the decimal mark a point or a comma?"
            found.append(Question(("decimal", sheet.sheet), text, (".", ",")))
        for name, column in sheet.columns.items():
            if column.column == OPEN:
                text = f"Sheet {sheet.sheet}: which column is {name}? Found: {column.heading}"
                choices = tuple(part.split(" ", 1)[0] for part in column.heading.split("; "))
                found.append(Question(("column", sheet.sheet, name), text, choices))
            elif column.unit == OPEN:
                text = f"Sheet {sheet.sheet}: unit of {name} (column {column.column}, '{column.heading}')?"
                found.append(
                    Question(
                        ("unit", sheet.sheet, name), text, (*LENGTH_UNITS, *(("gauge",) if name == "thickness" else ()))
                    )
                )
    for name, value in mapping.gauges.items():
        if value == OPEN:
            found.append(Question(("gauge", name), f"Which gauge table holds for '{name}'?", gauge_tables))
    for name, value in mapping.materials.items():
        if value == OPEN:
            found.append(Question(("material", name), f"Which material is '{name}'?", known_materials, needed=False))
    return found


def answer(mapping: Mapping, question: Question, text: str) -> None:
    """Put an answer into the mapping; ScenarioError where it is not among the choices."""
    if question.choices and text not in question.choices:
        raise ScenarioError(f"'{text}' is none of {', '.join(question.choices)}")
    kind, *place = question.place
    if kind == "gauge":
        mapping.gauges[place[0]] = text
        return
    if kind == "material":
        mapping.materials[place[0]] = text
        return
    sheet = next(item for item in mapping.sheets if item.sheet == place[0])
    if kind == "decimal":
        sheet.decimal = text
    elif kind == "unit":
        sheet.columns[place[1]].unit = text
    else:
        column = sheet.columns[place[1]]
        heading = next(part for part in column.heading.split("; ") if part.split(" ", 1)[0] == text)
        column.column, column.heading = text, heading.split(" ", 1)[1]
