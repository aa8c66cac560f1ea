"""The stroke of a shear: from its blade speeds, or from the strokes a minute it is rated for."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


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


@function("stroke-rating")
def rated_stroke_time_s(strokes_per_min: Any) -> Any:
    """Time of one full stroke of a shear from the full-length strokes a minute it is rated for.

    Arguments: strokes_per_min [1/min] full length, one after the other.
    Returns: [s].
    Holds: a rating is for continuous strokes without handling; the clamp is inside the stroke.
    Sources: stroke-rating.

    >>> round(rated_stroke_time_s(14), 1)
    4.3
    """
    return 60 / strokes_per_min


@function("partial-stroke", domain="the length set on the stroke is longer than the blade")
def rated_part_stroke_time_s(
    rated_stroke_time_s: Any, stroke_cut_length_mm: Any, blade_length_mm: Any, fixed_stroke_share: Any
) -> Any:
    """Time of a rated stroke that is set to a shorter cut.

    Arguments: rated_stroke_time_s [s], stroke_cut_length_mm [mm] that the stroke is set to, blade_length_mm [mm], fixed_stroke_share [share] of the stroke that stays (clamp, opening, valves).
    Returns: [s].
    Holds: judgement: the rest goes with the length; the full length gives the full stroke.
    Sources: partial-stroke.

    >>> round(rated_part_stroke_time_s(4, 1500, 3000, 0.4), 6)
    2.8
    """
    moving = (1 - fixed_stroke_share) * stroke_cut_length_mm / blade_length_mm
    return np.where(
        stroke_cut_length_mm <= blade_length_mm, rated_stroke_time_s * (fixed_stroke_share + moving), np.nan
    )


@function("definition")
def used_stroke_time_s(computed_stroke_time_s: Any, rated_stroke_time_s: Any, stroke_rating_switch: Any) -> Any:
    """Stroke time that the estimate uses: the rating's where the switch says so, else the one computed from blade travel.

    Arguments: computed_stroke_time_s [s], rated_stroke_time_s [s], stroke_rating_switch [0 or 1].
    Returns: [s].
    Holds: the choice is shown beside the result.
    Sources: definition.

    >>> used_stroke_time_s(4.15, 4.29, 1), used_stroke_time_s(4.15, 4.29, 0)
    (4.29, 4.15)
    """
    return np.where(stroke_rating_switch > 0, rated_stroke_time_s, computed_stroke_time_s)


@function("overlap")
def pull_back_wait_s(pull_back_time_s: Any, clamp_time_s: Any, pull_back_overlap_switch: Any) -> Any:
    """Time that a cut waits for the gauge to pull back from the sheet's edge before the blade comes down.

    Arguments: pull_back_time_s [s] of the gauge's move, clamp_time_s [s], pull_back_overlap_switch [0 or 1].
    Returns: [s].
    Holds: the gauge may leave once the clamp holds the sheet; with overlap it leaves while the clamp comes down.
    Sources: overlap.

    >>> round(pull_back_wait_s(0.6, 0.5, 1), 6), pull_back_wait_s(0.6, 0.5, 0)
    (0.1, 0.6)
    """
    rest = np.maximum(pull_back_time_s - clamp_time_s, 0.0)
    return np.where(pull_back_overlap_switch > 0, rest, pull_back_time_s)


@function("rear-support")
def rear_collect_time_s(
    walk_distance_m: Any,
    walking_speed_m_s: Any,
    pieces_per_walk_count: Any,
    rear_pick_time_s: Any,
    rear_support_switch: Any,
) -> Any:
    """Time a piece takes to be fetched from behind the shear; a rear sheet support that hands pieces back saves it.

    Arguments: walk_distance_m [m] one way, walking_speed_m_s [m/s], pieces_per_walk_count [count], rear_pick_time_s [s] a piece, rear_support_switch [0 or 1] with the support.
    Returns: [s].
    Holds: the blade stands still while the operator walks; with the support no walk and no picking up.
    Sources: rear-support.

    >>> rear_collect_time_s(6, 1, 4, 2, 0), rear_collect_time_s(6, 1, 4, 2, 1)
    (5.0, 0.0)
    """
    fetched = 2 * walk_distance_m / walking_speed_m_s / pieces_per_walk_count + rear_pick_time_s
    return np.where(rear_support_switch > 0, 0.0, fetched)
