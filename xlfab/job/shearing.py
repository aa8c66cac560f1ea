"""Cuts: what the sheet needs, then the time and electricity of each cut on a given shear."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.model import Rows, Table


def cut_data(rows: Rows, cuts: Table, parts: Table, part_data: Table) -> Table:
    """What each cut needs, whichever shear makes it."""
    t = Table("cut_data", "Cut figures", rows)
    t.add("part", lambda name: name, cuts["part"], text=True)
    t.lookup("thickness_mm", "part", parts["thickness_mm"], "part")
    for key in ("shear_strength_mpa", "penetration_share", "force_area_share", "reposition_time_s"):
        t.lookup(key, "part", part_data[key], "part")
    section = ("shear_strength_mpa", "thickness_mm", cuts["cut_length_mm"])
    t.add("work_kj", F["shear_work_kj"], *section, "penetration_share", "force_area_share", label="Cutting work")
    return t


def cuts_on(number: int, machine: Table, rows: Rows, cuts: Table, data: Table) -> Table:
    """Time and electricity of each cut on one shear."""
    m = machine
    t = Table(f"cuts_on_{number}", f"Cuts on shear {number}", rows)
    t.add("part", lambda name: name, cuts["part"], text=True)
    t.add(
        "stroke_cut_length_mm",
        F["stroke_cut_length_mm"],
        cuts["cut_length_mm"],
        m["blade_length_mm"],
        m["partial_stroke_switch"],
    )
    travel = (data["thickness_mm"], data["penetration_share"], m["blade_opening_mm"])
    t.add("blade_travel_mm", F["blade_travel_mm"], "stroke_cut_length_mm", m["rake_deg"], *travel)
    speeds = (m["cutting_speed_mm_s"], m["blade_return_speed_mm_s"])
    t.add(
        "stroke_time_s", F["shear_stroke_time_s"], "blade_travel_mm", *speeds, m["clamp_time_s"], m["shear_dead_time_s"]
    )
    t.add(
        "shear_force_kn",
        F["raked_shear_force_kn"],
        data["shear_strength_mpa"],
        data["thickness_mm"],
        m["rake_deg"],
        cuts["cut_length_mm"],
    )
    limits = (m["gauge_x_speed_mm_s"], m["gauge_acceleration_mm_s2"], m["gauge_jerk_mm_s3"])
    t.add("gauge_x_time_s", F["axis_move_time_s"], cuts["gauge_x_mm"], *limits)
    t.add("gauge_time_s", F["gauge_step_time_s"], "gauge_x_time_s", 0.0, 0.0, m["gauge_settle_time_s"])
    t.add("gauge_wait_s", F["gauge_wait_s"], 0.0, "gauge_time_s", data["reposition_time_s"], m["overlap_switch"])
    t.add("step_time_s", F["step_time_s"], "stroke_time_s", 0.0, data["reposition_time_s"], "gauge_wait_s")
    t.add(
        "work_energy_kj", F["drive_input_kj"], data["work_kj"], m["drive_efficiency_share"], label="Cutting electricity"
    )
    t.add("lift_work_kj", F["ram_lift_work_kj"], m["ram_mass_kg"], "blade_travel_mm")
    lift = (m["spring_lift_share"], m["drive_efficiency_share"], m["recovered_share"])
    t.add("lift_energy_kj", F["ram_lift_energy_kj"], "lift_work_kj", *lift, label="Lifting electricity")
    count = cuts["per_part_count"]
    t.add("part_ram_s", lambda time, n: time * n, "stroke_time_s", count, label="Blade in a part")
    t.add("part_gauge_s", lambda wait, n: wait * n, "gauge_wait_s", count, label="Gauge wait in a part")
    t.add("part_operator_s", lambda time, n: time * n, data["reposition_time_s"], count, label="Reposition in a part")
    t.add(
        "part_work_energy_kj",
        lambda energy, n: energy * n,
        "work_energy_kj",
        count,
        label="Cutting electricity in a part",
    )
    t.add(
        "part_lift_energy_kj",
        lambda energy, n: energy * n,
        "lift_energy_kj",
        count,
        label="Lifting electricity in a part",
    )
    return t
