"""The workplace: people, handling, floor, money tied up."""

from __future__ import annotations

from xlfab.inputs.records import Record


class Workplace(Record):
    """What people and floor cost, and how long they take to handle a part."""

    wage_cur_per_h: float
    burden_share: float
    allowance_share: float
    scrap_share: float
    load_base_s: float
    load_size_s_per_m: float
    load_mass_s_per_kg: float
    reposition_base_s: float
    reposition_size_s_per_m: float
    reposition_mass_s_per_kg: float
    turn_over_s: float
    one_person_mass_kg: float
    one_person_length_mm: float
    second_person_s: float
    space_price_cur_per_m2: float
    interest_rate_share: float
