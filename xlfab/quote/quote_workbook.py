"""The quote workbook: pages for customer and shop, what if, inputs, workings, checks, in the order in which they are read."""

from __future__ import annotations

from pathlib import Path

from xlfab.inputs.defaults import built_in
from xlfab.quote.flat_sizes import flat_sizes
from xlfab.quote.price_tables import BREAKS, LOTS
from xlfab.quote.quote_job import QuoteJob
from xlfab.quote.quote_pages import customer_page, inner_page
from xlfab.tables.table import Table
from xlfab.workbook import build_record, shared_texts
from xlfab.workbook.assumption_block import assumption_lines
from xlfab.workbook.book import Book
from xlfab.workbook.index_block import add_index
from xlfab.workbook.input_lines import Owner, input_section
from xlfab.workbook.sheet import Sheet, Stands
from xlfab.workbook.side_by_side import side_by_side

NOT_SHOWN = {"yearly_quantity_count", "lots_per_year_count"}  # of no use in a quote
_STEP = ("step_time_s", "can_it_be_done")
_COST = ("material_cost_cur", "shear_cost_cur", "brake_cost_cur", "run_cost_cur", "lot_cost_cur")


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
    trial = book.sheet("What if", "What if: margin and lot", shared_texts.TRIAL_NOTE, "desk")
    _inputs(book, job)
    _lists(book, job)
    _tables(book, job)
    _steps(book, job)
    _costs(book, job)
    _rates(book, job)
    _trial(trial, job)
    customer_page(page, job, breakdown)
    inner_page(inner, job)
    _checks(book, job)
    shared_texts.functions_sheet(book)
    _names(book, job)
    add_index(book)
    return book


def _inputs(book: Book, job: QuoteJob) -> None:
    """Terms and texts, then shop, tariff and machines: first what everybody knows, the rest folded."""
    sheet = book.sheet(
        "Inputs", "Terms, shop and machines", f"{shared_texts.INPUT_NOTE} {shared_texts.PRICE_NOTE}", "input",
        says="margin, quantity breaks, texts, wage, tariff, machines",
    )  # fmt: skip
    note, currency = 6, job.scenario.currency
    sheet.widths.update({0: 27, 1: 9, **dict.fromkeys(range(2, note), 10.5), note: 54})
    stated = job.stated
    input_section(sheet, "From cost to price", "quote", [Owner(stated.terms, "Value", built_in("quote", ""))], note)
    sheet.subtitle("Texts on the customer's page")
    for name in stated.texts.columns:
        sheet.label(stated.texts.columns[name].label, None)
        sheet.put_column(2, stated.texts, name)
        sheet.row += 1
    for key, table in (("workplace", stated.workplace), ("tariff", stated.tariff)):
        input_section(sheet, table.title, key, [Owner(table, "Value", built_in(key, currency))], note)
    for number, (heading, kind) in enumerate((("Shear", "shear"), ("Press brake", "press_brake"))):
        machines = [road.machines[number].stated for road in job.roads]
        owners = [Owner(one, str(one.value("name")[0]), built_in(kind, str(one.value("drive")[0]))) for one in machines]
        input_section(sheet, heading, kind, owners, note)
    sheet.text(shared_texts.MACHINE_CAUTION)


def _lists(book: Book, job: QuoteJob) -> None:
    """The lists that a quote is made from; what packing and tools cost stands beside each part."""
    made = job.stated
    lead = "One line a part: type, paste, or import a customer's list with xlfab import."
    sheet = book.sheet("Parts", "Parts", f"{lead} {shared_texts.INPUT_NOTE}", "input", says="one line a part")
    shown = ("part", "description", "material", "thickness_mm", "blank_length_mm", "blank_width_mm", "lot_size_count")
    columns = [Stands(made.parts, name) for name in made.parts.columns if name in shown]
    columns += [Stands(made.packing, name) for name in made.packing.columns if name != "part"]
    rest = [name for name in made.parts.columns if name not in shown and name not in NOT_SHOWN]
    sheet.block([*columns, *(Stands(made.parts, name, fold=True) for name in rest)])
    for table, title, lead in (
        (made.bends, "Bends", "One line a bend. Gauge columns give the way of each axis before the bend."),
        (made.cuts, "Cuts", "One line a cut. Strokes a part below 1 are shared by several blanks."),
    ):
        book.sheet(
            title, title, f"{lead} {shared_texts.INPUT_NOTE}", "input", says=f"what every {title[:-1].lower()} is"
        ).table(table)
    lead = f"Further work centres with their hour rate, what each part needs there, and what is bought in. {shared_texts.INPUT_NOTE}"
    sheet = book.sheet(
        "Further work",
        "Further work and bought-in pieces",
        lead,
        "input",
        says="work centres, their work, bought-in pieces",
    )
    for table, words in (
        (made.work_centres, "Work centres: welding, drilling, deburring, inspection"),
        (made.work, "What each part needs there: set-up of the lot, time of a piece"),
        (made.bought, "Bought-in pieces and outside work; the least charge holds for a lot, 0 for none"),
    ):
        sheet.subtitle(words)
        sheet.table(table, main=list(table.columns)[:9])


