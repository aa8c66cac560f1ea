"""Bends: what the sheet needs, then the time and electricity of each bend on a given press brake."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Rows, Table


def bend_list(bends: Table, parts: Table) -> Table:
    """Each bend with the row of its part; its figures are added to it."""
    t = Table("bend_data", "Bend figures", bends.rows)
    t.copy("part", bends["part"])
    t.row_of("part", parts["part"])
    return t


def add_bend_data(t: Table, bends: Table, parts: Table, part_data: Table, workplace: Table, dies: Table) -> None:
    """What each bend needs, whichever press brake makes it."""
    t.lookup("thickness_mm", "part", parts["thickness_mm"], "part")
    for key in ("tensile_strength_mpa", "radius_ratio", "thickest_mm"):
        t.lookup(key, "part", part_data[key], "part")
    t.lookup("reposition_part_s", "part", part_data["reposition_time_s"], "part", label="Reposition")
    t.add("inside_radius_mm", F["natural_inside_radius_mm"], bends["die_opening_mm"], "radius_ratio")
    geometry = (bends["bend_angle_deg"], bends["die_opening_mm"], "thickness_mm", "inside_radius_mm")
    t.add("penetration_mm", F["air_bend_penetration_mm"], *geometry)
    force = ("thickness_mm", "tensile_strength_mpa", bends["bend_length_mm"], bends["die_opening_mm"])
    t.add("bend_force_kn", F["air_bend_force_kn"], *force)
    t.add(
        "second_force_kn",
        F["press_step_force_kn"],
        "bend_force_kn",
        bends["force_multiple_ratio"],
        label="Second step force",
    )
    t.larger("largest_force_kn", "bend_force_kn", "second_force_kn", label="Largest force")
    t.add("tool_load_kn_per_m", F["tool_load_kn_per_m"], "largest_force_kn", bends["bend_length_mm"])
    t.add("die_ratio", F["die_ratio"], bends["die_opening_mm"], "thickness_mm", label="Die opening over thickness")
    t.lookup(
        "usual_die_ratio", "thickness_mm", dies["die_ratio"], "least_thickness_mm", steps=True, label="Usual ratio"
    )
    flange = (bends["flange_length_mm"], bends["bend_angle_deg"])
    t.add("flange_height_mm", F["flange_height_mm"], *flange)
    t.add("shortest_flange_mm", F["shortest_flange_mm"], bends["die_opening_mm"], bends["bend_angle_deg"])
    turn = (bends["turn_over_switch"], workplace["turn_over_s"])
    t.add("reposition_time_s", F["reposition_with_turn_s"], "reposition_part_s", *turn, label="Reposition with turn")


def closing(number: int, machine: Table, guards: Table) -> Table:
    """How the protective device in use lets the ram of a press brake close on the sheet."""
    t = Table.record(f"closing_{number}", f"Closing on the sheet, press brake {number}")
    t.copy("guard_mode", machine["guard_mode"], label="Protective device in use")
    t.lookup("guard_gap_mm", "guard_mode", guards["guard_gap_mm"], "guard_mode")
    t.lookup("guard_speed_mm_s", "guard_mode", guards["guard_speed_mm_s"], "guard_mode")
    t.add("closing_gap_mm", F["closing_gap_mm"], machine["slow_down_gap_mm"], "guard_gap_mm", machine["opening_mm"])
    t.add("closing_speed_mm_s", F["closing_speed_mm_s"], machine["pressing_speed_mm_s"], "guard_speed_mm_s")
    return t


def bends_on(number: int, machine: Table, close: Table, rows: Rows, bends: Table, data: Table) -> Table:
    """Time and electricity of each bend on one press brake."""
    t = Table(f"bends_on_{number}", f"Bends on press brake {number}", rows)
    t.copy("part", bends["part"])
    _stroke(t, machine, close, bends, data)
    _gauge(t, machine, bends)
    switches = (machine["overlap_switch"], machine["return_overlap_switch"])
    wait = ("ram_release_time_s", "gauge_time_s", data["reposition_time_s"], *switches)
    t.add("gauge_wait_s", F["gauge_wait_s"], *wait)
    step = ("ram_down_time_s", "ram_release_time_s", data["reposition_time_s"], "gauge_wait_s")
    t.add("step_time_s", F["step_time_s"], *step)
    _energy(t, machine, bends, data)
    t.sum("ram_s", "ram_down_time_s", "ram_release_time_s", label="Ram down and up")
    in_a_part(t, "ram_s", data["reposition_time_s"], bends["per_part_count"], "Ram", "Forming")
    return t


def _stroke(t: Table, m: Table, close: Table, bends: Table, data: Table) -> None:
    """The phases of the ram, from its opening above the sheet and back to it."""
    gap, speed = close["closing_gap_mm"], close["closing_speed_mm_s"]
    opening = (m["opening_mm"], data["flange_height_mm"], m["flange_clearance_mm"], gap, m["reduced_return_switch"])
    t.add("return_opening_mm", F["return_opening_mm"], *opening, label="Open height above the sheet")
    t.add("approach_distance_mm", F["approach_distance_mm"], "return_opening_mm", gap)
    ram = (m["approach_speed_mm_s"], m["ram_acceleration_mm_s2"])
    t.add("approach_time_s", F["approach_time_s"], "approach_distance_mm", *ram, speed)
    t.add("closing_time_s", F["press_time_s"], gap, 0.0, speed, label="Closing time")
    t.add(
        "bending_time_s", F["press_time_s"], 0.0, data["penetration_mm"], m["pressing_speed_mm_s"], label="Bending time"
    )
    t.sum("press_time_s", "closing_time_s", "bending_time_s")
    second = (bends["second_travel_mm"], m["pressing_speed_mm_s"], m["second_dwell_time_s"])
    t.add("second_press_time_s", F["second_press_time_s"], *second, label="Second press step")
    t.sum("bottom_time_s", "second_press_time_s", m["dwell_time_s"], label="Dwell and second step")
    t.add("ram_down_time_s", F["ram_down_time_s"], "approach_time_s", "press_time_s", "bottom_time_s")
    t.add("ram_travel_mm", F["ram_travel_mm"], "return_opening_mm", data["penetration_mm"])
    back = (m["return_speed_mm_s"], m["ram_acceleration_mm_s2"])
    t.add("return_time_s", F["trapezoid_move_time_s"], "ram_travel_mm", *back)
    full = (m["full_decompression_time_s"], data["largest_force_kn"], m["rated_force_kn"])
    t.add("decompression_time_s", F["decompression_time_s"], *full)
    t.add(
        "release_dead_time_s",
        F["release_dead_time_s"],
        m["stroke_dead_time_s"],
        "decompression_time_s",
        label="Dead time",
    )
    t.add("ram_release_time_s", F["ram_release_time_s"], "release_dead_time_s", "return_time_s")


def _gauge(t: Table, m: Table, bends: Table) -> None:
    """The gauge: each axis with its own limits, the depth axis with its way back from pulling off the sheet."""
    t.sum(
        "gauge_x_way_mm",
        bends["gauge_x_mm"],
        m["gauge_pull_back_mm"],
        label="Gauge depth way",
    )
    ways = {"x": t["gauge_x_way_mm"], "r": bends["gauge_r_mm"], "z": bends["gauge_z_mm"]}
    for axis, way in ways.items():
        acceleration = m["gauge_acceleration_mm_s2" if axis == "x" else f"gauge_{axis}_acceleration_mm_s2"]
        limits = (m[f"gauge_{axis}_speed_mm_s"], acceleration, m["gauge_jerk_mm_s3"])
        t.add(f"gauge_{axis}_time_s", F["axis_move_time_s"], way, *limits)
    axes = ("gauge_x_time_s", "gauge_r_time_s", "gauge_z_time_s")
    t.add("gauge_time_s", F["gauge_step_time_s"], *axes, m["gauge_settle_time_s"])


def _energy(t: Table, m: Table, bends: Table, data: Table) -> None:
    """Work at the sheet and on the ram, and the electricity it takes."""
    share = m["force_mean_share"]
    t.add(
        "bend_work_kj",
        F["air_bend_work_kj"],
        data["bend_force_kn"],
        data["penetration_mm"],
        share,
        label="Bending work",
    )
    second = (data["second_force_kn"], bends["second_travel_mm"], share)
    t.add("second_work_kj", F["air_bend_work_kj"], *second, label="Second step work")
    t.sum("work_kj", "bend_work_kj", "second_work_kj")
    t.add("work_energy_kj", F["drive_input_kj"], "work_kj", m["drive_efficiency_share"], label="Forming electricity")
    lift_energy(t, m, "ram_travel_mm")


def lift_energy(t: Table, m: Table, travel: str) -> None:
    """Electricity that lifts ram or blade once."""
    t.add("lift_work_kj", F["ram_lift_work_kj"], m["ram_mass_kg"], travel)
    lift = (m["spring_lift_ratio"], m["drive_efficiency_share"], m["recovered_share"])
    t.add("lift_energy_kj", F["ram_lift_energy_kj"], "lift_work_kj", *lift, label="Lifting electricity")


def in_a_part(t: Table, ram: str, reposition: Ref, count: Ref, ram_word: str, work_word: str) -> None:
    """Seconds by cause and electricity of a step, as often as a part takes it."""
    columns: dict[str, tuple[str | Ref, str]] = {
        "part_ram_s": (ram, f"{ram_word} in a part"),
        "part_gauge_s": ("gauge_wait_s", "Gauge wait in a part"),
        "part_operator_s": (reposition, "Reposition in a part"),
        "part_work_energy_kj": ("work_energy_kj", f"{work_word} electricity in a part"),
        "part_lift_energy_kj": ("lift_energy_kj", "Lifting electricity in a part"),
    }
    for name, (source, label) in columns.items():
        t.times(name, source, count, label=label)
