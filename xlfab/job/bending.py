"""Bends: what the sheet needs, then the time and electricity of each bend on a given press brake."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.model import Rows, Table


def bend_data(rows: Rows, bends: Table, parts: Table, part_data: Table, workplace: Table) -> Table:
    """What each bend needs, whichever press brake makes it."""
    t = Table("bend_data", "Bend figures", rows)
    t.add("part", lambda name: name, bends["part"], text=True)
    t.lookup("thickness_mm", "part", parts["thickness_mm"], "part")
    t.lookup("tensile_strength_mpa", "part", part_data["tensile_strength_mpa"], "part")
    t.lookup("radius_ratio", "part", part_data["radius_ratio"], "part")
    t.lookup("reposition_part_s", "part", part_data["reposition_time_s"], "part", label="Reposition")
    t.add("inside_radius_mm", F["natural_inside_radius_mm"], bends["die_opening_mm"], "radius_ratio")
    geometry = (bends["bend_angle_deg"], bends["die_opening_mm"], "thickness_mm", "inside_radius_mm")
    t.add("penetration_mm", F["air_bend_penetration_mm"], *geometry)
    force = ("thickness_mm", "tensile_strength_mpa", bends["bend_length_mm"], bends["die_opening_mm"])
    t.add("bend_force_kn", F["air_bend_force_kn"], *force)
    turn = (bends["turn_over_switch"], workplace["turn_over_s"])
    t.add("reposition_time_s", F["reposition_with_turn_s"], "reposition_part_s", *turn, label="Reposition with turn")
    return t


def bends_on(number: int, machine: Table, rows: Rows, bends: Table, data: Table) -> Table:
    """Time and electricity of each bend on one press brake."""
    m = machine
    t = Table(f"bends_on_{number}", f"Bends on press brake {number}", rows)
    t.add("part", lambda name: name, bends["part"], text=True)
    t.add("approach_distance_mm", F["approach_distance_mm"], m["opening_mm"], m["slow_down_gap_mm"])
    ram = (m["approach_speed_mm_s"], m["ram_acceleration_mm_s2"], m["pressing_speed_mm_s"])
    t.add("approach_time_s", F["approach_time_s"], "approach_distance_mm", *ram)
    t.add("press_time_s", F["press_time_s"], m["slow_down_gap_mm"], data["penetration_mm"], m["pressing_speed_mm_s"])
    t.add("ram_travel_mm", F["ram_travel_mm"], m["opening_mm"], data["penetration_mm"])
    t.add(
        "return_time_s",
        F["trapezoid_move_time_s"],
        "ram_travel_mm",
        m["return_speed_mm_s"],
        m["ram_acceleration_mm_s2"],
    )
    t.add("ram_down_time_s", F["ram_down_time_s"], "approach_time_s", "press_time_s", m["dwell_time_s"])
    t.add("ram_release_time_s", F["ram_release_time_s"], m["stroke_dead_time_s"], "return_time_s")
    limits = (m["gauge_acceleration_mm_s2"], m["gauge_jerk_mm_s3"])
    for axis in "xrz":
        t.add(
            f"gauge_{axis}_time_s",
            F["axis_move_time_s"],
            bends[f"gauge_{axis}_mm"],
            m[f"gauge_{axis}_speed_mm_s"],
            *limits,
        )
    t.add(
        "gauge_time_s",
        F["gauge_step_time_s"],
        "gauge_x_time_s",
        "gauge_r_time_s",
        "gauge_z_time_s",
        m["gauge_settle_time_s"],
    )
    t.add(
        "gauge_wait_s",
        F["gauge_wait_s"],
        "ram_release_time_s",
        "gauge_time_s",
        data["reposition_time_s"],
        m["overlap_switch"],
    )
    t.add(
        "step_time_s",
        F["step_time_s"],
        "ram_down_time_s",
        "ram_release_time_s",
        data["reposition_time_s"],
        "gauge_wait_s",
    )
    t.add("work_kj", F["air_bend_work_kj"], data["bend_force_kn"], data["penetration_mm"], m["force_mean_share"])
    t.add("forming_energy_kj", F["drive_input_kj"], "work_kj", m["drive_efficiency_share"], label="Forming electricity")
    t.add("lift_work_kj", F["ram_lift_work_kj"], m["ram_mass_kg"], "ram_travel_mm")
    lift = (m["spring_lift_share"], m["drive_efficiency_share"], m["recovered_share"])
    t.add("lift_energy_kj", F["ram_lift_energy_kj"], "lift_work_kj", *lift, label="Lifting electricity")
    count = bends["per_part_count"]
    t.add(
        "part_ram_s",
        lambda down, up, n: (down + up) * n,
        "ram_down_time_s",
        "ram_release_time_s",
        count,
        label="Ram in a part",
    )
    t.add("part_gauge_s", lambda wait, n: wait * n, "gauge_wait_s", count, label="Gauge wait in a part")
    t.add("part_operator_s", lambda time, n: time * n, data["reposition_time_s"], count, label="Reposition in a part")
    t.add(
        "part_work_energy_kj",
        lambda energy, n: energy * n,
        "forming_energy_kj",
        count,
        label="Forming electricity in a part",
    )
    t.add(
        "part_lift_energy_kj",
        lambda energy, n: energy * n,
        "lift_energy_kj",
        count,
        label="Lifting electricity in a part",
    )
    return t
