"""Air bending and its relatives: penetration, force, work, inside radius, shortest flange."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function(
    "air-bend-geometry", domain="the punch would have to pass the die: angle or radius too large for this die opening"
)
def air_bend_penetration_mm(bend_angle_deg: Any, die_opening_mm: Any, thickness_mm: Any, inside_radius_mm: Any) -> Any:
    """Travel of the punch below the sheet's top surface that air bends to an angle.

    The bent sheet lies on both shoulders, V apart, and its inside is an arc of radius r about a centre on the middle line. With a the
    bend angle, the flanges slope by a/2. A straight line from the shoulder to the middle would go down (V/2) tan(a/2). The arc, at
    the sheet's lower side of radius r + t, stops short of that corner by (r + t)(1/cos(a/2) - 1). What is left is the depth.
    The difference is written as tan(a/2) tan(a/4), which is the same and keeps its digits at small angles.

    Arguments: bend_angle_deg [°] (0 flat, 90 square), die_opening_mm [mm] between shoulders, thickness_mm [mm], inside_radius_mm [mm].
    Returns: [mm].
    Holds: sharp die shoulders, no springback; h = (V/2) tan(a/2) - (r + t)(1/cos(a/2) - 1).
    Sources: air-bend-geometry.

    >>> round(air_bend_penetration_mm(90, 16, 2, 2.56), 3)
    6.111
    """
    half = np.radians(bend_angle_deg) / 2
    # tan(a/2) tan(a/4) is 1/cos(a/2) - 1 without the difference, which leaves few digits at small angles
    rise = (inside_radius_mm + thickness_mm) * np.tan(half) * np.tan(half / 2)
    depth = die_opening_mm / 2 * np.tan(half) - rise
    return np.where(depth >= 0, depth, np.nan)


@function("bending-force-oehler")
def air_bend_force_kn(thickness_mm: Any, tensile_strength_mpa: Any, bend_length_mm: Any, die_opening_mm: Any) -> Any:
    """Largest force of an air bend in a V die.

    A strip of length L and thickness t, held up at two shoulders V apart, is pressed in the middle: the moment is F V / 4. A fully
    plastic section takes the moment k t² L / 4. Setting both equal gives F = k L t² / V; with k near the tensile strength Rm and a
    factor C for friction and for the shoulders coming nearer, F = C Rm L t² / V. Oehler's factor is C = 1 + 4 t / V: 1.5 at V = 8 t
    and 1.33 at V = 12 t. Older handbooks state 1.33 at V = 8 t; v_die_force_factor_kn takes a factor as it is stated.
    Source page: 4ming.de, Bending force I, with the worked example below.

    Arguments: thickness_mm [mm], tensile_strength_mpa [MPa], bend_length_mm [mm], die_opening_mm [mm].
    Returns: [kN].
    Holds: steel 0.5 to 10 mm, die opening 5 to 20 thicknesses; F = (1 + 4 t/V) Rm L t² / V.
    Sources: bending-force-oehler.

    >>> round(air_bend_force_kn(1, 310, 100, 10), 3)
    4.34
    """
    factor = 1 + 4 * thickness_mm / die_opening_mm
    return factor * tensile_strength_mpa * bend_length_mm * thickness_mm**2 / die_opening_mm / 1000


@function("die-design-handbook")
def v_die_force_factor_kn(
    force_factor_ratio: Any, thickness_mm: Any, tensile_strength_mpa: Any, bend_length_mm: Any, die_opening_mm: Any
) -> Any:
    """Force of a V die with a stated factor, as older die-design handbooks write it.

    Arguments: force_factor_ratio [ratio] (1.33 at a die opening of 8 thicknesses), thickness_mm [mm], tensile_strength_mpa [MPa], bend_length_mm [mm], die_opening_mm [mm].
    Returns: [kN].
    Holds: the factor's own source; this form and air_bend_force_kn differ by up to 13 % at V = 8 t.
    Sources: die-design-handbook.

    >>> round(v_die_force_factor_kn(1.33, 1.6, 455, 1200, 12.8), 2)
    145.24
    """
    return force_factor_ratio * tensile_strength_mpa * bend_length_mm * thickness_mm**2 / die_opening_mm / 1000


@function("bending-force-oehler")
def air_bend_work_kj(bend_force_kn: Any, penetration_mm: Any, force_mean_share: Any) -> Any:
    """Work of an air bend: largest force times penetration times the mean factor of the force curve.

    Work is the area under the force over the way, W = m F h: h the penetration, F the largest force, m the mean force over the
    largest. The force rises fast, stays, and falls a little; m lies between 0.6 and 0.9. Source page: 4ming.de, Bending force I,
    which gives 48.82 J for 4.34 kN over 15 mm at m = 0.75.

    Arguments: bend_force_kn [kN], penetration_mm [mm], force_mean_share [share] (0.6 to 0.9).
    Returns: [kJ].
    Holds: air bends without coining.
    Sources: bending-force-oehler.

    >>> round(air_bend_work_kj(4.34, 15, 0.75) * 1000, 1)
    48.8
    """
    return force_mean_share * bend_force_kn * penetration_mm / 1000


@function("shop-practice")
def natural_inside_radius_mm(die_opening_mm: Any, radius_ratio: Any) -> Any:
    """Inside radius that an air bend takes of itself, as a share of the die opening.

    Arguments: die_opening_mm [mm], radius_ratio [ratio] (about 0.16 for mild steel).
    Returns: [mm].
    Holds: common practice, no source; the radius falls a little with higher strength and sharper angle.
    Sources: shop-practice.

    >>> natural_inside_radius_mm(16, 0.16)
    2.56
    """
    return die_opening_mm * radius_ratio


@function("shop-practice")
def shortest_flange_mm(die_opening_mm: Any, bend_angle_deg: Any) -> Any:
    """Shortest outside flange that still bridges the die, from the shoulder's distance along the bent leg.

    Arguments: die_opening_mm [mm], bend_angle_deg [°].
    Returns: [mm].
    Holds: common practice, no source: about 0.7 V at 90 degrees, taken as (V/2)/cos(a/2), 0.71 V at 90 degrees.
    Sources: shop-practice.

    >>> round(shortest_flange_mm(16, 90), 2)
    11.31
    """
    return die_opening_mm / 2 / np.cos(np.radians(bend_angle_deg) / 2)
