"""The electricity bill of an option's two machines, line by line as a supplier writes it, held against what the year counts."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table

# band -> its price, and whether it holds peak and summer hours
BANDS = {
    "energy": (False, False, "outside peak and summer"),
    "peak": (True, False, "peak hours outside summer"),
    "summer": (False, True, "summer outside the peak"),
    "summer_peak": (True, True, "summer peak hours"),
}


def bill_of(number: int, year: Table, machine_years: tuple[Table, Table], tariff: Table) -> Table:
    """Energy of each band at its price, demand month by month, fixed charge and tax; its sum must be what the year counts."""
    t = Table.record(f"bill_{number}", f"Electricity bill of option {number}, a year")
    hours = tuple(tariff[key] for key in ("peak_hours_share", "night_peak_hours_share", "summer_hours_share"))
    energy = (year["energy_kwh"], year["night_energy_kwh"])
    for band, (in_peak, in_summer, words) in BANDS.items():
        of = _energy_in(in_peak, in_summer)
        t.add(f"{band}_band_kwh", of, *energy, *hours, label=f"Energy, {words}")
    prices: list[str | Ref] = [f"{band}_band_kwh" for band in BANDS]
    prices += [tariff[f"{band}_price_cur_per_kwh"] for band in BANDS]
    t.add("energy_charge_cur", _charge, *prices, label="Energy charge before tax")
    demands = [one["billed_demand_kw"] for one in machine_years]
    t.sum("billed_demand_kw", *demands, label="Billed demand of both machines")
    quiet = ("billed_demand_kw", tariff["quiet_demand_share"])
    t.times("quiet_demand_kw", *quiet, label="Their demand in a quiet month")
    ratchet = ("quiet_demand_kw", "billed_demand_kw", tariff["ratchet_share"])
    t.add("quiet_billed_kw", F["billed_demand_kw"], *ratchet, label="Billed in a quiet month")
    months = ("billed_demand_kw", "quiet_billed_kw", tariff["quiet_months_count"], tariff["demand_price_cur_per_kw"])
    t.add("demand_charge_cur", _months, *months, label="Demand charge of the twelve months before tax")
    fixed = tariff["fixed_charge_cur_per_year"]
    t.copy("fixed_charge_cur", fixed, label="Fixed charge, the same with every option")
    lines = ("energy_charge_cur", "demand_charge_cur", 0.0, "fixed_charge_cur", tariff["tax_share"])
    t.add("bill_cur", F["bill_cur"], *lines, label="Bill with tax")
    counted = ("bill_cur", "fixed_charge_cur", tariff["tax_share"], year["electricity_cost_cur_per_year"])
    t.add("bill_check", _agrees, *counted, text=True, label="Bill less fixed charge = electricity in running cost")
    return t


def _energy_in(in_peak: bool, in_summer: bool) -> Any:
    def of(kwh: Any, night: Any, peak: Any, night_peak: Any, summer: Any) -> Any:
        peak_kwh = (kwh - night) * peak + night * night_peak
        return (peak_kwh if in_peak else kwh - peak_kwh) * (summer if in_summer else 1 - summer)

    return of


def _charge(*items: Any) -> Any:
    half = len(items) // 2
    charges = [kwh * price for kwh, price in zip(items[:half], items[half:], strict=True)]
    return sum(charges[1:], charges[0])


def _months(busy: Any, quiet: Any, quiet_months: Any, price: Any) -> Any:
    return (busy * (12 - quiet_months) + quiet * quiet_months) * price


def _agrees(bill: Any, fixed: Any, tax: Any, counted: Any) -> Any:
    apart = np.abs(bill - fixed * (1 + tax) - counted)
    return np.where(apart <= 1e-9 * (1 + np.abs(bill)), "OK", "The sums differ")
