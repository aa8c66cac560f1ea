"""The work laid out on one machine: as stated, how it strokes, its rate, its steps, what it can do, its set-ups."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.job import bending, feasibility, setup, shearing, stated
from xlfab.job.machine import machine_rate
from xlfab.job.stated import Variants
from xlfab.model import Ref, Table


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
) -> OnMachine:
    """Lay out one machine; `common` is the list of parts, their figures, the workplace and the tariff."""
    part_list, data, workplace, _ = common
    title = f"{kind.replace('_', ' ').capitalize()} {number}"
    record = stated.stated_record(f"{kind}_{number}", title, kind, item.name, stated.fields_of(item), v)
    stated.hours_in_use(record, workplace)
    strokes = step_data["strokes_per_year"] if "strokes_per_year" in step_data.columns else None
    rate = machine_rate(number, kind, record, workplace, strokes)
    collect: Ref | float = 0.0
    if kind == "shear":
        basis = shearing.stroke_basis(number, record, workplace)
        on = shearing.cuts_on(number, record, basis, steps.rows, steps, step_data)
        can = feasibility.cuts_feasible(number, record, steps, step_data, on)
        collect = basis["rear_collect_time_s"]
    else:
        record.columns["guard_mode"].choices = lookups["guard_modes"]["guard_mode"]
        basis = bending.closing(number, record, lookups["guard_modes"])
        on = bending.bends_on(number, record, basis, steps.rows, steps, step_data)
        can = feasibility.bends_feasible(number, record, steps, step_data, on)
    set_up = setup.setup_on(number, kind, record, part_list, data, workplace)
    return OnMachine(number, kind, title, record, basis, rate, on, can, set_up, collect)
