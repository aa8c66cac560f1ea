"""Machines: press brakes and shears, each with one of the drives of `data/drives.csv`."""

from __future__ import annotations

from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, model_validator

from xlfab.inputs.drives import known_drive
from xlfab.inputs.records import Name, Record

GuardMode = Literal[
    "light curtain", "optical device on the tool", "two-hand control", "hold-to-run slow closing"
]  # the lines of data/guard_modes.csv


def fold(value: Any) -> Any:
    """A text in lower case with single spaces; anything else as it is."""
    return " ".join(value.split()).lower() if isinstance(value, str) else value


class Machine(Record):
    """What every machine is called and driven by, and which optional features it has."""

    name: Name
    drive: Annotated[str, BeforeValidator(known_drive)]
    features: tuple[str, ...] = ()  # optional features that the stated figures include already


class RamWork(Record):
    """Size, protective device, stroke, further gauge axes and set-up of a press brake; the device sets how the ram closes."""

    guard_mode: Annotated[GuardMode, BeforeValidator(fold)] = "light curtain"
    rated_force_kn: float
    full_force_length_mm: float
    working_length_mm: float
    stroke_length_mm: float
    daylight_mm: float
    tool_rating_kn_per_m: float
    punch_height_mm: float
    die_height_mm: float
    approach_speed_mm_s: float
    pressing_speed_mm_s: float
    return_speed_mm_s: float
    ram_acceleration_mm_s2: float
    slow_down_gap_mm: float
    opening_mm: float
    reduced_return_switch: float
    flange_clearance_mm: float
    stroke_dead_time_s: float
    full_decompression_time_s: float
    dwell_time_s: float
    second_dwell_time_s: float
    force_mean_share: float
    first_setup_min: float
    further_station_min: float
    program_call_min: float
    program_entry_min: float
    try_out_min: float
    try_out_per_bend_count: float
    return_overlap_switch: float
    gauge_r_speed_mm_s: float
    gauge_z_speed_mm_s: float
    gauge_r_acceleration_mm_s2: float
    gauge_z_acceleration_mm_s2: float

    @model_validator(mode="after")
    def _opening_holds_the_gap(self) -> Self:
        return self._not_above("slow_down_gap_mm", "opening_mm")


class BladeWork(Record):
    """Size, stroke and set-up of a guillotine shear."""

    shear_capacity_mm: float
    capacity_strength_mpa: float
    blade_length_mm: float
    rake_deg: float
    blade_opening_mm: float
    cutting_speed_mm_s: float
    blade_return_speed_mm_s: float
    clamp_time_s: float
    shear_dead_time_s: float
    partial_stroke_switch: float
    strokes_per_min: float
    stroke_rating_switch: float
    fixed_stroke_share: float
    pull_back_overlap_switch: float
    rear_support_switch: float
    shear_setup_min: float
    gauge_setting_min: float
    gap_change_min: float
    gap_change_switch: float
    rake_change_min: float
    rake_change_switch: float


class BackGauge(Record):
    """The gauge in depth, and limits that its axes share."""

    gauge_x_speed_mm_s: float
    gauge_acceleration_mm_s2: float
    gauge_jerk_mm_s3: float
    gauge_settle_time_s: float
    gauge_pull_back_mm: float
    overlap_switch: float


class Running(Record):
    """Moving mass, drive, power states, hours, and what the machine costs to own. On a shear the mass is the blade beam's."""

    ram_mass_kg: float
    drive_efficiency_share: float
    spring_lift_ratio: float
    recovered_share: float
    standby_power_kw: float
    ready_power_kw: float
    auto_stop_share: float
    auto_stop_min: float
    warm_up_min: float
    warm_up_power_kw: float
    auxiliary_power_kw: float
    control_on_share: float
    power_factor_share: float
    powered_h_per_year: float
    planned_h_per_year: float
    machine_price_cur: float
    salvage_cur: float
    life_years: float
    floor_area_m2: float
    maintenance_share: float
    insurance_share: float
    downtime_h_per_year: float
    resale_now_cur: float

    @model_validator(mode="after")
    def _states_and_money_fit(self) -> Self:
        return self._not_above("standby_power_kw", "ready_power_kw")._not_above("salvage_cur", "machine_price_cur")


class Upkeep(Record):
    """Maintenance line by line: counted in place of the share of the price where the switch is 1, never beside it."""

    itemised_switch: float
    oil_volume_l: float
    oil_price_cur_per_l: float
    oil_disposal_cur_per_l: float
    oil_interval_h: float
    wear_part_cur: float
    fitting_time_h: float
    wear_interval_h: float
    service_cost_cur_per_year: float


class Blades(Record):
    """What blades cost, for maintenance line by line."""

    blade_set_cur: float
    regrinds_count: float
    regrind_price_cur: float
    edge_strokes_count: float


# pydantic lists the fields of the last base first
class PressBrake(Upkeep, Running, BackGauge, RamWork, Machine):
    """A press brake with its back gauge."""


class Shear(Blades, Upkeep, Running, BackGauge, BladeWork, Machine):
    """A guillotine shear with its back gauge."""
