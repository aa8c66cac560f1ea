"""The inputs of a used workbook, and where its stored results differ from those that Python computes from them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import ScenarioError
from xlfab.quote.flat_sizes import flat_sizes
from xlfab.quote.what_if import by_hand, trial, trial_margins
from xlfab.tables.table import Table
from xlfab.used_workbook.audit_inputs import input_findings
from xlfab.used_workbook.open_used import Used, cell_name, filled
from xlfab.work.shop_tables import lookups

TOLERANCE = 1e-9
TRIED = ("trial", "trial_margins", "by_hand", "flat_sizes")  # what is tried out is no part of the scenario


@dataclass(frozen=True)
class Difference:
    """A cell whose stored result is not the computed one."""

    sheet: str
    cell: str
    label: str
    stored: Any
    computed: Any


def read_inputs(path: Path) -> tuple[Used, dict[str, list[dict[str, Any]]]]:
    """Every input by table and row, in the units that are computed with; ScenarioError lists what cannot be used."""
    used = Used.open(path)
    tables: dict[str, list[dict[str, Any]]] = {}
    faults: list[str] = []
    for item in used.known["columns"]:
        if "formula" in item:
            continue
        if not used.has(item["sheet"]):
            raise ScenarioError(f"{path}: the sheet '{item['sheet']}' is missing")
        wrong = (
            []
            if item["table"] in TRIED
            else [f"{one.sheet}!{one.cell}: {one.text}" for one in input_findings(used, item)]
        )
        faults += wrong
        if wrong:
            continue
        rows = used.rows(item)
        records = tables.setdefault(item["table"], [{} for _ in rows])
        for record, number in zip(records, rows, strict=True):
            value = used.value_of(item, number)
            record[item["column"]] = _computed(value, item)
    _from_the_desk(path, used, tables)
    if faults:
        more = f"; and {len(faults) - 20} more" if len(faults) > 20 else ""
        raise ScenarioError(f"{path}: " + "; ".join(faults[:20]) + more)
    return used, tables


def _from_the_desk(path: Path, used: Used, tables: dict[str, list[dict[str, Any]]]) -> None:
    """Put the stated values of the inputs on the Desk sheet where they belong; another case than the base is no data."""
    case = tables.get("case", [{}])[0].get("case", "base")
    if case != "base":
        raise ScenarioError(
            f"{path}: the case in use on the Desk sheet is '{case}': set it to base, save, and read again"
        )
    for item in used.known["columns"]:
        table, column = item.get("stated_in", ("", ""))
        stated = tables.get(table, [{}])[0].get(column)
        if stated is not None:
            tables.setdefault(item["table"], [{}])[0][item["column"]] = stated


def _computed(value: Any, item: dict[str, Any]) -> Any:
    if item["text"]:
        return str(value).strip() if filled(value) else ""
    return float(value) * item["scale"] if isinstance(value, (int, float)) and filled(value) else None


def not_carried(used: Used, tables: dict[str, list[dict[str, Any]]]) -> list[str]:
    """Changes in the small tables of the package, for which a scenario has no place."""
    found = []
    package = lookups()
    for item in used.known["columns"]:
        if "formula" in item or item["table"] not in package:
            continue
        built = package[item["table"]].value(item["column"])
        for number, (record, value) in enumerate(zip(tables[item["table"]], built, strict=False)):
            now = record[item["column"]]
            if not _alike(now, value if isinstance(value, str) else float(value)):
                cell = cell_name(item["row"] + used.shift(item) + number, item["at"])
                found.append(f"{item['sheet']}!{cell}, {item['label']}: {now} in place of {value} (as computed with)")
    return found


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


_BY_HAND = ("other_lot_cost_cur", "other_run_cost_cur")


def differences(used: Used, tables: Iterable[Table]) -> tuple[list[Difference], int]:
    """Stored against computed for every calculated cell of the used rows; and how many cells were compared."""
    by_name = {table.name: table for table in tables}
    found: list[Difference] = []
    compared = 0
    for item in used.known["columns"]:
        table = by_name.get(item["table"])
        if "formula" not in item or table is None or not used.has(item["sheet"]):
            continue
        values = np.asarray(table.value(item["column"])).reshape(-1)
        for value, number in zip(values, used.rows(item), strict=False):
            compared += 1
            stored = used.value_of(item, number)
            computed = value if item["text"] or isinstance(value, str) else float(value) / item["scale"]
            if not _alike(stored, computed):
                cell = cell_name(item["row"] + used.shift(item) + number, item["at"])
                found.append(Difference(item["sheet"], cell, item["label"], stored, computed))
    return found, compared


def _alike(stored: Any, computed: Any) -> bool:
    if isinstance(computed, str):
        return str(stored or "") == computed
    if not np.isfinite(computed):
        return isinstance(stored, str) and stored.startswith("#")
    if isinstance(stored, bool) or not isinstance(stored, (int, float)):
        return False
    return abs(stored - computed) <= TOLERANCE * max(abs(stored), abs(computed), 1e-3)
