"""Measures of a purchase over a range of yearly cash flows, the first of them today.

Each goes through the flows one by one, and a flow may be an array, so that many draws can be judged at once. Where a measure does
not exist there is no number: several signs, no outlay, or an outlay that never comes back.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells
from xlfab.core.registry import function
from xlfab.investment.cash_flow import NEAR

_LEAST_RATE = -0.9  # below it spreadsheets' own searches fail or differ
_LEAST_GROWTH = -2.5  # a little beyond: a search that ends here has no result
_MOST_STEPS, _STEP = 60, 1e-9  # Newton doubles the digits: after such a step the next one would change nothing


def _numbers(flows: str) -> tuple[str, str]:
    """1 to the number of flows, as a column and as a row, without array entry and without a cell of its own."""
    count = f"COUNT({flows})"
    column = f"(ROW(OFFSET({flows},0,0,{count},1))-MIN(ROW({flows}))+1)"
    row = f"(COLUMN(OFFSET({flows},0,0,1,{count}))-MIN(COLUMN({flows}))+1)"
    return column, row


def _native_rate(flows: str) -> str:
    """IRR, but only where no outlay comes after a return, and above -90 % a year: elsewhere spreadsheets differ or pick one of several.

    The search starts where all returns and all outlays, each at their mean year, would balance. With outlays first that is on the
    near side of the rate, from which Newton's steps cannot run past it: from elsewhere a spreadsheet can end below -100 % or nowhere.
    """
    column, row = _numbers(flows)
    outlays = f"MMULT(({flows}<0)*({column}={row}),{column}^0)"
    returns = f"MMULT({row}^0,({flows}>0)*({column}={row}))"
    of_return, of_outlay = (f'SUMIF({flows},"{sign}0")' for sign in (">", "<"))
    years = [f"SUMPRODUCT({flows}*({flows}{sign}0)*({column}={row})*{column})" for sign in (">", "<")]
    start = f"(-{of_return}/{of_outlay})^(1/({years[0]}/{of_return}-{years[1]}/{of_outlay}))-1"
    both = f'(COUNTIF({flows},"<0")>0)*(COUNTIF({flows},">0")>0)*(NPV({_LEAST_RATE},{flows})>0)'
    return f"IF({both}*(SUMPRODUCT(({column}>{row})*{outlays}*{returns})=0),IRR({flows},{start}),#NUM!)"


def _native_payback(rate: str, flows: str) -> str:
    """Payback by SUMPRODUCT over running sums, which a triangle of ones makes by MMULT.

    The diagonal of flows makes a column of them, whether the cells are a row or a column.
    """
    column, row = _numbers(flows)
    flow = f"(MMULT({flows}*({column}={row}),{column}^0)/(1+{rate})^({column}-1))"
    after = f"MMULT(({column}>={row})/(1+{rate})^({row}-1),MMULT({flows}*({column}={row}),{column}^0))"
    before = f"({after}-{flow})"
    zero = f'({NEAR}*SUMIF({flows},"<0"))'
    # a year that does not reach zero counts 1, one that does counts what is missing before it over its flow
    part = f"({before}<0)*(1-({after}>={zero})*(1+{before}/({flow}+({flow}<=0))))"
    again = f"SUMPRODUCT(({before}>={zero})*({after}<{zero})*({column}>1))"
    return f"IF((NPV({rate},{flows})*(1+{rate})>={zero})*({again}=0),SUMPRODUCT({part}),#NUM!)"


@function("npv-now", native=lambda rate, flows: f"NPV({rate},{flows})*(1+{rate})")
def net_present_value_now_cur(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Net present value with the first flow today, undiscounted.

    A flow C at the end of year n is worth C / (1 + i)^n today, because that amount put aside at the rate i grows to C. The sum over
    all years, the first flow at n = 0, is the net present value. Above zero the purchase earns more than the rate.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] one a year, the first today.
    Returns: [currency].
    Holds: spreadsheets' own NPV discounts the first flow by a year; this one does not.
    Sources: npv-now.

    >>> round(net_present_value_now_cur(0.08, [-40000, 5000, 8000, 12000, 30000]), 2)
    3065.22
    """
    value = 0.0
    for year, flow in enumerate(cells(cash_flows_cur)):
        value = value + flow / (1 + discount_rate_share) ** year
    return value


