"""What a part is, whichever machine makes it: material, mass, people, handling, lots."""

from __future__ import annotations

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.model import Rows, Table


def part_data(rows: Rows, parts: Table, materials: Table, workplace: Table, bends: Table, cuts: Table) -> Table:
    """The part's own figures, from the lists of parts and materials and the workplace."""
    t = Table("part_data", "Part figures", rows)
    t.add("part", lambda name: name, parts["part"], text=True)
    t.lookup("material_row", "part", parts["material"], "part", text=True, label="Material")
    for key in ("tensile_strength_mpa", "shear_ratio", "density_kg_per_m3", "radius_ratio", "penetration_share"):
        t.lookup(key, "material_row", materials[key], "material")
    for key in ("force_area_share", "material_price_cur_per_kg", "offcut_price_cur_per_kg"):
        t.lookup(key, "material_row", materials[key], "material")
    t.add("shear_strength_mpa", F["shear_strength_mpa"], "tensile_strength_mpa", "shear_ratio")
    size = (parts["blank_length_mm"], parts["blank_width_mm"])
    t.add("blank_mass_kg", F["blank_mass_kg"], *size, parts["thickness_mm"], "density_kg_per_m3")
    t.add(
        "crew_count",
        F["crew_count"],
        "blank_mass_kg",
        workplace["one_person_mass_kg"],
        parts["blank_length_mm"],
        workplace["one_person_length_mm"],
    )
    for kind, label in (("load", "Load and unload"), ("reposition", "Reposition")):
        slopes = (workplace[f"{kind}_base_s"], workplace[f"{kind}_size_s_per_m"], workplace[f"{kind}_mass_s_per_kg"])
        t.add(f"{kind}_handling_s", F["handling_time_s"], *slopes, *size, "blank_mass_kg", label=f"{label} one person")
        t.add(
            f"{kind}_time_s",
            F["crew_handling_time_s"],
            f"{kind}_handling_s",
            "crew_count",
            workplace["second_person_s"],
            label=label,
        )
    t.add("lots_per_year_count", F["lots_per_year_count"], parts["yearly_quantity_count"], parts["lot_size_count"])
    t.count("bends_count", "part", bends["part"], label="Bends")
    t.count("cuts_count", "part", cuts["part"], label="Cuts")
    t.add("cut_lines_count", lambda n: np.where(n > 1, n, 1.0), "cuts_count", label="Cut lines to set")
    price = ("material_price_cur_per_kg", "offcut_price_cur_per_kg")
    t.add("material_cost_cur", F["material_cost_cur"], "blank_mass_kg", parts["sheet_use_share"], *price)
    return t
