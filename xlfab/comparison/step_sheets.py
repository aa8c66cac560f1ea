"""Workings of bends, cuts and parts: all machines side by side, row for row, the terms of each figure folded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from xlfab.comparison.estimate import MachineTables
from xlfab.tables.table import Table
from xlfab.work.operator_checks import LIFT, lift, lifting_of, predetermined
from xlfab.work.sheet_cutting import cutting_of
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Sheet, Stands
from xlfab.workbook.side_by_side import savings, side_by_side, with_savings

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison

FOLD_NOTE = "Machines stand side by side. The + above the columns opens the terms behind each figure."
_STEP = ("step_time_s", "part_ram_s", "part_gauge_s", "part_operator_s")
_PART = ("part_time_s", "setup_part_s", "part_energy_kwh", "part_cost_cur")
_PLAN = (
    "part", "strips_count", "pieces_per_strip_count", "blanks_per_sheet_count", "cuts_per_sheet_count",
    "blanks_on_sheet_share", "sheet_use_share", "offcut_mass_kg", "offcut_value_cur", "sheets_per_lot_count",
)  # fmt: skip
_LISTED = ("same_cuts", "lot_cutting_min", "blank_time_s", "difference_share")
_LINES = 10  # columns of a cut list that stand open
_CUT_LISTS = (
    "For parts that state their sheet. Strips are cut off along the sheet's length, blanks off each strip; shearing has no kerf. "
    "The order of lines was found when the workbook was built: straight from one end to the other moves the gauge least. "
    "The cost counts the cut steps of the part; where they and the cut list differ, the last column says by how much."
)


def step_sheets(book: Book, made: Comparison, tables: Sheet) -> None:
    """One sheet for bends, one for cuts, one for parts, one for cut lists where a part states its sheet; cross-checks go to `tables`."""
    job = made.job
    strokes = {id(one): table for one, table in zip(job.machines, made.strokes, strict=True)}
    for name, kind, data in (("Bend times", job.brakes, job.bend_data), ("Cut times", job.shears, job.cut_data)):
        what = name.split()[0].lower()
        lead = f"What each {what} takes on each machine. {FOLD_NOTE} {shared_texts.MARGIN_NOTE}"
        sheet = book.sheet(name, name, lead, says=f"seconds of every {what} on every machine, and what limits it")
        groups = [
            [one.steps for one in kind],
            [one.feasible for one in kind],
            [one.rules for one in kind],
            [strokes[id(one)] for one in kind],
        ]
        keys = [Stands(data, "part"), Stands(kind[0].feasible, "step_count")]
        needs = [Stands(data, item, fold=True) for item in data.columns if item != "part"]
        sheet.block([*keys, *_beside(kind, groups), *needs])
    _parts(book, made, tables)
    _cut_lists(book, made)


def _beside(kind: Sequence[MachineTables], groups: Sequence[Sequence[Table]]) -> list[Stands]:
    names = names_of(kind)
    steps = side_by_side(dict(zip(names, groups[0], strict=True)), _STEP)
    saved = savings(groups[0][0], groups[0][-1], ("step_time_s",))
    made = with_savings(steps, saved)
    for group in groups[1:]:
        made += [item for item in side_by_side(dict(zip(names, group, strict=True))) if item.name != "step_count"]
    return made


def names_of(kind: Sequence[MachineTables]) -> list[str]:
    """The machines' own names."""
    return [str(one.stated.value("name")[0]) for one in kind]


def _parts(book: Book, made: Comparison, tables: Sheet) -> None:
    job = made.job
    lead = f"Every part with each option, cost at the machine-hour rate. {FOLD_NOTE}"
    sheet = book.sheet("Part costs", "Part costs", lead, says="seconds, kWh and cost of every part with every option")
    options = side_by_side({one.name: one.parts for one in job.options}, _PART)
    saved = savings(job.options[0].parts, job.options[-1].parts, ("part_cost_cur",))
    columns = [Stands(job.part_data, "part"), *with_savings(options, saved)]
    columns += [Stands(job.counted, item, fold=True) for item in job.counted.columns if item != "part"]
    for group in ([one.setup for one in job.machines], [one.parts for one in job.machines]):
        columns += side_by_side(dict(zip(names_of(job.machines), group, strict=True)))
    columns += [Stands(job.part_data, name, fold=True) for name in job.part_data.columns if name != "part"]
    limit = lift()
    lifting = lifting_of(job.part_list, job.part_data, limit)
    columns += [Stands(lifting, name, fold=True) for name in ("lifting_index_ratio", "lifting_word")]
    sheet.block(columns)
    _operator(tables, made, limit)


def _operator(sheet: Sheet, made: Comparison, limit: Table) -> None:
    """Lifting equation and predetermined times, where the other small tables stand."""
    sheet.subtitle("Cross-checks of the operator's work")
    sheet.text(shared_texts.LIFT_CAUTION)
    mtm = predetermined(made.job.part_list, made.job.part_data)
    for table, remarks in ((limit, {key: text for key, (_, text) in LIFT.items()}), (mtm, {})):
        sheet.subtitle(table.title)
        sheet.records([table], ["Value"], remarks=remarks or None)


def _cut_lists(book: Book, made: Comparison) -> None:
    cutting = cutting_of(made.job)
    if cutting is None:
        return
    sheet = book.sheet(
        "Cut lists", "Sheets, blanks and cut lists", _CUT_LISTS, says="how sheets are cut up, line by line"
    )
    sheet.subtitle(cutting.plan.title)
    sheet.table(cutting.plan, main=_PLAN)
    if cutting.written is None:
        return
    names = names_of(made.job.shears)
    sheet.subtitle("Each part by its cut list")
    first = Stands(cutting.per_sheet[0], "part")
    parts = side_by_side(dict(zip(names, cutting.per_sheet, strict=True)), _LISTED)
    sheet.block([first, *(item for item in parts if (item.table, item.name) != (first.table, "part"))])
    sheet.subtitle("Lines as written, and in the order with the least gauge travel")
    sheet.table(cutting.written)
    for name, table in zip(names, cutting.ordered, strict=True):
        sheet.subtitle(f"Least gauge travel: {name}")
        sheet.table(table, main=list(table.columns)[:_LINES])
