"""The workplace: people, handling, floor, money tied up."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from xlfab.inputs.records import Record


class Workplace(Record):
    """What people and floor cost, how long they take to handle a part, and the calendar of the year."""

    wage_cur_per_h: float
    burden_share: float
    allowance_share: float
    allowance_day_switch: float
    learning_rate_share: float
    standard_unit_count: float
    wright_switch: float
    scrap_share: float
    load_base_s: float
    load_size_s_per_m: float
    load_mass_s_per_kg: float
    unload_base_s: float
    unload_size_s_per_m: float
    unload_mass_s_per_kg: float
    stack_base_s: float
    stack_size_s_per_m: float
    stack_mass_s_per_kg: float
    reposition_base_s: float
    reposition_size_s_per_m: float
    reposition_mass_s_per_kg: float
    turn_over_s: float
    one_person_mass_kg: float
    one_person_length_mm: float
    second_person_s: float
    two_person_mass_kg: float
    hoist_time_s: float
    walking_speed_m_s: float
    rear_walk_m: float
    pieces_per_walk_count: float
    rear_pick_time_s: float
    tool_walk_m: float
    trips_per_station_count: float
    search_time_s: float
    first_piece_check_min: float
    shared_setup_share: float
    space_price_cur_per_m2: float
    interest_rate_share: float
    calendar_switch: float
    working_days_count: float
    shifts_count: float
    shift_h: float
    break_min: float
    break_on_switch: float
    timer_switch: float
    mean_gap_min: float
    extra_h_per_year: float
    extra_wage_share: float
    downtime_cur_per_h: float

    @model_validator(mode="after")
    def _calendar_is_a_year(self) -> Self:
        day = self.shifts_count * self.shift_h
        if self.break_min > self.shift_h * 60 or day > 24:
            raise ValueError(
                f"shifts_count = {self.shifts_count:g} of shift_h = {self.shift_h:g} with break_min = {self.break_min:g}: "
                "a day must hold the shifts, and a shift its breaks"
            )
        return self
