"""Yearly cash flows of a purchase."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

NEAR = (
    1e-9  # a running sum so near to zero, as a share of the amounts in it, has come back: flows do not add up exactly
)


@function("cash-flow")
def purchase_outlay_cur(
    machine_price_cur: Any,
    delivery_cur: Any,
    training_cur: Any,
    tooling_cur: Any,
    commissioning_cur: Any,
    trade_in_cur: Any,
    grant_cur: Any,
) -> Any:
    """What is paid at the start: price, delivery, training, tooling, commissioning, less trade-in and grant.

    Arguments: machine_price_cur [currency], delivery_cur [currency] with installation, training_cur [currency], tooling_cur [currency], commissioning_cur [currency], trade_in_cur [currency], grant_cur [currency].
    Returns: [currency].
    Holds: all paid in year 0; tax and grants are a matter for an accountant.
    Sources: cash-flow.

    >>> purchase_outlay_cur(150000, 4000, 2500, 3000, 1000, 20000, 0)
    140500.0
    """
    return machine_price_cur + delivery_cur + training_cur + tooling_cur + commissioning_cur - trade_in_cur - grant_cur


@function("cash-flow")
def escalated_cur(first_year_cur: Any, escalation_share: Any, year: Any) -> Any:
    """A yearly amount in a later year, growing by a rate from the first year on; nothing in year 0.

    Arguments: first_year_cur [currency], escalation_share [share] a year, year [year].
    Returns: [currency].
    Holds: amounts fall at the end of each year.
    Sources: cash-flow.

    >>> round(escalated_cur(1000, 0.03, 3), 2), escalated_cur(1000, 0.03, 0)
    (1060.9, 0.0)
    """
    return np.where(year > 0, first_year_cur * (1 + escalation_share) ** (year - 1), 0.0)


@function("cash-flow")
def amount_in_study_cur(first_year_cur: Any, escalation_share: Any, year: Any, study_years: Any) -> Any:
    """A yearly amount that grows from the first year on, within the years of the study; nothing in year 0 and after them.

    Arguments: first_year_cur [currency], escalation_share [share] a year, year [year], study_years [years].
    Returns: [currency].
    Holds: amounts fall at the end of each year.
    Sources: cash-flow.

    >>> round(amount_in_study_cur(1000, 0.03, 3, 10), 2), amount_in_study_cur(1000, 0.03, 11, 10)
    (1060.9, 0.0)
    """
    return np.where(year <= study_years, escalated_cur.formula(first_year_cur, escalation_share, year), 0.0)


@function("cash-flow")
def yearly_cash_flow_cur(
    labour_saving_cur: Any,
    energy_saving_cur: Any,
    maintenance_saving_cur: Any,
    scrap_saving_cur: Any,
    outlay_cur: Any,
    salvage_cur: Any,
    year: Any,
    study_years: Any,
) -> Any:
    """Cash flow of one year: the outlay in year 0, savings after that, and the salvage value in the last year.

    Arguments: labour_saving_cur [currency], energy_saving_cur [currency], maintenance_saving_cur [currency], scrap_saving_cur [currency], outlay_cur [currency], salvage_cur [currency], year [year], study_years [years].
    Returns: [currency].
    Holds: before tax and finance; nothing after the last year of the study.
    Sources: cash-flow.

    >>> yearly_cash_flow_cur(0, 0, 0, 0, 136500, 10000, 0, 10)
    -136500.0
    >>> yearly_cash_flow_cur(20000, 900, 500, 0, 136500, 10000, 10, 10)
    31400.0
    """
    savings = labour_saving_cur + energy_saving_cur + maintenance_saving_cur + scrap_saving_cur
    first = np.where(year > 0, savings, -outlay_cur)
    flow = first + np.where(year >= study_years, salvage_cur, 0.0)
    return np.where(year > study_years, 0.0, flow)


@function("cash-flow")
def present_value_cur(future_cur: Any, discount_rate_share: Any, year: Any) -> Any:
    """Today's value of an amount that falls at the end of a year; year 0 is today.

    Arguments: future_cur [currency], discount_rate_share [share] a year, year [year].
    Returns: [currency].
    Holds: yearly compounding.
    Sources: cash-flow.

    >>> round(present_value_cur(1210, 0.1, 2), 6)
    1000.0
    """
    return future_cur / (1 + discount_rate_share) ** year


@function("payback")
def payback_step_years(cumulative_before_cur: Any, flow_cur: Any) -> Any:
    """How much of a year still runs before the money is back: 1, a part of a year, or 0.

    Arguments: cumulative_before_cur [currency] at the start of the year, flow_cur [currency] of the year.
    Returns: [years].
    Holds: the flow of a year comes evenly; the steps of all years add up to the payback time, if it is paid back at all.
    Sources: payback.

    >>> payback_step_years(-500, 2000), payback_step_years(-5000, 2000), payback_step_years(100, 2000)
    (0.25, 1.0, 0.0)
    """
    paid_in_year = cumulative_before_cur + flow_cur >= -NEAR * np.maximum(flow_cur, 1.0)
    step = np.where(paid_in_year, -cumulative_before_cur / np.where(flow_cur > 0, flow_cur, 1.0), 1.0)
    return np.where(cumulative_before_cur < 0, step, 0.0)


@function("payback")
def flow_within_cur(flow_cur: Any, year: Any, target_payback_years: Any) -> Any:
    """The part of a year's flow that comes before a target time; all of what is paid today.

    Arguments: flow_cur [currency] of the year, year [year], target_payback_years [years].
    Returns: [currency].
    Holds: the flow of a year comes evenly; all years together are what is back, or still out, at the target.
    Sources: payback.

    >>> flow_within_cur(-500, 0, 2.5), flow_within_cur(400, 2, 2.5), flow_within_cur(400, 3, 2.5), flow_within_cur(400, 4, 2.5)
    (-500.0, 400.0, 200.0, 0.0)
    """
    part = np.maximum(np.minimum(target_payback_years - (year - 1), 1.0), 0.0)
    return np.where(year > 0, flow_cur * part, flow_cur)


@function("released-hours", domain="the shares of released hours add up to more than 1")
def released_labour_value_cur(
    labour_before_cur_per_year: Any,
    labour_after_cur_per_year: Any,
    labour_rate_cur_per_h: Any,
    released_value_share: Any,
    overtime_share: Any,
    overtime_rate_cur_per_h: Any,
    outside_work_share: Any,
    outside_work_cur_per_h: Any,
) -> Any:
    """What a change of labour is worth: all of an increase; of released hours only what the owner states to use, and how.

    Arguments: labour_before_cur_per_year [currency/year], labour_after_cur_per_year [currency/year], labour_rate_cur_per_h [currency/h], released_value_share [share] of the hours no longer paid, overtime_share [share] of them that were overtime, overtime_rate_cur_per_h [currency/h], outside_work_share [share] of them filled with work bought outside, outside_work_cur_per_h [currency/h].
    Returns: [currency] in the first year.
    Holds: the rest of the released hours is worth nothing: wages go on.
    Sources: released-hours.

    >>> released_labour_value_cur(50000, 40000, 25, 0.5, 0, 0, 0, 0), released_labour_value_cur(40000, 50000, 25, 0.5, 0, 0, 0, 0)
    (5000.0, -10000.0)
    >>> released_labour_value_cur(50000, 40000, 25, 0, 0.25, 40, 0.5, 55)
    15000.0
    """
    saved = labour_before_cur_per_year - labour_after_cur_per_year
    used = released_value_share + overtime_share + outside_work_share
    worth = (
        released_value_share * labour_rate_cur_per_h
        + overtime_share * overtime_rate_cur_per_h
        + outside_work_share * outside_work_cur_per_h
    )
    value = np.where(used <= 1 + 1e-12, saved / labour_rate_cur_per_h * worth, np.nan)
    return np.where(saved > 0, value, saved)


@function("payback", domain="the outlay does not come back within the years of the study, or there is none")
def payback_if_reached_years(payback_steps_years: Any, final_sum_cur: Any, outlay_cur: Any) -> Any:
    """Payback time from the sum of its yearly steps, if the money has come back by the end of the study.

    Arguments: payback_steps_years [years] sum of payback_step_years, final_sum_cur [currency] of all flows, outlay_cur [currency].
    Returns: [years].
    Holds: no result where nothing is paid or where the sum stays below zero. Leave salvage out of the flows.
    Sources: payback.

    >>> payback_if_reached_years(4.5, 2000, 10000)
    4.5
    """
    reached = (final_sum_cur >= -NEAR * outlay_cur) & (outlay_cur > 0)
    return np.where(reached, payback_steps_years, np.nan)


@function("cash-flow")
def combined_escalation_share(growth_share: Any, escalation_share: Any) -> Any:
    """Yearly growth of an amount when its quantity and its price both grow.

    Arguments: growth_share [share] a year of the quantity, escalation_share [share] a year of the price.
    Returns: [share] a year.
    Holds: both compound.
    Sources: cash-flow.

    >>> round(combined_escalation_share(0.05, 0.03), 6)
    0.0815
    """
    return (1 + growth_share) * (1 + escalation_share) - 1
