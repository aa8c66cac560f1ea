"""What an option changes against the first one: yearly difference by cause, cash flows, measures."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS, UPKEEP
from xlfab.tables.table import Ref, Rows, Table

RELEASED = (
    "released_value_share",
    "overtime_share",
    "overtime_rate_cur_per_h",
    "outside_work_share",
    "outside_work_cur_per_h",
)
LAST_YEAR = 30  # rows of the cash-flow sheet; the years of the study are an input and end it earlier


def difference(number: int, first: Table, other: Table) -> Table:
    """Yearly saving by cause (positive: the option costs less) and of the mean part."""
    t = Table.record(f"difference_{number}", f"Option {number} against option 1")
    for column in DIFFERENCE_COLUMNS:
        t.difference(column, first[column], other[column], label=first.columns[column].label)
    for column in (
        "running_cost_cur_per_year",
        "labour_cost_cur_per_year",
        "energy_kwh",
        "co2_kg_per_year",
        "mean_part_time_s",
        "mean_setup_part_s",
        "mean_part_energy_kwh",
        "mean_part_cost_cur",
    ):
        t.difference(column, first[column], other[column], label=first.columns[column].label)
    return t


def outlay_of(number: int, option: Table, bought: list[Table]) -> Table:
    """What an option costs at the start, and what its bought machines are worth at the end."""
    t = Table.record(f"outlay_of_{number}", f"Outlay, option {number}")
    for column in ("machine_price_cur", "salvage_cur"):
        refs = [machine[column] for machine in bought]
        label = "Price of machines bought" if column == "machine_price_cur" else "Salvage value of machines bought"
        t.add(column, _sum, *refs, label=label) if refs else t.add(column, lambda: 0.0, label=label)
    extras = ("delivery_cur", "training_cur", "tooling_cur", "commissioning_cur", "trade_in_cur", "grant_cur")
    t.add("outlay_cur", F["purchase_outlay_cur"], "machine_price_cur", *(option[key] for key in extras))
    return t


def purchase_of(
    number: int, spent: Table, spent_first: Table, first: Table, other: Table, purchase: Table, rate: Table
) -> Table:
    """What is paid beyond the first option's own outlay, value of the first year's savings, salvage."""
    t = Table.record(f"purchase_of_{number}", f"Purchase, option {number}")
    t.difference(
        "outlay_cur",
        spent["outlay_cur"],
        spent_first["outlay_cur"],
        label="Extra investment",
    )
    t.difference(
        "salvage_cur",
        spent["salvage_cur"],
        spent_first["salvage_cur"],
        label="Extra salvage value",
    )
    labour = (first["labour_cost_cur_per_year"], other["labour_cost_cur_per_year"])
    t.add(
        "labour_saving_cur",
        F["released_labour_value_cur"],
        *labour,
        rate["labour_rate_cur_per_h"],
        *(purchase[key] for key in RELEASED),
        label="Cash savings from labour, year 1",
    )
    growth = (purchase["growth_share"], purchase["wage_escalation_share"])
    t.add("labour_escalation_share", F["combined_escalation_share"], *growth, label="Labour saving, growth a year")
    for what, columns, word in (
        ("energy", ("electricity_cost_cur_per_year",), "Electricity"),
        ("upkeep", UPKEEP[1:], "Upkeep"),
        ("scrap", UPKEEP[:1], "Scrap"),
    ):
        both = [year[column] for column in columns for year in (first, other)]
        t.add(f"{what}_saving_cur", _less, *both, label=f"{word} saving, first year")
    t.sum(
        "yearly_saving_cur",
        "labour_saving_cur",
        "energy_saving_cur",
        "upkeep_saving_cur",
        "scrap_saving_cur",
        label="Cash savings, year 1",
    )
    return t


def _less(*pairs: Any) -> Any:
    """The sum of what each pair falls by."""
    saved = pairs[0] - pairs[1]
    for first, other in zip(pairs[2::2], pairs[3::2], strict=True):
        saved = saved + (first - other)
    return saved


def _sum(*values: Any) -> Any:
    total = values[0]
    for value in values[1:]:
        total = total + value
    return total


def cash_flow(number: int, of: Table, purchase: Table, rows: Rows) -> Table:
    """One row a year: savings, flow, running sums, and how much of each year the payback takes."""
    t = Table(f"cash_flow_{number}", f"Cash flow, option {number}", rows)
    t.fix("year", np.arange(LAST_YEAR + 1.0))
    rates = {
        "labour": of["labour_escalation_share"],
        "energy": purchase["energy_escalation_share"],
        "upkeep": purchase["wage_escalation_share"],
        "scrap": purchase["growth_share"],
    }
    for what, rate in rates.items():
        label = f"{'Electricity' if what == 'energy' else what.capitalize()} saving"
        grown = (of[f"{what}_saving_cur"], rate, "year", purchase["study_years"])
        t.add(f"{what}_saving_cur", F["amount_in_study_cur"], *grown, label=label)
    savings = tuple(f"{what}_saving_cur" for what in rates)
    t.add(
        "flow_cur",
        F["yearly_cash_flow_cur"],
        *savings,
        of["outlay_cur"],
        of["salvage_cur"],
        "year",
        purchase["study_years"],
        label="Cash flow",
    )
    t.add(
        "discounted_cur",
        F["present_value_cur"],
        "flow_cur",
        purchase["discount_rate_share"],
        "year",
        label="Discounted flow",
    )
    for what in rates:
        worth = (f"{what}_saving_cur", purchase["discount_rate_share"], "year")
        label = f"{t.columns[f'{what}_saving_cur'].label}, discounted"
        t.add(f"discounted_{what}_cur", F["present_value_cur"], *worth, label=label)
    t.add("discounted_in_cur", lambda flow: np.maximum(flow, 0.0), "discounted_cur", label="Discounted flow in")
    t.add("discounted_out_cur", lambda flow: np.maximum(-flow, 0.0), "discounted_cur", label="Discounted flow out")
    back: tuple[str | Ref | float, ...] = (*savings, of["outlay_cur"], 0.0, "year", purchase["study_years"])
    t.add("back_cur", F["yearly_cash_flow_cur"], *back, label="Outlay and savings, without salvage")
    worth = ("back_cur", purchase["discount_rate_share"], "year")
    t.add("discounted_back_cur", F["present_value_cur"], *worth, label="Outlay and savings, discounted")
    target = ("back_cur", "year", purchase["target_payback_years"])
    t.add("in_target_cur", F["flow_within_cur"], *target, label="Outlay and savings up to the wanted payback")
    for kind, flow in (("simple", "back_cur"), ("discounted", "discounted_back_cur")):
        word = "" if kind == "simple" else ", discounted"
        t.running(f"{kind}_before_cur", flow, before=True, label=f"Still out before the year{word}")
        t.running(f"{kind}_sum_cur", flow, label=f"Still out after the year{word}")
        t.add(
            f"{kind}_step_years",
            F["payback_step_years"],
            f"{kind}_before_cur",
            flow,
            label=f"Part of the year to payback{word}",
        )
    return t
