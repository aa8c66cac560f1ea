"""Actual against estimated times as a small workbook: a chart of bias and spread, the figures behind it, and every lot."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from xlfab.actuals.finished_lots import CONFIDENCE, LEAST_LOTS, Bias
from xlfab.tables.table import Rows, Table
from xlfab.workbook.book import Book
from xlfab.workbook.charts import spread
from xlfab.workbook.sheet import Sheet

_ROWS = 19  # under the chart
NOTE = (
    "Actual over estimated time of finished lots; 1 is as estimated. Ratios are skewed, so the middle is the median. Its interval "
    f"holds it with {CONFIDENCE:.0%} confidence whatever the distribution; a factor is suggested from {LEAST_LOTS} lots on, "
    "and only where the interval leaves out 1. Worked out when the workbook was built."
)


def build_actuals(
    found: list[Bias], lots: Any, title: str, path: Path, paper: str = "A4", replace: bool = False
) -> None:
    """Write the workbook."""
    book = Book(f"Actual times: {title}", "", paper=paper)
    sheet = book.sheet("Bias", "Actual times against the estimate", NOTE, "result")
    sheet.fit_height = True
    above = sheet.row
    sheet.row += _ROWS
    places = _placed(sheet, _operations(found))
    sheet.widths.update({0: 24, 11: 30})
    sheet.subtitle("Behind the chart")
    places |= _placed(sheet, _behind(found))
    text = "Actual over estimated time by operation"
    sheet.charts.append(spread(sheet.name, text, "actual / estimated", places, (above, 0)))
    lots_sheet = book.sheet("Lots", "Every lot", "As read from the file.")
    lots_sheet.landscape = False
    lots_sheet.table(_lots(lots))
    book.save(path, replace)


def _placed(sheet: Sheet, table: Table) -> dict[str, tuple[int, int, int, int]]:
    """Put a list onto the sheet; where its columns stand."""
    start = sheet.row + 2
    sheet.table(table)
    last = start + table.rows.count - 1
    return {name: (start, at, last, at) for at, name in enumerate(table.columns)}


def _operations(found: list[Bias]) -> Table:
    t = Table("operations", "Operations", Rows("operations", len(found)))
    t.fix("operation", [item.operation for item in found])
    t.fix("lots_count", [item.lots for item in found], "Lots")
    t.fix("estimated_min", [item.estimated_min for item in found], "Estimated")
    t.fix("actual_min", [item.actual_min for item in found], "Actual")
    t.fix("total_ratio", [item.total_ratio for item in found], "Actual over estimate, all time")
    t.fix("first_ratio", [item.first_quartile for item in found], "First quartile of the lots")
    t.fix("median_ratio", [item.median_ratio for item in found], "Median of the lots")
    t.fix("third_ratio", [item.third_quartile for item in found], "Third quartile of the lots")
    for name in ("low", "high"):
        ends = [getattr(item, name) for item in found]
        t.fix(f"{name}_ratio", _or_words(ends, "not known"), f"Interval of the median, {name}")
    t.fix("factor_ratio", _or_words([item.factor for item in found], "none"), "Suggested factor")
    t.fix("finding", [item.finding for item in found], "In words")
    return t


def _or_words(values: list[float | None], words: str) -> Any:
    """Figures, and words where there is none: an interval of too few lots reaches from 0 to infinity."""
    return np.array([value if value and np.isfinite(value) else words for value in values], dtype=object)


def _behind(found: list[Bias]) -> Table:
    """The figures that only the chart needs."""
    t = Table("behind", "Behind the chart", Rows("behind", len(found)))
    t.fix("operation_name", [item.operation for item in found], "Operation")
    t.fix("base_ratio", [item.first_quartile for item in found], "Box from")
    t.fix("half_ratio", [item.third_quartile - item.first_quartile for item in found], "Height of the box")
    known = [np.isfinite(item.high) for item in found]
    ends = list(zip(found, known, strict=True))
    t.fix("plus_ratio", [item.high - item.median_ratio if good else 0.0 for item, good in ends], "Interval upwards")
    t.fix("minus_ratio", [item.median_ratio - item.low if good else 0.0 for item, good in ends], "Interval downwards")
    t.fix("one_ratio", np.ones(len(found)), "As estimated")
    return t


def _lots(lots: Any) -> Table:
    t = Table("lots", "Lots", Rows("lots", len(lots)))
    for name in ("lot", "operation"):
        t.fix(name, lots[name].to_numpy(dtype=object))
    for name, label in (("estimated_min", "Estimated"), ("actual_min", "Actual")):
        t.fix(name, lots[name].to_numpy(dtype=np.float64), label)
    t.fix("ratio", (lots["actual_min"] / lots["estimated_min"]).to_numpy(), "Actual over estimate")
    return t
