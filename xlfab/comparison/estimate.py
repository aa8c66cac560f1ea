"""The whole estimate of a scenario: all tables, in the order in which they are calculated and shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.comparison import cycle_limits, loan_and_tax, option_year, purchase_flows, purchase_measures
from xlfab.comparison.option_value import Against, Money, Worth, worth_of
from xlfab.tables.table import Rows, Table
from xlfab.work import bend_times, cut_times, machine_year, part_figures, shop_tables
from xlfab.work.machine_work import on_machine
from xlfab.work.shop_tables import Variants


@dataclass
class MachineTables:
    """One machine: as stated, how it strokes, its rate, its steps, set-ups, the parts on it, its year, what rules it."""

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
class OptionTables:
    """One option: as stated, its two machines, cost of each part, its year, and its purchase against the first option."""

    name: str
    stated: Table
    shear: MachineTables
    brake: MachineTables
    parts: Table
    year: Table
    bought: list[MachineTables]
    outlay: Table
    difference: Table
    purchase: Table
    cash_flow: Table
    measures: Table
    worth: Worth


@dataclass
class Job:
    """Every table of an estimate."""

    scenario: Any
    workplace: Table
    tariff: Table
    money: Money
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
    options: list[OptionTables]

    @property
    def machines(self) -> list[MachineTables]:
        """All machines, shears first."""
        return [*self.shears, *self.brakes]


def estimate(scenario: Any, variants: Variants | None = None) -> Job:
    """Lay out a scenario; figures are worked out when asked for. `variants` replaces single inputs by one value for each variant."""
    v = variants or {}
    s = scenario
    lists = {
        "materials": ("Materials", "material"),
        "parts": ("Parts", "parts"),
        "bends": ("Bends", "bends"),
        "cuts": ("Cuts", "cuts"),
    }
    rows = {key: Rows(key, len(next(iter(getattr(s, key).values())))) for key in lists}
    tables = {
        key: shop_tables.stated_list(key, title, rows[key], getattr(s, key), section, v)
        for key, (title, section) in lists.items()
    }
    records = shop_tables.shop(s, v)
    workplace, tariff = records["workplace"], records["tariff"]
    money = Money(records["purchase"], records["finance"], loan_and_tax.depreciation_table(s.finance))
    materials, part_list, bends, cuts = tables.values()
    lookups, asked = shop_tables.lookups(), cycle_limits.study()
    data = part_figures.part_data(rows["parts"], part_list, materials, workplace, bends, cuts)
    bend_data = bend_times.bend_data(rows["bends"], bends, part_list, data, workplace, lookups["die_ratio"])
    cut_data = cut_times.cut_data(rows["cuts"], cuts, part_list, data, lookups["rake"])
    cut_times.yearly_strokes(cut_data, cuts, part_list)
    common = (part_list, data, workplace, tariff)
    steps = {"shear": (cuts, cut_data), "press_brake": (bends, bend_data)}
    shears, brakes = (
        [_machine(number, kind, item, *steps[kind], lookups, asked, common, v) for number, item in enumerate(items, 1)]
        for kind, items in (("shear", s.shears), ("press_brake", s.press_brakes))
    )
    options: list[OptionTables] = []
    for number, item in enumerate(s.options, 1):
        options.append(_option(number, item, shears, brakes, rows["parts"], common, money, options, v))
    extras = (lookups, asked)
    figures = (data, bend_data, cut_data)
    return Job(
        s, workplace, tariff, money, materials, part_list, bends, cuts, *extras, *figures, shears, brakes, options
    )


def _machine(
    number: int,
    kind: str,
    item: Any,
    steps: Table,
    step_data: Table,
    lookups: dict[str, Table],
    asked: Table,
    common: Any,
    v: Variants,
) -> MachineTables:
    part_list, _, workplace, tariff = common
    on = on_machine(number, kind, item, steps, step_data, lookups, common, v)
    record, rate = on.stated, on.rate
    parts_on = machine_year.parts_on(on, common)
    year = machine_year.machine_year(number, kind, record, rate, parts_on, workplace, tariff)
    machine_year.part_energy(parts_on, year, part_list, tariff)
    ruled = cycle_limits.rules_on(number, kind, record, on.steps, steps, step_data, part_list, asked)
    ruled_year = cycle_limits.rules_year(number, kind, ruled, parts_on, asked)
    oee = cycle_limits.effectiveness(number, kind, record, parts_on, workplace)
    made = (on.basis, rate, on.steps, on.feasible, on.setup)
    return MachineTables(kind, record, *made, parts_on, year, ruled, ruled_year, oee)


def _option(
    number: int,
    item: Any,
    shears: list[MachineTables],
    brakes: list[MachineTables],
    rows: Rows,
    common: Any,
    money: Money,
    options: list[OptionTables],
    v: Variants,
) -> OptionTables:
    part_list, data, workplace, tariff = common
    by_name = {one.stated.value("name")[0]: one for one in (*shears, *brakes)}
    shear, brake = by_name[item.shear], by_name[item.press_brake]
    record = shop_tables.stated_record(
        f"option_{number}", f"Option {number}", "option", item.name, shop_tables.fields_of(item), v
    )
    on = option_year.parts_in(number, rows, shear.parts, brake.parts, part_list, data, workplace)
    year = option_year.option_year(number, on, shear.year, brake.year, part_list, data, shear.rate, tariff)
    first = options[0] if options else None
    first_year, first_spent = (first.year, first.outlay) if first else (year, None)
    bought = [by_name[name] for name in item.buy]
    machines = [one.stated for one in bought]
    spent = purchase_flows.outlay_of(number, record, machines)
    apart = purchase_flows.difference(number, first_year, year)
    of = purchase_flows.purchase_of(number, spent, first_spent or spent, first_year, year, money.terms, shear.rate)
    flows = purchase_flows.cash_flow(number, of, money.terms, money.depreciation.rows)
    found = purchase_measures.measures(number, of, flows, money.terms)
    years = (shear.year, brake.year)
    against = Against(record, machines, years, shear.rate, year, spent, apart, of, flows, found)
    worth = worth_of(number, against, first.worth if first else None, money, workplace, tariff)
    return OptionTables(item.name, record, shear, brake, on, year, bought, spent, apart, of, flows, found, worth)
