"""The quote workbook: pages for the customer and the shop, inputs, calculations, prices, what if, checks."""

from __future__ import annotations

from pathlib import Path

from xlfab.core.arguments import ARGUMENTS
from xlfab.quote.flat_size_sheet import flat_sizes_sheet
from xlfab.quote.price_tables import BREAKS, LOTS
from xlfab.quote.quote_job import QuoteJob
from xlfab.quote.quote_pages import customer_page, inner_page
from xlfab.quote.quoted_machine import QuotedMachine
from xlfab.workbook import build_record, shared_texts
from xlfab.workbook.assumption_sheet import assumptions_sheet
from xlfab.workbook.book import Book
from xlfab.workbook.shared_texts import GUARD_CAUTION, MARGIN_NOTE, SETUP_NOTE, TABLE_NOTE

NOT_SHOWN = {"yearly_quantity_count", "lots_per_year_count"}  # of no use in a quote


def build_quote(
    job: QuoteJob,
    path: Path,
    flavour: str = "portable",
    paper: str = "A4",
    breakdown: bool = False,
    replace: bool = False,
) -> None:
    """Build the quote workbook."""
    plan_quote(job, flavour, paper, breakdown).save(path, replace)


def plan_quote(job: QuoteJob, flavour: str = "portable", paper: str = "A4", breakdown: bool = False) -> Book:
    """Plan every sheet of the quote workbook."""
    s = job.scenario
    book = Book(f"Quote: {s.title}" if s.title else "Quote", s.currency, s.units, flavour, paper)
    book.kind, book.record = (
        "quote",
        build_record.scenario_record(s, job.quote.assumptions, job.first.name, job.other.name if job.other else ""),
    )
    page = book.sheet("Quote", "Quote", "", "result")
    inner = book.sheet("Inner page", "Inner page: for the shop only", shared_texts.INNER_NOTE, "result")
    _terms(book, job)
    _inputs(book, job)
    _rates(book, job)
    _figures(book, job)
    _prices(book, job)
    _trial(book, job)
    flat_sizes_sheet(book)
    customer_page(page, job, breakdown)
    inner_page(inner, job)
    _assumptions(book, job)
    sheet = book.sheet("Checks", "Checks", shared_texts.CHECK_NOTE, "about")
    sheet.records([job.overall_check], ["Result"])
    for table in job.checks:
        sheet.subtitle(table.title)
        sheet.records([table], ["Result"])
    sheet.widths[2] = 40
    sheet.mark_checks(2)
    shared_texts.functions_sheet(book)
    _names(book, job)
    return book