@function("npv-spreadsheet", native=lambda rate, flows: f"NPV({rate},{flows})")
def net_present_value_one_period_cur(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Net present value as spreadsheets define it: the first flow falls one period from now.

    Arguments: discount_rate_share [share] a period, cash_flows_cur [currency] one a period, the first one period from now.
    Returns: [currency].
    Holds: for a purchase today use net_present_value_now_cur.
    Sources: npv-spreadsheet.

    >>> round(net_present_value_one_period_cur(0.08, [-40000, 5000, 8000, 12000, 30000]), 2)
    2838.17
    """
    now = net_present_value_now_cur.formula(discount_rate_share, cash_flows_cur)
    return now / (1 + discount_rate_share)


def _growth(flows: list[Any], exists: Any) -> Any:
    """Logarithm of 1 + rate at which flows are worth nothing, by Newton's steps on the logarithm of returns over outlays.

    Both sums are taken at the rate of the step. Their ratio falls along an almost straight line, because returns come after
    outlays, so few steps are needed and none can run away. All draws are stepped at once.
    """
    growth: Any = 0.0
    for _step in range(_MOST_STEPS):
        factor: Any = 1.0
        yearly = np.exp(-growth)
        net: Any = 0.0
        net_years: Any = 0.0
        back: Any = 0.0
        back_years: Any = 0.0
        for year, flow in enumerate(flows):
            worth = flow * factor
            factor = factor * yearly
            received = np.maximum(worth, 0.0)
            net, net_years = net + worth, net_years + year * worth
            back, back_years = back + received, back_years + year * received
        paid, received = np.where(exists, back - net, 1.0), np.where(exists, back, 1.0)
        span = np.where(exists, back_years / received - (back_years - net_years) / paid, 1.0)
        before, growth = growth, np.maximum(growth + np.log(received / paid) / span, _LEAST_GROWTH)
        if np.max(np.abs(growth - before)) < _STEP:
            break
    return growth


def _exists(flows: list[Any]) -> Any:
    """Whether there is one internal rate for sure: an outlay and a return, and no outlay after a return."""
    outlays: Any = 0.0
    returns: Any = 0.0
    again: Any = 0.0
    for flow in flows:
        again = np.where((returns > 0) & (flow < 0), 1.0, again)
        outlays = np.where(flow < 0, 1.0, outlays)
        returns = np.where(flow > 0, 1.0, returns)
    return (outlays > 0) & (returns > 0) & (again < 1)


@function(
    "irr-textbook",
    domain="no internal rate above -90 % a year: the flows must start with an outlay and change sign once",
    native=_native_rate,
)
def internal_rate_share(cash_flows_cur: Any) -> Any:
    """Internal rate of return: the yearly rate at which the flows are worth nothing today.

    Arguments: cash_flows_cur [currency] one a year, the first today.
    Returns: [share] a year.
    Holds: one change of sign; with several there may be several rates, and none is picked. Rates of -90 % or less are no result.
    Sources: irr-textbook.

    >>> round(internal_rate_share([-1000, 400, 400, 400]), 6)
    0.09701
    """
    flows = cells(cash_flows_cur)
    exists = _exists(flows)
    rate = np.exp(_growth(flows, exists)) - 1
    return np.where(exists & (rate > _LEAST_RATE), rate, np.nan)


@function(
    "mirr-spreadsheet",
    domain="no modified rate: the flows need an outlay and a return",
    native=lambda finance, reinvest, flows: (
        f'IF((COUNTIF({flows},"<0")>0)*(COUNTIF({flows},">0")>0),MIRR({flows},{finance},{reinvest}),#NUM!)'
    ),
)
def modified_internal_rate_share(finance_rate_share: Any, reinvest_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Modified internal rate: outlays financed at one rate, returns reinvested at another until the last year.

    Arguments: finance_rate_share [share] a year, reinvest_rate_share [share] a year, cash_flows_cur [currency] one a year, the first today.
    Returns: [share] a year.
    Holds: exists for several changes of sign too.
    Sources: mirr-spreadsheet.

    >>> round(modified_internal_rate_share(0.1, 0.12, [-120000, 39000, 30000, 21000]), 4)
    -0.048
    """
    flows = cells(cash_flows_cur)
    outlays: Any = 0.0
    returns: Any = 0.0
    for year, flow in enumerate(flows):
        outlays = outlays + np.maximum(-flow, 0.0) / (1 + finance_rate_share) ** year
        returns = returns * (1 + reinvest_rate_share) + np.maximum(flow, 0.0)
    exists = (outlays > 0) & (returns > 0)
    ratio = np.where(exists, returns, 1.0) / np.where(exists, outlays, 1.0)
    return np.where(exists, ratio ** (1 / max(len(flows) - 1, 1)) - 1, np.nan)


def _payback(flows: list[Any], outlays: Any) -> Any:
    """Part-years until a running sum reaches zero for good; NaN where it never does, or falls below zero again.

    A sum that lies within a billionth of all outlays below zero has reached it: flows such as 3 x 33.33 do not add up exactly.
    """
    zero = -NEAR * outlays
    after = flows[0]
    years: Any = 0.0
    again: Any = 0.0
    for flow in flows[1:]:
        before, after = after, after + flow
        part = np.where(after < zero, 1.0, -before / np.where(flow > 0, flow, 1.0))
        years = years + np.where(before < 0, part, 0.0)
        again = np.where((before >= zero) & (after < zero), 1.0, again)
    return np.where((after >= zero) & (again < 1), years, np.nan)


def _outlays(flows: list[Any]) -> Any:
    """The sum of all outlays."""
    total: Any = 0.0
    for flow in flows:
        total = total + np.maximum(-flow, 0.0)
    return total


@function(
    "payback",
    domain="the outlay does not come back within the years given, or its running sum falls below zero again",
    native=lambda flows: _native_payback("0", flows),
)
def simple_payback_years(cash_flows_cur: Any) -> Any:
    """Years until the flows add up to zero, the last one as a part of a year.

    The running sum of the flows starts at the outlay, below zero. Each year that ends below zero counts as 1; the year in which the sum
    passes zero counts as its part, - sum before / flow, as if the flow came evenly. One answer needs a sum that stays above zero.

    Arguments: cash_flows_cur [currency] one a year, the first today.
    Returns: [years].
    Holds: flows come evenly within a year; ignores what follows and the value of time; 0 where nothing is laid out. Leave salvage out.
    Sources: payback.

    >>> simple_payback_years([-1000, 400, 400, 400])
    2.5
    """
    flows = cells(cash_flows_cur)
    return _payback(flows, _outlays(flows))


@function(
    "payback",
    domain="the outlay does not come back within the years given at this discount rate, or its running sum falls below zero again",
    native=_native_payback,
)
def discounted_payback_years(discount_rate_share: Any, cash_flows_cur: Any) -> Any:
    """Years until the discounted flows add up to zero, the last one as a part of a year.

    Arguments: discount_rate_share [share] a year, cash_flows_cur [currency] one a year, the first today.
    Returns: [years].
    Holds: flows discounted as at the end of their year, and spread evenly within it for the part-year. Leave salvage out.
    Sources: payback.

    >>> round(discounted_payback_years(0.14, [-5200, 2800, 3700, 5100, 4300]), 2)
    1.96
    """
    flows = cells(cash_flows_cur)
    discounted = [flow / (1 + discount_rate_share) ** year for year, flow in enumerate(flows)]
    return _payback(discounted, _outlays(flows))
