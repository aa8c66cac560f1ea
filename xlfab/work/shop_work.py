"""A whole shop laid out: its lists, what parts and steps need, and the work on each machine. Comparison goes on from here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.tables.table import Rows, Table
from xlfab.work import bend_times, cut_times, cycle_limits, machine_year, part_figures, shop_tables
from xlfab.work.machine_work import on_machine
from xlfab.work.shop_tables import Variants

LISTS = {
    "materials": ("Materials", "material"),
    "parts": ("Parts", "parts"),
    "bends": ("Bends", "bends"),
    "cuts": ("Cuts", "cuts"),
}


@dataclass
class MachineTables:
    """One machine: as stated, how it strokes, its rate, its steps, set-ups, the parts on it, its year, what limits its cycle."""

    kind: str
    stated: Table
    basis: Table
    rate: Table
    steps: Table
    feasible: Table
    setup: Table
    parts: Table
    year: Table
    rules: Table
    rules_year: Table
    effectiveness: Table


@dataclass
class ShopWork:
    """Every table of the shop's work, whatever is then bought or sold."""

    scenario: Any
    workplace: Table
    tariff: Table
    purchase: Table
    finance: Table
    materials: Table
    part_list: Table
    bends: Table
    cuts: Table
    lookups: dict[str, Table]
    study: Table
    part_data: Table
    bend_data: Table
    cut_data: Table
    shears: list[MachineTables]
    brakes: list[MachineTables]

    @property
    def machines(self) -> list[MachineTables]:
        """All machines, shears first."""
        return [*self.shears, *self.brakes]


def lay_out(scenario: Any, v: Variants) -> ShopWork:
    """The shop's tables in the order in which they are calculated; `v` replaces single inputs by one value for each variant."""
    materials, part_list, bends, cuts = (
        shop_tables.stated_list(
            key, title, Rows(key, len(next(iter(getattr(scenario, key).values())))), getattr(scenario, key), section, v
        )
        for key, (title, section) in LISTS.items()
    )
    records = shop_tables.shop(scenario, v)
    workplace, tariff = records["workplace"], records["tariff"]
    lookups, study = shop_tables.lookups(), cycle_limits.study()
    data, cut_data, bend_data = needs(part_list, materials, workplace, bends, cuts, lookups)
    cut_times.yearly_strokes(cut_data, cuts, part_list)
    common = (part_list, data, workplace, tariff)
    steps = {"shear": (cuts, cut_data), "press_brake": (bends, bend_data)}
    shears, brakes = (
        [_machine(number, kind, item, *steps[kind], lookups, study, common, v) for number, item in enumerate(items, 1)]
        for kind, items in (("shear", scenario.shears), ("press_brake", scenario.press_brakes))
    )
    stated = (workplace, tariff, records["purchase"], records["finance"], materials, part_list, bends, cuts)
    return ShopWork(scenario, *stated, lookups, study, data, bend_data, cut_data, shears, brakes)


def needs(
    part_list: Table, materials: Table, workplace: Table, bends: Table, cuts: Table, lookups: dict[str, Table]
) -> tuple[Table, Table, Table]:
    """What parts, cuts and bends need, whichever machine makes them."""
    data = part_figures.part_data(part_list.rows, part_list, materials, workplace, bends, cuts)
    cut_data = cut_times.cut_data(cuts.rows, cuts, part_list, data, lookups["rake"])
    bend_data = bend_times.bend_data(bends.rows, bends, part_list, data, workplace, lookups["die_ratio"])
    return data, cut_data, bend_data


def _machine(
    number: int,
    kind: str,
    item: Any,
    steps: Table,
    step_data: Table,
    lookups: dict[str, Table],
    study: Table,
    common: Any,
    v: Variants,
) -> MachineTables:
    part_list, _, workplace, tariff = common
    on = on_machine(number, kind, item, steps, step_data, lookups, common, v)
    record, rate = on.stated, on.rate
    parts_on = machine_year.parts_on(on, common)
    year = machine_year.machine_year(number, kind, record, rate, parts_on, workplace, tariff)
    machine_year.part_energy(parts_on, year, part_list, tariff)
    limits = cycle_limits.rules_on(number, kind, record, on.steps, steps, step_data, part_list, study)
    limits_year = cycle_limits.rules_year(number, kind, limits, parts_on, study)
    oee = cycle_limits.effectiveness(number, kind, record, parts_on, workplace)
    made = (on.basis, rate, on.steps, on.feasible, on.setup)
    return MachineTables(kind, record, *made, parts_on, year, limits, limits_year, oee)
