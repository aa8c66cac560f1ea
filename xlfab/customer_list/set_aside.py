"""Rows of a list that are no part, or may not be what they seem: totals, headings again, remarks, moved, hidden and struck-through rows."""

from __future__ import annotations

import re

from xlfab.customer_list.cell_grid import Sheet, shown
from xlfab.customer_list.headings import meaning
from xlfab.customer_list.list_mapping import READ, SheetMapping
from xlfab.customer_list.propose import cells_of
from xlfab.customer_list.quantity import Unreadable, quantity
from xlfab.customer_list.row_fields import Row

_TOTAL = re.compile(
    r"(?:grand |sub-?|overall )?(?:total|sum|summe|gesamt\w*|zwischensumme|endsumme|insgesamt|somme|totale|suma)\b.{0,80}", re.IGNORECASE
)  # fmt: skip
LEAST_CELLS, LEAST_NUMBERS = 4, 2
_SIZES = ("thickness", "length", "width", "size", "flanges", "material")


def is_total(row: Row) -> bool:
    """True for a row that sums up others: a word says so, or it has pieces and neither name nor size."""
    sized = row.cell("thickness") is not None and (row.cell("length") is not None or row.cell("size") is not None)
    if not sized and any(_TOTAL.fullmatch(text) for text in row.filled()):
        return True
    return row.cell("lot") is not None and all(
        row.cell(name) is None for name in ("part", "item", "description", *_SIZES)
    )


def reason_to_set_aside(row: Row) -> str:
    """Why a row is no part of the order as it stands; "" where it is one."""
    filled = row.filled()
    moved = _moved(row.sheet, row.mapping, row.row)
    if row.row in row.sheet.hidden_rows and row.mapping.hidden_rows != READ:
        return "left out: a hidden row"
    if row.row in row.sheet.struck_rows and row.mapping.struck_rows != READ:
        return "left out: struck through"
    if is_total(row):
        return "left out: a total"
    if len(filled) > 1 and all(meaning(text).sure for text in filled):
        return "left out: the heading again"
    if len(filled) == 1 and len(row.mapping.columns) > 2:
        return "left out: a row with one text only"
    return moved


def above_heading(sheet: Sheet, table: SheetMapping, tables: list[SheetMapping]) -> list[int]:
    """Rows between a heading and what is above it that look like rows of a list: several cells, and numbers among them."""
    ends = [item.last_row or len(sheet.rows) for item in tables if item.sheet == table.sheet]
    head = table.heading_first_row - 1
    first = max((end for end in ends if end <= head), default=0)
    found = []
    for row in range(first, head):
        texts = sheet.filled(row)
        if len(texts) >= LEAST_CELLS and sum(_is_number(text) for text in texts) >= LEAST_NUMBERS:
            found.append(row)
    return found


def _moved(sheet: Sheet, table: SheetMapping, row: int) -> str:
    """Why the fields of a line of text may stand in wrong columns: it has more or fewer of them than the heading."""
    if not sheet.fields:
        return ""
    head = table.heading_first_row - 1
    needed = max((place + 1 for place, cell in enumerate(sheet.rows[head]) if cell is not None), default=0)
    most, has = sheet.fields[head], sheet.fields[row]
    beyond = any(cell is not None for cell in sheet.rows[row][most:])
    if needed <= has and not beyond:
        return ""
    return (
        f"set aside: {has} fields, the heading has {most}; a decimal comma or a separator within a text may have moved the row. "
        'Put such a field in quotes ("80,5"), or export the list with semicolons'
    )


def odd_columns(sheet: Sheet, table: SheetMapping) -> set[tuple[int, int]]:
    """Places of a text file where a number stands alone in a column of words that is not used: the row may be moved there too."""
    if not sheet.fields:
        return set()
    used = {place for item in table.columns.values() for place in cells_of(item)}
    found: set[tuple[int, int]] = set()
    rows = range(
        table.heading_first_row + table.heading_rows - 1, min(table.last_row or len(sheet.rows), len(sheet.rows))
    )
    for column in range(sheet.fields[table.heading_first_row - 1]):
        if column in used:
            continue
        filled = {row: _is_number(shown(sheet.at(row, column))) for row in rows if sheet.at(row, column) is not None}
        numbers = [row for row, number in filled.items() if number]
        if numbers and len(numbers) * 2 <= len(filled):
            found |= {(row, column) for row in numbers}
    return found


def _is_number(text: str) -> bool:
    try:
        return quantity(text).unit is None
    except Unreadable:
        return False
