"""A whole shop laid out: its lists, what parts and steps need, and the work on each machine. Comparison goes on from here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.tables.table import Ref, Rows, Table
from xlfab.work import bend_times, counted_work, cut_times, cycle_limits, machine_year, part_figures, shop_tables
from xlfab.work.machine_work import OnMachine, on_machine
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
    counted: Table
    shears: list[MachineTables]
    brakes: list[MachineTables]

    @property
    def machines(self) -> list[MachineTables]:
        """All machines, shears first."""
        return [*self.shears, *self.brakes]


def lay_out(scenario: Any, v: Variants, taken: Any = None) -> ShopWork:
    """The shop's tables in the order in which they are calculated; `v` replaces single inputs by one value for each variant.

    `taken` says which parts are counted, where that is settled already: variants are compared on the same parts.
    """
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
    on = {
        kind: _laid_out(kind, items, counted_work.first_name(scenario, kind), *steps[kind], (lookups, common, v))
        for kind, items in (("shear", scenario.shears), ("press_brake", scenario.press_brakes))
    }
    there = counted_work.of_first_option(scenario, [*on["shear"], *on["press_brake"]])
    counted = counted_work.counted(part_list, there, taken)
    shears, brakes = (
        [_machine(one, *steps[kind], study, common, counted["counted_switch"]) for one in on[kind]] for kind in on
    )
    stated = (workplace, tariff, records["purchase"], records["finance"], materials, part_list, bends, cuts)
    return ShopWork(scenario, *stated, lookups, study, data, bend_data, cut_data, counted, shears, brakes)


def _laid_out(
    kind: str,
    items: list[Any],
    first: str,
    steps: Table,
    step_data: Table,
    rest: tuple[dict[str, Table], Any, Variants],
) -> list[OnMachine]:
    """The machines of a kind in their order; a share of maintenance is taken of the price of the first option's."""
    found: dict[str, OnMachine] = {}
    for number, item in sorted(enumerate(items, 1), key=lambda pair: pair[1].name != first):
        base = found[first].stated["machine_price_cur"] if first in found else None
        found[item.name] = on_machine(number, kind, item, steps, step_data, *rest, base)
    return [found[item.name] for item in items]


def needs(
    part_list: Table, materials: Table, workplace: Table, bends: Table, cuts: Table, lookups: dict[str, Table]
) -> tuple[Table, Table, Table]:
    """What parts, cuts and bends need, whichever machine makes them."""
    cut_data, bend_data = cut_times.cut_list(cuts, part_list), bend_times.bend_list(bends, part_list)
    data = part_figures.part_data(part_list.rows, part_list, materials, workplace, bends, cuts)
    cut_times.add_cut_data(cut_data, part_list, data, cuts, lookups["rake"])
    bend_times.add_bend_data(bend_data, bends, part_list, data, workplace, lookups["die_ratio"])
    return data, cut_data, bend_data


def _machine(on: OnMachine, steps: Table, step_data: Table, study: Table, common: Any, counted: Ref) -> MachineTables:
    part_list, _, workplace, tariff = common
    number, kind, record, rate = on.number, on.kind, on.stated, on.rate
    parts_on = machine_year.parts_on(on, common, counted)
    year = machine_year.machine_year(number, kind, record, rate, parts_on, workplace, tariff)
    machine_year.part_energy(parts_on, year, part_list, tariff)
    limits = cycle_limits.rules_on(number, kind, record, on.steps, steps, step_data, part_list, study, parts_on)
    limits_year = cycle_limits.rules_year(number, kind, limits, parts_on, study)
    oee = cycle_limits.effectiveness(number, kind, record, parts_on, workplace)
    made = (on.basis, rate, on.steps, on.feasible, on.setup)
    return MachineTables(kind, record, *made, parts_on, year, limits, limits_year, oee)
