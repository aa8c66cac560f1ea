"""The electricity tariff, and where its CO₂ factor comes from."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable
from typing import Annotated, Any, Self

from pydantic import BeforeValidator, model_validator

from xlfab.inputs.records import Record
from xlfab.inputs.stated_values import Assumption

NOT_STATED = "not stated"
_YEAR = re.compile(r"\b(?:19|20)\d\d\b")


def _text(value: Any) -> Any:
    """A year may be written as a number."""
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


class Tariff(Record):
    """What electricity costs and what CO₂ it causes. The energy price is the flat one, or that outside peak and summer."""

    energy_price_cur_per_kwh: float
    peak_price_cur_per_kwh: float
    summer_price_cur_per_kwh: float
    summer_peak_price_cur_per_kwh: float
    peak_hours_share: float
    summer_hours_share: float
    night_peak_hours_share: float
    demand_price_cur_per_kw: float
    demand_window_min: float
    busy_stretch_min: float
    ratchet_share: float
    quiet_months_count: float
    quiet_demand_share: float
    fixed_charge_cur_per_year: float
    tax_share: float
    peak_share: float
    reference_power_factor_share: float
    surcharge_ratio: float
    co2_kg_per_kwh: float
    co2_source: str = ""  # grid or contract; what is left out is taken from the source of the factor
    co2_dated: Annotated[str, BeforeValidator(_text)] = ""

    @model_validator(mode="after")
    def _bands_have_prices(self) -> Self:
        peak, summer = max(self.peak_hours_share, self.night_peak_hours_share), self.summer_hours_share
        for name, hours in (
            ("peak_price_cur_per_kwh", peak * (1 - summer)),
            ("summer_price_cur_per_kwh", summer * (1 - peak)),
            ("summer_peak_price_cur_per_kwh", peak * summer),
        ):
            if hours > 0 and getattr(self, name) <= 0:
                raise ValueError(
                    f"{name} is needed, above 0: with peak_hours_share = {peak:g} and summer_hours_share = {summer:g} "
                    f"this band holds {hours:.1%} of the hours"
                )
        return self


def with_co2_origin(tariff: Tariff, assumed: Iterable[Assumption]) -> tuple[Tariff, list[Assumption]]:
    """The tariff with source and year of its CO₂ factor filled in, and the assumptions with that source where they had none."""
    found = list(assumed)
    place = next((n for n, item in enumerate(found) if item.key == "co2_kg_per_kwh"), None)
    if place is None:  # a blank workbook in a currency that has no default
        return tariff.model_copy(update={"co2_source": NOT_STATED, "co2_dated": NOT_STATED}), found
    source = tariff.co2_source or found[place].source or NOT_STATED
    year = _YEAR.search(source)
    dated = tariff.co2_dated or (year[0] if year else NOT_STATED)
    if not found[place].source and tariff.co2_source:
        found[place] = dataclasses.replace(found[place], source=f"{source}; year: {dated}")
    return tariff.model_copy(update={"co2_source": source, "co2_dated": dated}), found
