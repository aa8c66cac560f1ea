"""The revised NIOSH lifting equation, in its metric and its US constants, which are not conversions of each other.

An indication, never a clearance to lift. It does not apply to lifting with one hand, seated or kneeling, in a restricted space,
of unstable loads, at high speed, for more than 8 hours, or by two people together. Have a competent person assess the job.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

_INCH_MM, _POUND_KG = 25.4, 0.45359237
# Table 5 of the manual: lifts a minute, then the multiplier for up to 1, 2 and 8 hours of lifting
_FREQUENCY = (
    (0.2, 1.00, 0.95, 0.85),
    (0.5, 0.97, 0.92, 0.81),
    (1, 0.94, 0.88, 0.75),
    (2, 0.91, 0.84, 0.65),
    (3, 0.88, 0.79, 0.55),
    (4, 0.84, 0.72, 0.45),
    (5, 0.80, 0.60, 0.35),
    (6, 0.75, 0.50, 0.27),
    (7, 0.70, 0.42, 0.22),
    (8, 0.60, 0.35, 0.18),
    (9, 0.52, 0.30, 0.15),
    (10, 0.45, 0.26, 0.13),
    (11, 0.41, 0.23, 0.00),
    (12, 0.37, 0.21, 0.00),
    (13, 0.34, 0.00, 0.00),
    (14, 0.31, 0.00, 0.00),
    (15, 0.28, 0.00, 0.00),
)
_WAIST_MM = 750  # from this height of the hands the table allows more lifts a minute
_MOST_LOW = (
    12,
    10,
    8,
)  # lifts a minute from below that height, by the hours of lifting: above them the multiplier is 0


def _limit(
    constant: Any, reach: Any, vertical: Any, travel: Any, asymmetry: Any, nearest: float, farthest: float, top: float
) -> Any:
    """Load constant and the four geometric multipliers; zero outside the reach of the method, as the manual has it."""
    near = np.maximum(reach, nearest)
    way = np.maximum(travel, nearest)
    slope, middle, per_way = constant[1:]
    limit = constant[0] * nearest / near * (1 - slope * np.abs(vertical - middle)) * (0.82 + per_way / way)
    inside = (reach <= farthest) & (vertical <= top) & (travel <= top) & (asymmetry <= 135)
    return np.where(inside, limit * (1 - 0.0032 * asymmetry), 0.0)


@function("niosh-lifting")
def weight_limit_kg(
    lift_reach_mm: Any,
    lift_height_mm: Any,
    lift_travel_mm: Any,
    asymmetry_deg: Any,
    lift_frequency_share: Any,
    lift_coupling_share: Any,
) -> Any:
    """Recommended weight limit of the revised NIOSH lifting equation, metric constants: an indication, never a clearance.

    Arguments: lift_reach_mm [mm] hands before the ankles, lift_height_mm [mm] hands above the floor, lift_travel_mm [mm] up or down, asymmetry_deg [°] of twist, lift_frequency_share [share] from the manual's table 5, lift_coupling_share [share] from its table 7.
    Returns: [kg]; 0 outside the method's reach (beyond 63 cm, above 175 cm, beyond 135 degrees).
    Holds: two hands, standing, up to 8 hours, stable load, 23 kg load constant; have a competent person assess the job.
    Sources: niosh-lifting.

    >>> round(weight_limit_kg(250, 750, 250, 0, 1, 1), 2)
    23.0
    """
    metric = (23.0, 0.0003, 750.0, 45.0)
    base = _limit(metric, lift_reach_mm, lift_height_mm, lift_travel_mm, asymmetry_deg, 250.0, 630.0, 1750.0)
    return base * lift_frequency_share * lift_coupling_share


@function("niosh-lifting")
def weight_limit_us_constants_kg(
    lift_reach_mm: Any,
    lift_height_mm: Any,
    lift_travel_mm: Any,
    asymmetry_deg: Any,
    lift_frequency_share: Any,
    lift_coupling_share: Any,
) -> Any:
    """Recommended weight limit of the revised NIOSH lifting equation, US constants: an indication, never a clearance.

    Arguments: lift_reach_mm [mm] hands before the ankles, lift_height_mm [mm] hands above the floor, lift_travel_mm [mm] up or down, asymmetry_deg [°] of twist, lift_frequency_share [share] from the manual's table 5, lift_coupling_share [share] from its table 7.
    Returns: [kg]; 0 outside the method's reach (beyond 25 in, above 70 in, beyond 135 degrees).
    Holds: as weight_limit_kg, with 51 lb, 10 in, 30 in and 1.8 in.
    Sources: niosh-lifting.

    >>> round(weight_limit_us_constants_kg(254, 762, 254, 0, 1, 1) / 0.45359237, 2)
    51.0
    """
    us = (51.0 * _POUND_KG, 0.0075 / _INCH_MM, 30 * _INCH_MM, 1.8 * _INCH_MM)
    nearest, farthest, top = 10 * _INCH_MM, 25 * _INCH_MM, 70 * _INCH_MM
    base = _limit(us, lift_reach_mm, lift_height_mm, lift_travel_mm, asymmetry_deg, nearest, farthest, top)
    return base * lift_frequency_share * lift_coupling_share


@function("niosh-lifting", domain="the weight limit is 0: this lift is outside the method's reach")
def lifting_index_ratio(load_mass_kg: Any, weight_limit_kg: Any) -> Any:
    """Lifting index: load over recommended weight limit.

    Arguments: load_mass_kg [kg], weight_limit_kg [kg].
    Returns: [ratio]; above 1 the stress on the back rises.
    Holds: an indication, never a clearance.
    Sources: niosh-lifting.

    >>> round(lifting_index_ratio(26, 34.9), 2)
    0.74
    """
    return load_mass_kg / weight_limit_kg


@function("niosh-lifting")
def lift_frequency_per_min(lift_rate_per_min: Any, lifting_minutes_min: Any) -> Any:
    """Lifting frequency over 15 minutes in which lifting goes on for a part of the time.

    Arguments: lift_rate_per_min [1/min] while lifting, lifting_minutes_min [min] of lifting in 15 minutes.
    Returns: [1/min].
    Holds: the manual's special frequency adjustment, up to 15 lifts a minute.
    Sources: niosh-lifting.

    >>> round(lift_frequency_per_min(10, 8), 2)
    5.33
    """
    return lift_rate_per_min * lifting_minutes_min / 15


def _by_hours(hours: Any, short: Any, moderate: Any, long: Any) -> Any:
    return np.where(hours <= 1, short, np.where(hours <= 2, moderate, long))


@function("niosh-lifting")
def lift_frequency_share(lift_rate_per_min: Any, lifting_h: Any, lift_height_mm: Any) -> Any:
    """Frequency multiplier of the NIOSH lifting equation, from table 5 of its manual.

    Arguments: lift_rate_per_min [1/min], lifting_h [h] of lifting a day, with recovery as the manual asks, lift_height_mm [mm] hands above the floor.
    Returns: [share]; 0 where the method allows no lifting.
    Holds: between two rows the row of more lifts; up to 8 hours and 15 lifts a minute; an indication, never a clearance.
    Sources: niosh-lifting.

    >>> lift_frequency_share(3, 1, 500), lift_frequency_share(3, 8, 500), lift_frequency_share(2.5, 2, 900)
    (0.88, 0.55, 0.79)
    """
    share: Any = 0.0
    for rate, *shares in reversed(_FREQUENCY):
        share = np.where(lift_rate_per_min <= rate, _by_hours(lifting_h, *shares), share)
    low = (lift_height_mm < _WAIST_MM) & (lift_rate_per_min > _by_hours(lifting_h, *_MOST_LOW))
    return np.where(low, 0.0, share)


@function("niosh-lifting")
def lift_coupling_share(grip_grade_count: Any, lift_height_mm: Any) -> Any:
    """Coupling multiplier of the NIOSH lifting equation, from table 7 of its manual: how well the load can be held.

    Arguments: grip_grade_count [count] 1 good (handles), 2 fair, 3 poor (bare sheet, sharp or sagging), lift_height_mm [mm] hands above the floor.
    Returns: [share].
    Holds: the worse grip of the lift counts; an indication, never a clearance.
    Sources: niosh-lifting.

    >>> lift_coupling_share(1, 500), lift_coupling_share(2, 500), lift_coupling_share(2, 900), lift_coupling_share(3, 900)
    (1.0, 0.95, 1.0, 0.9)
    """
    fair = np.where(lift_height_mm < _WAIST_MM, 0.95, 1.0)
    return np.where(grip_grade_count < 1.5, 1.0, np.where(grip_grade_count < 2.5, fair, 0.9))
