"""Inputs with what one needs to fill them in: value, built-in default, what it is, where one reads it off, what the default rests on."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fnmatch import fnmatchcase
from functools import cache
from importlib.resources import files
from typing import Any

from xlfab.core.arguments import ARGUMENTS
from xlfab.tables.table import Table
from xlfab.workbook.grid import Place
from xlfab.workbook.sheet import Cell, Sheet

# what a customer or owner knows without looking anything up; it stands open, all else is folded
KNOWN = {
    "workplace": ("wage_cur_per_h", "burden_share", "scrap_share"),
    "tariff": ("energy_price_cur_per_kwh", "demand_price_cur_per_kw"),
    "purchase": ("study_years", "target_payback_years", "discount_rate_share", "released_value_share"),
    "finance": ("loan_share", "loan_rate_share", "tax_rate_share"),
    "shear": ("machine_price_cur", "powered_h_per_year", "shear_setup_min", "strokes_per_min", "ready_power_kw"),
    "press_brake": (
        "machine_price_cur", "powered_h_per_year", "first_setup_min", "further_station_min", "approach_speed_mm_s",
        "pressing_speed_mm_s", "return_speed_mm_s", "ready_power_kw",
    ),
    "quote": (
        "margin_share", "overhead_share", "bought_in_overhead_share", "minimum_order_cur", "break_1_count", "break_2_count",
        "break_3_count", "break_4_count", "break_5_count",
    ),
    "option": ("name", "shear", "press_brake", "delivery_cur", "training_cur", "trade_in_cur"),
}  # fmt: skip


@dataclass(frozen=True)
class Owner:
    """A record of inputs, the name over its column, and the built-in defaults: value and basis by key."""

    table: Table
    name: str
    defaults: Mapping[str, tuple[float, str]] = field(default_factory=dict)


@cache
def _patterns() -> list[tuple[str, str]]:
    text = files("xlfab.workbook").joinpath("where_read.csv").read_text(encoding="utf-8")
    return [(row["pattern"], row["where"]) for row in csv.DictReader(text.splitlines())]


def where_read(key: str) -> str:
    """Where one reads an input off; empty if nothing is said of it."""
    return next((where for pattern, where in _patterns() if fnmatchcase(key, pattern)), "")


def input_lines(
    sheet: Sheet, owners: Sequence[Owner], keys: Sequence[str], note_column: int, heads: bool = True
) -> None:
    """A line a key: each owner's value with its default beside it, and a remark."""
    defaulted = any(owner.defaults for owner in owners)
    step = 2 if defaulted else 1
    if heads:
        names = [text for owner in owners for text in ((owner.name, "Default") if defaulted else (owner.name,))]
        sheet.heads(["", "Unit", *names, *[""] * (note_column - 2 - len(names)), "What it is, where to read it"])
    for key in keys:
        column = next(owner.table.columns[key] for owner in owners if key in owner.table.columns)
        sheet.label(column.label, column.unit)
        for number, owner in enumerate(owners):
            if key in owner.table.columns:
                _line(sheet, owner, key, 2 + step * number)
        sheet.cells.append(Cell(sheet.row, note_column, "remark", _remark(owners, key)))
        sheet.high(len(_remark(owners, key)), int(sheet.widths[note_column] * 1.1))
        sheet.row += 1


def _line(sheet: Sheet, owner: Owner, key: str, at: int) -> None:
    column = owner.table.columns[key]
    sheet.stand(owner.table, key, Place(sheet.name, sheet.row, at, 1))
    if column.unit is None or key not in owner.defaults:
        return
    value, _ = owner.defaults[key]
    sheet.put_number(at + 1, value, column.unit, "default")
    sheet.compared.append((sheet.row, at, at + 1))


def _remark(owners: Sequence[Owner], key: str) -> str:
    """One plain line: what it is, where one reads it off, what its default rests on."""
    table = next(owner.table for owner in owners if key in owner.table.columns)
    known: Any = ARGUMENTS.get(key)
    said = [known.description if known else "", where_read(key)]
    bases = dict.fromkeys(owner.defaults[key][1] for owner in owners if key in owner.defaults)
    if bases:
        said.append(f"default: {', '.join(bases)}")
    if not table.columns[key].rule.stated:
        said.append("set on the sheet Desk" if len(table.columns) > 1 else "")
    return ". ".join(text[:1].upper() + text[1:] for text in said if text)


def input_section(
    sheet: Sheet, heading: str, key: str, owners: list[Owner], note: int, without: tuple[str, ...] = ()
) -> None:
    """A section of inputs: what is known stands open, further inputs and what is worked out from them are folded."""
    sheet.subtitle(heading, span=note + 1)
    columns = dict.fromkeys(name for owner in owners for name in owner.table.columns if name not in without)
    known = [name for name in KNOWN[key] if name in columns]
    input_lines(sheet, owners, known, note)
    further = [name for name in columns if name not in known and _asked(owners, name)]
    worked_out = [name for name in columns if name not in known and name not in further]
    first = sheet.row
    input_lines(sheet, owners, [*further, *worked_out], note, heads=False)
    sheet.fold(first, sheet.row - 1)
    sheet.row += 1


def _asked(owners: list[Owner], name: str) -> bool:
    return any(owner.table.columns[name].rule.stated for owner in owners if name in owner.table.columns)
