"""The sheet itself: blank mass."""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function


@function("geometry")
def blank_mass_kg(blank_length_mm: Any, blank_width_mm: Any, thickness_mm: Any, density_kg_per_m3: Any) -> Any:
    """Mass of a rectangular blank.

    Arguments: blank_length_mm [mm], blank_width_mm [mm], thickness_mm [mm], density_kg_per_m3 [kg/m³].
    Returns: [kg].
    Holds: rectangle without holes.
    Sources: geometry.

    >>> blank_mass_kg(1000, 500, 2, 7850)
    7.85
    """
    return blank_length_mm * blank_width_mm * thickness_mm * density_kg_per_m3 / 1e9
