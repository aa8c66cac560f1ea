"""Break-even: what an assumption would have to be for the purchase to change nothing.

Net present value is linear in yearly parts, wage, energy price and price, so that the point follows in closed form
from the part of it that moves with the assumption.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("break-even", domain="no break-even: the dearer option saves nothing on each part, or costs less anyway")
def break_even_quantity_count(
    extra_fixed_cost_cur_per_year: Any, unit_cost_first_cur: Any, unit_cost_second_cur: Any
) -> Any:
    """Yearly parts at which an option with more fixed cost and less cost on each part costs the same as the first.

    Arguments: extra_fixed_cost_cur_per_year [currency/year] of the second option, unit_cost_first_cur [currency] a part, unit_cost_second_cur [currency] a part.
    Returns: [count] a year.
    Holds: cost on each part does not change with quantity, and lots grow in number and not in size.
    Sources: break-even.

    >>> break_even_quantity_count(2000000, 200, 100)
    20000.0
    """
    saved = unit_cost_first_cur - unit_cost_second_cur
    exists = (saved > 0) & (extra_fixed_cost_cur_per_year >= 0)
    return np.where(exists, extra_fixed_cost_cur_per_year / saved, np.nan)


@function(
    "break-even-linear", domain="no break-even: no positive value of this assumption makes the purchase worth nothing"
)
def break_even_ratio(net_present_value_cur: Any, moving_present_value_cur: Any) -> Any:
    """By what an assumption is to be multiplied for the net present value to become zero.

    Arguments: net_present_value_cur [currency], moving_present_value_cur [currency] part of it that is proportional to the assumption.
    Returns: [ratio].
    Holds: the part is proportional to the assumption and nothing else moves with it.
    Sources: break-even-linear.

    >>> break_even_ratio(-5000, 20000), break_even_ratio(10000, 40000)
    (1.25, 0.75)
    """
    ratio = 1 - net_present_value_cur / moving_present_value_cur
    return np.where(ratio > 0, ratio, np.nan)


@function("break-even-linear")
def break_even_price_difference_cur(price_difference_cur: Any, net_present_value_cur: Any) -> Any:
    """Price difference that the savings of the study would just pay for.

    Arguments: price_difference_cur [currency] as offered, net_present_value_cur [currency] at that difference.
    Returns: [currency].
    Holds: the price is paid today, before tax; salvage and maintenance do not move with it.
    Sources: break-even-linear.

    >>> break_even_price_difference_cur(60000, -15000)
    45000.0
    """
    return price_difference_cur + net_present_value_cur
