"""Setting the shear: blade gap, rake, and the thickest sheet it takes. The shear's own plate and manual go before."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("blade-gap")
def blade_gap_mm(thickness_mm: Any, blade_gap_share: Any) -> Any:
    """Gap between the blades as a share of the thickness.

    Arguments: thickness_mm [mm], blade_gap_share [share] by material.
    Returns: [mm].
    Holds: a starting value for a qualified setter, never a substitute for the shear's manual.
    Sources: blade-gap.

    >>> round(blade_gap_mm(3.2, 0.075), 6)
    0.24
    """
    return thickness_mm * blade_gap_share


@function("blade-gap-strength")
def blade_gap_from_strength_mm(thickness_mm: Any, shear_strength_mpa: Any) -> Any:
    """Gap between the blades from thickness and shear strength: stronger sheet takes a wider gap.

    Arguments: thickness_mm [mm], shear_strength_mpa [MPa].
    Returns: [mm].
    Holds: 0.0032 t sqrt(tau), tau in N/mm²; a starting value for a qualified setter, never a substitute for the shear's manual.
    Sources: blade-gap-strength.

    >>> round(blade_gap_from_strength_mm(1.13, 200), 4)
    0.0511
    """
    return 0.0032 * thickness_mm * np.sqrt(shear_strength_mpa)


@function("raked-blades-triangle")
def least_rake_deg(shear_strength_mpa: Any, thickness_mm: Any, shear_force_limit_kn: Any) -> Any:
    """Smallest rake at which the force of the cut stays within a limit; less rake twists the strip less.

    Arguments: shear_strength_mpa [MPa], thickness_mm [mm], shear_force_limit_kn [kN].
    Returns: [°].
    Holds: the triangle of raked_shear_force_kn turned round: atan(tau t² / (2 F)); the plate of the machine goes before.
    Sources: raked-blades-triangle.

    >>> round(least_rake_deg(382.5, 5, 45.49), 2)
    6.0
    """
    return np.degrees(np.arctan(shear_strength_mpa * thickness_mm**2 / (2000 * shear_force_limit_kn)))


@function("definition")
def thickest_sheet_mm(thickness_mm: Any, thickness_tolerance_share: Any) -> Any:
    """Thickness that force, gap and capacity must allow for: nominal plus tolerance.

    Arguments: thickness_mm [mm] nominal, thickness_tolerance_share [share] upper tolerance on the sheet's certificate over the thickness.
    Returns: [mm].
    Holds: the tolerance that the sheet was bought to.
    Sources: definition.

    >>> round(thickest_sheet_mm(6, 0.05), 6)
    6.3
    """
    return thickness_mm * (1 + thickness_tolerance_share)


@function("shear-capacity")
def shear_thickness_limit_mm(shear_capacity_mm: Any, capacity_strength_mpa: Any, tensile_strength_mpa: Any) -> Any:
    """Thickest sheet of one strength that a shear cuts which is rated in another.

    Arguments: shear_capacity_mm [mm] on the plate, capacity_strength_mpa [MPa] that the plate is stated for, tensile_strength_mpa [MPa] of the sheet.
    Returns: [mm].
    Holds: equal force at the same rake, so thickness goes as 1/sqrt(strength); never above the plate's thickness.
    Sources: shear-capacity.

    >>> round(shear_thickness_limit_mm(6, 450, 700), 2), shear_thickness_limit_mm(6, 450, 250)
    (4.81, 6.0)
    """
    ratio = capacity_strength_mpa / tensile_strength_mpa
    return shear_capacity_mm * np.sqrt(np.minimum(ratio, 1.0))
