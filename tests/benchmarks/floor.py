"""The floor: the chain from step table to cost per part written by hand in plain numpy, in chunks that fit the processor's cache.

It computes what the cost needs and nothing else, looks at a switch of a machine once, and checks no value: what a careful
engineer would write for this one question. Only keys are matched as the tables do it. When a formula on that way changes, this
file changes with it.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.inputs.lookup_tables import lookup_table
from xlfab.tables.keys import rows_of

CHUNK = 32768


def cost_per_part(shop: Any, in_rows: Any = None) -> Any:
    """Cost of every part on the first shear and the first press brake; `in_rows` are the parts of bends and cuts, if known."""
    brake, shear, workplace = shop.press_brakes[0], shop.shears[0], shop.workplace
    of_bend, of_cut = in_rows or (
        rows_of(shop.parts["part"], shop.bends["part"]),
        rows_of(shop.parts["part"], shop.cuts["part"]),
    )
    material_row = rows_of(shop.materials["material"], shop.parts["material"])
    material = {name: values[material_row] for name, values in shop.materials.items() if name != "material"}
    part = part_figures(shop, material)
    count = len(material_row)
    bends, cuts = np.bincount(of_bend, minlength=count), np.bincount(of_cut, minlength=count)
    quantity, cut_strokes = shop.parts["yearly_quantity_count"], 0.0
    if shear.itemised_switch:
        cut_strokes = shop.cuts["per_part_count"] @ quantity[of_cut]
    *bending, no_bend = summed(of_bend, count, lambda s: bend_step(s, of_bend[s], shop, material, part))
    *cutting, no_cut = summed(of_cut, count, lambda s: cut_step(s, of_cut[s], shop, material, part))
    made = no_bend + no_cut == 0  # a part that the two cannot make is not in the year's work
    setup = brake_setup(brake, workplace, shop.parts, bends)
    scrap = brake.try_out_per_bend_count * bends * part["material_cost"] / shop.parts["lot_size_count"]
    on_brake = machine_cost(brake, shop, part, *bending, bends > 0, made, 0.0, setup, upkeep(brake, workplace))
    setup = shear_setup(shear, workplace, cuts)
    collect = 0.0
    if not shear.rear_support_switch:
        walk = 2 * workplace.rear_walk_m / workplace.walking_speed_m_s / workplace.pieces_per_walk_count
        collect = walk + workplace.rear_pick_time_s
    on_shear = machine_cost(
        shear, shop, part, *cutting, cuts > 0, made, collect, setup, upkeep(shear, workplace, cut_strokes)
    )
    run = part["material_cost"] + on_brake[0] + on_shear[0]
    return run / (1 - workplace.scrap_share) + on_brake[1] + on_shear[1] + scrap


def summed(of: Any, count: int, step: Any) -> tuple[Any, Any, Any]:
    """Seconds and electricity of the steps of each part, and how many of them cannot be made, chunk by chunk."""
    time, energy, failing = np.empty(len(of)), np.empty(len(of)), np.empty(len(of))
    for start in range(0, len(of), CHUNK):
        chunk = slice(start, start + CHUNK)
        time[chunk], energy[chunk], failing[chunk] = step(chunk)
    return np.bincount(of, time, count), np.bincount(of, energy, count), np.bincount(of, failing, count)


def part_figures(shop: Any, material: Any) -> dict[str, Any]:
    """Mass, people, handling and material cost of each part."""
    w, p = shop.workplace, shop.parts
    length, width = p["blank_length_mm"], p["blank_width_mm"]
    mass = length * width * p["thickness_mm"] * material["density_kg_per_m3"] / 1e9
    crew = np.where((mass > w.one_person_mass_kg) | (length > w.one_person_length_mm), 2.0, 1.0)
    hoist = mass > w.two_person_mass_kg
    crew[hoist] = 1.0
    size = (length + width) / 1000
    base = w.load_base_s + w.unload_base_s + w.stack_base_s
    by_size = w.load_size_s_per_m + w.unload_size_s_per_m + w.stack_size_s_per_m
    by_mass = w.load_mass_s_per_kg + w.unload_mass_s_per_kg + w.stack_mass_s_per_kg
    people = (crew - 1) * w.second_person_s
    factor = learning(w, p["lot_size_count"])
    ends = (base + by_size * size + by_mass * mass + people + hoist * w.hoist_time_s) * factor
    reposition = w.reposition_base_s + w.reposition_size_s_per_m * size + w.reposition_mass_s_per_kg * mass + people
    assert not p["sheet_plan_switch"].any()  # looked at once; with a plan the use would follow from the sheet
    gross = mass / p["sheet_use_share"]
    cost = gross * material["material_price_cur_per_kg"] - (gross - mass) * material["offcut_price_cur_per_kg"]
    return {"crew": crew, "ends": ends, "reposition": reposition * factor, "material_cost": cost}


def learning(w: Any, lot: Any) -> Any:
    """Mean time in a lot over the standard time."""
    if w.learning_rate_share == 1:
        return 1.0
    exponent, n = np.log2(w.learning_rate_share), w.standard_unit_count
    if w.wright_switch:
        return lot**exponent / (n ** (exponent + 1) - (n - 1) ** (exponent + 1))
    sums = np.cumsum(np.arange(1.0, lot.max() + 1) ** exponent)
    return sums[lot.astype(int) - 1] / lot / n**exponent


def axis_time(way: Any, v: float, a: float, j: float) -> Any:
    """Jerk-limited move, rest to rest."""
    peak = min(a, (v * j) ** 0.5)
    to_speed = v / peak + peak / j
    knee = a * a / j
    speed = (np.sqrt(knee * knee + (4 * a) * way) - knee) / 2
    short = np.where(speed >= knee, speed * (2 / a) + 2 * a / j, 4 * np.cbrt(way / (2 * j)))
    return np.where(way >= v * to_speed, way / v + to_speed, short)


def lift_kj(m: Any, travel: Any) -> Any:
    """Electricity that lifts ram or blade once."""
    driven = m.ram_mass_kg * 9.80665e-6 * abs(1 - m.spring_lift_ratio)
    return travel * (driven / m.drive_efficiency_share - driven * m.recovered_share)


def bend_step(s: slice, of: Any, shop: Any, material: Any, part: Any) -> tuple[Any, Any, Any]:
    """Seconds and electricity of the bends of a chunk, as often as a part takes them, and which of them cannot be made."""
    m, b = shop.press_brakes[0], shop.bends
    die, angle, t = b["die_opening_mm"][s], b["bend_angle_deg"][s], shop.parts["thickness_mm"][of]
    half = np.radians(angle) / 2
    radius = die * material["radius_ratio"][of]
    penetration = die / 2 * np.tan(half) - (radius + t) * (1 / np.cos(half) - 1)
    strength, length = material["tensile_strength_mpa"][of], b["bend_length_mm"][s]
    force = (1 + 4 * t / die) * strength * length * t * t / die / 1000
    second_force = force * b["force_multiple_ratio"][s]
    guard_gap, guard_speed = guard(m.guard_mode)
    gap = min(max(m.slow_down_gap_mm, guard_gap), m.opening_mm)
    closing = min(m.pressing_speed_mm_s, guard_speed)
    opening = m.opening_mm
    flange = b["flange_length_mm"][s] * np.sin(np.radians(np.minimum(angle, 90)))
    if m.reduced_return_switch:
        opening = np.minimum(np.maximum(flange + m.flange_clearance_mm, gap), m.opening_mm)
    way = opening - gap
    v, a, u = m.approach_speed_mm_s, m.ram_acceleration_mm_s2, min(closing, m.approach_speed_mm_s)
    peak = np.minimum(v, np.sqrt(a * way + u * u / 2))
    reach = way / peak + peak / a - u / a + u * u / (2 * a) / peak
    approach = np.where(way >= u * u / (2 * a), reach, np.sqrt(2 / a * way))
    second_way = b["second_travel_mm"][s]
    second = np.where(second_way > 0, second_way / m.pressing_speed_mm_s + m.second_dwell_time_s, 0.0)
    down = approach + gap / closing + penetration / m.pressing_speed_mm_s + second + m.dwell_time_s
    travel = opening + penetration
    v = m.return_speed_mm_s
    back = np.where(travel >= v * v / a, travel / v + v / a, 2 * np.sqrt(travel / a))
    decompression = m.full_decompression_time_s / m.rated_force_kn * np.maximum(force, second_force)
    release = m.stroke_dead_time_s + decompression + back
    reposition = part["reposition"][of] + b["turn_over_switch"][s] * shop.workplace.turn_over_s
    j = m.gauge_jerk_mm_s3
    x = axis_time(b["gauge_x_mm"][s] + m.gauge_pull_back_mm, m.gauge_x_speed_mm_s, m.gauge_acceleration_mm_s2, j)
    r = axis_time(b["gauge_r_mm"][s], m.gauge_r_speed_mm_s, m.gauge_r_acceleration_mm_s2, j)
    z = axis_time(b["gauge_z_mm"][s], m.gauge_z_speed_mm_s, m.gauge_z_acceleration_mm_s2, j)
    slowest = np.maximum(np.maximum(x, r), z)
    gauge = np.where(slowest > 0, slowest + m.gauge_settle_time_s, 0.0)
    if m.overlap_switch:
        gauge = np.maximum(gauge - release * m.return_overlap_switch - reposition, 0.0)
    work = (force * penetration + second_force * second_way) * (m.force_mean_share / 1000 / m.drive_efficiency_share)
    n = b["per_part_count"][s]
    failing = bend_fails(
        m, b, s, np.maximum(force, second_force), material["thickness_tolerance_share"][of], travel, flange
    )
    return (down + release + reposition + gauge) * n, (work + lift_kj(m, travel)) * n, failing


def bend_fails(m: Any, b: Any, s: slice, force: Any, tolerance: Any, travel: Any, flange: Any) -> Any:
    """Bends that pass a limit of machine, tools or die, the force taken with the thickest sheet that the tolerance lets through."""
    length, stated, half = b["bend_length_mm"][s], b["flange_length_mm"][s], np.radians(b["bend_angle_deg"][s]) / 2
    force = force * (1 + tolerance) ** 2
    fails = (force > m.rated_force_kn * np.minimum(length / m.full_force_length_mm, 1.0)) | (
        length > m.working_length_mm
    )
    fails |= (force / length * 1000 > m.tool_rating_kn_per_m) | (travel > m.stroke_length_mm)
    fails |= m.punch_height_mm + m.die_height_mm + flange + m.flange_clearance_mm > m.daylight_mm
    return fails | ((stated > 0) & (stated < b["die_opening_mm"][s] / 2 / np.cos(half)))


def guard(mode: str) -> tuple[float, float]:
    """Gap and speed that a protective device asks for."""
    table = lookup_table("guard_modes")
    row = table["guard_mode"].tolist().index(mode)
    return table["guard_gap_mm"][row], table["guard_speed_mm_s"][row]


def cut_step(s: slice, of: Any, shop: Any, material: Any, part: Any) -> tuple[Any, Any, Any]:
    """Seconds and electricity of the cuts of a chunk, as often as a part takes them, and which of them cannot be made."""
    m, c = shop.shears[0], shop.cuts
    length, t = c["cut_length_mm"][s], shop.parts["thickness_mm"][of]
    penetration = material["penetration_share"][of]
    set_to = length if m.partial_stroke_switch else m.blade_length_mm
    travel = set_to * np.tan(np.radians(m.rake_deg)) + penetration * t + m.blade_opening_mm
    if m.stroke_rating_switch:
        stroke = (
            60 / m.strokes_per_min * (m.fixed_stroke_share + (1 - m.fixed_stroke_share) * set_to / m.blade_length_mm)
        )
    else:
        stroke = (
            travel * (1 / m.cutting_speed_mm_s + 1 / m.blade_return_speed_mm_s) + m.clamp_time_s + m.shear_dead_time_s
        )
    limits = (m.gauge_x_speed_mm_s, m.gauge_acceleration_mm_s2, m.gauge_jerk_mm_s3)
    leave = float(axis_time(np.float64(m.gauge_pull_back_mm), *limits))
    if m.pull_back_overlap_switch:
        leave = max(leave - m.clamp_time_s, 0.0)
    gauge = axis_time(c["gauge_x_mm"][s] + m.gauge_pull_back_mm, *limits)
    gauge = np.where(gauge > 0, gauge + m.gauge_settle_time_s, 0.0)
    reposition = part["reposition"][of]
    if m.overlap_switch:
        gauge = np.maximum(gauge - reposition, 0.0)
    strength = material["tensile_strength_mpa"][of] * material["shear_ratio"][of]
    work = material["force_area_share"][of] * penetration * strength * t * t * length / 1e6 / m.drive_efficiency_share
    n = c["per_part_count"][s]
    thickest = m.shear_capacity_mm * np.sqrt(
        np.minimum(m.capacity_strength_mpa / material["tensile_strength_mpa"][of], 1.0)
    )
    failing = (t > thickest) | (length > m.blade_length_mm)
    return (stroke + leave + reposition + gauge) * n, (work + lift_kj(m, travel)) * n, failing


def brake_setup(m: Any, w: Any, parts: Any, bends: Any) -> Any:
    """Minutes of a lot's set-up; every part is a family of its own."""
    stations = parts["tool_stations_count"]
    tools = m.first_setup_min + m.further_station_min * (stations - 1) + m.try_out_min * bends
    walk = 2 * w.tool_walk_m / w.walking_speed_m_s + w.search_time_s
    program = np.where(parts["stored_program_switch"] > 0, m.program_call_min, m.program_entry_min)
    return tools + stations * (w.trips_per_station_count * walk / 60) + program + w.first_piece_check_min


