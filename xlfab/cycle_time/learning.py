"""Learning over a lot: each doubling brings the time down to the learning rate, of the average (Wright) or of the unit (Crawford)."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

_FIRST = 8  # units that are added one by one before the closed sum takes over


@function("learning-curve", "learning-wright")
def wright_mean_time_s(first_unit_time_s: Any, learning_rate_share: Any, units_made_count: Any) -> Any:
    """Mean time of the first n units on Wright's cumulative-average curve.

    Arguments: first_unit_time_s [s], learning_rate_share [share], units_made_count [count].
    Returns: [s].
    Holds: the average falls to the rate at each doubling.
    Sources: learning-curve, learning-wright.

    >>> round(wright_mean_time_s(100, 0.8, 8), 6)
    51.2
    """
    return first_unit_time_s * units_made_count ** np.log2(learning_rate_share)


@function("learning-wright")
def wright_lot_time_s(
    first_unit_time_s: Any, learning_rate_share: Any, units_before_count: Any, lot_size_count: Any
) -> Any:
    """Time of a lot on Wright's cumulative-average curve.

    Arguments: first_unit_time_s [s], learning_rate_share [share], units_before_count [count] made before the lot, lot_size_count [count].
    Returns: [s].
    Holds: nothing is forgotten between lots.
    Sources: learning-wright.

    >>> round(wright_lot_time_s(100, 0.8, 0, 8), 6)
    409.6
    """
    exponent = np.log2(learning_rate_share) + 1
    return first_unit_time_s * ((units_before_count + lot_size_count) ** exponent - units_before_count**exponent)


@function("learning-curve", "learning-crawford")
def crawford_unit_time_s(first_unit_time_s: Any, learning_rate_share: Any, unit_number_count: Any) -> Any:
    """Time of the n-th unit on Crawford's unit curve.

    Arguments: first_unit_time_s [s], learning_rate_share [share], unit_number_count [count].
    Returns: [s].
    Holds: the time of a unit falls to the rate at each doubling.
    Sources: learning-curve, learning-crawford.

    >>> round(crawford_unit_time_s(100, 0.8, 4), 6)
    64.0
    """
    return first_unit_time_s * unit_number_count ** np.log2(learning_rate_share)


def _power_sum(count: Any, exponent: Any) -> Any:
    """1^x + 2^x + ... + n^x: the first terms one by one, the rest by the Euler-Maclaurin sum (error below 1e-8)."""
    head = sum(np.where(count >= k, float(k) ** exponent, 0.0) for k in range(1, _FIRST + 1))
    first, last = _FIRST + 1.0, np.maximum(count, _FIRST + 1.0)
    tail = _closed_sum(last, exponent) - _closed_sum(first, exponent) + first**exponent
    return head + np.where(count > _FIRST, tail, 0.0)


def _closed_sum(n: Any, exponent: Any) -> Any:
    """The sum of the powers up to n, but for a constant."""
    third = exponent * (exponent - 1) * (exponent - 2) / 720
    return n**exponent * (n / (exponent + 1) + 0.5 + exponent / 12 / n - third / (n * n * n))


@function("learning-crawford", "euler-maclaurin")
def crawford_lot_time_s(
    first_unit_time_s: Any, learning_rate_share: Any, units_before_count: Any, lot_size_count: Any
) -> Any:
    """Time of a lot on Crawford's unit curve.

    Arguments: first_unit_time_s [s], learning_rate_share [share], units_before_count [count] made before the lot, lot_size_count [count].
    Returns: [s].
    Holds: whole numbers of units; nothing is forgotten between lots.
    Sources: learning-crawford, euler-maclaurin.

    >>> round(crawford_lot_time_s(100, 0.8, 0, 2), 6)
    180.0
    """
    exponent = np.log2(learning_rate_share)
    after = _power_sum(units_before_count + lot_size_count, exponent)
    return first_unit_time_s * (after - _power_sum(units_before_count, exponent))


@function("learning-wright", "learning-crawford")
def learning_factor_ratio(
    learning_rate_share: Any, standard_unit_count: Any, lot_size_count: Any, wright_switch: Any
) -> Any:
    """Mean time in a lot that begins anew, over the standard time that is reached at a stated unit.

    Arguments: learning_rate_share [share] (1 no learning), standard_unit_count [count] unit whose time is the standard time, lot_size_count [count], wright_switch [0 or 1] for Wright's curve, else Crawford's.
    Returns: [ratio]; above 1 while the lot is short.
    Holds: the operator starts each lot as if for the first time; only the operator learns.
    Sources: learning-wright, learning-crawford.

    >>> learning_factor_ratio(1, 50, 10, 0), round(learning_factor_ratio(0.8, 2, 2, 1), 6), round(learning_factor_ratio(0.8, 2, 2, 0), 6)
    (1.0, 1.333333, 1.125)
    """
    exponent = np.log2(learning_rate_share)
    n = standard_unit_count
    wright_standard = n ** (exponent + 1) - (n - 1) ** (exponent + 1)
    wright = lot_size_count**exponent / wright_standard
    crawford = _power_sum(lot_size_count, exponent) / lot_size_count / n**exponent
    return np.where(wright_switch > 0, wright, crawford)
