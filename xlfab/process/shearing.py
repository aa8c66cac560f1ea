"""Guillotine shearing: shear strength, force of raked and parallel blades, cutting work, blade travel."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("shear-to-tensile")
def shear_strength_mpa(tensile_strength_mpa: Any, shear_ratio: Any) -> Any:
    """Shear strength as a share of tensile strength.

    Arguments: tensile_strength_mpa [MPa], shear_ratio [ratio] (0.7 to 0.85, 0.8 the default).
    Returns: [MPa].
    Holds: sheet metal in general; sources differ between 0.7 and 0.8.
    Sources: shear-to-tensile.

    >>> shear_strength_mpa(400, 0.8)
    320.0
    """
    return tensile_strength_mpa * shear_ratio


@function("parallel-blades")
def parallel_shear_force_kn(shear_strength_mpa: Any, thickness_mm: Any, cut_length_mm: Any) -> Any:
    """Force of parallel blades: shear strength times the whole cut section.

    Arguments: shear_strength_mpa [MPa], thickness_mm [mm], cut_length_mm [mm].
    Returns: [kN].
    Holds: no rake; the upper limit for raked blades too.
    Sources: parallel-blades.

    >>> parallel_shear_force_kn(382.5, 5, 2000)
    3825.0
    """
    return shear_strength_mpa * thickness_mm * cut_length_mm / 1000


@function("raked-blades-triangle", "rake-force-note")
def raked_shear_force_kn(shear_strength_mpa: Any, thickness_mm: Any, rake_deg: Any, cut_length_mm: Any) -> Any:
    """Force of a raked blade, sized on the triangle of sheet under the blade; never above parallel blades.

    A blade that slopes by the rake cuts at any moment only where it is inside the sheet: a triangle as high as the thickness t and as
    long as t / tan(rake). Its area, t² / (2 tan(rake)), times the shear strength is the force. The blade's length does not matter once
    the cut is longer than the triangle; a shorter cut takes no more than parallel blades.

    Arguments: shear_strength_mpa [MPa], thickness_mm [mm], rake_deg [°] (slope of the blade along the cut), cut_length_mm [mm].
    Returns: [kN].
    Holds: tau t² / (2 tan(rake)); some textbooks leave out the 1/2. Never a substitute for the machine's plate.
    Sources: raked-blades-triangle, rake-force-note.

    >>> round(raked_shear_force_kn(382.5, 5, 6, 2000), 2)
    45.49
    """
    raked = shear_strength_mpa * thickness_mm**2 / (2 * np.tan(np.radians(rake_deg))) / 1000
    return np.minimum(raked, parallel_shear_force_kn.formula(shear_strength_mpa, thickness_mm, cut_length_mm))


@function("shear-work")
def shear_work_kj(
    shear_strength_mpa: Any, thickness_mm: Any, cut_length_mm: Any, penetration_share: Any, force_area_share: Any
) -> Any:
    """Work of cutting a length of sheet; rake spreads it over the stroke but does not change it.

    Under parallel blades the force tau t L acts over the share p of the thickness, and its curve fills the share c of the rectangle:
    W = c (tau t L)(p t). A rake cuts the same area bit by bit, with less force over a longer way: the same work.

    Arguments: shear_strength_mpa [MPa], thickness_mm [mm], cut_length_mm [mm], penetration_share [share] before the sheet parts, force_area_share [share] of the force curve.
    Returns: [kJ].
    Holds: c p tau t² L; leaves out clamping and the bending of the cut-off.
    Sources: shear-work.

    >>> round(shear_work_kj(330, 3, 3000, 0.45, 0.65), 2)
    2.61
    """
    return force_area_share * penetration_share * shear_strength_mpa * thickness_mm**2 * cut_length_mm / 1e6


@function("blade-geometry")
def blade_travel_mm(
    stroke_cut_length_mm: Any, rake_deg: Any, thickness_mm: Any, penetration_share: Any, blade_opening_mm: Any
) -> Any:
    """Travel of the upper blade for a cut: rake over the length, penetration, and the opening above the sheet.

    Arguments: stroke_cut_length_mm [mm] that the stroke is set to, rake_deg [°], thickness_mm [mm], penetration_share [share], blade_opening_mm [mm] above the sheet.
    Returns: [mm].
    Holds: straight blade, swing neglected; L tan(rake) + p t + opening.
    Sources: blade-geometry.

    >>> round(blade_travel_mm(3000, 1.5, 6, 0.45, 10), 1)
    91.3
    """
    return stroke_cut_length_mm * np.tan(np.radians(rake_deg)) + penetration_share * thickness_mm + blade_opening_mm


@function("blade-geometry", domain="the cut is longer than the blade")
def stroke_cut_length_mm(cut_length_mm: Any, blade_length_mm: Any, partial_stroke_switch: Any) -> Any:
    """Length that the stroke is set to: the cut's own with a partial stroke, the whole blade's without.

    Arguments: cut_length_mm [mm], blade_length_mm [mm], partial_stroke_switch [0 or 1].
    Returns: [mm].
    Holds: the cut starts at the blade's low end; a cut longer than the blade has no result.
    Sources: blade-geometry.

    >>> stroke_cut_length_mm(1200, 3100, 1), stroke_cut_length_mm(1200, 3100, 0)
    (1200.0, 3100.0)
    """
    length = np.where(partial_stroke_switch > 0, cut_length_mm, blade_length_mm)
    return np.where(cut_length_mm <= blade_length_mm, length, np.nan)
