"""A customer's file as sheets of cells: text, number or nothing. Merged cells hold their value in every place they cover.

What a reader on screen would not see, or would see struck through, is kept apart: hidden sheets, rows and columns, struck-through rows.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from xlfab.core.reading import read_csv
from xlfab.core.writing import CONTROLS


@dataclass(frozen=True)
class Number:
    """A number of a workbook: its value, the text that its sheet shows, and the unit that only its number format names."""

    value: float
    shown: str
    unit: str = ""
    rounded: bool = False
    spread: bool = False  # one cell merged over several rows


@dataclass(frozen=True)
class Odd:
    """A cell that holds neither text nor a number that can be trusted, and why."""

    shown: str
    reason: str


Cell = str | Number | Odd | None


@dataclass(frozen=True)
class Sheet:
    """One sheet; a text file is a single sheet. `rows[i][j]` is row i + 1, column j + 1; rows and columns apart are counted from 0."""

    name: str
    rows: list[list[Cell]]
    hidden: bool = False
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()
    struck_rows: frozenset[int] = frozenset()
    fields: list[int] = field(default_factory=list)  # of a text file: how many fields each line has

    def at(self, row: int, column: int) -> Cell:
        """The cell in a row and column counted from 0; nothing beyond the edge."""
        return self.rows[row][column] if column < len(self.rows[row]) else None

    def filled(self, row: int) -> list[str]:
        """The texts of a row's filled cells."""
        return [shown(cell) for cell in self.rows[row] if cell is not None]


def shown(cell: Cell) -> str:
    """A cell as its reader sees it."""
    return cell.shown if isinstance(cell, (Number, Odd)) else cell or ""


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
        from xlfab.customer_list.workbook_cells import workbook_sheets

        return workbook_sheets(path)
    lines = read_csv(path)
    rows: list[list[Cell]] = [[plain_cell(text) for text in line] for line in lines]
    return [Sheet("list", rows, fields=[len(line) for line in lines])]


def plain_cell(text: str) -> str | None:
    """A text without needless space and without the apostrophe that spreadsheets put before a text; None where nothing is left.

    >>> plain_cell(" A  1 "), plain_cell("'0012"), plain_cell("'quoted'")
    ('A 1', '0012', "'quoted'")
    """
    plain = " ".join(CONTROLS.sub(" ", text).replace("\u00a0", " ").split())
    if plain.startswith("'") and "'" not in plain[1:]:
        plain = plain[1:].strip()
    return plain or None
