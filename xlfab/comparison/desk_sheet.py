"""The sheet for the table: the inputs that matter most, the switch between cases, and the result beside them."""

from __future__ import annotations

from xlfab.comparison.compare import Comparison
from xlfab.comparison.uncertainty_sheets import named
from xlfab.tables.table import Ref
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Sheet

NOTE = "The inputs that decide most, chosen when the workbook was built. Change the pale cells; the column 'In use' goes into every calculation. The switch picks a column and leaves the stated values alone."
_RESULT = 7  # the column in which the results begin


def desk_sheet(book: Book, sheet: Sheet, made: Comparison) -> None:
    """Fill the sheet."""
    desk, others = made.desk, made.job.options[1:]
    sheet.fit_height = True
    sheet.widths.update({0: 40, 1: 10, 2: 12, 3: 12, 4: 12, 5: 12, 6: 3, _RESULT: 34, _RESULT + 1: 10})
    sheet.widths.update({_RESULT + 2 + n: 28 for n in range(len(others))})
    sheet.put_text(0, "Case in use (careful, base, hopeful)", "strong_label")
    sheet.put_column(2, desk.case, "case")
    sheet.put_ref(3, desk.case["banner"], "banner", span=_RESULT + len(others))
    sheet.heights[sheet.row] = 22
    sheet.row += 2
    _heads(sheet, made)
    sheet.heights[sheet.row] = 28
    sheet.row += 1
    lines = _results(made)
    for number in range(max(len(desk.inputs), len(lines))):
        sheet.heights[sheet.row] = 30 if number else 50  # the verdict comes first and is the longest
        if number < len(desk.inputs):
            _input(sheet, made, number)
        if number < len(lines):
            label, refs = lines[number]
            sheet.put_text(_RESULT, label, "label")
            sheet.put_unit(_RESULT + 1, refs[0])
            for offset, item in enumerate(refs):
                sheet.put_ref(_RESULT + 2 + offset, item, "strong")
        sheet.row += 1
    sheet.row += 1
    sheet.put_text(0, "Words that results carry in this case", "label")
    sheet.put_column(2, desk.case, "banner")
    book.name("Case", desk.case["case"])


def _heads(sheet: Sheet, made: Comparison) -> None:
    heads = ["Input", "Unit", "Careful", "As stated", "Hopeful", "In use", ""]
    heads += [f"Result against {made.job.options[0].name}", "Unit", *(one.name for one in made.job.options[1:])]
    for column, text in enumerate(heads):
        if text:
            sheet.put_text(column, text, "head")


def _input(sheet: Sheet, made: Comparison, number: int) -> None:
    one = made.desk.inputs[number]
    key = one.item.key
    sheet.put_text(0, named(made, one.name), "label")
    sheet.put_unit(1, one.table[key])
    for column, name in enumerate((f"careful_{key}", f"stated_{key}", f"hopeful_{key}", key), 2):
        sheet.put_column(column, one.table, name)


def _results(made: Comparison) -> list[tuple[str, list[Ref]]]:
    others = made.job.options[1:]
    return [
        ("Verdict", [table["verdict"] for table in made.verdicts]),
        ("Cost of a part", [one.year["mean_part_cost_cur"] for one in others]),
        ("Cost of a part, saved", [one.difference["mean_part_cost_cur"] for one in others]),
        ("Running cost a year, saved", [one.difference["running_cost_cur_per_year"] for one in others]),
        ("Saving worth money, first year", [one.purchase["yearly_saving_cur"] for one in others]),
        ("Outlay beyond the first option's", [one.purchase["outlay_cur"] for one in others]),
        ("Simple payback", [table["simple_shown_years"] for table in made.verdicts]),
        ("Net present value", [one.measures["net_present_value_cur"] for one in others]),
        ("Internal rate of return", [table["rate_shown_share"] for table in made.verdicts]),
        ("Most of the difference comes from", [table["main_cause"] for table in made.verdicts]),
    ]
