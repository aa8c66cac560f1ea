"""The protective device in use: how far above the sheet the ram must slow down, and to what speed.

Never change or defeat a guard, a light curtain or its muting to gain time: protective measures follow local law and the
machine's own documentation. These functions say what a given device costs in time, nothing else.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("guard-mode")
def closing_gap_mm(slow_down_gap_mm: Any, guard_gap_mm: Any, opening_mm: Any) -> Any:
    """Height above the sheet from which the ram closes slowly: the machine's or the protective device's, whichever is higher.

    Arguments: slow_down_gap_mm [mm] of the machine, guard_gap_mm [mm] that the device in use asks for, opening_mm [mm].
    Returns: [mm], at most the opening.
    Holds: the device in use is the one that the risk assessment asks for; never trade a guard for time.
    Sources: guard-mode.

    >>> closing_gap_mm(6, 1000, 60), closing_gap_mm(6, 0, 60)
    (60.0, 6.0)
    """
    return np.minimum(np.maximum(slow_down_gap_mm, guard_gap_mm), opening_mm)


@function("guard-mode")
def closing_speed_mm_s(pressing_speed_mm_s: Any, guard_speed_mm_s: Any) -> Any:
    """Speed at which the ram closes on the sheet: pressing speed, or less where the protective device asks for it.

    Arguments: pressing_speed_mm_s [mm/s], guard_speed_mm_s [mm/s] that the device in use allows.
    Returns: [mm/s].
    Holds: the device in use is the one that the risk assessment asks for; never trade a guard for time.
    Sources: guard-mode.

    >>> closing_speed_mm_s(15, 10)
    10.0
    """
    return np.minimum(pressing_speed_mm_s, guard_speed_mm_s)
