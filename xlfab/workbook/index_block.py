"""The index of a workbook beside its first sheet: every sheet with a link, what it holds, and what the tab colours mean."""

from __future__ import annotations

from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Cell
from xlfab.workbook.style import TAB_WORDS


def add_index(book: Book, row: int = 1, leave_out: tuple[str, ...] = ()) -> None:
    """Put the index to the right of the page on the first sheet, outside what is printed."""
    first = book.sheets[0]
    if first.print_to is None:
        first.print_to = max(first.widths)
    column = first.print_to + 2
    first.cells.append(Cell(row, column, "group", "Sheets of this workbook", span=2))
    row += 1
    tab = ""
    for sheet in book.sheets[1:]:
        if sheet.name in leave_out:
            continue
        if sheet.tab != tab:
            tab = sheet.tab
            first.cells.append(Cell(row, column, f"tab_{tab}", TAB_WORDS[tab].capitalize(), span=2))
            row += 1
        first.cells.append(Cell(row, column, "link", sheet.name, link=sheet.name))
        first.cells.append(Cell(row, column + 1, "text", sheet.says))
        row += 1
    first.widths.update({column - 1: 3.0, column: 19.0, column + 1: 52.0})