def _terms(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet(
        "Terms", "Terms and texts of the quote", f"{shared_texts.INPUT_NOTE} {shared_texts.PRICE_NOTE}", "input"
    )
    sheet.subtitle("From cost to price")
    remarks = {name: f"{ARGUMENTS[name].description}." for name in job.stated.terms.columns}
    sheet.records([job.stated.terms], ["Value"], remarks=remarks)
    sheet.subtitle("Texts on the customer's page")
    sheet.records([job.stated.texts], ["Text"])
    sheet.widths[2] = 36
    sheet.widths[3] = 70


def _inputs(book: Book, job: QuoteJob) -> None:
    for table, title, lead in (
        (job.stated.parts, "Parts", "One line a part: type, paste, or import a customer's list with xlfab import."),
        (job.stated.cuts, "Cuts", "One line a cut. Strokes a part below 1 are shared by several blanks."),
        (job.stated.bends, "Bends", "One line a bend. Gauge columns give the way of each axis before the bend."),
        (
            job.stated.packing,
            "Packing and tools",
            "A package filled and closed, and special tooling spread over its parts.",
        ),
        (
            job.stated.bought,
            "Bought in",
            "Bought-in pieces and outside work. The least charge holds for a lot; 0 for none.",
        ),
        (job.stated.materials, "Materials", "Strength figures are typical: take them from your certificates."),
    ):
        columns = [name for name in table.columns if name not in NOT_SHOWN]
        book.sheet(title, title, f"{lead} {shared_texts.INPUT_NOTE}", "input").table(table, columns)
    sheet = book.sheet("Shop", "Shop and tariff", shared_texts.INPUT_NOTE, "input")
    for table, heading in ((job.stated.workplace, "Workplace"), (job.stated.tariff, "Tariff")):
        sheet.subtitle(heading)
        sheet.records([table], ["Value"])
    sheet = book.sheet(
        "Machines", "Machines as stated", f"{shared_texts.INPUT_NOTE} {shared_texts.MACHINE_CAUTION}", "input"
    )
    for number, heading in enumerate(("Shear", "Press brake")):
        machines = [road.machines[number].stated for road in job.roads]
        sheet.subtitle(heading)
        sheet.records(machines, [table.title for table in machines])


def _rates(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet("Tables", "Tables", f"{TABLE_NOTE} {GUARD_CAUTION}", "input")
    for table in job.stated.lookups.values():
        sheet.subtitle(table.title)
        sheet.table(table)
    sheet = book.sheet("Rates", "Machine-hour rates", shared_texts.RATE_NOTE)
    for number, heading in enumerate(("Shear", "Press brake")):
        machines = [road.machines[number] for road in job.roads]
        titles = [one.title for one in machines]
        for words, tables in (
            ("cost of an hour without electricity", [one.on.rate for one in machines]),
            ("electricity at the planned hours", [one.load for one in machines]),
            ("closing and stroke", [one.on.basis for one in machines]),
        ):
            sheet.subtitle(f"{heading}: {words}")
            sheet.records(tables, titles)
    lead = "Machine-hour rate, people and electricity of every further work centre: welding, drilling, deburring, inspection."
    book.sheet("Work centres", "Further work centres", f"{lead} {shared_texts.INPUT_NOTE}", "input").table(
        job.stated.work_centres
    )
    lead = "What each part needs at further work centres: set-up of the lot, time of a piece."
    book.sheet("Further work", "Further work", f"{lead} {shared_texts.INPUT_NOTE}", "input").table(job.stated.work)


def _figures(book: Book, job: QuoteJob) -> None:
    for table in (job.part_data, job.cut_data, job.bend_data):
        columns = [name for name in table.columns if name not in NOT_SHOWN]
        lead = "What the work needs, whichever machine makes it."
        book.sheet(table.title, table.title, lead).table(table, columns)
    for road in job.roads:
        for one in road.machines:
            _machine(book, one)


def _machine(book: Book, one: QuotedMachine) -> None:
    name = one.stated.value("name")[0]
    on = one.on
    for table, title, lead in (
        (on.steps, on.steps.title, "Time and electricity of each step on this machine."),
        (on.feasible, f"Margins, {on.title.lower()}", MARGIN_NOTE),
        (on.setup, on.setup.title, SETUP_NOTE),
        (one.parts, one.parts.title, "Each part on this machine: times, and cost of a piece and of a lot."),
    ):
        book.sheet(title, f"{title}: {name}", lead).table(table)


def _prices(book: Book, job: QuoteJob) -> None:
    for road in job.roads:
        title = road.costs.title
        book.sheet(title, f"{title}: {road.name}", shared_texts.COST_NOTE).table(road.costs)
    book.sheet("Prices", "Prices at every lot", shared_texts.LOT_NOTE).table(job.prices)
    sheet = book.sheet(
        "Order", "The order at the lots asked", "What it costs and brings if every part is ordered as asked."
    )
    sheet.records([job.totals], ["Value"])
    if job.routes is not None and job.other is not None:
        lead = f"This route: {job.first.name}. The other: {job.other.name}. {shared_texts.ROUTE_NOTE}"
        book.sheet("Two routes", "Two routes", lead, "result").table(job.routes)


def _trial(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet("What if", "What if: margin and lot", shared_texts.TRIAL_NOTE, "result")
    sheet.records([job.trial], ["Value"], ["part", "part_row_count", "run_cost_cur", "lot_cost_cur"])
    sheet.subtitle("Price of a piece before rounding: a line for each margin, a column for each lot")
    quantities = {f"price_{n}_cur": job.trial[f"quantity_{n}_count"] for n in LOTS}
    sheet.table(job.trial_margins, under=quantities)
    sheet.subtitle("The part at every lot, as quoted")
    sheet.records([job.trial], ["Value"], [name for name in job.trial.columns if _has_lot(name)])
    sheet.subtitle("Another route by hand: type what a lot and a piece cost there")
    sheet.records([job.by_hand], ["Value"])
    sheet.widths[2] = 20


def _has_lot(name: str) -> bool:
    return any(f"_{n}_" in name for n in LOTS)


def _assumptions(book: Book, job: QuoteJob) -> None:
    records = {
        ("workplace", ""): job.stated.workplace,
        ("tariff", ""): job.stated.tariff,
        ("quote", ""): job.stated.terms,
    }
    for road in job.roads:
        records |= {(one.on.kind, one.stated.value("name")[0]): one.stated for one in road.machines}
    assumptions_sheet(book, [*job.quote.assumptions, *job.scenario.assumptions], records)


def _names(book: Book, job: QuoteJob) -> None:
    for name, item in (
        ("Margin", job.stated.terms["margin_share"]),
        ("Mark_up", job.stated.terms["markup_share"]),
        ("Overhead", job.stated.terms["overhead_share"]),
        ("Lot_tried", job.stated.terms["tried_count"]),
        ("Order_price", job.totals["order_price_cur"]),
        ("Order_cost", job.totals["order_cost_cur"]),
        ("All_checks", job.overall_check["all_checks"]),
        *((f"Break_{n}", job.stated.terms[f"break_{n}_count"]) for n in BREAKS),
    ):
        book.name(name, item)
