"""The sheets of electricity: by state and by cause with a chart, and beside it the bill, a part, a lot, CO2, and what it weighs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.workbook import shared_texts
from xlfab.workbook.charts import bars
from xlfab.workbook.sheet import Sheet, Shown

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison
    from xlfab.workbook.book import Book

NAME, BILL = "Electricity", "Electricity bill"
ADVICE = (
    "To replace judgement: log real power of the whole machine at 1 s for a week with idle time in it, and run xlfab meter. To compare "
    "two machines, let both do identical work under identical conditions and state the uncertainty (the idea of ISO 14955-2)."
)
BILL_NOTE = (
    "The electricity of an option's two machines as a supplier bills it. Prices, peak and summer hours, ratchet, quiet months, averaging "
    "window and taxes stand on the sheet Shop. A fixed charge is the same with every option and no part of a comparison."
)
CAUSES = ("idle_kwh", "work_kwh", "net_lift_kwh", "losses_kwh")


def electricity_sheets(book: Book, made: Comparison) -> None:
    """Strokes of each machine's year, where the electricity goes, and what it costs and weighs."""
    for one, strokes in zip(made.job.machines, made.strokes, strict=True):
        title = f"Strokes, {one.stated.title.lower()}"
        book.sheet(title, title, "Moving and processing of each step over the year, and its useful work.").table(
            strokes
        )
    sheet = book.sheet(NAME, "Electricity by state and by cause", shared_texts.ENERGY_NOTE, "result")
    sheet.landscape = False
    sheet.fit_height = True
    _by_machine(sheet, made)
    _for_parts(sheet, made)
    others = made.job.options[1:]
    if others:
        sheet.subtitle(f"What it weighs against {made.job.options[0].name}")
        sheet.records(made.weights, [one.name for one in others])
    sheet.text(ADVICE)
    bill = book.sheet(BILL, "Electricity bill of the year", BILL_NOTE, "result")
    bill.landscape = False
    bill.records(made.bills, [one.name for one in made.job.options])


def _by_machine(sheet: Sheet, made: Comparison) -> None:
    names = [str(one.stated.value("name")[0]) for one in made.job.machines]
    sheet.records(made.electricity, names)
    labels = [made.electricity[0].columns[column].label for column in CAUSES]
    rows = [
        Shown(label, [table[column] for table in made.electricity])
        for label, column in zip(labels, CAUSES, strict=True)
    ]
    first = sheet.show(["By cause, kilowatt-hours a year", *names], rows)
    last = first + len(CAUSES) - 1
    series = [(name, (first, 2 + n, last, 2 + n)) for n, name in enumerate(names)]
    chart = bars(NAME, "Electricity by cause", "kWh a year", (first, 0, last, 0), series, (sheet.row, 0), (700, 280))
    sheet.charts.append(chart)
    sheet.row += 16


def _for_parts(sheet: Sheet, made: Comparison) -> None:
    """Electricity of a part, a lot and the year with each option, and the CO2 with source and year of its factor."""
    years, tariff = [one.year for one in made.job.options], made.job.tariff
    rows = [
        Shown("Electricity of a part, mean", [year["mean_part_energy_kwh"] for year in years]),
        Shown("Electricity of a lot, mean", [year["mean_lot_energy_kwh"] for year in years]),
        Shown("Electricity a year", [year["energy_kwh"] for year in years], strong=True),
        Shown("CO2 of the electricity", [year["co2_kg_per_year"] for year in years]),
    ]
    for key in ("co2_kg_per_kwh", "co2_source", "co2_dated"):
        rows.append(Shown(tariff.columns[key].label, [tariff[key]]))
    sheet.show(
        ["With each option (each part's and lot's: sheets Parts in option)", *[one.name for one in made.job.options]],
        rows,
    )
