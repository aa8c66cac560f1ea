"""The whole estimate of a scenario: all tables, in the order in which they are calculated and shown."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.comparison import loan_and_tax, option_year, purchase_flows, purchase_measures
from xlfab.comparison.option_value import Against, Money, Worth, worth_of
from xlfab.comparison.purchase_measures import Owned
from xlfab.tables.table import Rows, Table
from xlfab.work import shop_tables
from xlfab.work.shop_tables import Variants
from xlfab.work.shop_work import MachineTables, ShopWork, lay_out

__all__ = ["Job", "MachineTables", "OptionTables", "estimate"]


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

    @property
    def machines(self) -> list[MachineTables]:
        """The machines that the option works with, shears first."""
        return [self.shear, self.brake]


@dataclass
class Job(ShopWork):
    """Every table of an estimate: the shop's work, and what each option makes of it."""

    money: Money
    options: list[OptionTables]


def estimate(scenario: Any, variants: Variants | None = None, counted: Any = None) -> Job:
    """Lay out a scenario; figures are worked out when asked for. `variants` replaces single inputs by one value for each variant.

    `counted` says which parts are in the sums, where that is settled already.
    """
    v = variants or {}
    work = lay_out(scenario, v, counted)
    money = Money(work.purchase, work.finance, loan_and_tax.depreciation_table(scenario.finance))
    common = (work.part_list, work.part_data, work.workplace, work.tariff)
    options: list[OptionTables] = []
    for number, item in enumerate(scenario.options, 1):
        options.append(_option(number, item, work.shears, work.brakes, work.part_list.rows, common, money, options, v))
    return Job(**vars(work), money=money, options=options)


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
    used = [one.stated for one in (shear, brake)]
    kept = [one for one in used if not any(one is item for item in machines)]
    gone = [one.stated for one in first.machines if one not in first.bought] if first else []
    owned = Owned(machines, kept, [one for one in gone if not any(one is item for item in used)])
    against = Against(record, owned, years, shear.rate, year, spent, apart, of, flows, found)
    worth = worth_of(number, against, first.worth if first else None, money, workplace, tariff)
    return OptionTables(item.name, record, shear, brake, on, year, bought, spent, apart, of, flows, found, worth)
