"""From step to lot: what overlaps, what waits, what a part and a lot take."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("overlap")
def gauge_wait_s(
    ram_release_time_s: Any,
    gauge_time_s: Any,
    reposition_time_s: Any,
    overlap_switch: Any,
    return_overlap_switch: Any,
) -> Any:
    """Time that a step waits for the gauge: all of its move in sequence, only what outlasts ram and operator with overlap.

    Arguments: ram_release_time_s [s], gauge_time_s [s], reposition_time_s [s], overlap_switch [0 or 1], return_overlap_switch [0 or 1].
    Returns: [s].
    Holds: with overlap the gauge has until the part is in place again; it starts when the dwell ends, or only when the ram is up.
    Sources: overlap.

    >>> round(gauge_wait_s(1.2, 5, 3, 1, 1), 3), gauge_wait_s(1.2, 5, 3, 1, 0), gauge_wait_s(1.2, 5, 3, 0, 1)
    (0.8, 2.0, 5.0)
    """
    hidden = ram_release_time_s * return_overlap_switch + reposition_time_s
    return np.where(overlap_switch > 0, np.maximum(gauge_time_s - hidden, 0.0), gauge_time_s)


@function("overlap")
def step_time_s(ram_down_time_s: Any, ram_release_time_s: Any, reposition_time_s: Any, gauge_wait_s: Any) -> Any:
    """Time of one step: ram down, ram up, part moved to its next place, and any wait for the gauge.

    Arguments: ram_down_time_s [s], ram_release_time_s [s], reposition_time_s [s], gauge_wait_s [s].
    Returns: [s].
    Holds: equals ram down + max(gauge, release + reposition) with full overlap, the plain sum without.
    Sources: overlap.

    >>> round(step_time_s(2.1, 1.2, 3, 0.8), 3)
    7.1
    """
    return ram_down_time_s + ram_release_time_s + reposition_time_s + gauge_wait_s


@function("lot-time")
def lot_time_min(setup_time_min: Any, part_time_s: Any, lot_size_count: Any, scrap_share: Any) -> Any:
    """Time of a lot: set-up, then as many parts as it takes to get the good ones.

    Arguments: setup_time_min [min], part_time_s [s], lot_size_count [count] good parts, scrap_share [share] of parts made.
    Returns: [min].
    Holds: scrap found after the last step.
    Sources: lot-time.

    >>> lot_time_min(20, 30, 60, 0)
    50.0
    """
    return setup_time_min + part_time_s * lot_size_count / (1 - scrap_share) / 60


@function("lot-time")
def lots_per_year_count(yearly_quantity_count: Any, lot_size_count: Any) -> Any:
    """Lots that a year's quantity takes, the last one perhaps not full.

    Arguments: yearly_quantity_count [count], lot_size_count [count].
    Returns: [count].
    Holds: lots are not shared between years.
    Sources: lot-time.

    >>> lots_per_year_count(250, 100)
    3.0
    """
    return np.ceil(yearly_quantity_count / lot_size_count)
