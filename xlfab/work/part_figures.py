"""What a part is, whichever machine makes it: material, mass, people, handling, lots, family."""

from __future__ import annotations

from typing import Any

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Rows, Table

_MATERIAL = (
    "tensile_strength_mpa",
    "shear_ratio",
    "density_kg_per_m3",
    "radius_ratio",
    "penetration_share",
    "blade_gap_share",
    "thickness_tolerance_share",
    "force_area_share",
    "material_price_cur_per_kg",
    "offcut_price_cur_per_kg",
)
_HANDLINGS = {"load": "Load", "unload": "Unload", "stack": "Stack", "reposition": "Reposition"}


def part_data(rows: Rows, parts: Table, materials: Table, workplace: Table, bends: Table, cuts: Table) -> Table:
    """The part's own figures, from the lists of parts and materials and the workplace."""
    t = Table("part_data", "Part figures", rows)
    t.copy("part", parts["part"])
    t.lookup("material_row", "part", parts["material"], "part", text=True, label="Material")
    for key in _MATERIAL:
        t.lookup(key, "material_row", materials[key], "material")
    t.add("shear_strength_mpa", F["shear_strength_mpa"], "tensile_strength_mpa", "shear_ratio")
    t.add(
        "thickest_mm",
        F["thickest_sheet_mm"],
        parts["thickness_mm"],
        "thickness_tolerance_share",
        label="Thickest sheet",
    )
    t.add("blade_gap_mm", F["blade_gap_mm"], parts["thickness_mm"], "blade_gap_share", label="Blade gap to start from")
    size = (parts["blank_length_mm"], parts["blank_width_mm"])
    t.add("blank_mass_kg", F["blank_mass_kg"], *size, parts["thickness_mm"], "density_kg_per_m3")
    _people_and_handling(t, parts, workplace, size)
    t.add("lots_per_year_count", F["lots_per_year_count"], parts["yearly_quantity_count"], parts["lot_size_count"])
    t.count("bends_count", "part", bends["part"], label="Bends")
    t.count("cuts_count", "part", cuts["part"], label="Cuts")
    t.larger("cut_lines_count", "cuts_count", 1.0, label="Cut lines to set")
    t.lookup("family_row", "part", parts["family"], "part", text=True, label="Family")
    t.count("family_members_count", "family_row", parts["family"], label="Parts of the family")
    t.larger("family_lots_count", "family_members_count", 1.0, label="Lots in a row")
    sheet = (
        "sheet_use_share",
        "sheet_plan_switch",
        "sheet_length_mm",
        "sheet_width_mm",
        "edge_trim_mm",
        "strip_trim_mm",
    )
    t.add(
        "used_sheet_use_share",
        F["used_sheet_use_share"],
        *(parts[key] for key in sheet),
        *size,
        label="Sheet use in the cost",
    )
    price = ("material_price_cur_per_kg", "offcut_price_cur_per_kg")
    t.add("material_cost_cur", F["material_cost_cur"], "blank_mass_kg", "used_sheet_use_share", *price)
    return t


def _people_and_handling(t: Table, parts: Table, workplace: Table, size: tuple[Any, ...]) -> None:
    """People or hoist, learning in the lot, and the operator's times with them."""
    limits = (workplace["one_person_mass_kg"], parts["blank_length_mm"], workplace["one_person_length_mm"])
    t.add("people_count", F["crew_count"], "blank_mass_kg", *limits, label="People without hoist")
    t.add("hoist_switch", F["hoist_switch"], "blank_mass_kg", workplace["two_person_mass_kg"])
    t.add("crew_count", F["crew_with_hoist_count"], "people_count", "hoist_switch", label="People at the machine")
    curve = (workplace["learning_rate_share"], workplace["standard_unit_count"], parts["lot_size_count"])
    t.add("learning_ratio", F["learning_factor_ratio"], *curve, workplace["wright_switch"], label="Learning in the lot")
    for kind, label in _HANDLINGS.items():
        slopes = (workplace[f"{kind}_base_s"], workplace[f"{kind}_size_s_per_m"], workplace[f"{kind}_mass_s_per_kg"])
        t.add(f"{kind}_handling_s", F["handling_time_s"], *slopes, *size, "blank_mass_kg", label=f"{label} one person")
    ends = ("load_handling_s", "unload_handling_s", "stack_handling_s")
    t.sum("ends_handling_s", *ends, label="Load, unload and stack one person")
    for kind, source, label in (
        ("load", "ends_handling_s", "Load, unload and stack"),
        ("reposition", "reposition_handling_s", "Reposition"),
    ):
        crew = (source, "crew_count", workplace["second_person_s"])
        t.add(f"{kind}_crew_s", F["crew_handling_time_s"], *crew, label=f"{label} with crew")
        hoist = ("hoist_switch", workplace["hoist_time_s"]) if kind == "load" else (0.0, 0.0)
        t.add(f"{kind}_standard_s", F["hoist_handling_time_s"], f"{kind}_crew_s", *hoist, label=f"{label} at standard")
        t.times(f"{kind}_time_s", f"{kind}_standard_s", "learning_ratio", label=label)
