"""Strokes: the phases of a press-brake ram, and the stroke of a shear."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.registry import function


@function("stroke-phases", domain="the opening above the sheet must be at least the slow-down gap")
def approach_distance_mm(opening_mm: Any, slow_down_gap_mm: Any) -> Any:
    """Way of the ram from its top position to the slow-down point above the sheet.

    Arguments: opening_mm [mm] between punch tip and sheet, slow_down_gap_mm [mm] above the sheet.
    Returns: [mm].
    Holds: opening not smaller than the gap.
    Sources: stroke-phases.

    >>> approach_distance_mm(60, 6)
    54.0
    """
    way = opening_mm - slow_down_gap_mm
    return np.where(way >= 0, way, np.nan)


@function("stroke-phases")
def press_time_s(slow_down_gap_mm: Any, penetration_mm: Any, pressing_speed_mm_s: Any) -> Any:
    """Time from the slow-down point to the bottom of the bend, at pressing speed.

    Arguments: slow_down_gap_mm [mm], penetration_mm [mm], pressing_speed_mm_s [mm/s].
    Returns: [s].
    Holds: the closing speed depends on the protective device in use, which is never changed to gain time.
    Sources: stroke-phases.

    >>> round(press_time_s(6, 6.111, 9), 3)
    1.346
    """
    return (slow_down_gap_mm + penetration_mm) / pressing_speed_mm_s


@function("stroke-phases")
def ram_travel_mm(opening_mm: Any, penetration_mm: Any) -> Any:
    """Travel of the ram for a bend: opening above the sheet and penetration.

    Arguments: opening_mm [mm], penetration_mm [mm].
    Returns: [mm].
    Holds: the ram returns to the opening it started from.
    Sources: stroke-phases.

    >>> ram_travel_mm(60, 6)
    66.0
    """
    return opening_mm + penetration_mm


@function("stroke-phases")
def ram_down_time_s(approach_time_s: Any, press_time_s: Any, dwell_time_s: Any) -> Any:
    """Time from the foot pedal to the end of the dwell at the bottom.

    Arguments: approach_time_s [s], press_time_s [s], dwell_time_s [s].
    Returns: [s].
    Holds: phases one after the other.
    Sources: stroke-phases.

    >>> round(ram_down_time_s(0.6, 1.3, 0.2), 3)
    2.1
    """
    return approach_time_s + press_time_s + dwell_time_s


@function("stroke-phases")
def ram_release_time_s(stroke_dead_time_s: Any, return_time_s: Any) -> Any:
    """Time from the end of the dwell until the ram is up again: valves and decompression, or settling, then the return.

    Arguments: stroke_dead_time_s [s], return_time_s [s].
    Returns: [s].
    Holds: phases one after the other.
    Sources: stroke-phases.

    >>> round(ram_release_time_s(0.35, 0.84), 3)
    1.19
    """
    return stroke_dead_time_s + return_time_s


@function("stroke-phases")
def shear_stroke_time_s(
    blade_travel_mm: Any,
    cutting_speed_mm_s: Any,
    blade_return_speed_mm_s: Any,
    clamp_time_s: Any,
    shear_dead_time_s: Any,
) -> Any:
    """Time of one stroke of a shear: clamp, blade down, blade up, dead time.

    Arguments: blade_travel_mm [mm], cutting_speed_mm_s [mm/s], blade_return_speed_mm_s [mm/s], clamp_time_s [s], shear_dead_time_s [s].
    Returns: [s].
    Holds: constant blade speeds; the dead time takes in starting and stopping.
    Sources: stroke-phases.

    >>> round(shear_stroke_time_s(91.3, 50, 60, 0.5, 0.3), 2)
    4.15
    """
    return (
        clamp_time_s
        + blade_travel_mm / cutting_speed_mm_s
        + blade_travel_mm / blade_return_speed_mm_s
        + shear_dead_time_s
    )