def shear_setup(m: Any, w: Any, cuts: Any) -> Any:
    """Minutes of a lot's set-up."""
    lines = m.shear_setup_min + m.gauge_setting_min * (np.maximum(cuts, 1) - 1)
    blade = m.gap_change_min * m.gap_change_switch + m.rake_change_min * m.rake_change_switch
    return lines + blade + w.first_piece_check_min


def upkeep(m: Any, w: Any, cut_strokes: float = 0.0) -> float:
    """Maintenance a year: the share of the price, or its lines."""
    if not m.itemised_switch:
        return m.machine_price_cur * m.maintenance_share
    hours, labour = m.powered_h_per_year, w.wage_cur_per_h * (1 + w.burden_share)
    oil = m.oil_volume_l * (m.oil_price_cur_per_l + m.oil_disposal_cur_per_l) * hours / m.oil_interval_h
    wear = (m.wear_part_cur + m.fitting_time_h * labour) * hours / m.wear_interval_h
    lines = oil + wear + m.service_cost_cur_per_year
    if cut_strokes:
        edges = (m.blade_set_cur + m.regrinds_count * m.regrind_price_cur) / (m.regrinds_count + 1)
        lines += edges / m.edge_strokes_count * cut_strokes
    return lines


def machine_cost(
    m: Any,
    shop: Any,
    part: Any,
    steps: Any,
    process_kj: Any,
    used: Any,
    made: Any,
    collect: float,
    setup_min: Any,
    maintenance: float,
) -> tuple[Any, Any]:
    """Cost of running a part, and of its set-up and electricity with the machine's waiting and demand charge."""
    w, lot, quantity = shop.workplace, shop.parts["lot_size_count"], shop.parts["yearly_quantity_count"]
    capital = (m.machine_price_cur - m.salvage_cur) / m.life_years + m.machine_price_cur / 2 * w.interest_rate_share
    care = m.floor_area_m2 * w.space_price_cur_per_m2 + maintenance
    allowance = w.allowance_share / (1 - w.allowance_share * w.allowance_day_switch)
    machine, labour = (capital + care) / m.planned_h_per_year, w.wage_cur_per_h * (1 + w.burden_share)
    time = (steps + (part["ends"] + collect) * used) * (1 + allowance)
    setup_min = setup_min * used
    good = 1 - w.scrap_share
    busy = time * quantity / good / 3600 + setup_min / 60 * np.ceil(quantity / lot)
    energy = electricity(m, w, shop.tariff, busy, process_kj * quantity / good / 3600, made) / quantity
    run = time / 3600 * (part["crew"] * labour + machine)
    return run, setup_min / 60 * (labour + machine) / lot + energy


