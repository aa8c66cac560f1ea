"""How a purchase is paid: a loan in equal payments, or a lease. An indication; the bank's contract rules."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function
from xlfab.investment.life_cycle import capital_recovery_ratio, uniform_present_value_ratio


@function("annuity-loan")
def loan_payment_cur(loan_cur: Any, loan_rate_share: Any, payments_count: Any) -> Any:
    """Equal payment at the end of each period that pays off a loan.

    Arguments: loan_cur [currency], loan_rate_share [share] a period, payments_count [count].
    Returns: [currency] a period.
    Holds: for monthly payments give the rate of a month; fees are not in it.
    Sources: annuity-loan.

    >>> round(loan_payment_cur(150000, 0.005, 60), 2)
    2899.92
    """
    return loan_cur * capital_recovery_ratio.formula(loan_rate_share, payments_count)


@function("annuity-loan")
def loan_balance_cur(loan_cur: Any, loan_rate_share: Any, payments_count: Any, period_count: Any) -> Any:
    """What is still owed after a number of payments; nothing after the last.

    Arguments: loan_cur [currency], loan_rate_share [share] a period, payments_count [count], period_count [count] payments made.
    Returns: [currency].
    Holds: equal payments at the end of each period.
    Sources: annuity-loan.

    >>> round(loan_balance_cur(10000, 0.14, 5, 1), 2), loan_balance_cur(10000, 0.14, 5, 7)
    (8487.16, 0.0)
    """
    left = np.where(period_count < payments_count, payments_count - period_count, 1.0)
    payment = loan_payment_cur.formula(loan_cur, loan_rate_share, payments_count)
    owed = payment * uniform_present_value_ratio.formula(loan_rate_share, left)
    return np.where(period_count < payments_count, owed, 0.0)


@function("annuity-loan")
def loan_interest_cur(loan_cur: Any, loan_rate_share: Any, payments_count: Any, period_count: Any) -> Any:
    """Interest within one payment of a loan: the rate on what was owed before it.

    Arguments: loan_cur [currency], loan_rate_share [share] a period, payments_count [count], period_count [count] of the payment, 1 the first.
    Returns: [currency].
    Holds: equal payments at the end of each period; nothing in period 0 and after the last payment.
    Sources: annuity-loan.

    >>> round(loan_interest_cur(10000, 0.14, 5, 1), 6)
    1400.0
    """
    before = loan_balance_cur.formula(loan_cur, loan_rate_share, payments_count, period_count - 1)
    return np.where(period_count >= 1, before * loan_rate_share, 0.0)


@function("annuity-loan")
def loan_flow_cur(loan_cur: Any, loan_rate_share: Any, payments_count: Any, year: Any) -> Any:
    """Cash flow of a loan in one year: the loan in year 0, then equal payments.

    Arguments: loan_cur [currency], loan_rate_share [share] a year, payments_count [count] one a year, year [year].
    Returns: [currency] in, or out where negative.
    Holds: one payment at the end of each year.
    Sources: annuity-loan.

    >>> loan_flow_cur(10000, 0.14, 5, 0), round(loan_flow_cur(10000, 0.14, 5, 3), 2), loan_flow_cur(10000, 0.14, 5, 6)
    (10000.0, -2912.84, 0.0)
    """
    payment = loan_payment_cur.formula(loan_cur, loan_rate_share, payments_count)
    return np.where(year < 1, loan_cur, np.where(year <= payments_count, -payment, 0.0))


@function("lease")
def lease_flow_cur(
    lease_payment_cur_per_year: Any, payments_count: Any, in_advance_switch: Any, buy_out_cur: Any, year: Any
) -> Any:
    """Cash flow of a lease in one year: equal payments at the start or the end of each year, then the buy-out.

    Arguments: lease_payment_cur_per_year [currency/year], payments_count [count] one a year, in_advance_switch [0 or 1], buy_out_cur [currency] at the end of the lease, year [year].
    Returns: [currency] out, negative.
    Holds: give no buy-out where the machine goes back; then it has no salvage value either.
    Sources: lease.

    >>> lease_flow_cur(22000, 4, 1, 0, 0), lease_flow_cur(22000, 4, 1, 5000, 4), lease_flow_cur(22000, 4, 0, 0, 0)
    (-22000.0, -5000.0, 0.0)
    """
    in_advance = (year < payments_count) & (in_advance_switch > 0.5)
    in_arrears = (year > 0.5) & (year <= payments_count) & (in_advance_switch <= 0.5)
    paid = np.where(in_advance | in_arrears, lease_payment_cur_per_year, 0.0)
    return 0.0 - paid - np.where(year == payments_count, buy_out_cur, 0.0)
