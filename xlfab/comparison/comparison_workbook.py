"""The comparison workbook: inputs, calculations and results of a scenario, each on its own sheets."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from xlfab.comparison import (
    desk_sheet,
    electricity_sheets,
    feature_sheet,
    purchase_sheets,
    seller_sheet,
    shop_floor_sheets,
    summary_sheet,
    uncertainty_sheets,
)
from xlfab.comparison.compare import Comparison, compare
from xlfab.comparison.estimate import MachineTables
from xlfab.workbook import build_record, shared_texts
from xlfab.workbook.assumption_sheet import assumptions_sheet
from xlfab.workbook.book import Book


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
    book = Book(f"{s.title}: shear and press brake, comparison", s.currency, s.units, flavour, paper)
    book.kind, book.record = "comparison", build_record.scenario_record(s)
    first = book.sheet("Summary", s.title, "", "result")
    first.row = 1
    desk_place = (
        book.sheet("Desk", "The inputs that matter most", desk_sheet.NOTE, "input") if made.desk.inputs else None
    )
    _inputs(book, made)
    _assumptions(book, made)
    _figures(book, made)
    _machines(book, made)
    shop_floor_sheets.floor_sheets(book, made)
    _options(book, made)
    electricity_sheets.electricity_sheets(book, made)
    _checks(book, made)
    shared_texts.functions_sheet(book)
    if desk_place:
        desk_sheet.desk_sheet(book, desk_place, made)
    summary_sheet.fill_summary(first, made)
    _names(book, made)
    seller_sheet.seller_sheet(book, made)
    return book


def _inputs(book: Book, made: Comparison) -> None:
    job = made.job
    sheet = book.sheet("Shop", "Shop, tariff, purchase terms", shared_texts.INPUT_NOTE, "input")
    sheet.landscape = False
    for table in (job.workplace, job.tariff, job.money.terms, job.money.finance):
        sheet.subtitle(table.title)
        sheet.records([table], ["Value"])
    sheet = book.sheet(
        "Machines", "Machines as stated", f"{shared_texts.INPUT_NOTE} {shared_texts.MACHINE_CAUTION}", "input"
    )
    sheet.landscape = False
    for heading, kind in (("Shears", job.shears), ("Press brakes", job.brakes)):
        sheet.subtitle(heading)
        sheet.records([one.stated for one in kind], [one.stated.title for one in kind])
    shop_floor_sheets.table_sheet(book, made)
    sheet = book.sheet("Options", "What is compared", shared_texts.OPTION_NOTE, "input")
    sheet.records([one.stated for one in job.options], [f"Option {n}" for n in range(1, len(job.options) + 1)])
    for table, lead in (
        (job.materials, "Strength figures are typical: take them from your certificates."),
        (job.part_list, "One line a part."),
        (job.bends, "One line a bend. Gauge columns give the way of each axis before the bend."),
        (job.cuts, "One line a cut. Strokes a part below 1 are shared by several blanks."),
    ):
        book.sheet(table.title, table.title, f"{lead} {shared_texts.INPUT_NOTE}", "input").table(table)


def _assumptions(book: Book, made: Comparison) -> None:
    records = {
        ("workplace", ""): made.job.workplace,
        ("tariff", ""): made.job.tariff,
        ("purchase", ""): made.job.money.terms,
        ("finance", ""): made.job.money.finance,
    }
    records |= {(one.kind, one.stated.value("name")[0]): one.stated for one in made.job.machines}
    records |= {("option", one.name): one.stated for one in made.job.options}
    assumptions_sheet(book, made.job.scenario.assumptions, records)


def _figures(book: Book, made: Comparison) -> None:
    job = made.job
    for table in (job.part_data, job.bend_data, job.cut_data):
        book.sheet(table.title, table.title, "What the work needs, whichever machine makes it.").table(table)


def _machines(book: Book, made: Comparison) -> None:
    for one in made.job.machines:
        name = one.stated.value("name")[0]
        book.sheet(
            one.steps.title, f"{one.steps.title}: {name}", "Time and electricity of each step on this machine."
        ).table(one.steps)
        book.sheet(one.parts.title, f"{one.parts.title}: {name}", "Each part on this machine.").table(one.parts)
    sheet = book.sheet("Machine years", "Machine-hour rates and machine years", shared_texts.ENERGY_NOTE)
    for heading, kind in (("Shears", made.job.shears), ("Press brakes", made.job.brakes)):
        _records(sheet, heading, kind)


def _records(sheet: Any, heading: str, kind: list[MachineTables]) -> None:
    titles = [one.stated.title for one in kind]
    sheet.subtitle(f"{heading}: machine-hour rate without electricity")
    sheet.records([one.rate for one in kind], titles)
    sheet.subtitle(f"{heading}: the year")
    sheet.records([one.year for one in kind], titles)


def _options(book: Book, made: Comparison) -> None:
    options = made.job.options
    for one in options:
        book.sheet(
            one.parts.title, f"{one.parts.title}: {one.name}", "Cost of each part on the option's two machines."
        ).table(one.parts)
    sheet = book.sheet(
        "Option years",
        "The year with each option",
        "Labour, electricity and maintenance of both machines of an option.",
    )
    sheet.records([one.year for one in options], [one.name for one in options])
    sheet.subtitle("What each option costs at the start")
    sheet.records([one.outlay for one in options], [one.name for one in options])
    purchase_sheets.purchase_sheets(book, made)
    uncertainty_sheets.sensitivity_sheets(book, made)
    uncertainty_sheets.risk_sheet(book, made)
    feature_sheet.features_sheets(book, made)


def _checks(book: Book, made: Comparison) -> None:
    sheet = book.sheet("Checks", "Checks", shared_texts.CHECK_NOTE, "about")
    sheet.records([made.overall_check], ["Result"])
    for one, table in zip(made.job.machines, made.machine_checks, strict=True):
        sheet.subtitle(f"{one.stated.title}: {one.stated.value('name')[0]}")
        sheet.records([table], ["Result"])
    for option, table in zip(made.job.options, made.option_checks, strict=True):
        sheet.subtitle(f"Sums of option: {option.name}")
        sheet.records([table], ["Result"])
    sheet.widths[2] = 40
    sheet.mark_checks(2)


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
