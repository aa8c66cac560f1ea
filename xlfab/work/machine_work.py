"""The work laid out on one machine: as stated, how it strokes, its rate, its steps, what it can do, its set-ups."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.tables.table import Ref, Table
from xlfab.work import bend_times, cut_times, setup_pieces, shop_tables, step_margins
from xlfab.work.machine_year import machine_rate
from xlfab.work.shop_tables import Variants


@dataclass
class OnMachine:
    """One machine with the work on it. `collect` is the time to fetch a piece from behind a shear."""

    number: int
    kind: str
    title: str
    stated: Table
    basis: Table
    rate: Table
    steps: Table
    feasible: Table
    setup: Table
    collect: Ref | float


def on_machine(
    number: int,
    kind: str,
    item: Any,
    steps: Table,
    step_data: Table,
    lookups: dict[str, Table],
    common: Any,
    v: Variants,
    kept_up: Ref | None = None,
) -> OnMachine:
    """Lay out one machine; `common` is the list of parts, their figures, the workplace and the tariff.

    `kept_up` is the price that a share of maintenance is taken of; without it the machine's own.
    """
    part_list, data, workplace, _ = common
    title = f"{kind.replace('_', ' ').capitalize()} {number}"
    record = shop_tables.stated_record(f"{kind}_{number}", title, kind, item.name, shop_tables.fields_of(item), v)
    shop_tables.hours_in_use(record, workplace)
    strokes = step_data["strokes_per_year"] if "strokes_per_year" in step_data.columns else None
    rate = machine_rate(number, kind, record, workplace, strokes, kept_up)
    collect: Ref | float = 0.0
    if kind == "shear":
        basis = cut_times.stroke_basis(number, record, workplace)
        on = cut_times.cuts_on(number, record, basis, steps.rows, steps, step_data)
        can = step_margins.cuts_feasible(number, record, steps, step_data, on)
        collect = basis["rear_collect_time_s"]
    else:
        record.columns["guard_mode"].choices = lookups["guard_modes"]["guard_mode"]
        basis = bend_times.closing(number, record, lookups["guard_modes"])
        on = bend_times.bends_on(number, record, basis, steps.rows, steps, step_data)
        can = step_margins.bends_feasible(number, record, steps, step_data, on)
    set_up = setup_pieces.setup_on(number, kind, record, part_list, data, workplace)
    return OnMachine(number, kind, title, record, basis, rate, on, can, set_up, collect)
