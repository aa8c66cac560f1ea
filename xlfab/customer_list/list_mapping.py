"""How a customer's list is to be read: which column is which field, in which unit, and what is assumed where the list says nothing.

A mapping is proposed, shown, completed by the user and saved as a TOML file that can be used again for the customer's next list.
What is not known stands in it as "?". One schema holds for what is proposed and for what is read from a file.
"""

from __future__ import annotations

import reprlib
from pathlib import Path
from typing import Annotated, Any, cast

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import ScenarioError
from xlfab.core.reading import COLUMNS, ROWS, read_toml
from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.designations import COMPARABLE, OPEN_NAME, SAME_GRADE, SAME_NAME
from xlfab.inputs.stated_values import out_of_bounds

OPEN = "?"
LENGTH_UNITS = ("mm", "cm", "m", "in", "ft")
READ, LEAVE_OUT = "read", "leave out"
BEND_ANGLES = ("bend angle", "between the legs")
BY_USER = "user"
FIELDS = (
    "part", "item", "description", "material", "thickness", "length", "width", "size", "flanges", "lot", "yearly", "stations",
    "bends", "bends_length", "bends_width", "bend_length", "bend_angle", "sheet_size", "sheet_use", "mass", "count_unit", "level",
)  # fmt: skip

Text = Annotated[str, Field(max_length=500)]
Row = Annotated[int, Field(ge=1, le=ROWS)]


def _one_of(*allowed: str) -> AfterValidator:
    def check(text: str) -> str:
        if text not in allowed:
            raise ValueError(f"must be one of {', '.join(repr(item) for item in allowed)}")
        return text

    return AfterValidator(check)


Choice = Annotated[str, _one_of("", OPEN, READ, LEAVE_OUT)]
UnitName = Annotated[str, _one_of("", OPEN, *LENGTH_UNITS, "gauge")]


def _letters(text: str) -> str:
    for part in text.split("+") if text not in ("", OPEN) else []:
        if not (
            part.isascii() and part.isalpha() and part.isupper() and len(part) <= 3 and column_number(part) <= COLUMNS
        ):
            raise ValueError("must be the letters of a column, such as D, or of several, such as D+E")
    return text


Letters = Annotated[str, Field(min_length=1, max_length=100), AfterValidator(_letters)]


class _Record(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True, validate_assignment=True)


class Candidate(_Record):
    """One column that may be the one of a field: its heading as found, the unit of cells that name none, the order of its sizes."""

    heading: Text
    unit: UnitName = ""
    order: list[Annotated[str, _one_of("length", "width", "thickness")]] = []
    hidden: bool = False


class Column(Candidate):
    """The column of a field, or "?" and the candidates among which the user chooses; `further`: columns of other lot sizes."""

    column: Letters
    further: Annotated[str, Field(max_length=100), AfterValidator(_letters)] = ""
    candidates: Annotated[dict[str, Candidate], Field(max_length=50)] = {}


class SheetMapping(_Record):
    """One table: its sheet, the rows of its heading (counted from 1), its last row (0: to the end), its decimal mark, its columns by field.

    `sheet_state`, `hidden_rows` and `struck_rows` say what becomes of what a reader would not see: "" where there is nothing.
    """

    sheet: Text
    heading_first_row: Row
    heading_rows: Annotated[int, Field(ge=1, le=5)]
    last_row: Annotated[int, Field(ge=0, le=ROWS)] = 0
    decimal: Annotated[str, _one_of(".", ",", OPEN)]
    sheet_state: Choice = ""
    hidden_rows: Choice = ""
    struck_rows: Choice = ""
    angles: Annotated[str, _one_of("", OPEN, *BEND_ANGLES)] = ""
    columns: Annotated[dict[Annotated[str, _one_of(*FIELDS)], Column], Field(max_length=50)] = {}


class MaterialName(_Record):
    """A customer's name of a material: the known material or "?", how it was found, and why."""

    material: Text
    how: Annotated[str, _one_of(SAME_NAME, SAME_GRADE, COMPARABLE, OPEN_NAME, BY_USER)] = BY_USER
    why: Text = ""


class Assumed(_Record):
    """What a customer's list never says; judgement or common practice, shown before it is used, changed in the mapping."""

    sheet_use_share: float = 0.8
    sheet_length_mm: float = 3000.0
    sheet_width_mm: float = 1500.0
    edge_trim_mm: float = 10.0
    tool_stations_count: float = 1.0
    stored_program_switch: float = 0.0
    yearly_lots_count: Annotated[float, Field(ge=1, le=1000)] = 1.0
    bend_along: Annotated[str, _one_of("length", "width")] = "length"
    bend_angle_deg: float = 90.0
    die_opening_thickness_ratio: Annotated[float, Field(ge=4, le=40)] = 8.0
    inside_radius_thickness_ratio: Annotated[float, Field(ge=0, le=20)] = 1.3

    def model_post_init(self, _: object) -> None:
        """Hold the values that have a name of the vocabulary against its bounds."""
        for name, value in self.__dict__.items():
            problem = out_of_bounds(value, name) if name in ARGUMENTS else ""
            if problem:
                raise ValueError(f"{name} = {value:g} {problem}")


class Mapping(_Record):
    """A whole list: its tables, the customer's material names, the gauge table of each, what is assumed, and sheets left out."""

    sheets: Annotated[list[SheetMapping], Field(max_length=200)] = []
    materials: Annotated[dict[Text, MaterialName], Field(max_length=5000)] = {}
    gauges: Annotated[dict[Text, Text], Field(max_length=5000)] = {}
    assume: Assumed = Field(default_factory=Assumed)
    skipped: dict[Text, Text] = {}


def label(mapping: Mapping, table: SheetMapping) -> str:
    """What a table is called: its sheet, and its place where a sheet holds several."""
    if sum(item.sheet == table.sheet for item in mapping.sheets) == 1:
        return table.sheet
    first = min(
        (item.column for item in table.columns.values() if item.column != OPEN), default="A", key=column_number_of
    )
    return f"{table.sheet} {first}{table.heading_first_row}"


def column_number_of(letters: str) -> int:
    """The number of the first of a field's columns."""
    return column_number(letters.split("+")[0])


def used(mapping: Mapping) -> list[SheetMapping]:
    """The tables that are read."""
    return [item for item in mapping.sheets if item.sheet_state != LEAVE_OUT]


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
    for key, value in mapping.model_dump(exclude_defaults=True).items():
        document.add(key, tomlkit.item(value))
    if "assume" not in document:
        document.add("assume", tomlkit.item(mapping.assume.model_dump()))
    return tomlkit.dumps(document)


def load(path: Path) -> Mapping:
    """Read a mapping; ScenarioError names what does not belong in it, where it stands, and what is allowed."""
    data = read_toml(path)
    try:
        mapping = Mapping.model_validate(data)
    except ValidationError as error:
        raise ScenarioError(f"{path}: " + "; ".join(_fault(item) for item in error.errors()[:5])) from error
    if not mapping.sheets:
        raise ScenarioError(f"{path}: it names no sheet; write a new one with: xlfab import LIST --save-mapping FILE")
    return mapping


def _fault(item: object) -> str:
    fault = cast(dict[str, Any], item)
    place = ".".join(str(part) for part in fault["loc"])[:120]
    message = fault["msg"].removeprefix("Value error, ").replace("Input should be", "must be")
    message = {"extra_forbidden": "is not known", "missing": "is missing"}.get(fault["type"], message)
    given = "" if fault["type"] in ("missing", "extra_forbidden") else f" (given: {reprlib.repr(fault['input'])})"
    return f"{place} {message}{given}"
