"""Checks that must read OK: can the machines do the work, and do the sums close."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.job.estimate import Job, MachineTables, OptionTables
from xlfab.job.option import DIFFERENCE_COLUMNS
from xlfab.model import Table

CLOSE = 1e-9  # relative: sums taken in two orders may differ by rounding only


def _within(value: Any, limit: Any, words: str) -> Any:
    return np.where(
        np.isfinite(value), np.where(value <= limit, "OK", words), "A row has no result: see the error values"
    )


def _equal(first: Any, second: Any) -> Any:
    gap = np.abs(first - second) <= CLOSE * (np.abs(first) + np.abs(second)) + 1e-9
    return np.where(gap, "OK", "The sums differ")


def machine_checks(one: MachineTables, bends: Table, bend_data: Table, cuts: Table, part_list: Table) -> Table:
    """Checks of one machine against the work that is put on it."""
    t = Table.record(f"checks_{one.stated.name}", "Checks")
    m = one.stated
    if one.kind == "press_brake":
        t.peak("force_kn", bend_data["bend_force_kn"], label="Largest bending force")
        t.add(
            "force_check",
            lambda a, b: _within(a, b, "Force above the machine's rating"),
            "force_kn",
            m["rated_force_kn"],
            text=True,
            label="Force against the machine",
        )
        t.peak("longest_mm", bends["bend_length_mm"], label="Longest bend")
        t.add(
            "length_check",
            lambda a, b: _within(a, b, "A bend is longer than the machine"),
            "longest_mm",
            m["working_length_mm"],
            text=True,
            label="Length against the machine",
        )
    else:
        t.peak("thickest_mm", part_list["thickness_mm"], label="Thickest sheet")
        t.add(
            "thickness_check",
            lambda a, b: _within(a, b, "Sheet thicker than the shear's capacity"),
            "thickest_mm",
            m["shear_capacity_mm"],
            text=True,
            label="Thickness against the shear",
        )
        t.peak("longest_mm", cuts["cut_length_mm"], label="Longest cut")
        t.add(
            "length_check",
            lambda a, b: _within(a, b, "A cut is longer than the blade"),
            "longest_mm",
            m["blade_length_mm"],
            text=True,
            label="Length against the shear",
        )
    t.add(
        "hours_check",
        lambda a, b: _within(a, b, "Overtime: more work than switched-on hours"),
        one.year["busy_h_per_year"],
        m["powered_h_per_year"],
        text=True,
        label="Busy hours against switched-on hours",
    )
    return t


def option_checks(number: int, one: OptionTables) -> Table:
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


def all_checks(job: Job) -> tuple[list[Table], list[Table], Table]:
    """Checks of every machine and option, and the overall one."""
    lists = (job.bends, job.bend_data, job.cuts, job.part_list)
    machines = [machine_checks(one, *lists) for one in job.machines]
    options = [option_checks(number, one) for number, one in enumerate(job.options, 1)]
    return machines, options, overall([*machines, *options])
