"""Cuts: what the sheet needs, then the time and electricity of each cut on a given shear."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Rows, Table
from xlfab.work.bend_times import in_a_part, lift_energy


def cut_list(cuts: Table, parts: Table) -> Table:
    """Each cut with the row of its part; its figures are added to it."""
    t = Table("cut_data", "Cut figures", cuts.rows)
    t.copy("part", cuts["part"])
    t.row_of("part", parts["part"])
    return t


def add_cut_data(t: Table, parts: Table, part_data: Table, cuts: Table, rakes: Table) -> None:
    """What each cut needs, whichever shear makes it."""
    t.lookup("thickness_mm", "part", parts["thickness_mm"], "part")
    for key in ("tensile_strength_mpa", "shear_strength_mpa", "penetration_share", "force_area_share", "thickest_mm"):
        t.lookup(key, "part", part_data[key], "part")
    t.lookup("blade_gap_mm", "part", part_data["blade_gap_mm"], "part")
    t.lookup("usual_rake_deg", "thickness_mm", rakes["rake_deg"], "least_thickness_mm", steps=True, label="Usual rake")
    t.lookup("reposition_time_s", "part", part_data["reposition_time_s"], "part")
    section = ("shear_strength_mpa", "thickness_mm", cuts["cut_length_mm"])
    t.add("work_kj", F["shear_work_kj"], *section, "penetration_share", "force_area_share", label="Cutting work")


def yearly_strokes(t: Table, cuts: Table, parts: Table) -> None:
    """Strokes a year of each cut: they wear the blades."""
    t.lookup("yearly_quantity_count", "part", parts["yearly_quantity_count"], "part")
    t.times("strokes_per_year", cuts["per_part_count"], "yearly_quantity_count")


def stroke_basis(number: int, machine: Table, workplace: Table) -> Table:
    """Which stroke time a shear uses, and what a piece costs that is fetched from behind it."""
    t = Table.record(f"stroke_basis_{number}", f"Stroke and rear of shear {number}")
    used = machine["stroke_rating_switch"]
    t.add("stroke_basis", _basis, used, text=True, label="Stroke time is taken from")
    t.add(
        "rated_stroke_time_s", F["rated_stroke_time_s"], machine["strokes_per_min"], label="Full stroke by the rating"
    )
    full = (
        machine["blade_length_mm"],
        machine["rake_deg"],
        machine["shear_capacity_mm"],
        1.0,
        machine["blade_opening_mm"],
    )
    t.add("full_travel_mm", F["blade_travel_mm"], *full, label="Full blade travel through the thickest sheet")
    speeds = (machine["cutting_speed_mm_s"], machine["blade_return_speed_mm_s"])
    dead = (machine["clamp_time_s"], machine["shear_dead_time_s"])
    t.add(
        "computed_stroke_time_s",
        F["shear_stroke_time_s"],
        "full_travel_mm",
        *speeds,
        *dead,
        label="Full stroke by the speeds",
    )
    walk = (workplace["rear_walk_m"], workplace["walking_speed_m_s"], workplace["pieces_per_walk_count"])
    rear = (workplace["rear_pick_time_s"], machine["rear_support_switch"])
    t.add("rear_collect_time_s", F["rear_collect_time_s"], *walk, *rear, label="Fetching a piece from behind")
    return t


def cuts_on(number: int, machine: Table, basis: Table, rows: Rows, cuts: Table, data: Table) -> Table:
    """Time and electricity of each cut on one shear."""
    m = machine
    t = Table(f"cuts_on_{number}", f"Cuts on shear {number}", rows)
    t.copy("part", cuts["part"])
    _stroke(t, m, basis, cuts, data)
    force = (data["shear_strength_mpa"], data["thickness_mm"], m["rake_deg"], cuts["cut_length_mm"])
    t.add("shear_force_kn", F["raked_shear_force_kn"], *force)
    limits = (m["gauge_x_speed_mm_s"], m["gauge_acceleration_mm_s2"], m["gauge_jerk_mm_s3"])
    t.sum("gauge_x_way_mm", cuts["gauge_x_mm"], m["gauge_pull_back_mm"], label="Gauge way")
    t.add("gauge_x_time_s", F["axis_move_time_s"], "gauge_x_way_mm", *limits)
    t.add("gauge_time_s", F["gauge_step_time_s"], "gauge_x_time_s", 0.0, 0.0, m["gauge_settle_time_s"])
    t.add("gauge_wait_s", F["gauge_wait_s"], 0.0, "gauge_time_s", data["reposition_time_s"], m["overlap_switch"], 0.0)
    t.add("step_time_s", F["step_time_s"], "blade_s", 0.0, data["reposition_time_s"], "gauge_wait_s")
    t.add(
        "work_energy_kj", F["drive_input_kj"], data["work_kj"], m["drive_efficiency_share"], label="Cutting electricity"
    )
    lift_energy(t, m, "blade_travel_mm")
    in_a_part(t, "blade_s", data["reposition_time_s"], cuts["per_part_count"], "Blade", "Cutting")
    return t


def stroke_times(t: Table, m: Table, basis: Table, length: Ref | str, *sheet: Ref | str) -> None:
    """The stroke set to a length, by blade travel and speeds and by the rating, and the one that is used; `sheet` is thickness and penetration."""
    t.add("stroke_cut_length_mm", F["stroke_cut_length_mm"], length, m["blade_length_mm"], m["partial_stroke_switch"])
    travel = ("stroke_cut_length_mm", m["rake_deg"], *sheet, m["blade_opening_mm"])
    t.add("blade_travel_mm", F["blade_travel_mm"], *travel)
    speeds = (m["cutting_speed_mm_s"], m["blade_return_speed_mm_s"], m["clamp_time_s"], m["shear_dead_time_s"])
    t.add("computed_stroke_time_s", F["shear_stroke_time_s"], "blade_travel_mm", *speeds, label="Stroke by the speeds")
    part = (basis["rated_stroke_time_s"], "stroke_cut_length_mm", m["blade_length_mm"], m["fixed_stroke_share"])
    t.add("rated_part_stroke_time_s", F["rated_part_stroke_time_s"], *part, label="Stroke by the rating")
    both = ("computed_stroke_time_s", "rated_part_stroke_time_s", m["stroke_rating_switch"])
    t.add("stroke_time_s", F["used_stroke_time_s"], *both, label="Stroke that is used")


def _stroke(t: Table, m: Table, basis: Table, cuts: Table, data: Table) -> None:
    """The stroke, and the wait for the gauge to leave. What is longer than the blade cannot be cut; it is timed as a full stroke."""
    t.smaller("timed_cut_length_mm", cuts["cut_length_mm"], m["blade_length_mm"], label="Cut length timed")
    stroke_times(t, m, basis, "timed_cut_length_mm", data["thickness_mm"], data["penetration_share"])
    move = (m["gauge_x_speed_mm_s"], m["gauge_acceleration_mm_s2"], m["gauge_jerk_mm_s3"])
    t.add("pull_back_time_s", F["axis_move_time_s"], m["gauge_pull_back_mm"], *move)
    wait = ("pull_back_time_s", m["clamp_time_s"], m["pull_back_overlap_switch"])
    t.add("pull_back_wait_s", F["pull_back_wait_s"], *wait, label="Wait for the pull-back")
    t.sum("blade_s", "stroke_time_s", "pull_back_wait_s", label="Blade with pull-back")


def _basis(rating: Any) -> Any:
    return np.where(rating > 0, "Strokes a minute on the plate", "Blade travel and speeds")
