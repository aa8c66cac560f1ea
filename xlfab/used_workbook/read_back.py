"""The inputs of a used workbook by table and row, in the units that are computed with."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.inputs.write_folder import number_steps
from xlfab.used_workbook.audit_inputs import input_findings
from xlfab.used_workbook.open_used import Used, filled, same_value
from xlfab.workbook.record_schema import ColumnRecord

Row = dict[str, Any]
TRIED = ("trial", "trial_margins", "by_hand", "flat_sizes")  # what is tried out is no part of the scenario
# the tables that have a place in a scenario's folder; machines, options and sellers are numbered
_PLACED = (
    "workplace", "tariff", "purchase", "finance", "materials", "parts", "bends", "cuts", "terms", "texts", "packing",
    "work", "bought", "work_centres", "shear", "press_brake", "option", "seller",
)  # fmt: skip
_MOST = 20  # faults named in one message


@dataclass
class ReadInputs:
    """What was read: rows of each table, and of each value on a desk between which values it may lie."""

    used: Used
    tables: dict[str, list[Row]] = field(default_factory=dict)
    spans: dict[tuple[str, str], tuple[float, float]] = field(
        default_factory=dict
    )  # (table, column) -> least, greatest


def read_inputs(path: Path) -> ReadInputs:
    """Every input; ScenarioError lists what cannot be used."""
    used = Used.open(path)
    if not used.sound:
        raise ScenarioError(
            f"{path}: the record of how it was built was changed; build the workbook anew and type the inputs"
        )
    read = ReadInputs(used)
    used.parts.guarded(_read, read)
    return read


def _read(read: ReadInputs) -> None:
    used, faults = read.used, []
    for item in used.known.columns:
        if not item.stated:
            continue
        if not used.has(item.sheet):
            raise ScenarioError(f"{used.path}: the sheet '{item.sheet}' is missing")
        wrong = [] if item.table in TRIED else _faults(used, item)
        faults += wrong
        if wrong:
            continue
        rows = used.rows(item)
        records = read.tables.setdefault(item.table, [{} for _ in rows])
        for record, number in zip(records, rows, strict=False):
            record[item.column] = _computed(used.value_of(item, number), item)
    _from_the_desk(read)
    if faults:
        more = f"; and {len(faults) - _MOST} more" if len(faults) > _MOST else ""
        raise ScenarioError(f"{used.path}: " + "; ".join(faults[:_MOST]) + more)
    number_steps(read.tables.get("cuts", []), read.tables.get("bends", []))


def _faults(used: Used, item: ColumnRecord) -> list[str]:
    found = (one for one in input_findings(used, item) if one.kind == "input")
    return [f"{one.sheet}!{one.cell}: {one.text}" for one in found]


def _computed(value: Any, item: ColumnRecord) -> Any:
    if item.text:
        return str(value).strip() if filled(value) else ""
    return value * item.scale if isinstance(value, float) else None


def _from_the_desk(read: ReadInputs) -> None:
    """Put the stated values of the inputs on the desk where they belong; another case than the base is no data."""
    used = read.used
    case = read.tables.get("case", [{}])[0].get("case", "base")
    if case != "base":
        raise ScenarioError(f"{used.path}: the case in use is '{case}': set it to base, save, and read again")
    for item in used.known.columns:
        if item.stated_in is None or item.table == item.stated_in[0]:
            continue  # the desk itself
        table, column = item.stated_in
        row = read.tables.get(table, [{}])[0]
        if row.get(column) is not None:
            read.tables.setdefault(item.table, [{}])[0][item.column] = row[column]
            values = [value for name, value in row.items() if isinstance(value, float)]
            read.spans[item.place] = min(values), max(values)


def not_carried(read: ReadInputs) -> list[str]:
    """Changed inputs for which a scenario has no place: the small tables of the package, and the like."""
    used, found = read.used, []
    on_the_desk = {item.stated_in[0] for item in used.known.columns if item.stated_in}
    for item in used.known.columns:
        placed = item.table.rstrip("0123456789").rstrip("_") in _PLACED or item.table in (*TRIED, *on_the_desk)
        if not item.stated or placed:
            continue
        for number, built in enumerate(item.built):
            now = used.value_of(item, number)
            if not same_value(now, built):
                place = f"{item.sheet}!{used.where(item, number)}"
                found.append(f"{place}, {item.label}: {now} in place of {built}")
    return found
