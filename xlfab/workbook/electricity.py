"""The sheet of electricity: hours and electricity by state, the same by cause with a chart, and what it weighs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.workbook import about
from xlfab.workbook.charts import bars
from xlfab.workbook.sheet import Shown

if TYPE_CHECKING:
    from xlfab.job.compare import Comparison
    from xlfab.workbook.book import Book

NAME = "Electricity"
ADVICE = (
    "To replace judgement: log real power of the whole machine at 1 s for a week with idle time in it, and run xlfab meter. To compare "
    "two machines, let both do identical work under identical conditions and state the uncertainty (the idea of ISO 14955-2)."
)
CAUSES = ("idle_kwh", "work_kwh", "net_lift_kwh", "losses_kwh")


def electricity_sheets(book: Book, made: Comparison) -> None:
    """Strokes of each machine's year, and the sheet that says where the electricity goes."""
    for one, strokes in zip(made.job.machines, made.strokes, strict=True):
        title = f"Strokes, {one.stated.title.lower()}"
        book.sheet(title, title, "Moving and processing of each step over the year, and its useful work.").table(
            strokes
        )
    sheet = book.sheet(NAME, "Electricity by state and by cause", about.ENERGY_NOTE, "result")
    sheet.landscape = False
    sheet.fit_height = True
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
    sheet.charts.append(chart)  # one page: the tables, the chart, and what it weighs
    sheet.row += 16
    others = made.job.options[1:]
    if others:
        sheet.subtitle(f"What it weighs against {made.job.options[0].name}")
        sheet.records(made.weights, [one.name for one in others])
    sheet.text(ADVICE)
