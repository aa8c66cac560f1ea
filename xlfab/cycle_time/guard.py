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


@function("safety-distance-iso")
def safety_distance_mm(hand_speed_mm_s: Any, stopping_time_s: Any, intrusion_mm: Any) -> Any:
    """Distance between a light curtain and the point of operation, in the form S = K T + C: an indication, never a clearance.

    A light curtain that stands nearer, or a machine that stops more slowly, lets a hand reach the tools before they stop. Time
    that is gained by moving a curtain closer is paid for with hands: have the distance measured and set by a competent person.

    Arguments: hand_speed_mm_s [mm/s] K (1600 walking, 2000 for hands), stopping_time_s [s] T of guard, control and machine together, intrusion_mm [mm] C, how far a hand gets through before it is seen.
    Returns: [mm].
    Holds: ISO 13855:2010 for a curtain at right angles; it has further rules (at least 100 mm, other K above 500 mm), and the 2024 edition is written anew. The standard, local law and the machine's documentation go before.
    Sources: safety-distance-iso.

    >>> safety_distance_mm(2000, 0.24, 0), safety_distance_mm(1600, 0.3, 128)
    (480.0, 608.0)
    """
    return hand_speed_mm_s * stopping_time_s + intrusion_mm


@function("safety-distance-osha")
def safety_distance_osha_mm(stopping_time_s: Any) -> Any:
    """Distance of a light curtain by the US rule, 63 in/s x stopping time: an indication, never a clearance.

    Arguments: stopping_time_s [s] of the press, measured at its worst place of the stroke.
    Returns: [mm].
    Holds: presence-sensing devices by 29 CFR 1910.217 for mechanical power presses, used as a guide for other presses; a competent person measures and sets it. Never move a device nearer to gain time.
    Sources: safety-distance-osha.

    >>> round(safety_distance_osha_mm(0.126) / 25.4, 1)
    7.9
    """
    return 63 * 25.4 * stopping_time_s
