"""Measures of an option's purchase against the first option, and where its break-even lies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table
from xlfab.trace.expression import number_or


@dataclass(frozen=True)
class Owned:
    """The machines of an option as stated: those it buys, those it keeps, and those of the first option that go."""

    bought: list[Table]
    kept: list[Table]
    gone: list[Table]


def measures(number: int, of: Table, flows: Table, purchase: Table) -> Table:
    """Net present value, rates of return, paybacks, savings against investment: before tax and finance."""
    t = Table.record(f"measures_{number}", f"Measures, option {number}")
    rate, years = purchase["discount_rate_share"], purchase["study_years"]
    t.over("net_present_value_cur", F["net_present_value_now_cur"], rate, flows["flow_cur"], label="Net present value")
    t.total("flows_sum_cur", flows["flow_cur"], label="Sum of all flows")
    t.total("discounted_sum_cur", flows["discounted_cur"], label="Sum of discounted flows")
    t.over("internal_rate_share", F["internal_rate_share"], flows["flow_cur"], label="Internal rate of return")
    t.total("back_sum_cur", flows["back_cur"], label="Savings less outlay, without salvage")
    t.total("discounted_back_sum_cur", flows["discounted_back_cur"], label="The same, discounted")
    t.total("in_target_cur", flows["in_target_cur"], label="Savings less outlay at the wanted payback")
    for kind, total in (("simple", "back_sum_cur"), ("discounted", "discounted_back_sum_cur")):
        label = "Simple payback" if kind == "simple" else "Discounted payback"
        t.total(f"{kind}_steps_years", flows[f"{kind}_step_years"], label=f"{label}, sum of steps")
        steps = (f"{kind}_steps_years", total, of["outlay_cur"])
        t.add(f"{kind}_payback_years", F["payback_if_reached_years"], *steps, label=label)
    kinds = ("labour", "energy", "upkeep", "scrap")
    for what in kinds:
        label = flows.columns[f"{what}_saving_cur"].label
        t.total(f"{what}_present_value_cur", flows[f"discounted_{what}_cur"], label=f"{label}, present value")
    parts = tuple(f"{what}_present_value_cur" for what in kinds)
    t.sum("savings_present_value_cur", *parts)
    t.difference(
        "investment_present_value_cur",
        "savings_present_value_cur",
        "net_present_value_cur",
        label="Present value of the investment, less salvage",
    )
    t.add(
        "savings_to_investment_ratio",
        F["savings_to_investment_ratio"],
        "savings_present_value_cur",
        "investment_present_value_cur",
    )
    t.add("adjusted_internal_rate_share", F["adjusted_internal_rate_share"], "savings_to_investment_ratio", rate, years)
    t.total("inflow_present_value_cur", flows["discounted_in_cur"], label="Present value of all flows in")
    t.total("outflow_present_value_cur", flows["discounted_out_cur"], label="Present value of all flows out")
    both = ("inflow_present_value_cur", "outflow_present_value_cur")
    t.add("inflow_outflow_ratio", F["savings_to_investment_ratio"], *both, label="Flows in over flows out")
    t.add(
        "modified_internal_rate_share",
        F["adjusted_internal_rate_share"],
        "inflow_outflow_ratio",
        rate,
        years,
        label="Modified internal rate (financed and reinvested at the discount rate)",
    )
    return t


def equal_yearly_cost(number: int, option: Table, owned: Owned, year: Table, purchase: Table) -> Table:
    """The option's cost as an equal amount a year, capital and running cost, and the same for a part of the year.

    Each bought machine over its own life, replaced by its like. A kept machine costs what its resale value now falls by over the study,
    with interest. What a machine that goes would bring is money of today, as the trade-in is.
    """
    t = Table.record(f"equal_yearly_cost_{number}", f"Equal yearly cost, option {number}")
    rate, study = purchase["discount_rate_share"], purchase["study_years"]
    terms = _owned(t, owned, rate, study)
    keys = ("delivery_cur", "training_cur", "tooling_cur", "commissioning_cur", "trade_in_cur", "grant_cur")
    label = "Delivery, training, tooling, commissioning less trade-in and grant"
    t.add("once_cur", F["purchase_outlay_cur"], 0.0, *(option[key] for key in keys), label=label)
    goes: tuple[str | Ref, ...] = ("once_cur", *(machine["resale_now_cur"] for machine in owned.gone))
    label = "With the resale value of what goes, which keeping it would cost"
    t.sum("once_and_gone_cur", *goes, label=label)
    spread = ("once_and_gone_cur", rate, study)
    t.add("once_cur_per_year", F["annuity_cur_per_year"], *spread, label="The same over the study")
    running = year["running_cost_cur_per_year"]
    t.copy("running_cost_cur_per_year", running, label="Running cost a year")
    lines = (*terms, "once_cur_per_year", "running_cost_cur_per_year")
    total = "equal_yearly_cost_cur_per_year"
    t.sum(total, *lines, label="Equal yearly cost")
    parts = (total, year["quantity_count"])
    t.add("equal_part_cost_cur", F["cost_of_a_part_cur"], *parts, label="Cost a part, capital included")
    words = (lambda cost: number_or(cost, "no parts made"), "equal_part_cost_cur")
    t.add("shown_part_cost_cur", *words, label="Cost a part, capital included, no material")
    return t


def _owned(t: Table, owned: Owned, rate: Ref, study: Ref) -> list[str]:
    """What the machines that an option buys and keeps cost a year."""
    terms = []
    for place, machine in enumerate(owned.bought, 1):
        name = f"machine_{place}_cur_per_year"
        own = (machine["machine_price_cur"], machine["salvage_cur"], 0.0, rate, machine["life_years"])
        t.add(name, F["equivalent_annual_cost_cur_per_year"], *own, label=f"Bought machine {place}, over its own life")
        terms.append(name)
    for place, machine in enumerate(owned.kept, 1):
        end = f"kept_{place}_end_cur"
        values = (machine["salvage_cur"], machine["resale_now_cur"])
        t.add(end, np.minimum, *values, label=f"Kept machine {place}, worth at the end")
        kept = (machine["resale_now_cur"], end, 0.0, rate, study)
        name = f"kept_{place}_cur_per_year"
        t.add(
            name, F["equivalent_annual_cost_cur_per_year"], *kept, label=f"Kept machine {place}, what keeping it costs"
        )
        terms.append(name)
    return terms


def moving_electricity(number: int, year: Table) -> Table:
    """The part of a machine's electricity cost that grows with the work: what waiting falls by is taken off."""
    t = Table.record(f"moving_{year.name}", f"Energy that depends on output, {year.title.lower()}")
    t.add(
        "moving_energy_kwh",
        lambda ready, work, lift, busy, waiting, waiting_h: (
            ready + work + lift - busy * np.where(waiting_h > 0, waiting / np.where(waiting_h > 0, waiting_h, 1.0), 0.0)
        ),
        *(year[key] for key in ("ready_energy_kwh", "work_energy_kwh", "lift_energy_kwh", "busy_h_per_year")),
        year["gap_energy_kwh"],
        year["waiting_h_per_year"],
        label="Energy that depends on output",
    )
    t.add(
        "moving_cost_cur_per_year",
        lambda moving, whole, energy, demand: (energy + demand) * moving / np.where(whole > 0, whole, 1.0),
        "moving_energy_kwh",
        year["energy_kwh"],
        year["energy_cost_cur_per_year"],
        year["demand_cost_cur_per_year"],
        label="Its cost with demand charge",
    )
    return t


