"""Flat blank length: bend allowance by DIN 6935 and by a stated K-factor."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("din-6935")
def din_6935_k_ratio(inside_radius_mm: Any, thickness_mm: Any) -> Any:
    """Correction factor k of DIN 6935, which acts on half the thickness.

    Arguments: inside_radius_mm [mm], thickness_mm [mm].
    Returns: [ratio].
    Holds: k = 0.65 + 0.5 log10(r/t), never above 1; the engineering K-factor is k/2. Below r/t = 0.05 it would be negative: no result.
    Sources: din-6935.

    >>> round(din_6935_k_ratio(3, 3), 2)
    0.65
    """
    k = 0.65 + 0.5 * np.log10(inside_radius_mm / thickness_mm)
    k = np.where(inside_radius_mm / thickness_mm > 5, 1.0, k)
    return np.where(k >= 0, k, np.nan)


@function("din-6935")
def bend_allowance_din_6935_mm(bend_angle_deg: Any, inside_radius_mm: Any, thickness_mm: Any) -> Any:
    """Arc length of the neutral line through a bend, by DIN 6935.

    Arguments: bend_angle_deg [°] (0 flat, 90 square), inside_radius_mm [mm], thickness_mm [mm].
    Returns: [mm].
    Holds: cold bending of flat steel; angle x (r + k t/2).
    Sources: din-6935.

    >>> round(bend_allowance_din_6935_mm(90, 3, 3), 3)
    6.244
    """
    k = din_6935_k_ratio.formula(inside_radius_mm, thickness_mm)
    return np.radians(bend_angle_deg) * (inside_radius_mm + k * thickness_mm / 2)


@function("k-factor-textbook")
def bend_allowance_k_factor_mm(
    bend_angle_deg: Any, inside_radius_mm: Any, thickness_mm: Any, k_factor_ratio: Any
) -> Any:
    """Arc length of the neutral line through a bend, with a stated K-factor.

    Arguments: bend_angle_deg [°], inside_radius_mm [mm], thickness_mm [mm], k_factor_ratio [ratio] (position of the neutral line in the thickness).
    Returns: [mm].
    Holds: angle x (r + K t); measure K on your own sheet.
    Sources: k-factor-textbook.

    >>> round(bend_allowance_k_factor_mm(60, 4.75, 3.2, 0.33), 2)
    6.08
    """
    return np.radians(bend_angle_deg) * (inside_radius_mm + k_factor_ratio * thickness_mm)


@function("din-6935")
def outside_setback_mm(bend_angle_deg: Any, inside_radius_mm: Any, thickness_mm: Any) -> Any:
    """Distance from the bend's tangent point to the outside corner: what one flange loses to the bend.

    Arguments: bend_angle_deg [°], inside_radius_mm [mm], thickness_mm [mm].
    Returns: [mm].
    Holds: flanges measured to the outside corner up to 90 degrees, to the outside tangent beyond.
    Sources: din-6935.

    >>> round(outside_setback_mm(90, 3, 3), 6)
    6.0
    """
    half = np.radians(np.where(bend_angle_deg > 90, 90.0, bend_angle_deg)) / 2
    return (inside_radius_mm + thickness_mm) * np.tan(half)


@function("din-6935")
def flat_length_change_mm(bend_angle_deg: Any, inside_radius_mm: Any, thickness_mm: Any) -> Any:
    """What a bend adds to (or takes from) the sum of the outside flange lengths, by DIN 6935.

    Arguments: bend_angle_deg [°], inside_radius_mm [mm], thickness_mm [mm].
    Returns: [mm], mostly negative: flat length = sum of outside flanges + this for each bend.
    Holds: as bend_allowance_din_6935_mm and outside_setback_mm.
    Sources: din-6935.

    >>> round(flat_length_change_mm(90, 3, 3), 2)
    -5.76
    """
    allowance = bend_allowance_din_6935_mm.formula(bend_angle_deg, inside_radius_mm, thickness_mm)
    return allowance - 2 * outside_setback_mm.formula(bend_angle_deg, inside_radius_mm, thickness_mm)
