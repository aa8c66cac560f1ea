"""The revised NIOSH lifting equation, in its metric and its US constants, which are not conversions of each other.

An indication, never a clearance to lift. It does not apply to lifting with one hand, seated or kneeling, in a restricted space,
of unstable loads, at high speed, for more than 8 hours, or by two people together. Have a competent person assess the job.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

_INCH_MM, _POUND_KG = 25.4, 0.45359237


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
    return np.where(weight_limit_kg > 0, load_mass_kg / weight_limit_kg, np.nan)


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
