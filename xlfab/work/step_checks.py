"""Checks that comparison and quote share: the step that a machine is furthest from making, in words, and one cell for all checks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from xlfab.core.units import factor, shown_unit, split_name, unit_label
from xlfab.tables.table import Ref, Table
from xlfab.trace.expression import joined, said
from xlfab.work.step_margins import BRAKE_MARGINS, SHEAR_MARGINS, UNKNOWN

NO_RESULT = "No result: a figure is outside what its formula holds for"
_DIGITS = {"mm": 1, "in": 2, "kn": 1, "tonf": 2, "kn_per_m": 1, "tonf_per_ft": 2}


def work_check(t: Table, kind: str, feasible: Table, units: str) -> None:
    """Name the step that is furthest from being made on a machine: part, step, what is short and by how much."""
    margins = BRAKE_MARGINS if kind == "press_brake" else SHEAR_MARGINS
    t.at_least("worst_part", feasible["part"], "worst_ratio", label="Part furthest from a limit")
    t.at_least("worst_step_count", feasible["step_count"], "worst_ratio", label="Its step")
    t.at_least("worst_fails_count", feasible["fails_count"], "worst_ratio", label="Limits that this step passes")
    for column in margins:
        t.at_least(column, feasible[column], "worst_ratio", label=f"{feasible.columns[column].label} of this step")
    t.total("failing_steps_count", feasible["fails_switch"], label="Steps that cannot be made")
    words = _shortage([(column, text) for column, text in margins.items()], units)
    given = ("worst_part", "worst_step_count", "worst_fails_count", "failing_steps_count", *margins)
    t.add("work_check", words, *given, text=True, label="Can the work be done")


def _shortage(margins: Sequence[tuple[str, str]], units: str) -> Any:
    shown = [_amount(column, units) for column, _ in margins]
    texts = [text for _, text in margins]

    def words(part: Any, step: Any, fails: Any, steps: Any, *values: Any) -> Any:
        why: Any = UNKNOWN
        for value, text, amount in reversed(list(zip(values, texts, shown, strict=True))):
            why = np.where(np.where(np.isfinite(value), value, 0.0) < 0, joined(text, " by ", amount(value)), why)
        more = np.where(steps > 1, joined(" (and ", said(steps - 1), " more steps)"), "")
        return np.where(fails > 0, joined(part, ", step ", said(step), ": ", why, more), "OK")

    return words


def _amount(column: str, units: str) -> Any:
    """A margin below zero as words, in the units of the workbook."""
    suffix = split_name(column)[1].suffix
    shown = shown_unit(suffix, units)
    scale, label = float(f"{factor(shown, suffix):.15g}"), unit_label(shown)
    return lambda value: joined(said(0 - value / scale, _DIGITS[shown]), f" {label}")


def owned(t: Table, owner: Any) -> Ref:
    """Add what is wrong first in a table of checks, with whose it is; OK where nothing is."""
    checks = [name for name, column in t.columns.items() if name.endswith("_check") or name == "balance"]
    labels = [t.columns[name].label for name in checks]

    def words(*items: Any) -> Any:
        found: Any = "OK"
        for item, label in reversed(list(zip(items, labels, strict=True))):
            found = np.where(item == "OK", found, joined(f"{owner}: {label}: ", item))
        return found

    return t.add("first_wrong", words, *checks, text=True, label="What is wrong first")


def overall(records: list[Table], owners: Sequence[str]) -> Table:
    """One cell that says whether every check reads OK, and if not, what is wrong first, on which machine or option."""
    t = Table.record("checks_all", "All checks")
    columns = [owned(record, owner) for record, owner in zip(records, owners, strict=True)]

    def first_wrong(*items: Any) -> Any:
        found: Any = "OK"
        for item in reversed(items):
            found = np.where(item == "OK", found, item)
        return found

    t.add("all_checks", first_wrong, *columns, text=True, label="All checks")
    return t
