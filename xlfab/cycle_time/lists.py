"""Totals and percentiles over lists of times: a cut list, stopwatch readings."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells, ordered
from xlfab.core.registry import function


@function(
    "cut-list",
    domain="there must be as many counts as times",
    native=lambda times, counts: f"SUMPRODUCT({times},{counts})",
)
def cut_list_time_s(line_times_s: Any, line_cuts_count: Any) -> Any:
    """Time of a whole cut list: the time of one cut of each line times how often the line is cut.

    Arguments: line_times_s [s] one a line, line_cuts_count [count] one a line, in the same order.
    Returns: [s].
    Holds: setting of the lines is not in it.
    Sources: cut-list.

    >>> cut_list_time_s([6, 4.5, 9], [2, 10, 1])
    66.0
    """
    times, counts = cells(line_times_s), cells(line_cuts_count)
    total = 0.0 if len(times) == len(counts) else np.nan
    for time, count in zip(times, counts):  # noqa: B905 - this text also runs in Pythons that know no strict
        total = total + time * count
    return total


@function("percentile-linear", native=lambda readings, share: f"PERCENTILE({readings},{share})")
def percentile_time_s(readings_s: Any, percentile_share: Any) -> Any:
    """Time that a share of the readings does not exceed: 0.5 is the median, 0.9 a careful figure for a quote.

    Arguments: readings_s [s] in any order, percentile_share [share] of the readings.
    Returns: [s].
    Holds: linear between neighbouring readings, as spreadsheets' PERCENTILE; few readings say little about the ends.
    Sources: percentile-linear.

    >>> percentile_time_s([12, 10, 11, 15, 13], 0.5), percentile_time_s([10, 20], 0.9)
    (12.0, 19.0)
    """
    times = ordered(readings_s)
    place = percentile_share * (len(times) - 1)
    value = 0.0
    for number, time in enumerate(times):
        value = value + time * np.maximum(1 - abs(place - number), 0.0)
    return value
