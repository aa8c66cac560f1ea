"""The comparison workbook: answer, desk, inputs, workings, evidence, in the order in which they are read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from xlfab.comparison import (
    desk_sheet,
    input_sheets,
    seller_sheet,
    speed_sheets,
    step_sheets,
    summary_sheet,
    uncertainty_sheets,
    year_sheets,
)
from xlfab.comparison.compare import Comparison, compare
from xlfab.comparison.page_figures import page_figures
from xlfab.comparison.step_sheets import names_of
from xlfab.work.step_margins import BRAKE_MARGINS, SHEAR_MARGINS
from xlfab.workbook import build_record, shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.index_block import add_index


def build_comparison(
    scenario: Any,
    path: Path,
    flavour: str = "portable",
    paper: str = "A4",
    replace: bool = False,
    made: Comparison | None = None,
) -> Comparison:
    """Build the comparison workbook of a scenario and return what it shows; `made` is a comparison at hand."""
    made = made or compare(scenario)
    plan_comparison(made, flavour, paper).save(path, replace)
    return made


def plan_comparison(made: Comparison, flavour: str = "portable", paper: str = "A4") -> Book:
    """Plan every sheet of the comparison workbook."""
    s = made.job.scenario
    book = Book(f"{s.title}: comparison", s.currency, s.units, flavour, paper)
    drawn = {"draws": made.risk.draws, "seed": made.risk.seed}
    book.kind, book.record = "comparison", build_record.scenario_record(s) | drawn
    figures = page_figures(made)
    summary = book.sheet("Summary", s.title, "", "result")
    summary.row = 1
    desk = book.sheet(
        "Desk", "Desk", desk_sheet.NOTE, "desk", says="change the main figures, see the answer beside them"
    )
    tables = input_sheets.input_sheets(book, made)
    step_sheets.step_sheets(book, made, tables)
    year_sheets.machine_years(book, made)
    year_sheets.option_years(book, made, figures)
    year_sheets.cash_flows(book, made)
    uncertainty_sheets.uncertainty_sheet(book, made, input_sheets.records_of(made))
    speed_sheets.speed_sheet(book, made)
    _checks(book, made)
    shared_texts.functions_sheet(book)
    summary_sheet.fill_summary(summary, made, figures)
    desk_sheet.desk_sheet(book, desk, made, figures)
    _names(book, made)
    seller_sheet.seller_sheet(book, made)
    add_index(book, leave_out=(seller_sheet.SHEET,))
    return book


def _checks(book: Book, made: Comparison) -> None:
    sheet = book.sheet("Checks", "Checks", shared_texts.CHECK_NOTE, "about", says="every line must read OK")
    sheet.records([made.overall_check], ["Result"])
    warnings = made.job.scenario.warnings
    if warnings:
        sheet.subtitle("Values outside their usual range, as stated when the workbook was built")
        for warning in warnings:
            sheet.text(warning.words, "wrap", span=4)
    checks = dict(zip((id(one) for one in made.job.machines), made.machine_checks, strict=True))
    for heading, kind in (("Shears", made.job.shears), ("Press brakes", made.job.brakes)):
        sheet.subtitle(heading)
        sheet.records([checks[id(one)] for one in kind], names_of(kind))
    margins = {*BRAKE_MARGINS, *SHEAR_MARGINS}
    sheet.blank_if_none([table[name] for table in made.machine_checks for name in table.columns if name in margins])
    sheet.subtitle("Sums of each option")
    sheet.records(made.option_checks, [one.name for one in made.job.options])
    for column in range(2, 2 + max(len(made.job.shears), len(made.job.brakes), len(made.job.options))):
        sheet.widths[column] = 28
        sheet.mark_checks(column)


def _names(book: Book, made: Comparison) -> None:
    job = made.job
    for name, item in (
        ("Wage", job.workplace["wage_cur_per_h"]),
        ("Energy_price", job.tariff["energy_price_cur_per_kwh"]),
        ("Discount_rate", job.money.terms["discount_rate_share"]),
        ("Released_value", job.money.terms["released_value_share"]),
        ("All_checks", made.overall_check["all_checks"]),
    ):
        book.name(name, item)
    for number, one in enumerate(job.options, 1):
        book.name(f"Part_cost_option_{number}", one.year["mean_part_cost_cur"])
        if number > 1:
            book.name(f"Payback_option_{number}", one.measures["simple_payback_years"])
            book.name(f"Yearly_saving_option_{number}", one.purchase["yearly_saving_cur"])
