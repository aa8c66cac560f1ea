"""The list of assumptions: every figure with its span and what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from xlfab.tables.table import Table
from xlfab.workbook import shared_texts
from xlfab.workbook.sheet import Sheet, Shown


def assumption_lines(sheet: Sheet, assumptions: Iterable[Any], records: Mapping[tuple[str, str], Table]) -> None:
    """A line for each assumption whose record stands in the workbook; values are live. Figures that are certain are folded."""
    sheet.subtitle("Assumptions and on what they rest")
    sheet.text(shared_texts.ASSUMPTION_NOTE)
    open_lines: list[Shown] = []
    folded: list[Shown] = []
    for item in assumptions:
        table = records.get((item.section, item.record))
        if table is None or item.key not in table.columns:
            continue
        ref = table[item.key]
        what = f"{item.record}: {table.columns[item.key].label}" if item.record else table.columns[item.key].label
        low, high = ("" if end is None else float(end) for end in (item.low, item.high))
        line = Shown(what, [ref, low, high, item.basis], item.source)
        (open_lines if low != high else folded).append(line)
    first = sheet.show(
        ["Assumption", "Value", "Low", "High", "Basis"], [*open_lines, *folded], remark="Source", width=12
    )
    if folded:
        sheet.fold(first + len(open_lines), first + len(open_lines) + len(folded) - 1)
    sheet.widths.update({3: 10, 4: 10, 5: 15, 6: 36})
