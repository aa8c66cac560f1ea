"""Can it be done at all: margins of every step on every machine. Below zero a margin says by how much it fails."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Table

# margin column -> what is said where it is below zero
BRAKE_MARGINS = {
    "force_margin_kn": "force above the machine at this length",
    "tool_margin_kn_per_m": "tools overloaded",
    "length_margin_mm": "bend longer than the machine",
    "stroke_margin_mm": "stroke too short",
    "daylight_margin_mm": "too little opening for tools and flange",
    "flange_margin_mm": "flange too short for the die",
}
SHEAR_MARGINS = {
    "thickness_margin_mm": "sheet too thick or too strong for the shear",
    "length_margin_mm": "cut longer than the blade",
}


def bends_feasible(number: int, machine: Table, bends: Table, data: Table, on: Table) -> Table:
    """Margins of each bend on one press brake."""
    m = machine
    t = Table(f"feasible_press_brake_{number}", f"Can it be done, press brake {number}", on.rows)
    t.add("part", lambda name: name, bends["part"], text=True)
    t.add("step_count", lambda step: step, bends["step_count"], label="Step")
    thick = (data["largest_force_kn"], data["thickest_mm"], data["thickness_mm"])
    t.add(
        "needed_force_kn", lambda f, thickest, s: f * (thickest / s) ** 2, *thick, label="Force with the thickest sheet"
    )
    limit = (m["rated_force_kn"], bends["bend_length_mm"], m["full_force_length_mm"])
    t.add("allowed_force_kn", F["force_at_length_kn"], *limit, label="Force allowed at this length")
    t.add("force_margin_kn", F["force_margin_kn"], "allowed_force_kn", "needed_force_kn", label="Force margin")
    t.add("tool_load_kn_per_m", F["tool_load_kn_per_m"], "needed_force_kn", bends["bend_length_mm"])
    t.add(
        "tool_margin_kn_per_m",
        F["tool_margin_kn_per_m"],
        m["tool_rating_kn_per_m"],
        "tool_load_kn_per_m",
        label="Tool margin",
    )
    t.add(
        "length_margin_mm",
        F["length_margin_mm"],
        m["working_length_mm"],
        bends["bend_length_mm"],
        label="Length margin",
    )
    t.add("stroke_margin_mm", F["length_margin_mm"], m["stroke_length_mm"], on["ram_travel_mm"], label="Stroke margin")
    room = (m["punch_height_mm"], m["die_height_mm"], data["flange_height_mm"], m["flange_clearance_mm"])
    t.add("needed_daylight_mm", F["needed_daylight_mm"], *room, label="Daylight needed")
    t.add("daylight_margin_mm", F["length_margin_mm"], m["daylight_mm"], "needed_daylight_mm", label="Daylight margin")
    flange = (bends["flange_length_mm"], data["shortest_flange_mm"])
    t.add("flange_margin_mm", lambda f, least: np.where(f > 0, f - least, 0.0), *flange, label="Flange margin")
    _verdict(t, BRAKE_MARGINS)
    return t


def cuts_feasible(number: int, machine: Table, cuts: Table, data: Table, on: Table) -> Table:
    """Margins of each cut on one shear."""
    m = machine
    t = Table(f"feasible_shear_{number}", f"Can it be done, shear {number}", on.rows)
    t.add("part", lambda name: name, cuts["part"], text=True)
    t.add("step_count", lambda step: step, cuts["step_count"], label="Step")
    limit = (m["shear_capacity_mm"], m["capacity_strength_mpa"], data["tensile_strength_mpa"])
    t.add("thickness_limit_mm", F["shear_thickness_limit_mm"], *limit, label="Thickest sheet of this strength")
    t.add(
        "thickness_margin_mm",
        F["length_margin_mm"],
        "thickness_limit_mm",
        data["thickness_mm"],
        label="Thickness margin",
    )
    t.add("length_margin_mm", F["length_margin_mm"], m["blade_length_mm"], cuts["cut_length_mm"], label="Length margin")
    _verdict(t, SHEAR_MARGINS)
    return t


def _verdict(t: Table, margins: dict[str, str]) -> None:
    def failing(*values: Any) -> Any:
        found: Any = 0.0
        for value in values:
            found = found + np.where(np.isfinite(value), np.where(value >= 0, 0.0, 1.0), 1.0)
        return found

    def words(*values: Any) -> Any:
        said: Any = "OK"
        for value, text in reversed(list(zip(values, margins.values(), strict=True))):
            said = np.where(np.isfinite(value), np.where(value >= 0, said, text), "no result")
        return said

    t.add("fails_count", failing, *margins, label="Checks that fail")
    t.add("can_it_be_done", words, *margins, text=True, label="Can it be done")
