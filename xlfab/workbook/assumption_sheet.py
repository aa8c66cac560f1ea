"""The sheet of assumptions: every figure with its span and what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from xlfab.tables.table import Table
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Shown


def assumptions_sheet(book: Book, assumptions: Iterable[Any], records: Mapping[tuple[str, str], Table]) -> None:
    """A line for each assumption whose record stands in the workbook; values are live."""
    sheet = book.sheet("Assumptions", "Assumptions and on what they rest", shared_texts.ASSUMPTION_NOTE, "about")
    rows = []
    for item in assumptions:
        table = records.get((item.section, item.record))
        if table is None or item.key not in table.columns:
            continue
        ref = table[item.key]
        what = f"{item.record}: {table.columns[item.key].label}" if item.record else table.columns[item.key].label
        low = "" if item.low is None else float(item.low)
        high = "" if item.high is None else float(item.high)
        rows.append(Shown(what, [ref, low, high, item.basis], item.source))
    sheet.widths[5] = 18
    sheet.show(["Assumption", "Value", "Low", "High", "Basis"], rows, remark="Source", width=12)
