"""The desk: what a customer says aloud on the left, the answer with its cash chart on the right, on one screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.comparison.page_figures import PageFigures
from xlfab.comparison.summary_sheet import cash_chart
from xlfab.comparison.uncertainty_sheets import named_item
from xlfab.tables.table import Ref
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Sheet

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison

NOTE = ""
_RESULT = 7  # the column in which the results begin
_ROW = 17.0  # points: thirteen rows and what stands above them fit on a laptop screen
_FIGURE = 13.0


def desk_sheet(book: Book, sheet: Sheet, made: Comparison, figures: PageFigures) -> None:
    """Fill the sheet."""
    others = made.job.options[1:]
    last = _RESULT + 1 + len(others)
    sheet.widths.update({0: 28, 1: 7.5, 2: 9.5, 3: 11.5, 4: 9.5, 5: 9.5, 6: 1.5, _RESULT: 20, _RESULT + 1: 7})
    sheet.widths.update({_RESULT + 2 + n: _FIGURE for n in range(len(others))})
    sheet.row = 1
    sheet.put_text(
        _RESULT, "Type into the column 'As stated': every figure here and on every other sheet follows.", "asked"
    )
    sheet.row = 2
    sheet.put_text(0, "Case in use (conservative, base, optimistic)", "strong_label", span=2)
    sheet.put_column(2, made.desk.case, "case")
    sheet.put_text(_RESULT, "", "banner_line", span=last - _RESULT + 1)
    sheet.put_column(_RESULT, made.desk.case, "banner")
    sheet.heights[2] = _ROW
    sheet.row = top = 3
    _inputs(sheet, made)
    bottom = sheet.row
    sheet.row = top
    _results(sheet, made, figures, last)
    cash_chart(sheet, made, (top, last + 1), (345, int((max(bottom, sheet.row) - top) * _ROW * 4 / 3) - 4))
    sheet.widths[last + 1] = 49
    sheet.row = max(bottom, sheet.row)
    book.name("Case", made.desk.case["case"])


def _inputs(sheet: Sheet, made: Comparison) -> None:
    for column, text in enumerate(("", "Unit", "As stated", "Conservative", "Optimistic", "In use")):
        sheet.put_text(column, text, "head")
    for number, one in enumerate(made.desk.inputs):
        sheet.heights[sheet.row] = _ROW
        sheet.row += 1
        if not one.fixed and made.desk.inputs[number - 1].fixed:
            sheet.put_text(0, "What else decides this case", "group", span=6)
            sheet.heights[sheet.row] = _ROW
            sheet.row += 1
        key = one.item.key
        sheet.put_text(0, named_item(one.item, one.name), "line_label")
        sheet.put_unit(1, one.table[key])
        for column, name in enumerate((f"stated_{key}", f"conservative_{key}", f"optimistic_{key}", key), 2):
            sheet.put_column(column, one.table, name)
    sheet.heights[sheet.row] = _ROW
    sheet.row += 1


def _results(sheet: Sheet, made: Comparison, figures: PageFigures, last: int) -> None:
    options, others = made.job.options, made.job.options[1:]
    sheet.put_text(_RESULT, f"Against {options[0].name}", "head", span=last - _RESULT + 1)
    sheet.row += 1
    for table, one in zip(made.verdicts, others, strict=True):
        sheet.put_text(_RESULT, one.name, "named", down=2)
        sheet.put_ref(_RESULT + 1, table["verdict"], "verdict_small", span=last - _RESULT, down=2)
        sheet.row += 2
    for offset, one in enumerate(others):
        sheet.put_text(_RESULT + 2 + offset, one.name, "head")
    sheet.put_text(_RESULT, "", "head")
    sheet.put_text(_RESULT + 1, "Unit", "head")
    sheet.row += 1
    own = figures.options[1:]
    for label, refs in (
        ("Cost a part", [one.year["mean_part_cost_cur"] for one in others]),
        ("Cost a part, saved", [one.difference["mean_part_cost_cur"] for one in others]),
        ("Cash savings, year 1", [table["saving_shown_cur"] for table in own]),
        ("Payback, years", [table["payback_words"] for table in own]),
        ("Payback, 8 in 10 cases", [table["payback_span"] for table in own]),
        ("Chance that it pays", [table["gain_share"] for table in made.verdicts]),
    ):
        _result(sheet, label, refs)


def _result(sheet: Sheet, label: str, refs: list[Ref]) -> None:
    sheet.put_text(_RESULT, label, "line_label")
    sheet.put_unit(_RESULT + 1, refs[0])
    for offset, item in enumerate(refs):
        sheet.put_ref(_RESULT + 2 + offset, item, "strong|0" if item.column == "saving_shown_cur" else "strong")
    sheet.heights[sheet.row] = _ROW
    sheet.row += 1
