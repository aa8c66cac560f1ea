"""Sheets taken apart: strips and blanks of each sheet, its offcut, and the cut list in the order with the least gauge travel."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Rows, Table
from xlfab.work.cut_times import stroke_times
from xlfab.work.line_order import least_round_order


@dataclass
class Cutting:
    """The plan of each part's sheet, the lines as written, and the lines in the found order on each shear."""

    plan: Table
    written: Table | None
    ordered: list[Table]
    per_sheet: list[Table]


def cutting_of(job: Any) -> Cutting | None:
    """Sheet plans and cut lists of a job; None where no part states its sheet."""
    parts = job.part_list.value("part")[job.part_list.value("sheet_length_mm") > 0]
    if not len(parts):
        return None
    plan = _plan(parts, job)
    lines = job.scenario.cut_lines
    if not len(lines["part"]):
        return Cutting(plan, None, [], [])
    written = _written(lines)
    ordered = [_ordered(number, one, lines, written, plan, job) for number, one in enumerate(job.shears, 1)]
    return Cutting(
        plan,
        written,
        ordered,
        [_per_sheet(n, t, one, written, plan) for n, (t, one) in enumerate(zip(ordered, job.shears, strict=True), 1)],
    )


def _plan(parts: Any, job: Any) -> Table:
    """Strips across the sheet's length, pieces along each strip, cuts, use of the sheet, and what its offcut brings."""
    t = Table("sheet_plan", "Sheets and blanks", Rows("sheets", len(parts)))
    t.put("part", parts)
    for key in (
        "sheet_length_mm",
        "sheet_width_mm",
        "edge_trim_mm",
        "strip_trim_mm",
        "blank_length_mm",
        "blank_width_mm",
        "thickness_mm",
        "lot_size_count",
    ):
        t.lookup(key, "part", job.part_list[key], "part")
    t.lookup("density_kg_per_m3", "part", job.part_data["density_kg_per_m3"], "part")
    t.lookup("offcut_price_cur_per_kg", "part", job.part_data["offcut_price_cur_per_kg"], "part")
    across, along = (
        ("sheet_length_mm", "edge_trim_mm", "blank_length_mm"),
        ("sheet_width_mm", "strip_trim_mm", "blank_width_mm"),
    )
    t.add("strips_count", F["pieces_along_count"], *across, label="Strips of a sheet")
    t.add("pieces_per_strip_count", F["pieces_along_count"], *along, label="Blanks of a strip")
    t.add("blanks_per_sheet_count", F["blanks_per_sheet_count"], "strips_count", "pieces_per_strip_count")
    t.add("strip_cuts_count", F["side_cuts_count"], *across, label="Strip cuts")
    t.add("piece_cuts_count", F["side_cuts_count"], *along, label="Cuts of a strip")
    for name, side, label in (
        ("rest_length_mm", across, "Rest strip across the sheet"),
        ("rest_width_mm", along, "Rest at the end of each strip"),
    ):
        t.add(name, F["rest_side_mm"], *side, label=label)
    t.add("cuts_per_sheet_count", F["cuts_per_sheet_count"], "strip_cuts_count", "strips_count", "piece_cuts_count")
    blanks = ("blanks_per_sheet_count", "blank_length_mm", "blank_width_mm", "sheet_length_mm", "sheet_width_mm")
    t.add("blanks_on_sheet_share", F["blanks_on_sheet_share"], *blanks, label="Sheet use by this plan")
    t.lookup("sheet_use_share", "part", job.part_list["sheet_use_share"], "part", label="Sheet use as stated")
    t.lookup(
        "used_sheet_use_share", "part", job.part_data["used_sheet_use_share"], "part", label="Sheet use in the cost"
    )
    sheet = ("sheet_length_mm", "sheet_width_mm", "thickness_mm", "density_kg_per_m3")
    t.add("sheet_mass_kg", F["blank_mass_kg"], *sheet, label="Sheet mass")
    t.add("offcut_mass_kg", F["offcut_mass_kg"], "sheet_mass_kg", "blanks_on_sheet_share", label="Offcut of a sheet")
    t.add("offcut_value_cur", F["offcut_value_cur"], "offcut_mass_kg", "offcut_price_cur_per_kg", label="Offcut value")
    lot = ("lot_size_count", "blanks_per_sheet_count", job.workplace["scrap_share"])
    t.add("sheets_per_lot_count", F["sheets_per_lot_count"], *lot, label="Sheets a lot")
    return t


def _keys(parts: Any) -> list[str]:
    """A name for each line: its part and its number within the part."""
    seen: dict[str, int] = {}
    keys = []
    for part in parts:
        seen[part] = seen.get(part, 0) + 1
        keys.append(f"{part} / {seen[part]}")
    return keys


def _before(parts: Any, keys: list[str]) -> list[str]:
    """The line before each line; before the first stands the last one, since the next sheet follows."""
    last = dict(zip(parts, keys, strict=True))
    return [keys[i - 1] if i and parts[i - 1] == part else last[part] for i, part in enumerate(parts)]


