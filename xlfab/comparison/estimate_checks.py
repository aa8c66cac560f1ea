"""Checks that must read OK: can the machines do the work, and do the sums close."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.comparison.estimate import Job, MachineTables, OptionTables
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.tables.table import Table
from xlfab.trace.expression import joined, said
from xlfab.work.step_checks import NO_RESULT, overall, work_check

CLOSE = 1e-9  # relative: sums taken in two orders may differ by rounding only


def _fits(busy: Any, usable: Any, extra: Any) -> Any:
    words = joined("needs ", said(busy), " h a year, ", said(usable + extra), " h exist")
    return np.where(np.isfinite(busy), np.where(busy <= (usable + extra) * (1 + CLOSE), "OK", words), NO_RESULT)


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


def machine_checks(one: MachineTables, job: Job, electricity: Table) -> Table:
    """Checks of one machine against the work that is put on it: the least margin of each kind, and what is wrong with it."""
    t = Table.record(f"checks_{one.stated.name}", "Checks")
    work_check(t, one.kind, one.feasible, job.scenario.units)
    bend_data, study, workplace = job.bend_data, job.study, job.workplace
    if one.kind == "press_brake":
        t.least("least_die_ratio", bend_data["die_ratio"], label="Die opening over thickness, least")
        t.peak("largest_die_ratio", bend_data["die_ratio"], label="Die opening over thickness, largest")
        holds = (study["force_holds_from_ratio"], study["force_holds_to_ratio"])
        both = ("least_die_ratio", "largest_die_ratio")
        t.add("die_check", _formula_holds, *both, *holds, text=True, label="Die opening within the force formula")
    hours = (one.year["busy_h_per_year"], one.year["usable_h_per_year"], workplace["extra_h_per_year"])
    t.add("hours_check", _fits, *hours, text=True, label="Busy hours against the hours that exist")
    balance = electricity["balance"]
    t.copy("balance_check", balance, label=electricity.columns["balance"].label)
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
    t.copy("bill_check", bill["bill_check"], label=bill.columns["bill_check"].label)
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


def all_checks(job: Job, electricity: list[Table], bills: list[Table]) -> tuple[list[Table], list[Table], Table]:
    """Checks of every machine (with its electricity) and option (with its bill), and the overall one."""
    machines = [machine_checks(one, job, power) for one, power in zip(job.machines, electricity, strict=True)]
    pairs = zip(job.options, bills, strict=True)
    options = [option_checks(number, one, job.options[0], bill) for number, (one, bill) in enumerate(pairs, 1)]
    owners = [str(one.stated.value("name")[0]) for one in job.machines] + [one.name for one in job.options]
    return machines, options, overall([*machines, *options], owners)
