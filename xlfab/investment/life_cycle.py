"""Life-cycle measures: present-value factors, equal yearly cost of unequal lives, savings against investment.

The last two are the measures of United States federal energy purchases (10 CFR 436, NIST Handbook 135).
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("nist-handbook-135")
def uniform_present_value_ratio(discount_rate_share: Any, study_years: Any) -> Any:
    """Present value of one unit of money at the end of each year.

    The sum of v + v² + ... + v^n with v = 1/(1+i) is v (1 - v^n)/(1 - v) = (1 - (1+i)^-n)/i. Source: NIST Handbook 135, table of factors.

    Arguments: discount_rate_share [share] a year, study_years [years].
    Returns: [ratio].
    Holds: same amount each year; without discounting it is the number of years.
    Sources: nist-handbook-135.

    >>> round(uniform_present_value_ratio(0.03, 15), 2), uniform_present_value_ratio(0, 15)
    (11.94, 15.0)
    """
    rate = np.where(discount_rate_share == 0, 1.0, discount_rate_share)
    return np.where(discount_rate_share == 0, study_years, (1 - (1 + rate) ** (-study_years)) / rate)


@function("nist-handbook-135")
def modified_uniform_present_value_ratio(discount_rate_share: Any, escalation_share: Any, study_years: Any) -> Any:
    """Present value of a yearly amount that costs one unit at today's price and escalates each year.

    Arguments: discount_rate_share [share] a year, escalation_share [share] a year, study_years [years].
    Returns: [ratio].
    Holds: the first year's amount has already escalated once.
    Sources: nist-handbook-135.

    >>> round(modified_uniform_present_value_ratio(0.1, 0.05, 2), 6), modified_uniform_present_value_ratio(0.05, 0.05, 10)
    (1.865702, 10.0)
    """
    same = discount_rate_share == escalation_share
    step = (1 + escalation_share) / (1 + discount_rate_share)
    gap = np.where(same, 1.0, discount_rate_share - escalation_share)
    return np.where(same, study_years, (1 + escalation_share) / gap * (1 - step**study_years))


@function("annual-equivalent")
def capital_recovery_ratio(discount_rate_share: Any, study_years: Any) -> Any:
    """Equal amount at the end of each year that pays back one unit of money with interest.

    Arguments: discount_rate_share [share] a year, study_years [years].
    Returns: [ratio].
    Holds: the inverse of the uniform present value.
    Sources: annual-equivalent.

    >>> round(200000 * capital_recovery_ratio(0.1, 20), 2)
    23491.92
    """
    return 1 / uniform_present_value_ratio.formula(discount_rate_share, study_years)


@function("annual-equivalent")
def annuity_cur_per_year(amount_today_cur: Any, discount_rate_share: Any, life_years: Any) -> Any:
    """Annuity: equal amounts at the end of each year that are together worth an amount today.

    Arguments: amount_today_cur [currency], discount_rate_share [share] a year, life_years [years].
    Returns: [currency/year].
    Holds: for an amount in a later year, take its present_value_cur first.
    Sources: annual-equivalent.

    >>> round(annuity_cur_per_year(307.63, 0.11, 2), 2)
    179.64
    """
    return amount_today_cur * capital_recovery_ratio.formula(discount_rate_share, life_years)


@function("annual-equivalent")
def equivalent_annual_cost_cur_per_year(
    outlay_cur: Any, salvage_cur: Any, yearly_cost_cur_per_year: Any, discount_rate_share: Any, life_years: Any
) -> Any:
    """Equivalent annual cost of a machine: capital recovery, less what its salvage value is worth, plus its yearly cost.

    With P the outlay, S the salvage value after n years and i the rate, the capital costs (P - S/(1+i)^n) today. Spread over n years by
    the capital recovery factor A = i / (1 - (1+i)^-n), and with S A/(1+i)^n = S (A - i), that is (P - S) A + S i a year. The yearly cost
    comes on top. Source: R. Panneerselvam, Engineering Economics, ch. 6.

    Arguments: outlay_cur [currency], salvage_cur [currency], yearly_cost_cur_per_year [currency/year], discount_rate_share [share] a year, life_years [years].
    Returns: [currency/year].
    Holds: the same yearly cost each year; replaced by its like at the end of its life.
    Sources: annual-equivalent.

    >>> round(equivalent_annual_cost_cur_per_year(120000, 25000, 25000, 0.12, 6), 3)
    51106.443
    """
    recovery = capital_recovery_ratio.formula(discount_rate_share, life_years)
    return (outlay_cur - salvage_cur) * recovery + salvage_cur * discount_rate_share + yearly_cost_cur_per_year


@function("federal-life-cycle", domain="no ratio: nothing more is invested than without the purchase")
def savings_to_investment_ratio(savings_present_value_cur: Any, investment_present_value_cur: Any) -> Any:
    """Savings-to-investment ratio: present value of yearly savings over present value of what more is invested.

    Arguments: savings_present_value_cur [currency], investment_present_value_cur [currency] with replacements, less salvage.
    Returns: [ratio].
    Holds: above 1 the purchase costs less over the study than going without it.
    Sources: federal-life-cycle.

    >>> savings_to_investment_ratio(250, 100)
    2.5
    """
    ratio = savings_present_value_cur / investment_present_value_cur
    return np.where(investment_present_value_cur > 0, ratio, np.nan)


@function("federal-life-cycle", domain="no rate: the savings are worth nothing or less")
def adjusted_internal_rate_share(savings_to_investment_ratio: Any, discount_rate_share: Any, study_years: Any) -> Any:
    """Adjusted internal rate of return: savings reinvested at the discount rate until the end of the study.

    Arguments: savings_to_investment_ratio [ratio], discount_rate_share [share] a year, study_years [years].
    Returns: [share] a year.
    Holds: above the discount rate the purchase pays.
    Sources: federal-life-cycle.

    >>> round(adjusted_internal_rate_share(2.5, 0.05, 10), 6)
    0.150756
    """
    ratio = np.where(savings_to_investment_ratio > 0, savings_to_investment_ratio, np.nan)
    return (1 + discount_rate_share) * ratio ** (1 / study_years) - 1


@function("real-rate")
def real_rate_share(discount_rate_share: Any, inflation_share: Any) -> Any:
    """Discount rate without inflation, for flows in today's money.

    Arguments: discount_rate_share [share] a year with inflation, inflation_share [share] a year.
    Returns: [share] a year.
    Holds: use it with flows that leave inflation out, and the full rate with flows that hold it.
    Sources: real-rate.

    >>> round(real_rate_share(0.071, 0.02), 6)
    0.05
    """
    return (1 + discount_rate_share) / (1 + inflation_share) - 1


@function("annual-equivalent", domain="no part is made in the year")
def cost_of_a_part_cur(yearly_cost_cur_per_year: Any, yearly_quantity_count: Any) -> Any:
    """A year's cost, capital included, over the parts of the year: what a part costs at the volume that the shop has.

    Arguments: yearly_cost_cur_per_year [currency/year] as an equal yearly cost, yearly_quantity_count [count].
    Returns: [currency] a part.
    Holds: at another volume the capital is spread over other parts, so it is no price to quote from.
    Sources: annual-equivalent.

    >>> cost_of_a_part_cur(51000, 8500)
    6.0
    """
    return yearly_cost_cur_per_year / yearly_quantity_count
