"""What rules a step: which of ram, gauge and operator its time goes through, and what a faster one would save.

A ram that is not waited for is worth nothing when it gets faster.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function
from xlfab.cycle_time.cycle import gauge_wait_s


@function("critical-path")
def gauge_ruled_time_s(gauge_time_s: Any, gauge_wait_s: Any) -> Any:
    """Time of a step that goes through the gauge: its whole move where anyone waits for it, nothing where nobody does.

    Arguments: gauge_time_s [s], gauge_wait_s [s].
    Returns: [s].
    Holds: the longest path through the step.
    Sources: critical-path.

    >>> gauge_ruled_time_s(5, 0.8), gauge_ruled_time_s(2, 0)
    (5.0, 0.0)
    """
    return np.where(gauge_wait_s > 0, gauge_time_s, 0.0)


@function("critical-path")
def ram_ruled_time_s(
    ram_down_time_s: Any, ram_release_time_s: Any, gauge_wait_s: Any, overlap_switch: Any, return_overlap_switch: Any
) -> Any:
    """Time of a step that goes through the ram: down always, up only where the gauge does not outlast it.

    Arguments: ram_down_time_s [s], ram_release_time_s [s], gauge_wait_s [s], overlap_switch [0 or 1], return_overlap_switch [0 or 1].
    Returns: [s].
    Holds: the longest path through the step.
    Sources: critical-path.

    >>> round(ram_ruled_time_s(2.1, 1.2, 0, 1, 1), 6), ram_ruled_time_s(2.1, 1.2, 0.8, 1, 1)
    (3.3, 2.1)
    """
    hidden = (overlap_switch > 0) & (return_overlap_switch > 0) & (gauge_wait_s > 0)
    return ram_down_time_s + np.where(hidden, 0.0, ram_release_time_s)


@function("critical-path")
def operator_ruled_time_s(reposition_time_s: Any, gauge_wait_s: Any, overlap_switch: Any) -> Any:
    """Time of a step that goes through the operator: repositioning, unless the gauge outlasts it.

    Arguments: reposition_time_s [s], gauge_wait_s [s], overlap_switch [0 or 1].
    Returns: [s].
    Holds: the longest path through the step.
    Sources: critical-path.

    >>> operator_ruled_time_s(3, 0, 1), operator_ruled_time_s(3, 0.8, 1), operator_ruled_time_s(3, 0.8, 0)
    (3.0, 0.0, 3.0)
    """
    return np.where((overlap_switch > 0) & (gauge_wait_s > 0), 0.0, reposition_time_s)


@function("critical-path")
def saved_by_ram_s(
    ram_down_time_s: Any,
    ram_release_time_s: Any,
    gauge_time_s: Any,
    reposition_time_s: Any,
    overlap_switch: Any,
    return_overlap_switch: Any,
    faster_share: Any,
) -> Any:
    """Time that a step saves if the ram alone gets faster.

    Arguments: ram_down_time_s [s], ram_release_time_s [s], gauge_time_s [s], reposition_time_s [s], overlap_switch [0 or 1], return_overlap_switch [0 or 1], faster_share [share] (0.1: its times divided by 1.1).
    Returns: [s].
    Holds: all of the ram's times get shorter alike.
    Sources: critical-path.

    >>> round(saved_by_ram_s(2.2, 1.1, 1, 3, 1, 1, 0.1), 6)
    0.3
    """
    rest = (gauge_time_s, reposition_time_s, overlap_switch, return_overlap_switch)
    saved = (ram_down_time_s + ram_release_time_s) * faster_share / (1 + faster_share)
    before = gauge_wait_s.formula(ram_release_time_s, *rest)
    return saved + before - gauge_wait_s.formula(ram_release_time_s / (1 + faster_share), *rest)


@function("critical-path")
def saved_by_gauge_s(
    ram_release_time_s: Any,
    gauge_time_s: Any,
    reposition_time_s: Any,
    overlap_switch: Any,
    return_overlap_switch: Any,
    faster_share: Any,
) -> Any:
    """Time that a step saves if the gauge alone gets faster.

    Arguments: ram_release_time_s [s], gauge_time_s [s], reposition_time_s [s], overlap_switch [0 or 1], return_overlap_switch [0 or 1], faster_share [share] (0.1: its time divided by 1.1).
    Returns: [s].
    Holds: settling gets shorter too.
    Sources: critical-path.

    >>> saved_by_gauge_s(1.1, 1, 3, 1, 1, 0.1), round(saved_by_gauge_s(1.1, 1.1, 3, 0, 0, 0.1), 6)
    (0.0, 0.1)
    """
    rest = (reposition_time_s, overlap_switch, return_overlap_switch)
    before = gauge_wait_s.formula(ram_release_time_s, gauge_time_s, *rest)
    return before - gauge_wait_s.formula(ram_release_time_s, gauge_time_s / (1 + faster_share), *rest)


@function("critical-path")
def saved_by_operator_s(
    ram_release_time_s: Any,
    gauge_time_s: Any,
    reposition_time_s: Any,
    overlap_switch: Any,
    return_overlap_switch: Any,
    faster_share: Any,
) -> Any:
    """Time that a step saves if the operator alone gets faster.

    Arguments: ram_release_time_s [s], gauge_time_s [s], reposition_time_s [s], overlap_switch [0 or 1], return_overlap_switch [0 or 1], faster_share [share] (0.1: the time divided by 1.1).
    Returns: [s].
    Holds: a sum for planning; pace is set by rating and agreement, not by this figure.
    Sources: critical-path.

    >>> round(saved_by_operator_s(1.1, 1, 3.3, 1, 1, 0.1), 6)
    0.3
    """
    switches = (overlap_switch, return_overlap_switch)
    faster = reposition_time_s / (1 + faster_share)
    before = gauge_wait_s.formula(ram_release_time_s, gauge_time_s, reposition_time_s, *switches)
    after = gauge_wait_s.formula(ram_release_time_s, gauge_time_s, faster, *switches)
    return reposition_time_s - faster + before - after
