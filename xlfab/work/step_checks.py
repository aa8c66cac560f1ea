"""Checks that comparison and quote share: the least margin of each kind over all steps of a machine, and one cell for all checks."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.tables.table import Table
from xlfab.work.step_margins import BRAKE_MARGINS, SHEAR_MARGINS

NO_RESULT = "A row has no result: see the error values"


def _not_short(margin: Any, words: str) -> Any:
    return np.where(np.isfinite(margin), np.where(margin >= 0, "OK", words), NO_RESULT)


def margin_checks(t: Table, kind: str, feasible: Table) -> None:
    """The least margin of each kind over all steps on a machine, and what is wrong with it."""
    for column, words in (BRAKE_MARGINS if kind == "press_brake" else SHEAR_MARGINS).items():
        label = feasible.columns[column].label
        t.least(column, feasible[column], label=f"{label}, least")
        said = words[:1].upper() + words[1:]
        t.add(f"{column}_check", lambda value, said=said: _not_short(value, said), column, text=True, label=label)


def overall(records: list[Table]) -> Table:
    """One cell that says whether every check reads OK."""
    t = Table.record("checks_all", "All checks")
    columns = [record[name] for record in records for name, column in record.columns.items() if column.unit is None]

    def all_ok(*items: Any) -> Any:
        good: Any = items[0] == "OK"
        for item in items[1:]:
            good = good & (item == "OK")
        return np.where(good, "OK", "See the Checks sheet")

    t.add("all_checks", all_ok, *columns, text=True, label="All checks")
    return t
