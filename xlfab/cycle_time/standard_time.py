"""From a stopwatch to a standard: rating, allowances in their two forms."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("work-measurement")
def normal_time_s(observed_time_s: Any, rating_share: Any) -> Any:
    """Normal (basic) time: the observed time at the pace of a qualified worker.

    Arguments: observed_time_s [s], rating_share [share] (1 is the standard pace, 1.2 is faster).
    Returns: [s].
    Holds: the rater is trained.
    Sources: work-measurement.

    >>> round(normal_time_s(100, 1.1), 6)
    110.0
    """
    return observed_time_s * rating_share


@function("standard-time-ilo")
def standard_time_work_allowance_s(normal_time_s: Any, allowance_share: Any) -> Any:
    """Standard time from normal time with an allowance on top of the work.

    Arguments: normal_time_s [s], allowance_share [share] of the normal time.
    Returns: [s].
    Holds: the ILO form, time x (1 + allowance); the form time / (1 - allowance) takes the allowance as a share of the day.
    Sources: standard-time-ilo.

    >>> round(standard_time_work_allowance_s(100, 0.12), 6)
    112.0
    """
    return normal_time_s * (1 + allowance_share)


@function("standard-time-day")
def standard_time_day_allowance_s(normal_time_s: Any, allowance_day_share: Any) -> Any:
    """Standard time from normal time with an allowance that is a share of the working day.

    Arguments: normal_time_s [s], allowance_day_share [share] of the whole day.
    Returns: [s].
    Holds: time / (1 - allowance): longer than the ILO form at the same figure.
    Sources: standard-time-day.

    >>> round(standard_time_day_allowance_s(100, 0.12), 2)
    113.64
    """
    return normal_time_s / (1 - allowance_day_share)


@function("standard-time-ilo", "standard-time-day")
def allowance_on_work_share(allowance_share: Any, allowance_day_switch: Any) -> Any:
    """Allowance on top of the work, from either form in which it is stated.

    Arguments: allowance_share [share], allowance_day_switch [0 or 1] if it is stated as a share of the working day.
    Returns: [share] of the normal time.
    Holds: a share A of the day is A / (1 - A) of the work.
    Sources: standard-time-ilo, standard-time-day.

    >>> allowance_on_work_share(0.12, 0), round(allowance_on_work_share(0.12, 1), 6)
    (0.12, 0.136364)
    """
    return np.where(allowance_day_switch > 0, allowance_share / (1 - allowance_share), allowance_share)
