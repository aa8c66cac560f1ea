"""Finding the heading of a list: the row (or two rows) whose words name the fields that xlfab knows."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files

from xlfab.customer_list.cell_grid import Sheet
from xlfab.customer_list.quantity import unit_of

SEARCHED_ROWS = 40  # the heading is looked for in the first rows only


@dataclass(frozen=True)
class Heading:
    """Where the heading stands (rows counted from 0), and per column its text, field and unit."""

    first_row: int
    rows: int
    texts: dict[int, str]
    fields: dict[int, str]
    units: dict[int, str]

    @property
    def last_row(self) -> int:
        """The last row of the heading; the list begins below it."""
        return self.first_row + self.rows - 1


@dataclass
class Found:
    """Texts, fields and units by column."""

    texts: dict[int, str] = field(default_factory=dict)
    fields: dict[int, str] = field(default_factory=dict)
    units: dict[int, str] = field(default_factory=dict)

    @property
    def score(self) -> tuple[int, int]:
        return len(set(self.fields.values())), len(self.units)


@cache
def words() -> dict[str, str]:
    """The words of headings, and the field that each names."""
    text = files("xlfab").joinpath("customer_list/words.csv").read_text(encoding="utf-8")
    return {word: row["field"] for row in csv.DictReader(text.splitlines()) for word in row["words"].split("|")}


def known_fields() -> list[str]:
    """The fields that a list can have, in the order of the table of words."""
    return list(dict.fromkeys(words().values()))


def heading_of(text: str) -> tuple[str | None, str | None]:
    """The field and the unit that a heading names; the longest phrase of known words wins.

    >>> heading_of("Blank length [mm]"), heading_of("Mat'l thk. (ga)"), heading_of("Remarks")
    (('length', 'mm'), ('thickness', 'gauge'), (None, None))
    """
    plain = " ".join(text.lower().replace("_", " ").split())
    unit = None
    for part in re.findall(r"[(\[]([^)\]]*)[)\]]", plain):
        unit = unit or unit_of(part)
    bare = re.sub(r"[(\[][^)\]]*[)\]]", " ", plain)
    tokens = [token for token in (token.strip(".:,;") for token in _split(bare)) if token]
    if unit is None and len(tokens) > 1:
        unit = unit_of(tokens[-1])
        tokens = tokens[:-1] if unit else tokens
    found = _longest(tokens)
    if found == "thickness" and unit is None and {"gauge", "gage", "ga"} & set(tokens):
        unit = "gauge"
    return found, unit if found else None


def _split(text: str) -> list[str]:
    parts = text.split()
    return [piece for part in parts for piece in ([part] if part in words() else part.split("/"))]


def _longest(tokens: list[str]) -> str | None:
    """The field of the longest phrase among the tokens; of two equally long, the later one (English: the noun is last)."""
    table = words()
    for size in range(len(tokens), 0, -1):
        for start in range(len(tokens) - size, -1, -1):
            field_name = table.get(" ".join(tokens[start : start + size]))
            if field_name:
                return field_name
    return None


def find_heading(sheet: Sheet) -> Heading | None:
    """The best heading of a sheet, of one row or of two; None where no row names three fields."""
    best: Heading | None = None
    best_score = (2, 10**6, 0)  # at least three fields
    for first in range(min(SEARCHED_ROWS, len(sheet.rows))):
        for rows in (1, 2):
            if first + rows > len(sheet.rows) or (rows == 2 and _has_numbers(sheet, first + 1)):
                continue
            found = read_heading(sheet, first, rows)
            score = (*found.score, -rows)
            if score > best_score:
                best, best_score = Heading(first, rows, found.texts, found.fields, found.units), score
    return best


def _has_numbers(sheet: Sheet, row: int) -> bool:
    return any(isinstance(cell, float) or (isinstance(cell, str) and cell[:1].isdigit()) for cell in sheet.rows[row])


def read_heading(sheet: Sheet, first: int, rows: int) -> Found:
    """What the rows of a heading say, column by column."""
    found = Found()
    width = max(len(sheet.rows[row]) for row in range(first, first + rows))
    for column in range(width):
        parts = [sheet.at(row, column) for row in range(first, first + rows)]
        texts = list(dict.fromkeys(part for part in parts if isinstance(part, str)))
        if not texts:
            continue
        joined = " ".join(f"({text})" if number and unit_of(text) else text for number, text in enumerate(texts))
        found.texts[column] = joined
        name, unit = heading_of(texts[-1]) if len(texts) > 1 else heading_of(joined)
        if name is None or unit is None:
            whole_name, whole_unit = heading_of(joined)
            name, unit = name or whole_name, unit or whole_unit
        if name:
            found.fields[column] = name
        if unit:
            found.units[column] = unit
    return found
