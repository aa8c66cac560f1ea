"""Sheets of the time model: look-up tables, set-up in pieces, margins of every step, what rules the cycle, effectiveness."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from xlfab.comparison.cut_list_sheet import cut_sheet
from xlfab.comparison.estimate import MachineTables
from xlfab.comparison.shop_floor_charts import step_chart
from xlfab.comparison.speed_claim_sheet import claim_sheet
from xlfab.tables.table import Table
from xlfab.work.operator_checks import LIFT, lift, lifting_of, predetermined
from xlfab.workbook.shared_texts import GUARD_CAUTION, MARGIN_NOTE, SETUP_NOTE, TABLE_NOTE
from xlfab.workbook.sheet import Sheet

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison
    from xlfab.workbook.book import Book

RULES_NOTE = (
    "Which of ram, gauge and operator the time goes through. A faster ram is worth nothing where another one rules."
)
OEE_NOTE = "As planned, with the names of ISO 22400-2 (from memory): hours of the plan, allowance as lost speed, scrap as lost quality. Your own records go before."
LIFT_CAUTION = "The revised NIOSH lifting equation is an indication and never a clearance to lift: two hands, standing, stable load, up to 8 hours, one person. Have a competent person assess the job. MTM tables are licensed: enter the values of your own data card."
_STEPS_SHOWN = 40  # bars that can still be told apart in a chart


def table_sheet(book: Book, made: Comparison) -> None:
    """The small tables that the calculation looks up, and the settings of the study."""
    sheet = book.sheet("Tables", "Tables and settings", f"{TABLE_NOTE} {GUARD_CAUTION}", "input")
    sheet.subtitle(made.job.study.title)
    sheet.records([made.job.study], ["Value"])
    for table in made.job.lookups.values():
        sheet.subtitle(table.title)
        sheet.table(table)


def floor_sheets(book: Book, made: Comparison) -> None:
    """Set-up, margins, what rules, effectiveness: each for all machines on one sheet."""
    machines = made.job.machines
    _one_below_the_other(book, "Set-up", "Set-up of each part", SETUP_NOTE, machines, lambda one: one.setup)
    _one_below_the_other(
        book, "Can it be done", "Can it be done at all", MARGIN_NOTE, machines, lambda one: one.feasible
    )
    rules = book.sheet("What rules", "What rules each step", RULES_NOTE, "calc")
    heads = {}
    for one in machines:
        rules.subtitle(_title(one))
        heads[one.rules.name] = rules.row + 2
        rules.table(one.rules)
    sheet = book.sheet("What rules the year", "What rules the year", f"{RULES_NOTE} {OEE_NOTE}", "result")
    for heading, kind in (("Shears", made.job.shears), ("Press brakes", made.job.brakes)):
        names = [one.stated.value("name")[0] for one in kind]
        for what, tables in (
            ("closing and stroke", [one.basis for one in kind]),
            ("hours through ram, gauge and operator", [one.rules_year for one in kind]),
            ("effectiveness as planned", [one.effectiveness for one in kind]),
        ):
            sheet.subtitle(f"{heading}: {what}")
            sheet.records(tables, names)
    sheet = book.sheet("Step time charts", "Step time by what it goes through", RULES_NOTE, "result")
    _charts(sheet, made, heads)
    _operator(book, made)
    cut_sheet(book, made)
    claim_sheet(book, made)


def _operator(book: Book, made: Comparison) -> None:
    """Lifting equation and predetermined times."""
    job = made.job
    sheet = book.sheet("Operator", "Cross-checks of the operator's work", LIFT_CAUTION, "calc")
    limit = lift()
    for table, remarks in ((limit, {key: text for key, (_, text) in LIFT.items()}), (_mtm(made), {})):
        sheet.subtitle(table.title)
        sheet.records([table], ["Value"], remarks=remarks or None)
    parts = lifting_of(job.part_list, job.part_data, limit)
    sheet.subtitle(parts.title)
    sheet.table(parts)


def _mtm(made: Comparison) -> Table:
    return predetermined(made.job.part_list, made.job.part_data)


def _charts(sheet: Sheet, made: Comparison, heads: dict[str, int]) -> None:
    """Step time by what it goes through, and what a faster ram saves on a second axis, for each press brake."""
    sheet.landscape, sheet.fit_height = False, True
    sheet.widths = {0: 34, **dict.fromkeys(range(1, 7), 13)}  # what a line of text counts on
    for one in made.job.brakes:
        columns = list(one.rules.columns)
        first = heads[one.rules.name]
        last = first + min(one.rules.rows.count, _STEPS_SHOWN) - 1
        places = {name: (first, columns.index(name), last, columns.index(name)) for name in columns}
        sheet.charts.append(
            step_chart(f"Step time: {one.stated.value('name')[0]}", "What rules", places, (sheet.row, 0))
        )
        sheet.row += 19


def _one_below_the_other(
    book: Book, name: str, title: str, lead: str, machines: list[MachineTables], pick: Callable[[MachineTables], Table]
) -> None:
    sheet = book.sheet(name, title, lead, "calc")
    for one in machines:
        sheet.subtitle(_title(one))
        sheet.table(pick(one))


def _title(one: MachineTables) -> str:
    return f"{one.stated.title}: {one.stated.value('name')[0]}"
