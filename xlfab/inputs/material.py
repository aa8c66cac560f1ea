"""A sheet material."""

from __future__ import annotations

from xlfab.inputs.records import Name, Record


class Material(Record):
    """Strength, density, behaviour in bending and shearing, and price of a sheet."""

    material: Name
    tensile_strength_mpa: float
    shear_ratio: float
    density_kg_per_m3: float
    radius_ratio: float
    penetration_share: float
    blade_gap_share: float
    thickness_tolerance_share: float
    force_area_share: float
    material_price_cur_per_kg: float
    offcut_price_cur_per_kg: float
