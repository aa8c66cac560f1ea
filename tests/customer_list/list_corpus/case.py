"""An invented customer's list with known truth: how it is made, what its sender would answer, and what must be read from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import xlsxwriter

FIELDS = (
    "part",
    "material",
    "thickness_mm",
    "blank_length_mm",
    "blank_width_mm",
    "lot_size_count",
    "yearly_quantity_count",
)


@dataclass(frozen=True)
class Case:
    """`truth`: one line a part, name | material | thickness | length | width | lot | yearly | bends, in mm and pieces.

    `-`: the list does not state it, not compared. `~`: the list cannot be read there with certainty, so the program has to
    leave it open or say so beside it.
    `knows`: the sender's answers, by kind of question ("unit", "decimal") or by kind and subject ("unit:length").
    """

    name: str
    make: Callable[[Path], None]
    truth: str
    knows: dict[str, str] = field(default_factory=dict)
    suffix: str = ".csv"

    def parts(self) -> list[list[str]]:
        """The truth as rows of texts."""
        return [[cell.strip() for cell in line.split("|")] for line in self.truth.strip().splitlines()]


def text(name: str, body: str, truth: str, suffix: str = ".csv", coding: str = "utf-8", **knows: str) -> Case:
    """A list as text; the first line break is only for the eye."""
    data = body.removeprefix("\n").encode(coding)
    return Case(name, lambda path: path.write_bytes(data) and None, truth, _keys(knows), suffix)


def book(name: str, sheets: list[tuple[str, list[list[Any]], dict[str, Any]]], truth: str, **knows: str) -> Case:
    """A list as a workbook: sheets of name, rows, and what is special: hidden, hide_rows, hide_columns, strike, merge, formats, at, filter."""

    def make(path: Path) -> None:
        with xlsxwriter.Workbook(path, {"strings_to_formulas": False, "strings_to_numbers": False}) as out:
            for sheet, rows, special in sheets:
                _sheet(out, out.add_worksheet(sheet), rows, special)

    return Case(name, make, truth, _keys(knows), ".xlsx")


def one(name: str, rows: list[list[Any]], truth: str, special: dict[str, Any] | None = None, **knows: str) -> Case:
    """A workbook of one sheet."""
    return book(name, [("Parts", rows, special or {})], truth, **knows)


@dataclass(frozen=True)
class Formula:
    """A formula with its stored value."""

    text: str
    value: Any = None


@dataclass(frozen=True)
class StruckPart:
    """A text whose first letters are struck through."""

    struck: str
    plain: str


def _keys(knows: dict[str, str]) -> dict[str, str]:
    return {key.replace("__", ":"): value for key, value in knows.items()}


def _sheet(out: Any, sheet: Any, rows: list[list[Any]], special: dict[str, Any]) -> None:
    top, left = special.get("at", (0, 0))
    formats = {key: out.add_format({"num_format": value}) for key, value in special.get("formats", {}).items()}
    struck = out.add_format({"font_strikeout": True})
    for row, cells in enumerate(rows, top):
        for column, value in enumerate(cells, left):
            look = struck if row in special.get("strike", ()) or (row, column) in special.get("strike", ()) else None
            look = look or formats.get((row, column)) or (formats.get(column) if row > top else None)
            if isinstance(value, Formula):
                sheet.write_formula(row, column, value.text, look, value.value if value.value is not None else "")
            elif isinstance(value, StruckPart):
                sheet.write_rich_string(row, column, struck, value.struck, value.plain)
            elif value is not None:
                sheet.write(row, column, value, look)
    for first_row, first, last_row, last, value in special.get("merge", ()):
        sheet.merge_range(first_row, first, last_row, last, value)
    for row in special.get("hide_rows", ()):
        sheet.set_row(row, None, None, {"hidden": True})
    for column in special.get("hide_columns", ()):
        sheet.set_column(column, column, None, None, {"hidden": True})
    if special.get("filter"):
        sheet.autofilter(*special["filter"])
    if special.get("hidden") == "very":
        sheet.very_hidden()
    elif special.get("hidden"):
        sheet.hide()
