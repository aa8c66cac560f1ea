"""Stored results of a used workbook against those that Python computes from its inputs, part by part and step by step."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.quote.flat_sizes import flat_sizes
from xlfab.quote.what_if import by_hand, trial, trial_margins
from xlfab.tables.list_rules import AtLeast, RowOf
from xlfab.tables.table import Ref, Table
from xlfab.used_workbook.audit_lists import STEP
from xlfab.used_workbook.read_back import TRIED, ReadInputs
from xlfab.workbook.record_schema import ColumnRecord

TOLERANCE = 1e-9
_BY_HAND = ("other_lot_cost_cur", "other_run_cost_cur")
Name = tuple[str, ...]  # what a row of a list is known by: part, step, and which of several


@dataclass(frozen=True)
class Difference:
    """A stored result that is not the computed one. Rows of lists are named: they may stand in another order."""

    sheet: str
    cell: str
    row: str
    label: str
    stored: Any
    computed: Any


def tried(job: Any, tables: dict[str, list[dict[str, Any]]]) -> list[Table]:
    """What was tried out in a quote, worked out again with the part, margins, costs and flange lengths that were typed."""
    again = [flat_sizes(tables["flat_sizes"])]
    part = tables["trial"][0]["part"] if tables["trial"] else ""
    if part:
        one = trial(job.stated.parts, job.prices, job.first.costs, part)
        margins = [np.nan if line["margin_share"] is None else line["margin_share"] for line in tables["trial_margins"]]
        costs = tables["by_hand"]
        typed = ([np.nan if line[key] is None else line[key] for line in costs] for key in _BY_HAND)
        again += [one, trial_margins(one, margins), by_hand(one, *typed)]
    for table in again:
        table.evaluate()
    kept = [table for table in job.tables() if table.name not in TRIED]
    return [*kept, *again]


def differences(read: ReadInputs, tables: Iterable[Table]) -> tuple[list[Difference], int]:
    """Stored against computed for every calculated cell of the used rows; and how many cells were compared.

    Left out is what the scenario cannot say again: figures that were worked out when the workbook was built (drawn at random, say),
    choices that have no place in it, the first of several equal rows, and all that follows from these.
    """
    by_name = {table.name: table for table in tables}
    rows = _Rows(read, by_name)
    unknown = _chosen_otherwise(read, by_name)
    found: list[Difference] = []
    compared = 0
    for item in read.used.known.columns:
        table = by_name.get(item.table)
        if not item.formula or table is None or item.column not in table.columns or not read.used.has(item.sheet):
            continue  # a table of an inner sheet that this scenario has no longer
        ref = table[item.column]
        if isinstance(ref.rule, RowOf) or item.column == STEP or _unsaid(ref, unknown):
            continue  # the number of a row or step says where it stands, and rows may stand in another order
        values = np.asarray(table.value(item.column)).reshape(-1)
        for number, row, name in rows.pairs(item):
            compared += 1
            stored = read.used.value_of(item, number)
            value = values[row] if row < len(values) else np.nan
            computed = value if item.text or isinstance(value, str) else float(value) / item.scale
            if not _alike(stored, computed):
                place = read.used.where(item, number)
                found.append(Difference(item.sheet, place, ", ".join(name), item.label, stored, computed))
    return found, compared


def _chosen_otherwise(read: ReadInputs, tables: dict[str, Table]) -> dict[Ref, bool]:
    """Single inputs without a place in a scenario, which hold another value than a workbook that is built from it."""
    found = {}
    for item in read.used.known.columns:
        table = tables.get(item.table)
        if item.stated and item.count == 1 and table is not None and item.column in table.columns:
            there, here = np.asarray(table.value(item.column)).reshape(-1), read.tables.get(item.table, [{}])
            if len(there) == 1 and here and not _alike_input(here[0].get(item.column), there[0]):
                found[table[item.column]] = True
    return found


def _alike_input(one: Any, other: Any) -> bool:
    if isinstance(one, float):
        return bool(abs(one - other) <= TOLERANCE * max(abs(one), abs(other), 1e-3))
    return one is None or str(one).casefold() == str(other).casefold()


def _unsaid(item: Ref, known: dict[Ref, bool]) -> bool:
    """True if a column is, or follows at however many removes from, what a scenario cannot say again."""
    if item not in known:
        known[item] = False
        rule = item.rule
        needs = rule.needs() if rule.follows else []
        itself = not (rule.follows or rule.stated) or (isinstance(rule, AtLeast) and _tied(rule))
        known[item] = itself or any(_unsaid(one, known) for one in needs)
    return known[item]


def _tied(rule: AtLeast) -> bool:
    """True if several rows are least: which of them is named depends on their order."""
    values = np.asarray(rule.by.table.value(rule.by.column), dtype=np.float64)
    return bool(values.size and np.isclose(values, values.min(), rtol=TOLERANCE, atol=0).sum() > 1)


class _Rows:
    """Which computed row belongs to which row of a sheet."""

    def __init__(self, read: ReadInputs, tables: dict[str, Table]) -> None:
        self.used = read.used
        self.names: dict[str, tuple[list[Name], dict[Name, int]]] = {}
        named = {
            item.rows: item for item in reversed(read.used.known.columns) if item.stated and item.text and item.listed
        }
        for rows, item in named.items():
            if item.table in tables and item.table in read.tables:
                table = tables[item.table]
                columns = [name for name in (item.column, STEP) if name in table.columns]
                here = _names([[row.get(name) for name in columns] for row in read.tables[item.table]])
                there = zip(*(np.asarray(table.value(name)).reshape(-1).tolist() for name in columns), strict=True)
                self.names[rows] = here, {name: at for at, name in enumerate(_names(there))}

    def pairs(self, item: ColumnRecord) -> list[tuple[int, int, Name]]:
        """Row on the sheet, computed row, and what it is known by."""
        numbers = self.used.rows(item)
        if item.rows not in self.names:
            return [(number, place, ()) for place, number in enumerate(numbers)]
        names, places = self.names[item.rows]
        return [(number, places[name], name) for number, name in zip(numbers, names, strict=False) if name in places]


def _names(rows: Iterable[Sequence[Any]]) -> list[Name]:
    count: Counter[Name] = Counter()
    found = []
    for row in rows:
        name = tuple(f"{value:g}" if isinstance(value, float) else str(value).strip().casefold() for value in row)
        count[name] += 1
        found.append(name if count[name] == 1 else (*name, f"no. {count[name]}"))
    return found


def _alike(stored: Any, computed: Any) -> bool:
    if isinstance(computed, str):
        return str(stored or "").casefold() == computed.casefold()  # a part may be written small in a list of steps
    if not np.isfinite(computed):
        return isinstance(stored, str) and stored.startswith("#")
    if not isinstance(stored, float):
        return False
    return abs(stored - computed) <= TOLERANCE * max(abs(stored), abs(computed), 1e-3)
