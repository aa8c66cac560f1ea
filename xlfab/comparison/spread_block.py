"""What keeps the spread of the draws and moves it with the inputs: chances, doubts, paybacks in a good and a bad case."""

from __future__ import annotations

from xlfab.comparison.compare import Comparison
from xlfab.workbook.sheet import Sheet

_OPEN = 8  # columns of quantiles and years that stand open with their rows
_NOTE = "What the random draws said when the workbook was built, kept as distances from the estimate. The formulas add them to the estimate as it stands now, wider or narrower with what they come from."


def spread_block(sheet: Sheet, made: Comparison) -> None:
    """Every option but the first: sums and causes side by side, then quantiles and years one below the other; all of it folded."""
    spreads = list(made.spreads.values())
    if not spreads:
        return
    names = [made.job.options[number - 1].name for number in made.spreads]
    first = sheet.row
    sheet.subtitle("How the spread moves with the inputs")
    sheet.text(_NOTE)
    for tables in ([one.sums for one in spreads], [one.causes for one in spreads]):
        sheet.subtitle(tables[0].title.rpartition(",")[0])
        sheet.records(tables, names)
    for one in spreads:
        for table in (one.quantiles, one.years):
            sheet.subtitle(table.title)
            sheet.table(table, main=list(table.columns)[:_OPEN])
        sheet.blank_if_none([one.sums[f"{case}_payback_years"] for case in ("short", "long")])
    sheet.fold(first + 3, sheet.row - 1)
