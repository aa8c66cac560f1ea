"""A value of a table as a person reads it, with its unit."""

from __future__ import annotations

import numpy as np

from xlfab.core.units import factor, shown_unit, unit_label
from xlfab.tables.table import Ref


def text_of(item: Ref, currency: str, system: str, row: int = 0) -> tuple[str, str]:
    """A value (of a row) and its unit, as printed."""
    value = np.asarray(item.table.value(item.column)).reshape(-1)[row]
    unit = item.table.columns[item.column].unit
    if unit is None or isinstance(value, str):
        return str(value), "" if unit is None else unit.label
    if not np.isfinite(value):
        return "no result", unit.label
    if unit.suffix == "share":
        return f"{value * 100:.1f}", "%"
    if unit.suffix == "count" and value == np.floor(value):
        return f"{value:,.0f}", unit.label
    shown = shown_unit(unit.suffix, system)
    number = float(value) / factor(shown, unit.suffix)
    return f"{number:,.{0 if abs(number) >= 1000 else 3 if abs(number) < 1 else 2}f}", unit_label(shown, currency)
