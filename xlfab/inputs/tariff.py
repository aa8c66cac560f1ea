"""The electricity tariff."""

from __future__ import annotations

from xlfab.inputs.records import Record


class Tariff(Record):
    """What electricity costs and what CO₂ it causes."""

    energy_price_cur_per_kwh: float
    demand_price_cur_per_kw: float
    peak_share: float
    reference_power_factor_share: float
    surcharge_ratio: float
    co2_kg_per_kwh: float
