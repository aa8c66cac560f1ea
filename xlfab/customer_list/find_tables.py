"""The tables of a sheet: where each heading stands, and which columns and rows belong to it."""

from __future__ import annotations

from dataclasses import dataclass, field

from xlfab.customer_list.cell_grid import Number, Odd, Sheet
from xlfab.customer_list.headings import LONGEST_HEADING, OTHER, Meaning, meaning
from xlfab.customer_list.quantity import unit_of

SEARCHED_ROWS = 200  # the first heading is looked for in the first rows only
HEADING_ROWS = 3
LEAST_FIELDS = 3


@dataclass(frozen=True)
class FoundTable:
    """A heading (rows counted from 0) with what its columns say, and the last row of its list."""

    first_row: int
    rows: int
    last_row: int
    texts: dict[int, str]
    meanings: dict[int, Meaning] = field(default_factory=dict)

    @property
    def first_data_row(self) -> int:
        """The row below the heading."""
        return self.first_row + self.rows

    @property
    def score(self) -> tuple[int, int, int]:
        """How much of a heading the rows are: fields surely named, units, few rows."""
        return len(_sure(self.meanings)), sum(bool(item.unit) for item in self.meanings.values()), -self.rows


def find_tables(sheet: Sheet) -> list[FoundTable]:
    """The tables of a sheet from top to bottom; those side by side are parted. Empty where no row names three fields."""
    found: list[FoundTable] = []
    first = _best(sheet, range(min(SEARCHED_ROWS, len(sheet.rows))))
    if first is None:
        return []
    found.append(first)
    row = first.first_data_row
    while row < len(sheet.rows):
        again = _heading_at(sheet, row) if _may_be_heading(sheet, row) else None
        if again and again.score[0] >= LEAST_FIELDS and _fields(again) != _fields(found[-1]):
            last = found.pop()
            found += [_until(last, row - 1), again]
        row = again.first_data_row if again else row + 1
    return [part for table in found for part in _side_by_side(table)]


def read_heading(sheet: Sheet, first: int, rows: int) -> FoundTable:
    """What the rows of a heading say, column by column."""
    texts: dict[int, str] = {}
    for column in range(max((len(sheet.rows[row]) for row in range(first, first + rows)), default=0)):
        cells = [sheet.at(row, column) for row in range(first, first + rows)]
        parts = list(dict.fromkeys(cell for cell in cells if isinstance(cell, str) and len(cell) <= LONGEST_HEADING))
        if parts:
            texts[column] = " ".join(
                f"({text.strip('()[] ')})" if len(parts) > 1 and unit_of(text) else text for text in parts
            )
    meanings = {column: meaning(text) for column, text in texts.items()}
    return FoundTable(first, rows, len(sheet.rows) - 1, texts, meanings)


def _sure(meanings: dict[int, Meaning]) -> set[str]:
    return {item.field for item in meanings.values() if item.sure and item.field not in OTHER}


def _fields(table: FoundTable) -> dict[int, tuple[str, str]]:
    return {column: (item.field, item.unit) for column, item in table.meanings.items() if item.field}


def _best(sheet: Sheet, rows: range) -> FoundTable | None:
    best: FoundTable | None = None
    for row in rows:
        if not _may_be_heading(sheet, row):
            continue
        found = _heading_at(sheet, row)
        if found.score[0] >= LEAST_FIELDS and (best is None or found.score > best.score):
            best = found
    return best


def _heading_at(sheet: Sheet, row: int) -> FoundTable:
    """The heading that begins in a row: of one row, or of more where those below add fields or units."""
    best = read_heading(sheet, row, 1)
    for rows in range(2, HEADING_ROWS + 1):
        if row + rows > len(sheet.rows) or not _may_be_heading(sheet, row + rows - 1, least=1):
            break
        found = read_heading(sheet, row, rows)
        if found.score > best.score:
            best = found
    return best


def _may_be_heading(sheet: Sheet, row: int, least: int = 2) -> bool:
    """True for a row of texts without a number."""
    cells = [cell for cell in sheet.rows[row] if cell is not None]
    numbers = any(isinstance(cell, (Number, Odd)) or cell[:1].isdigit() for cell in cells)
    return len(cells) >= least and not numbers


def _until(table: FoundTable, last_row: int) -> FoundTable:
    return FoundTable(table.first_row, table.rows, last_row, table.texts, table.meanings)


def _side_by_side(table: FoundTable) -> list[FoundTable]:
    """A heading whose words come again further right is two tables."""
    places: dict[str, list[int]] = {}
    for column, text in table.texts.items():
        if table.meanings[column].field not in ("", *OTHER):
            places.setdefault(text.casefold(), []).append(column)
    firsts = [columns[0] for columns in places.values()]
    seconds = [columns[1] for columns in places.values() if len(columns) > 1]
    if len(seconds) < LEAST_FIELDS or len(seconds) < len(firsts) or max(firsts) >= min(seconds):
        return [table]
    edge = min(seconds)
    left, right = (
        FoundTable(table.first_row, table.rows, table.last_row, *_columns(table, side))
        for side in (range(edge), range(edge, 10**6))
    )
    return [left, *_side_by_side(right)]


def _columns(table: FoundTable, side: range) -> tuple[dict[int, str], dict[int, Meaning]]:
    texts = {column: text for column, text in table.texts.items() if column in side}
    return texts, {column: table.meanings[column] for column in texts}
