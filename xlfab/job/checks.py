"""Checks that must read OK: can the machines do the work, and do the sums close."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.job.estimate import Job, MachineTables, OptionTables
from xlfab.job.feasibility import BRAKE_MARGINS, SHEAR_MARGINS
from xlfab.job.option import DIFFERENCE_COLUMNS
from xlfab.model import Table

NO_RESULT = "A row has no result: see the error values"
CLOSE = 1e-9  # relative: sums taken in two orders may differ by rounding only


def _within(value: Any, limit: Any, words: str) -> Any:
    return np.where(np.isfinite(value), np.where(value <= limit, "OK", words), NO_RESULT)


def _not_short(margin: Any, words: str) -> Any:
    return np.where(np.isfinite(margin), np.where(margin >= 0, "OK", words), NO_RESULT)


def _formula_holds(least: Any, most: Any, first: Any, last: Any) -> Any:
    words = "A die opening is outside the range for which the force formula is published"
    return np.where((least >= first) & (most <= last), "OK", words)


def _alike(first: Any, *others: Any) -> Any:
    alike: Any = others[0] == first
    for other in others[1:]:
        alike = alike & (other == first)
    return np.where(alike, "OK", "Some machines by lines and some by a share of the price")


def _equal(first: Any, second: Any) -> Any:
    gap = np.abs(first - second) <= CLOSE * (np.abs(first) + np.abs(second)) + 1e-9
    return np.where(gap, "OK", "The sums differ")


def margin_checks(t: Table, kind: str, feasible: Table) -> None:
    """The least margin of each kind over all steps on a machine, and what is wrong with it."""
    for column, words in (BRAKE_MARGINS if kind == "press_brake" else SHEAR_MARGINS).items():
        label = feasible.columns[column].label
        t.least(column, feasible[column], label=f"{label}, least")
        said = words[:1].upper() + words[1:]
        t.add(f"{column}_check", lambda value, said=said: _not_short(value, said), column, text=True, label=label)


def machine_checks(one: MachineTables, bend_data: Table, study: Table, electricity: Table) -> Table:
    """Checks of one machine against the work that is put on it: the least margin of each kind, and what is wrong with it."""
    t = Table.record(f"checks_{one.stated.name}", "Checks")
    margin_checks(t, one.kind, one.feasible)
    if one.kind == "press_brake":
        t.least("least_die_ratio", bend_data["die_ratio"], label="Die opening over thickness, least")
        t.peak("largest_die_ratio", bend_data["die_ratio"], label="Die opening over thickness, largest")
        holds = (study["force_holds_from_ratio"], study["force_holds_to_ratio"])
        both = ("least_die_ratio", "largest_die_ratio")
        t.add("die_check", _formula_holds, *both, *holds, text=True, label="Die opening within the force formula")
    t.add(
        "hours_check",
        lambda a, b: _within(a, b, "Overtime: more work than switched-on hours"),
        one.year["busy_h_per_year"],
        one.year["usable_h_per_year"],
        text=True,
        label="Busy hours against switched-on hours",
    )
    balance = electricity["balance"]
    t.add("balance_check", lambda said: said, balance, text=True, label=electricity.columns["balance"].label)
    return t


def option_checks(number: int, one: OptionTables, first: OptionTables, bill: Table) -> Table:
    """Sums of one option that must close."""
    t = Table.record(f"checks_option_{number}", "Checks")
    t.add(
        "energy_check",
        _equal,
        one.year["all_part_energy_kwh"],
        one.year["energy_kwh"],
        text=True,
        label="Electricity of all parts = electricity of the machines",
    )
    t.add("bill_check", lambda said: said, bill["bill_check"], text=True, label=bill.columns["bill_check"].label)
    if number == 1:
        return t
    causes = [one.difference[column] for column in DIFFERENCE_COLUMNS]
    t.add(
        "difference_check",
        lambda total, *items: _equal(sum(items[1:], items[0]), total),
        one.difference["running_cost_cur_per_year"],
        *causes,
        text=True,
        label="Differences by cause = difference of running cost",
    )
    t.add(
        "value_check",
        _equal,
        one.measures["net_present_value_cur"],
        one.measures["discounted_sum_cur"],
        text=True,
        label="Net present value = sum of discounted flows",
    )
    ways = [machine.stated["itemised_switch"] for option in (first, one) for machine in (option.shear, option.brake)]
    t.add("maintenance_check", _alike, *ways, text=True, label="Maintenance counted in one way with both options")
    return t


def overall(records: list[Table]) -> Table:
    """One cell that says whether every check reads OK."""
    t = Table.record("checks_all", "All checks")
    columns = [record[name] for record in records for name, column in record.columns.items() if column.unit is None]

    def all_ok(*items: Any) -> Any:
        good: Any = items[0] == "OK"
        for item in items[1:]:
            good = good & (item == "OK")
        return np.where(good, "OK", "See the Checks sheet")

    t.add("all_checks", all_ok, *columns, text=True, label="All checks")
    return t


def all_checks(job: Job, electricity: list[Table], bills: list[Table]) -> tuple[list[Table], list[Table], Table]:
    """Checks of every machine (with its electricity) and option (with its bill), and the overall one."""
    machines = [
        machine_checks(one, job.bend_data, job.study, power)
        for one, power in zip(job.machines, electricity, strict=True)
    ]
    pairs = zip(job.options, bills, strict=True)
    options = [option_checks(number, one, job.options[0], bill) for number, (one, bill) in enumerate(pairs, 1)]
    return machines, options, overall([*machines, *options])
