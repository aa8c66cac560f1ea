"""The sheet of cut lists: sheets and blanks, lines as written, lines in the order with the least gauge travel."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.work.sheet_cutting import cutting_of

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison
    from xlfab.workbook.book import Book

LEAD = (
    "For parts that state their sheet. Strips are cut off along the sheet's length, blanks off each strip; shearing has no kerf. "
    "The order of lines within each pass was found when the workbook was built: straight from one end to the other moves the gauge least. "
    "The list runs once for each sheet; before its first line stands its last one, since the next sheet follows. "
    "The cost counts the cut steps of the part; where they and the cut list differ, the last column says by how much."
)


def cut_sheet(book: Book, made: Comparison) -> None:
    """Add the sheet where a part states its sheet."""
    cutting = cutting_of(made.job)
    if cutting is None:
        return
    sheet = book.sheet("Cut lists", "Sheets, blanks and cut lists", LEAD, "calc")
    sheet.subtitle(cutting.plan.title)
    sheet.table(cutting.plan)
    if cutting.written is None:
        return
    for table in cutting.per_sheet:
        sheet.subtitle(table.title)
        sheet.table(table)
    sheet.subtitle(cutting.written.title)
    sheet.table(cutting.written)
    for table in cutting.ordered:
        sheet.subtitle(f"{table.title}, in the order with the least gauge travel")
        sheet.table(table)
