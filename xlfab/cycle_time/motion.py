"""Time of one axis move."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("motion-textbook")
def axis_move_time_s(
    distance_mm: Any, speed_limit_mm_s: Any, acceleration_limit_mm_s2: Any, jerk_limit_mm_s3: Any
) -> Any:
    """Time of one axis move, rest to rest, under limits of speed, acceleration and jerk.

    With d the way, v, a and j the limits. Speeding up with rising, constant and falling acceleration to v takes v/a + a/j; where v is
    too low to reach a, the acceleration peaks at sqrt(v j). Braking is its mirror image, so both take the way v (v/a + a/j) together.
    A longer move cruises for the rest: t = d/v + v/a + a/j. A shorter one peaks at a speed p below v, from d = p (p/a + a/j):
    p = (sqrt(k² + 4 a d) - k)/2 with k = a²/j, and t = 2 (p/a + a/j). If p is below k the acceleration limit is not reached either:
    four equal phases of jerk, d = 2 j (t/4)³, so t = 4 (d/(2 j))^(1/3).

    Arguments: distance_mm [mm], speed_limit_mm_s [mm/s], acceleration_limit_mm_s2 [mm/s²], jerk_limit_mm_s3 [mm/s³].
    Returns: [s].
    Holds: the fastest profile inside the limits (up to seven phases, symmetric); no settling.
    Sources: motion-textbook.

    >>> axis_move_time_s(500, 500, 2500, 25000)
    1.3
    """
    d, v, a, j = distance_mm, speed_limit_mm_s, acceleration_limit_mm_s2, jerk_limit_mm_s3
    peak_acceleration = np.minimum(a, np.sqrt(v * j))
    time_to_speed = v / peak_acceleration + peak_acceleration / j
    cruising = d / v + time_to_speed
    knee = a * a / j  # speed reached when acceleration has just risen to its limit and falls again
    peak_speed = (np.sqrt(knee * knee + 4 * a * d) - knee) / 2
    short = np.where(peak_speed >= knee, 2 * (peak_speed / a + a / j), 4 * (d / (2 * j)) ** (1 / 3))
    return np.where(d >= v * time_to_speed, cruising, short)


@function("motion-textbook")
def trapezoid_move_time_s(distance_mm: Any, speed_limit_mm_s: Any, acceleration_limit_mm_s2: Any) -> Any:
    """Time of one axis move, rest to rest, without a jerk limit.

    Arguments: distance_mm [mm], speed_limit_mm_s [mm/s], acceleration_limit_mm_s2 [mm/s²].
    Returns: [s].
    Holds: trapezoid where the speed limit is reached, triangle where it is not.
    Sources: motion-textbook.

    >>> trapezoid_move_time_s(125, 500, 2000)
    0.5
    """
    d, v, a = distance_mm, speed_limit_mm_s, acceleration_limit_mm_s2
    return np.where(d >= v * v / a, d / v + v / a, 2 * np.sqrt(d / a))


@function("motion-textbook")
def braked_move_time_s(
    distance_mm: Any, speed_limit_mm_s: Any, acceleration_limit_mm_s2: Any, braking_limit_mm_s2: Any
) -> Any:
    """Time of one axis move, rest to rest, that brakes harder or softer than it speeds up; no jerk limit.

    Arguments: distance_mm [mm], speed_limit_mm_s [mm/s], acceleration_limit_mm_s2 [mm/s²], braking_limit_mm_s2 [mm/s²].
    Returns: [s].
    Holds: trapezoid where the speed limit is reached, triangle where it is not; equal limits give trapezoid_move_time_s.
    Sources: motion-textbook.

    >>> round(braked_move_time_s(500, 500, 2000, 4000), 4), round(braked_move_time_s(60, 500, 2000, 4000), 4)
    (1.1875, 0.3)
    """
    d, v = distance_mm, speed_limit_mm_s
    per_speed = (
        1 / acceleration_limit_mm_s2 + 1 / braking_limit_mm_s2
    )  # seconds of speeding up and braking for each mm/s
    return np.where(d >= v * v * per_speed / 2, d / v + v * per_speed / 2, np.sqrt(2 * d * per_speed))


@function("motion-textbook")
def approach_time_s(
    approach_distance_mm: Any, approach_speed_mm_s: Any, ram_acceleration_mm_s2: Any, pressing_speed_mm_s: Any
) -> Any:
    """Time of a move from rest that ends at pressing speed: the ram's way down to the slow-down point.

    With d the way, v the approach speed, a the acceleration and u the pressing speed. Speeding up to a peak w takes w/a over w²/(2 a);
    slowing down to u takes (w - u)/a over (w² - u²)/(2 a). The peak is v, or where the way is short the w at which both ways fill d:
    w² = a d + u²/2. What is left is cruised at w. A way shorter than u²/(2 a) never reaches u: t = sqrt(2 d/a).

    Arguments: approach_distance_mm [mm], approach_speed_mm_s [mm/s], ram_acceleration_mm_s2 [mm/s²], pressing_speed_mm_s [mm/s].
    Returns: [s].
    Holds: no jerk limit; where the way is too short to reach pressing speed, the ram is still speeding up at its end.
    Sources: motion-textbook.

    >>> round(approach_time_s(54, 120, 600, 9), 4)
    0.6356
    """
    d, v, a = approach_distance_mm, approach_speed_mm_s, ram_acceleration_mm_s2
    u = np.minimum(pressing_speed_mm_s, v)
    peak = np.minimum(v, np.sqrt(a * d + u * u / 2))
    cruise = d - peak * peak / (2 * a) - (peak * peak - u * u) / (2 * a)
    reaching = peak / a + (peak - u) / a + cruise / peak
    return np.where(d >= u * u / (2 * a), reaching, np.sqrt(2 * d / a))
