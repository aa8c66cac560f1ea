"""The stroke of a press brake: the phases of its ram."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


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


@function("decompression")
def decompression_time_s(full_decompression_time_s: Any, bend_force_kn: Any, rated_force_kn: Any) -> Any:
    """Time to let the pressure of a hydraulic cylinder down before the ram goes up.

    Arguments: full_decompression_time_s [s] from full force, bend_force_kn [kN], rated_force_kn [kN].
    Returns: [s].
    Holds: the oil's compressed volume goes with pressure and pressure with force; 0 for screw and belt drives.
    Sources: decompression.

    >>> round(decompression_time_s(0.4, 250, 1000), 6)
    0.1
    """
    return full_decompression_time_s * bend_force_kn / rated_force_kn


@function("stroke-phases")
def release_dead_time_s(stroke_dead_time_s: Any, decompression_time_s: Any) -> Any:
    """Time at the bottom after the dwell: valves or settling, then decompression.

    Arguments: stroke_dead_time_s [s], decompression_time_s [s].
    Returns: [s].
    Holds: one after the other.
    Sources: stroke-phases.

    >>> round(release_dead_time_s(0.25, 0.1), 6)
    0.35
    """
    return stroke_dead_time_s + decompression_time_s


@function("flange-clearance")
def return_opening_mm(
    opening_mm: Any, flange_height_mm: Any, flange_clearance_mm: Any, closing_gap_mm: Any, reduced_return_switch: Any
) -> Any:
    """Opening to which the ram returns: the full one, or just enough to clear the flange.

    Arguments: opening_mm [mm] full, flange_height_mm [mm] that has to pass (0 not known), flange_clearance_mm [mm] above it, closing_gap_mm [mm], reduced_return_switch [0 or 1].
    Returns: [mm]; the full opening where the flange is not known.
    Holds: never more than the full opening, never less than the gap of slow closing; a guard may ask for the full one.
    Sources: flange-clearance.

    >>> return_opening_mm(120, 30, 15, 6, 1), return_opening_mm(120, 30, 15, 6, 0), return_opening_mm(120, 140, 15, 6, 1)
    (45.0, 120.0, 120.0)
    """
    least = np.maximum(flange_height_mm + flange_clearance_mm, closing_gap_mm)
    reduced = (reduced_return_switch > 0) & (flange_height_mm > 0)
    return np.where(reduced, np.minimum(least, opening_mm), opening_mm)


@function("stroke-phases")
def second_press_time_s(second_travel_mm: Any, second_speed_mm_s: Any, second_dwell_time_s: Any) -> Any:
    """Time of a second press step after the bend: coining into the root, or closing a hem, and its dwell.

    Arguments: second_travel_mm [mm] (0 where there is no second step), second_speed_mm_s [mm/s], second_dwell_time_s [s].
    Returns: [s].
    Holds: constant speed; a hem in other tools also needs its own approach, return and handling.
    Sources: stroke-phases.

    >>> round(second_press_time_s(6, 8, 0.5), 6)
    1.25
    """
    step = second_travel_mm / second_speed_mm_s + second_dwell_time_s
    return np.where(second_travel_mm > 0, step, 0.0)
