"""Machines: press brakes and shears, each with one of the four drive families."""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import BeforeValidator, model_validator

from xlfab.inputs.records import Name, Record

Drive = Literal["hydraulic", "hydraulic servo-drive", "screw servo-drive", "belt-spring servo-drive"]
DRIVES: tuple[str, ...] = get_args(Drive)


def _fold(value: Any) -> Any:
    return " ".join(value.split()).lower() if isinstance(value, str) else value


class Machine(Record):
    """What every machine has: a drive, a gauge, power states, hours, and what it costs to own."""

    name: Name
    drive: Annotated[Drive, BeforeValidator(_fold)]
    gauge_x_speed_mm_s: float
    gauge_acceleration_mm_s2: float
    gauge_jerk_mm_s3: float
    gauge_settle_time_s: float
    overlap_switch: float
    ram_mass_kg: float
    drive_efficiency_share: float
    spring_lift_share: float
    recovered_share: float
    standby_power_kw: float
    ready_power_kw: float
    auto_stop_share: float
    powered_h_per_year: float
    planned_h_per_year: float
    machine_price_cur: float
    salvage_cur: float
    life_years: float
    floor_area_m2: float
    maintenance_share: float

    @model_validator(mode="after")
    def _states_and_money_fit(self) -> Machine:
        if self.standby_power_kw > self.ready_power_kw:
            raise ValueError(
                f"standby_power_kw = {self.standby_power_kw:g} must be <= ready_power_kw = {self.ready_power_kw:g} kW"
            )
        if self.salvage_cur > self.machine_price_cur:
            raise ValueError(
                f"salvage_cur = {self.salvage_cur:g} must be <= machine_price_cur = {self.machine_price_cur:g}"
            )
        return self


class PressBrake(Machine):
    """A press brake with its back gauge."""

    rated_force_kn: float
    working_length_mm: float
    approach_speed_mm_s: float
    pressing_speed_mm_s: float
    return_speed_mm_s: float
    ram_acceleration_mm_s2: float
    slow_down_gap_mm: float
    opening_mm: float
    stroke_dead_time_s: float
    dwell_time_s: float
    gauge_r_speed_mm_s: float
    gauge_z_speed_mm_s: float
    first_setup_min: float
    further_station_min: float
    try_out_min: float
    force_mean_share: float

    @model_validator(mode="after")
    def _opening_holds_the_gap(self) -> PressBrake:
        if self.slow_down_gap_mm > self.opening_mm:
            raise ValueError(
                f"slow_down_gap_mm = {self.slow_down_gap_mm:g} must be <= opening_mm = {self.opening_mm:g} mm"
            )
        return self


class Shear(Machine):
    """A guillotine shear with its back gauge; `ram_mass_kg` is the mass of the blade beam."""

    shear_capacity_mm: float
    blade_length_mm: float
    rake_deg: float
    blade_opening_mm: float
    cutting_speed_mm_s: float
    blade_return_speed_mm_s: float
    clamp_time_s: float
    shear_dead_time_s: float
    partial_stroke_switch: float
    shear_setup_min: float
    gauge_setting_min: float