def _written(lines: Any) -> Table:
    t = Table("cut_lines", "Cut lists as written", Rows("cut_lines", len(lines["part"])))
    keys = _keys(lines["part"])
    t.put("line", np.array(keys, dtype=object), label="Line")
    t.put("part", lines["part"])
    for key in ("pass_count", "gauge_position_mm", "cut_length_mm", "blade_place_mm", "strokes_count"):
        t.put(key, lines[key])
    t.put("line_before", np.array(_before(lines["part"], keys), dtype=object), label="Line before")
    t.lookup("before_mm", "line_before", t["gauge_position_mm"], "line", label="Gauge position before")
    t.apart("gauge_way_mm", "gauge_position_mm", "before_mm", label="Gauge way as written")
    return t


def _ordered(number: int, shear: Any, lines: Any, written: Table, plan: Table, job: Any) -> Table:
    """The lines of each part in the order with the least gauge travel, and their times on one shear."""
    parts, keys = lines["part"], np.array(_keys(lines["part"]), dtype=object)
    order: list[int] = []
    for part in dict.fromkeys(parts):
        own = np.flatnonzero(parts == part)
        order += list(own[least_round_order(lines["gauge_position_mm"][own], lines["pass_count"][own])])
    t = Table(f"cut_lines_{number}", f"Cut lists on shear {number}", Rows(f"cut_lines_{number}", len(order)))
    t.put("line", keys[order], label="Line")
    t.put("part", parts[order])
    t.put("line_before", np.array(_before(parts[order], list(keys[order])), dtype=object), label="Line before")
    for key in ("gauge_position_mm", "cut_length_mm", "blade_place_mm", "strokes_count"):
        t.lookup(key, "line", written[key], "line")
    t.lookup("before_mm", "line_before", written["gauge_position_mm"], "line", label="Gauge position before")
    t.apart("gauge_way_mm", "gauge_position_mm", "before_mm", label="Gauge way")
    _times(t, shear, job)
    return t


def _times(t: Table, shear: Any, job: Any) -> None:
    """Stroke set to the far end of each cut, gauge move, and the time of the line."""
    m, basis = shear.stated, shear.basis
    t.lookup("thickness_mm", "part", job.part_list["thickness_mm"], "part")
    t.lookup("penetration_share", "part", job.part_data["penetration_share"], "part")
    t.lookup("reposition_time_s", "part", job.part_data["reposition_time_s"], "part")
    t.sum(
        "far_end_mm",
        "blade_place_mm",
        "cut_length_mm",
        label="Far end of the cut",
    )
    stroke_times(t, m, basis, "far_end_mm", "thickness_mm", "penetration_share")
    move = (m["gauge_x_speed_mm_s"], m["gauge_acceleration_mm_s2"], m["gauge_jerk_mm_s3"])
    t.add("gauge_x_time_s", F["axis_move_time_s"], "gauge_way_mm", *move)
    t.add("gauge_time_s", F["gauge_step_time_s"], "gauge_x_time_s", 0.0, 0.0, m["gauge_settle_time_s"])
    t.add("gauge_wait_s", F["gauge_wait_s"], 0.0, "gauge_time_s", "reposition_time_s", m["overlap_switch"], 0.0)
    line = ("stroke_time_s", "reposition_time_s", "strokes_count", "gauge_wait_s")
    t.add("line_time_s", F["cut_line_time_s"], *line, label="Time of the line")


def _per_sheet(number: int, ordered: Table, shear: Any, written: Table, plan: Table) -> Table:
    """Travel, strokes and time of a sheet and of a lot, and whether the list cuts what the plan asks for."""
    names = list(dict.fromkeys(written.value("part")))
    t = Table(f"cut_sheets_{number}", f"Time of a sheet on shear {number}", Rows(f"cut_sheets_{number}", len(names)))
    t.put("part", np.array(names, dtype=object))
    t.total("written_way_mm", written["gauge_way_mm"], "part", "part", label="Gauge travel as written")
    t.total("gauge_way_mm", ordered["gauge_way_mm"], "part", "part", label="Gauge travel in the found order")
    t.total("strokes_count", ordered["strokes_count"], "part", "part", label="Strokes a sheet")
    t.lookup("cuts_per_sheet_count", "part", plan["cuts_per_sheet_count"], "part", label="Cuts a sheet by the plan")
    words = ("strokes_count", "cuts_per_sheet_count")
    t.add("same_cuts", _against_plan, *words, text=True, label="Strokes against the plan")
    t.total("sheet_time_s", ordered["line_time_s"], "part", "part", label="Time of a sheet")
    t.lookup("sheets_per_lot_count", "part", plan["sheets_per_lot_count"], "part")
    lot = ("sheet_time_s", "sheets_per_lot_count")
    t.times("lot_cutting_min", *lot, label="Cutting time of a lot, set-up and allowance left out")
    t.lookup("blanks_per_sheet_count", "part", plan["blanks_per_sheet_count"], "part")
    t.times("blank_time_s", "sheet_time_s", over=["blanks_per_sheet_count"], label="Blank by the cut list")
    for cause in ("ram", "gauge", "operator"):
        t.lookup(f"step_{cause}_s", "part", shear.parts[f"step_{cause}_s"], "part")
    causes = ("step_ram_s", "step_gauge_s", "step_operator_s")
    t.sum("cut_steps_time_s", *causes, label="Blank by the cut steps in the cost")
    both = ("cut_steps_time_s", "blank_time_s")
    t.add("difference_share", F["time_difference_share"], *both, label="Cut steps above the cut list by")
    return t


def _against_plan(strokes: Any, planned: Any) -> Any:
    more = np.where(strokes > planned, "more than the plan", "OK")
    return np.where(strokes < planned, "fewer than the plan", more)