def electricity(m: Any, w: Any, tariff: Any, busy: Any, process_kwh: Any, made: Any) -> Any:
    """Cost of each part's electricity a year; the parts that can be made share the machine's waiting and its demand charge."""
    base = m.ready_power_kw + m.auxiliary_power_kw
    hours, process = busy[made].sum(), process_kwh[made].sum()
    shift_h = w.shift_h - (1 - w.break_on_switch) * w.break_min / 60
    on = w.working_days_count * w.shifts_count * shift_h if w.calendar_switch else m.powered_h_per_year
    warm = m.warm_up_min / 60 * w.working_days_count * w.calendar_switch
    waiting = max(on - warm - hours, 0.0)
    switched_on = hours + waiting + warm
    stopped = np.exp(-m.auto_stop_min / w.mean_gap_min) if w.timer_switch else m.auto_stop_share
    night_kwh = max(8760 - switched_on, 0.0) * m.control_on_share * m.standby_power_kw
    waiting_kwh = waiting * (base * (1 - stopped) + m.standby_power_kw * stopped) + night_kwh
    waiting_kwh += warm * m.warm_up_power_kw
    kwh = waiting_kwh + hours * base + process
    here = made & (busy > 0)
    drawn_kw = base + (process_kwh[here] / busy[here]).max()  # while the part is made that draws most
    mean_kw = kwh / switched_on
    window_kw = mean_kw + (drawn_kw - mean_kw) * min(tariff.busy_stretch_min / tariff.demand_window_min, 1.0)
    window_kw *= 1 + tariff.surcharge_ratio * max(tariff.reference_power_factor_share - m.power_factor_share, 0.0)
    less = (1 - max(tariff.quiet_demand_share, tariff.ratchet_share)) * tariff.quiet_months_count / 12
    demand_price = tariff.demand_price_cur_per_kw * (1 - less) * (1 + tariff.tax_share) * 12
    day, night = (band_price(tariff, peak) for peak in (tariff.peak_hours_share, tariff.night_peak_hours_share))
    paid = (kwh - night_kwh) * day + night_kwh * night + window_kw * tariff.peak_share * demand_price
    return (busy * (base + waiting_kwh / hours) + process_kwh) * paid / kwh


def band_price(tariff: Any, peak: float) -> float:
    """Mean price of a kWh, tax with it, over hours of which this share lies in the peak."""
    summer = tariff.summer_hours_share
    rest = tariff.energy_price_cur_per_kwh * (1 - peak) + tariff.peak_price_cur_per_kwh * peak
    hot = tariff.summer_price_cur_per_kwh * (1 - peak) + tariff.summer_peak_price_cur_per_kwh * peak
    return (rest * (1 - summer) + hot * summer) * (1 + tariff.tax_share)
