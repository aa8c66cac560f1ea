"""The whole estimate of a scenario: all tables, in the order in which they are calculated and shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.job import bending, machine, option, parts, purchase, shearing, stated
from xlfab.job.stated import Variants
from xlfab.model import Rows, Table


@dataclass
class MachineTables:
    """One machine: as stated, its rate, its steps, the parts on it, its year."""

    kind: str
    stated: Table
    rate: Table
    steps: Table
    parts: Table
    year: Table


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


@dataclass
class Job:
    """Every table of an estimate."""

    scenario: Any
    workplace: Table
    tariff: Table
    terms: Table
    materials: Table
    part_list: Table
    bends: Table
    cuts: Table
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
    """Lay out and evaluate a scenario. `variants` replaces single inputs by one value for each variant."""
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
        key: stated.stated_list(key, title, rows[key], getattr(s, key), section, v)
        for key, (title, section) in lists.items()
    }
    records = {
        key: stated.stated_record(key, title, key, "", stated.fields_of(getattr(s, key)), v)
        for key, title in (("workplace", "Workplace"), ("tariff", "Tariff"), ("purchase", "Purchase"))
    }
    workplace, tariff, terms = records["workplace"], records["tariff"], records["purchase"]
    data = parts.part_data(
        rows["parts"], tables["parts"], tables["materials"], workplace, tables["bends"], tables["cuts"]
    )
    bend_data = bending.bend_data(rows["bends"], tables["bends"], tables["parts"], data, workplace)
    cut_data = shearing.cut_data(rows["cuts"], tables["cuts"], tables["parts"], data)
    common = (tables["parts"], data, workplace, tariff)
    shears = [
        _machine(number, "shear", item, shearing.cuts_on, rows, tables["cuts"], cut_data, common, v)
        for number, item in enumerate(s.shears, 1)
    ]
    brakes = [
        _machine(number, "press_brake", item, bending.bends_on, rows, tables["bends"], bend_data, common, v)
        for number, item in enumerate(s.press_brakes, 1)
    ]
    options: list[OptionTables] = []
    for number, item in enumerate(s.options, 1):
        options.append(_option(number, item, shears, brakes, rows["parts"], common, terms, options, v))
    materials, part_list, bends, cuts = tables.values()
    figures = (data, bend_data, cut_data)
    job = Job(s, workplace, tariff, terms, materials, part_list, bends, cuts, *figures, shears, brakes, options)
    for one in options:
        one.measures.evaluate()
        one.difference.evaluate()
    return job


def _machine(
    number: int,
    kind: str,
    item: Any,
    steps_on: Any,
    rows: dict[str, Rows],
    steps: Table,
    step_data: Table,
    common: Any,
    v: Variants,
) -> MachineTables:
    part_list, data, workplace, tariff = common
    title = f"{kind.replace('_', ' ').capitalize()} {number}"
    record = stated.stated_record(f"{kind}_{number}", title, kind, item.name, stated.fields_of(item), v)
    rate = machine.machine_rate(number, kind, record, workplace)
    on = steps_on(number, record, steps.rows, steps, step_data)
    setup: tuple[str, tuple[Any, ...]]
    if kind == "shear":
        setup = (
            "shear_setup_time_min",
            (record["shear_setup_min"], record["gauge_setting_min"], data["cut_lines_count"]),
        )
    else:
        first = (record["first_setup_min"], record["further_station_min"], part_list["tool_stations_count"])
        setup = ("press_brake_setup_time_min", (*first, record["try_out_min"], data["bends_count"]))
    parts_on = machine.parts_on(number, kind, rows["parts"], on, setup, record, rate, part_list, data, workplace)
    year = machine.machine_year(number, kind, record, rate, parts_on, tariff)
    machine.part_energy(parts_on, year, part_list, tariff)
    return MachineTables(kind, record, rate, on, parts_on, year)


def _option(
    number: int,
    item: Any,
    shears: list[MachineTables],
    brakes: list[MachineTables],
    rows: Rows,
    common: Any,
    terms: Table,
    options: list[OptionTables],
    v: Variants,
) -> OptionTables:
    part_list, data, workplace, tariff = common
    by_name = {one.stated.value("name")[0]: one for one in (*shears, *brakes)}
    shear, brake = by_name[item.shear], by_name[item.press_brake]
    record = stated.stated_record(
        f"option_{number}", f"Option {number}", "option", item.name, stated.fields_of(item), v
    )
    on = option.parts_in(number, rows, shear.parts, brake.parts, part_list, data, workplace)
    year = option.option_year(number, on, shear.year, brake.year, part_list, shear.rate, tariff)
    first = options[0].year if options else year
    bought = [by_name[name] for name in item.buy]
    spent = purchase.outlay_of(number, record, [one.stated for one in bought])
    apart = purchase.difference(number, first, year)
    of = purchase.purchase_of(number, spent, options[0].outlay if options else spent, first, year, terms)
    flows = purchase.cash_flow(number, of, terms)
    found = purchase.measures(number, of, flows, terms)
    return OptionTables(item.name, record, shear, brake, on, year, bought, spent, apart, of, flows, found)
