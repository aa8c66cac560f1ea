"""A customer's file as sheets of cells: text, number or nothing. Merged cells hold their value in every place they cover."""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab.core.reading import read_csv
from xlfab.core.workbook_reading import open_workbook

_QUOTED = re.compile(r'"([^"]*)"')


@dataclass(frozen=True)
class Odd:
    """A cell that holds neither text nor a number that can be trusted, and why."""

    shown: str
    reason: str


Cell = str | float | Odd | None


@dataclass(frozen=True)
class Sheet:
    """One sheet; a CSV file is a single sheet. `rows[i][j]` is row i + 1, column j + 1."""

    name: str
    rows: list[list[Cell]]

    def at(self, row: int, column: int) -> Cell:
        """The cell in a row and column counted from 0; nothing beyond the edge."""
        return self.rows[row][column] if column < len(self.rows[row]) else None


def address(row: int, column: int) -> str:
    """The name of a cell from its row and column, both counted from 0.

    >>> address(0, 0), address(9, 27)
    ('A1', 'AB10')
    """
    return f"{letters(column)}{row + 1}"


def letters(column: int) -> str:
    """The letters of a column counted from 0.

    >>> letters(25), letters(26)
    ('Z', 'AA')
    """
    text = ""
    number = column + 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(65 + rest) + text
    return text


def read_sheets(path: Path) -> list[Sheet]:
    """The sheets of a .csv, .txt, .tsv, .xlsx or .xlsm file."""
    if path.suffix.lower() in (".xlsx", ".xlsm"):
        values, formulas = open_workbook(path), open_workbook(path, formulas=True)
        return [
            _workbook_sheet(values[name], formulas[name])
            for name in values.sheetnames
            if hasattr(values[name], "merged_cells")
        ]
    rows: list[list[Cell]] = [[_text(field) for field in row] for row in read_csv(path)]
    return [Sheet(path.stem, rows)]


def _text(value: str) -> str | None:
    return " ".join(value.replace("\u00a0", " ").split()) or None


def _workbook_sheet(values: Any, formulas: Any) -> Sheet:
    rows = [
        [_cell(value, formula) for value, formula in zip(row, formula_row, strict=True)]
        for row, formula_row in zip(values.iter_rows(), formulas.iter_rows(), strict=True)
    ]
    for area in values.merged_cells.ranges:
        first = rows[area.min_row - 1][area.min_col - 1]
        for row in range(area.min_row - 1, area.max_row):
            for column in range(area.min_col - 1, area.max_col):
                rows[row][column] = first
    return Sheet(values.title, rows)


def _cell(cell: Any, formula: Any) -> Cell:
    value = cell.value
    if value is None:
        if isinstance(formula.value, str) and formula.value.startswith("="):
            return Odd(
                formula.value, "a formula whose value is not stored; open and save the list in a spreadsheet program"
            )
        return None
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, (int, float)):
        # a unit may stand in the number format only: 0.00" in"
        unit = " ".join(_QUOTED.findall(cell.number_format or "")).strip()
        return f"{value:.12g} {unit}" if unit else float(value)
    if isinstance(value, (datetime.datetime, datetime.date, datetime.time, datetime.timedelta)):
        return Odd(str(value), "a date; a fraction or a part number may have been turned into it")
    text = str(value)
    if cell.data_type == "e":
        return Odd(text, "an error value")
    return _text(text)