def _tables(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet(
        "Tables", "Materials and look-up tables", f"{shared_texts.TABLE_NOTE} {shared_texts.GUARD_CAUTION}", "input"
    )
    sheet.subtitle("Materials")
    sheet.text("Strength figures are typical: take them from your certificates.")
    sheet.table(job.stated.materials)
    for table in job.stated.lookups.values():
        sheet.subtitle(table.title)
        sheet.table(table)
    sheet.subtitle("Flat sizes from flange lengths")
    sheet.text(shared_texts.FLAT_NOTE)
    sheet.table(flat_sizes([]))


def _steps(book: Book, job: QuoteJob) -> None:
    """Bends on every press brake, then cuts on every shear: what each takes, and whether it can be made."""
    lead = f"What each bend and cut takes. The + above the columns opens the terms. {shared_texts.MARGIN_NOTE}"
    sheet = book.sheet(
        "Step times", "Step times", lead, says="seconds of every bend and cut, and whether it can be made"
    )
    for number, data, heading in ((1, job.bend_data, "Bends"), (0, job.cut_data, "Cuts")):
        machines = [road.machines[number] for road in job.roads]
        names = [str(one.stated.value("name")[0]) for one in machines]
        sheet.subtitle(heading)
        columns = [Stands(data, "part"), Stands(machines[0].on.feasible, "step_count")]
        for tables in ([one.on.steps for one in machines], [one.on.feasible for one in machines]):
            columns += _beside(names, tables, _STEP, columns)
        columns += [Stands(data, name, fold=True) for name in data.columns if name not in {"part", *NOT_SHOWN}]
        sheet.block(sorted(columns, key=lambda item: item.fold))


def _beside(names: list[str], tables: list[Table], main: tuple[str, ...], placed: list[Stands]) -> list[Stands]:
    there = {(id(item.table), item.name) for item in placed}
    titles = names if len(set(names)) == len(names) else [f"{name}, route {n}" for n, name in enumerate(names, 1)]
    columns = side_by_side(dict(zip(titles, tables, strict=True)), main)
    return [item for item in columns if (id(item.table), item.name) not in there]


def _costs(book: Book, job: QuoteJob) -> None:
    """What each part takes and costs on every route, its price at every lot, and the order."""
    sheet = book.sheet(
        "Part costs",
        "Part costs and prices",
        f"{shared_texts.COST_NOTE} {shared_texts.LOT_NOTE}",
        says="cost and price of every part at every lot",
    )
    routes = [road.name for road in job.roads]
    columns = [Stands(job.part_data, "part"), *_beside(routes, [road.costs for road in job.roads], _COST, [])]
    prices = [f"price_{n}_cur" for n in LOTS]
    columns += [Stands(job.prices, name, fold=name not in prices) for name in job.prices.columns]
    if job.routes is not None:
        columns += [
            Stands(job.routes, name, fold=name not in ("same_lot_count", "which")) for name in job.routes.columns
        ]
    for road in job.roads:
        for one in road.machines:
            for table in (one.on.setup, one.parts):
                title = f"{one.stated.value('name')[0]}, {road.name}"
                columns += [Stands(table, name, title, table.columns[name].label, True) for name in table.columns]
    columns += [
        Stands(job.part_data, name, fold=True) for name in job.part_data.columns if name not in {"part", *NOT_SHOWN}
    ]
    sheet.block(sorted(columns, key=lambda item: item.fold))
    sheet.subtitle("The order at the lots asked")
    sheet.records([job.totals], ["Value"])
    if job.routes is not None and job.other is not None:
        sheet.text(f"This route: {job.first.name}. The other: {job.other.name}. {shared_texts.ROUTE_NOTE}")


def _rates(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet("Rates", "Machine-hour rates", shared_texts.RATE_NOTE, says="what an hour of each machine costs")
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


def _trial(sheet: Sheet, job: QuoteJob) -> None:
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


def _checks(book: Book, job: QuoteJob) -> None:
    sheet = book.sheet(
        "Checks",
        "Checks, and on what the figures rest",
        shared_texts.CHECK_NOTE,
        "about",
        says="every line must read OK; every assumption with its basis",
    )
    sheet.records([job.overall_check], ["Result"])
    for table in job.checks:
        sheet.subtitle(table.title)
        sheet.records([table], ["Result"])
    sheet.widths[2] = 30
    sheet.mark_checks(2)
    records = {
        ("workplace", ""): job.stated.workplace,
        ("tariff", ""): job.stated.tariff,
        ("quote", ""): job.stated.terms,
    }
    for road in job.roads:
        records |= {(one.on.kind, one.stated.value("name")[0]): one.stated for one in road.machines}
    assumption_lines(sheet, [*job.quote.assumptions, *job.scenario.assumptions], records)


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
