"""Can it be done at all: margins of every step on every machine. Below zero a margin says by how much it fails."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table

UNKNOWN = "cannot be worked out: outside what the formulas hold for"

# margin column -> what is said where it is below zero
BRAKE_MARGINS = {
    "force_margin_kn": "force too small at this length",
    "tool_margin_kn_per_m": "tools overloaded",
    "length_margin_mm": "bend longer than the machine",
    "stroke_margin_mm": "stroke too short",
    "daylight_margin_mm": "open height too small for tools and flange",
    "flange_margin_mm": "flange too short for the die",
}
SHEAR_MARGINS = {
    "thickness_margin_mm": "sheet too thick or too strong",
    "length_margin_mm": "cut longer than the blade",
}


def bends_feasible(number: int, machine: Table, bends: Table, data: Table, on: Table) -> Table:
    """Margins of each bend on one press brake."""
    m = machine
    t = Table(f"feasible_press_brake_{number}", f"Can it be done, press brake {number}", on.rows)
    t.copy("part", bends["part"])
    t.copy("step_count", bends["step_count"], label="Step")
    thick = (data["largest_force_kn"], data["thickest_mm"], data["thickness_mm"])
    t.add("needed_force_kn", F["thickest_force_kn"], *thick, label="Force with the thickest sheet")
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
    t.add("flange_margin_mm", F["flange_margin_mm"], *flange, label="Flange margin")
    against: dict[str, Ref | str] = {
        "force_margin_kn": "needed_force_kn",
        "tool_margin_kn_per_m": "tool_load_kn_per_m",
        "length_margin_mm": bends["bend_length_mm"],
        "stroke_margin_mm": on["ram_travel_mm"],
        "daylight_margin_mm": "needed_daylight_mm",
        "flange_margin_mm": data["shortest_flange_mm"],
    }
    _verdict(t, BRAKE_MARGINS, against, on)
    return t


def cuts_feasible(number: int, machine: Table, cuts: Table, data: Table, on: Table) -> Table:
    """Margins of each cut on one shear."""
    m = machine
    t = Table(f"feasible_shear_{number}", f"Can it be done, shear {number}", on.rows)
    t.copy("part", cuts["part"])
    t.copy("step_count", cuts["step_count"], label="Step")
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
    against: dict[str, Ref | str] = {
        "thickness_margin_mm": data["thickness_mm"],
        "length_margin_mm": cuts["cut_length_mm"],
    }
    _verdict(t, SHEAR_MARGINS, against, on)
    return t


def _verdict(t: Table, margins: dict[str, str], needed: dict[str, Ref | str], on: Table) -> None:
    """Whether a step can be made, and how far it is from it: `needed` is what each margin is compared with."""
    figures = (on["step_time_s"], on["work_energy_kj"], on["lift_energy_kj"])
    t.unknown("unknown_switch", *margins, *figures, label="Cannot be worked out")
    t.failing("fails_count", "unknown_switch", *margins, label="Checks that fail")
    t.switched("fails_switch", "fails_count", 1.0, 0.0, label="Cannot be made")
    t.worst(
        "worst_ratio",
        "unknown_switch",
        dict(zip(margins, needed.values(), strict=True)),
        label="Worst margin over what is needed",
    )
    words = tuple(margins.values())

    def said(unknown: Any, *values: Any) -> Any:
        found = np.where(unknown > 0, UNKNOWN, "OK")
        for value, text in reversed(list(zip(values, words, strict=True))):
            found = np.where(np.where(np.isfinite(value), value, 0.0) < 0, text, found)
        return found

    t.add("can_it_be_done", said, "unknown_switch", *margins, text=True, label="Can it be done")
