"""Measures of a purchase over a range of yearly cash flows, the first of them today.

Each takes the flows along the last axis, so that many draws can be judged at once.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.registry import function


@function("npv-now", native=lambda rate, flows: f"NPV({rate},{flows})*(1+{rate})")
def net_present_value_now_cur(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Net present value with the first flow today, undiscounted.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] one a year, the first today.
    Returns: [currency].
    Holds: spreadsheets' own NPV discounts the first flow by a year; this one does not.
    Sources: npv-now.

    >>> round(net_present_value_now_cur(0.08, [-40000, 5000, 8000, 12000, 30000]), 2)
    3065.22
    """
    flows = np.asarray(cash_flows_cur)
    years = np.arange(flows.shape[-1])
    return np.sum(flows / (1 + np.asarray(discount_rate_share)[..., None]) ** years, axis=-1)


@function("npv-spreadsheet", native=lambda rate, flows: f"NPV({rate},{flows})")
def net_present_value_one_period_cur(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Net present value as spreadsheets define it: the first flow falls one period from now.

    Arguments: discount_rate_share [share] a period, cash_flows_cur [currency].
    Returns: [currency].
    Holds: for a purchase today use net_present_value_now_cur.
    Sources: npv-spreadsheet.

    >>> round(net_present_value_one_period_cur(0.08, [-40000, 5000, 8000, 12000, 30000]), 2)
    2838.17
    """
    now = net_present_value_now_cur.formula(discount_rate_share, cash_flows_cur)
    return now / (1 + np.asarray(discount_rate_share))


@function(
    "irr-textbook",
    domain="no internal rate: the flows must start negative, change sign once, and bring back more than nothing",
    native=lambda flows: f"IRR({flows})",
)
def internal_rate_share(cash_flows_cur: Any) -> Any:
    """Internal rate of return: the yearly rate at which the flows are worth nothing today.

    Arguments: cash_flows_cur [currency] one a year, the first today.
    Returns: [share] a year.
    Holds: one change of sign; with several there may be several rates, and none is picked.
    Sources: irr-textbook.

    >>> round(internal_rate_share([-1000, 400, 400, 400]), 6)
    0.09701
    """
    from pyxirr import irr

    flows = np.asarray(cash_flows_cur, dtype=float)

    def one(row: Any) -> float:
        signs = np.sign(row[row != 0])
        if signs.size < 2 or signs[0] > 0 or np.count_nonzero(np.diff(signs)) != 1:
            return float("nan")
        rate = irr(row, silent=True)
        return float("nan") if rate is None else float(rate)

    return np.apply_along_axis(one, -1, flows)[()]


def _payback(cumulative: Any, flows: Any) -> Any:
    """Part-years until a running sum reaches zero for good; NaN where it never does."""
    before = cumulative[..., :-1]
    flow = flows[..., 1:]
    paid = (flow > 0) & (before + flow >= 0)
    step = np.where(before < 0, np.where(paid, -before / np.where(flow > 0, flow, 1.0), 1.0), 0.0)
    return np.where(cumulative[..., -1] >= 0, step.sum(axis=-1), np.nan)


@function("payback", domain="the outlay does not come back within the years given")
def simple_payback_years(cash_flows_cur: Any) -> Any:
    """Years until the flows add up to zero, the last one as a part of a year.

    Arguments: cash_flows_cur [currency] one a year, the first today.
    Returns: [years].
    Holds: flows come evenly within a year; ignores what follows and the value of time.
    Sources: payback.

    >>> simple_payback_years([-1000, 400, 400, 400])
    2.5
    """
    flows = np.asarray(cash_flows_cur, dtype=float)
    return _payback(np.cumsum(flows, axis=-1), flows)


@function("payback", domain="the outlay does not come back within the years given, at this discount rate")
def discounted_payback_years(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Years until the discounted flows add up to zero, the last one as a part of a year.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] one a year, the first today.
    Returns: [years].
    Holds: flows discounted as at the end of their year, and spread evenly within it for the part-year.
    Sources: payback.

    >>> round(discounted_payback_years(0.14, [-5200, 2800, 3700, 5100, 4300]), 2)
    1.96
    """
    flows = np.asarray(cash_flows_cur, dtype=float)
    years = np.arange(flows.shape[-1])
    discounted = flows / (1 + np.asarray(discount_rate_share)[..., None]) ** years
    return _payback(np.cumsum(discounted, axis=-1), discounted)
