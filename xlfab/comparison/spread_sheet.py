"""The sheet that keeps the spread of the draws and moves it with the inputs: chances, doubts, paybacks in a good and a bad case."""

from __future__ import annotations

from xlfab.comparison.compare import Comparison
from xlfab.workbook.book import Book

_NOTE = "What the random draws said when the workbook was built, kept as distances from the estimate. The formulas add them to the estimate as it stands now, wider or narrower with what they come from."


def spread_sheets(book: Book, made: Comparison) -> None:
    """A sheet for every option but the first."""
    for number, one in made.spreads.items():
        name = made.job.options[number - 1].name
        sheet = book.sheet(f"Spread {number}", f"How the spread moves: {name}", _NOTE)
        for table in (one.sums, one.causes):
            sheet.subtitle(table.title)
            sheet.records([table], [name])
        sheet.subtitle(one.quantiles.title)
        sheet.table(one.quantiles)
        sheet.subtitle(one.years.title)
        sheet.table(one.years)
        sheet.blank_if_none([one.sums[f"{case}_payback_years"] for case in ("short", "long")])
