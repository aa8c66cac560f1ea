"""Flows on any day in place of the end of each year: a year counts 365 days, as spreadsheets' XNPV has it."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells
from xlfab.core.registry import function


@function(
    "dated-flows",
    domain="there must be as many days as flows",
    native=lambda rate, flows, days: (
        f"IF(COUNT({flows})=COUNT({days}),SUMPRODUCT({flows}/(1+{rate})^({days}/365)),#NUM!)"
    ),
)
def dated_net_present_value_cur(discount_rate_share: Any, cash_flows_cur: Any, flow_after_days: Any) -> Any:
    """Net present value of flows on any day, valued at day 0.

    Each flow C that falls d days from day 0 is worth C / (1 + i)^(d/365) there. With day 0 the day of the first flow this is XNPV.
    For the rate at which it is 0 use the spreadsheet's own XIRR: programs differ too much in it for a function of this list.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] in any order, flow_after_days [days] from day 0 to each flow (a date less the first date).
    Returns: [currency].
    Holds: a year of 365 days, leap years too.
    Sources: dated-flows.

    >>> round(dated_net_present_value_cur(0.1, [-1000, 660, 605], [0, 365, 730]), 6)
    100.0
    """
    flows, days = cells(cash_flows_cur), cells(flow_after_days)
    value = 0.0 if len(flows) == len(days) else np.nan
    for flow, day in zip(flows, days):  # noqa: B905 - this text also runs in Pythons that know no strict
        value = value + flow / (1 + discount_rate_share) ** (day / 365)
    return value
