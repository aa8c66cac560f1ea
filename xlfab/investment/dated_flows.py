"""Flows on any day in place of the end of each year: a year counts 365 days, as spreadsheets' XNPV and XIRR have it."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells
from xlfab.core.registry import function
from xlfab.investment.appraisal import _LEAST_RATE, _growth

_FAR = 1e9  # days that no flow reaches


def _dated_factors(growth: Any, years: list[Any]) -> list[Any]:
    """What one unit of money at each time in years is worth today."""
    return [np.exp(-growth * year) for year in years]


@function(
    "dated-flows",
    domain="there must be as many days as flows",
    native=lambda rate, flows, days: f"SUMPRODUCT({flows}/(1+{rate})^({days}/365))",
)
def dated_net_present_value_cur(discount_rate_share: Any, cash_flows_cur: Any, flow_after_days: Any) -> Any:
    """Net present value of flows on any day, valued at day 0.

    Each flow C that falls d days from day 0 is worth C / (1 + i)^(d/365) there. With day 0 the day of the first flow this is XNPV.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] in any order, flow_after_days [days] from day 0 to each flow (a date less the first date).
    Returns: [currency].
    Holds: a year of 365 days, leap years too.
    Sources: dated-flows.

    >>> round(dated_net_present_value_cur(0.1, [-1000, 550, 605], [0, 365, 730]), 6)
    0.0
    """
    flows, days = cells(cash_flows_cur), cells(flow_after_days)
    value = 0.0 if len(flows) == len(days) else np.nan
    for flow, day in zip(flows, days):  # noqa: B905 - this text also runs in Pythons that know no strict
        value = value + flow / (1 + discount_rate_share) ** (day / 365)
    return value


def _native_dated_rate(flows: str, days: str) -> str:
    """XIRR where every outlay comes before every return and the rate is above -90 %, from a start near the rate."""
    of_return, of_outlay = (f'SUMIF({flows},"{sign}0")' for sign in (">", "<"))
    back, out = (f"SUMPRODUCT({flows}*({flows}{sign}0)*{days})" for sign in (">", "<"))
    start = f"(-{of_return}/{of_outlay})^(365/({back}/{of_return}-{out}/{of_outlay}))-1"
    last = f"SUMPRODUCT(MAX(({flows}<0)*{days}))"
    first = f"({_FAR:.0f}-SUMPRODUCT(MAX(({flows}>0)*({_FAR:.0f}-{days}))))"
    worth = f"SUMPRODUCT({flows}/(1+{_LEAST_RATE})^({days}/365))"
    both = f'(COUNTIF({flows},"<0")>0)*(COUNTIF({flows},">0")>0)'
    return f"IF({both}*({last}<{first})*({worth}>0),XIRR({flows},{days},{start}),#NUM!)"


@function(
    "dated-flows",
    domain="no internal rate above -90 % a year: every outlay must come before every return, with as many days as flows",
    native=_native_dated_rate,
)
def dated_internal_rate_share(cash_flows_cur: Any, flow_after_days: Any) -> Any:
    """Internal rate of return of flows on any day: the yearly rate at which they are worth nothing.

    Arguments: cash_flows_cur [currency] in any order, flow_after_days [days] from day 0 to each flow (a date less the first date).
    Returns: [share] a year.
    Holds: a year of 365 days; every outlay before every return, so that there is one rate. Rates of -90 % or less are no result.
    Sources: dated-flows.

    >>> round(dated_internal_rate_share([-1000, 550, 605], [0, 365, 730]), 6)
    0.1
    """
    flows, days = cells(cash_flows_cur), cells(flow_after_days)
    last: Any = -1.0
    first: Any = _FAR
    for flow, day in zip(flows, days):  # noqa: B905 - this text also runs in Pythons that know no strict
        last = np.where(flow < 0, np.maximum(last, day), last)
        first = np.where(flow > 0, np.minimum(first, day), first)
    exists = (last >= 0) & (first < _FAR) & (last < first) & (len(flows) == len(days))
    rate = np.exp(_growth(flows, [day / 365 for day in days], exists, _dated_factors)) - 1
    return np.where(exists & (rate > _LEAST_RATE), rate, np.nan)
