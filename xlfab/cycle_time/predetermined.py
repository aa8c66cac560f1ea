"""A cross-check by predetermined times: MTM-1 in TMU. The tables are licensed: enter the values of your own data card."""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function


@function("mtm-1")
def tmu_time_s(tmu_count: Any) -> Any:
    """Time of MTM-1 elements: 1 TMU is 0.00001 hour.

    Arguments: tmu_count [count] summed from your own data card.
    Returns: [s].
    Holds: the pace of the method; allowances come on top.
    Sources: mtm-1.

    >>> round(tmu_time_s(100), 6)
    3.6
    """
    return tmu_count * 0.036


@function("definition")
def time_difference_share(estimated_time_s: Any, checked_time_s: Any) -> Any:
    """By how much an estimated time lies above (or below) a checked one.

    Arguments: estimated_time_s [s], checked_time_s [s].
    Returns: [share] of the checked time.
    Holds: both of the same work, both with or both without allowances.
    Sources: definition.

    >>> round(time_difference_share(6.6, 6), 6)
    0.1
    """
    return estimated_time_s / checked_time_s - 1
