"""The set-up of each part on a machine, every piece of it visible: tools, fetching, program or blade, try-out, first piece, family."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table


def setup_on(number: int, kind: str, machine: Table, parts: Table, data: Table, workplace: Table) -> Table:
    """Set-up time of a lot of each part, alone and as a member of its family, and the parts that the try-out uses up."""
    t = Table(f"setup_on_{kind}_{number}", f"Set-up on {kind.replace('_', ' ')} {number}", parts.rows)
    t.copy("part", parts["part"])
    pieces = _brake(t, machine, parts, data, workplace) if kind == "press_brake" else _shear(t, machine, data)
    t.copy("first_piece_min", workplace["first_piece_check_min"], label="First-piece check")
    t.sum("alone_min", *pieces, "first_piece_min", label="Set-up of a lot alone")
    family = (workplace["shared_setup_share"], data["family_lots_count"])
    t.add("setup_full_min", F["family_setup_time_min"], "alone_min", *family, label="Set-up of a lot in its family")
    used = data["bends_count" if kind == "press_brake" else "cuts_count"]
    t.add("used_switch", F["used_switch"], used, label="On this machine")
    t.times("setup_time_min", "setup_full_min", "used_switch")
    return t


def _brake(t: Table, m: Table, parts: Table, data: Table, workplace: Table) -> tuple[str | Ref, ...]:
    first = (m["first_setup_min"], m["further_station_min"], parts["tool_stations_count"])
    tools = (*first, m["try_out_min"], data["bends_count"])
    t.add("tools_min", F["press_brake_setup_time_min"], *tools, label="Tools and try-out")
    trips = (parts["tool_stations_count"], workplace["trips_per_station_count"])
    t.times("trips_count", *trips, label="Trips to the rack")
    walk = (workplace["tool_walk_m"], workplace["walking_speed_m_s"])
    t.add(
        "fetch_min", F["fetch_time_min"], *walk, "trips_count", workplace["search_time_s"], label="Fetch and put away"
    )
    program = (m["program_call_min"], m["program_entry_min"], parts["stored_program_switch"])
    t.add("program_min", F["program_time_min"], *program, label="Program")
    per_bend = m["try_out_per_bend_count"]
    t.add(
        "try_out_parts_count", F["try_out_parts_count"], per_bend, data["bends_count"], label="Try-out parts of a lot"
    )
    return "tools_min", "fetch_min", "program_min"


def _shear(t: Table, m: Table, data: Table) -> tuple[str | Ref, ...]:
    lines = (m["shear_setup_min"], m["gauge_setting_min"], data["cut_lines_count"])
    t.add("lines_min", F["shear_setup_time_min"], *lines, label="First and further lines")
    blade = (m["gap_change_min"], m["gap_change_switch"], m["rake_change_min"], m["rake_change_switch"])
    t.add("blade_min", F["blade_change_time_min"], *blade, label="Blade gap and rake")
    t.sum("try_out_parts_count", 0.0, label="Try-out parts of a lot")
    return "lines_min", "blade_min"