def break_even(
    number: int, found: Table, of: Table, apart: Table, moving: tuple[Table, ...], shop: tuple[Table, ...]
) -> Table:
    """Where the net present value is zero, in each assumption alone: closed forms, for it is linear in each."""
    workplace, tariff, terms, year, rate = shop
    t = Table.record(f"break_even_{number}", f"Break-even, option {number}")
    worth = found["net_present_value_cur"]
    t.add(
        "moving_saving_cur",
        lambda first_shear, first_brake, shear, brake: first_shear + first_brake - shear - brake,
        *(table["moving_cost_cur_per_year"] for table in moving),
        label="Electricity saving that moves with the parts, first year",
    )
    t.add(
        "moving_share_ratio",
        lambda part, whole: np.where(whole == 0, 0.0, part / np.where(whole == 0, 1.0, whole)),
        "moving_saving_cur",
        of["energy_saving_cur"],
        label="Its share of the electricity saving",
    )
    t.add(
        "parts_present_value_cur",
        lambda labour, scrap, energy, ratio: labour + scrap + energy * ratio,
        found["labour_present_value_cur"],
        found["scrap_present_value_cur"],
        found["energy_present_value_cur"],
        "moving_share_ratio",
        label="Part of the worth that moves with the parts",
    )
    t.add(
        "wage_part_ratio",
        lambda paid, price, share, price_over, share_out, price_out: (
            paid * price / np.maximum(paid * price + share * price_over + share_out * price_out, 1e-12)
        ),
        terms["released_value_share"],
        rate["labour_rate_cur_per_h"],
        *(terms[key] for key in ("overtime_share", "overtime_rate_cur_per_h")),
        *(terms[key] for key in ("outside_work_share", "outside_work_cur_per_h")),
        label="Share of the labour saving that moves with the wage",
    )
    t.add(
        "price_part_ratio",
        lambda whole, demand: np.where(whole == 0, 0.0, 1 - demand / np.where(whole == 0, 1.0, whole)),
        of["energy_saving_cur"],
        apart["demand_cost_cur_per_year"],
        label="Share of the electricity saving that moves with the energy price",
    )
    for what, ratio in (("labour", "wage_part_ratio"), ("energy", "price_part_ratio")):
        whole = found[f"{what}_present_value_cur"]
        label = f"Part of the worth that moves with the {'wage' if what == 'labour' else 'energy price'}"
        t.times(f"{what}_moving_present_value_cur", whole, ratio, label=label)
    lines = (
        ("parts", "parts_present_value_cur", year["quantity_count"], "quantity_count", "Yearly parts"),
        ("wage", "labour_moving_present_value_cur", workplace["wage_cur_per_h"], "wage_cur_per_h", "Wage"),
        ("energy", "energy_moving_present_value_cur", tariff[f"mean_{_PRICE}"], _PRICE, "Mean energy price"),
    )
    for what, part, now, column, label in lines:
        t.add(f"{what}_ratio", F["break_even_ratio"], worth, part, label=f"{label}, factor to break-even")
        t.times(f"break_even_{column}", now, f"{what}_ratio", label=f"{label} at break-even")
    t.add(
        "break_even_price_difference_cur",
        F["break_even_price_difference_cur"],
        of["outlay_cur"],
        worth,
        label="Extra investment at break-even",
    )
    return t


_PRICE = "energy_price_cur_per_kwh"
