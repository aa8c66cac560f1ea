"""Gauge numbers of sheet: a table by kind of sheet, because the same number is a different thickness in each."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

from xlfab.customer_list.quantity import Unreadable

SOURCES = ("gauge-tables", "american-wire-gauge")  # keys in sources.csv


@cache
def table() -> dict[str, dict[int, float]]:
    """Thickness in inches by kind of sheet and gauge number."""
    text = files("xlfab").joinpath("customer_list/gauges.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    kinds = [name for name in rows[0] if name != "gauge"]
    return {kind: {int(row["gauge"]): float(row[kind]) for row in rows if row[kind]} for kind in kinds}


def thickness_mm(number: float, kind: str) -> float:
    """The thickness of a gauge number.

    >>> round(thickness_mm(16, "sheet steel"), 3), round(thickness_mm(16, "stainless steel"), 3)
    (1.519, 1.587)
    """
    if kind not in table():
        raise Unreadable(f"no gauge table is chosen for this material ({', '.join(table())})")
    inches = table()[kind].get(int(number)) if number == int(number) else None
    if inches is None:
        known = table()[kind]
        raise Unreadable(f"gauge {number:g} is not in the table for {kind} ({min(known)} to {max(known)})")
    return inches * 25.4
