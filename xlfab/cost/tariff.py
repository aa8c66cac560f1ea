"""What electricity costs: energy at a price, blocks, time of use, the whole bill, and CO2. Demand charges are in tariff_demand."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells
from xlfab.core.registry import function


@function("tariff-practice")
def energy_cost_cur_per_year(energy_kwh: Any, energy_price_cur_per_kwh: Any) -> Any:
    """Yearly cost of an amount of electricity at a flat price.

    Arguments: energy_kwh [kWh] a year, energy_price_cur_per_kwh [currency/kWh].
    Returns: [currency/year].
    Holds: price without recoverable taxes.
    Sources: tariff-practice.

    >>> energy_cost_cur_per_year(1000, 0.19)
    190.0
    """
    return energy_kwh * energy_price_cur_per_kwh


@function("tariff-practice")
def energy_cost_with_nights_cur_per_year(
    energy_kwh: Any, night_energy_kwh: Any, energy_price_cur_per_kwh: Any, night_price_cur_per_kwh: Any
) -> Any:
    """Yearly cost of electricity of which a part is drawn outside the shifts, at the price of those hours.

    Arguments: energy_kwh [kWh] a year in all, night_energy_kwh [kWh] of it outside the shifts, energy_price_cur_per_kwh [currency/kWh] in the shifts, night_price_cur_per_kwh [currency/kWh] outside them.
    Returns: [currency/year].
    Holds: both prices are means over their own hours.
    Sources: tariff-practice.

    >>> round(energy_cost_with_nights_cur_per_year(1000, 200, 0.2, 0.1), 6)
    180.0
    """
    return (energy_kwh - night_energy_kwh) * energy_price_cur_per_kwh + night_energy_kwh * night_price_cur_per_kwh


@function("tariff-blocks")
def block_cost_cur(
    energy_kwh: Any, block_kwh: Any, first_price_cur_per_kwh: Any, further_price_cur_per_kwh: Any
) -> Any:
    """Cost of electricity at one price up to a block's size, and at another beyond it.

    Arguments: energy_kwh [kWh], block_kwh [kWh] at the first price, first_price_cur_per_kwh [currency/kWh], further_price_cur_per_kwh [currency/kWh].
    Returns: [currency].
    Holds: where the block is so many hours of demand, its size is those hours times the kW.
    Sources: tariff-blocks.

    >>> block_cost_cur(8760, 2200, 0.2, 0.1)
    1096.0
    """
    inside = np.minimum(energy_kwh, block_kwh)
    return inside * first_price_cur_per_kwh + (energy_kwh - inside) * further_price_cur_per_kwh


@function("clock")
def band_overlap_h(shift_start_h: Any, shift_end_h: Any, band_start_h: Any, band_end_h: Any) -> Any:
    """Hours of a shift that fall into a tariff's band of the day.

    Arguments: shift_start_h [h] of the day, shift_end_h [h], band_start_h [h], band_end_h [h].
    Returns: [h].
    Holds: an end not after its start lies in the next day; equal start and end are the whole day.
    Sources: clock.

    >>> band_overlap_h(6, 14, 8, 20), band_overlap_h(22, 6, 20, 8)
    (6.0, 8.0)
    """
    shift_end = np.where(shift_end_h > shift_start_h, shift_end_h, shift_end_h + 24)
    band_end = np.where(band_end_h > band_start_h, band_end_h, band_end_h + 24)

    def common(day: int) -> Any:
        first = np.maximum(shift_start_h, band_start_h + day)
        return np.maximum(np.minimum(shift_end, band_end + day) - first, 0.0)

    return common(-24) + common(0) + common(24)


@function("clock")
def band_share(band_overlap_h: Any, shift_h: Any, band_months_count: Any, band_days_share: Any) -> Any:
    """Share of a year's shift hours that fall into a tariff's band: hours of the day, months of the year, kind of day.

    Arguments: band_overlap_h [h] of the shift in the band, shift_h [h], band_months_count [count] of the season, band_days_share [share] of the working days that are of the band's kind.
    Returns: [share].
    Holds: equal months and even use within the shift.
    Sources: clock.

    >>> band_share(6, 8, 4, 1)
    0.25
    """
    return band_overlap_h / shift_h * band_months_count / 12 * band_days_share


@function(
    "tariff-time-of-use",
    domain="the bands' shares must add up to 1, with as many prices as shares",
    native=lambda prices, shares: f"IF(ABS(SUM({shares})-1)<0.000001,SUMPRODUCT({prices},{shares}),#NUM!)",
)
def time_of_use_price_cur_per_kwh(band_prices_cur_per_kwh: Any, band_shares_share: Any) -> Any:
    """Mean price of electricity under a time-of-use tariff.

    Arguments: band_prices_cur_per_kwh [currency/kWh], band_shares_share [share] of the energy in each band.
    Returns: [currency/kWh].
    Holds: the shares add up to 1; energy taken as even over the hours in use.
    Sources: tariff-time-of-use.

    >>> time_of_use_price_cur_per_kwh([0.30, 0.15], [0.25, 0.75])
    0.1875
    """
    prices, shares = cells(band_prices_cur_per_kwh), cells(band_shares_share)
    price, total = 0.0, 0.0 if len(prices) == len(shares) else np.nan
    for band_price, share in zip(prices, shares):  # noqa: B905 - this text also runs in Pythons that know no strict
        price, total = price + band_price * share, total + share
    return np.where(abs(total - 1) < 1e-6, price, np.nan)


@function("tariff-time-of-use", domain="a band that holds hours needs its price above 0")
def mean_energy_price_cur_per_kwh(
    energy_price_cur_per_kwh: Any,
    peak_price_cur_per_kwh: Any,
    summer_price_cur_per_kwh: Any,
    summer_peak_price_cur_per_kwh: Any,
    peak_hours_share: Any,
    summer_hours_share: Any,
    tax_share: Any,
) -> Any:
    """Mean price of a kWh over the hours in which the machines run: peak and other hours, summer and the rest of the year.

    Arguments: energy_price_cur_per_kwh [currency/kWh] outside peak and summer, peak_price_cur_per_kwh [currency/kWh], summer_price_cur_per_kwh [currency/kWh] outside the peak, summer_peak_price_cur_per_kwh [currency/kWh], peak_hours_share [share] of the hours, summer_hours_share [share] of the hours, tax_share [share] on top.
    Returns: [currency/kWh].
    Holds: even use over the hours, the same share of peak hours in summer as in the rest of the year; 0 hours in both bands are a flat price.
    Sources: tariff-time-of-use.

    >>> round(mean_energy_price_cur_per_kwh(0.10, 0.20, 0.14, 0.30, 0.5, 0.25, 0), 4)
    0.1675
    """
    peak, summer = peak_hours_share, summer_hours_share
    rest = energy_price_cur_per_kwh * (1 - peak) + peak_price_cur_per_kwh * peak
    hot = summer_price_cur_per_kwh * (1 - peak) + summer_peak_price_cur_per_kwh * peak
    bare = (peak_price_cur_per_kwh <= 0) & (peak * (1 - summer) > 0)
    bare = bare | ((summer_price_cur_per_kwh <= 0) & (summer * (1 - peak) > 0))
    bare = bare | ((summer_peak_price_cur_per_kwh <= 0) & (summer * peak > 0))
    return np.where(bare, np.nan, (rest * (1 - summer) + hot * summer) * (1 + tax_share))


@function("tariff-practice")
def bill_cur(
    energy_charge_cur: Any, demand_charge_cur: Any, reactive_charge_cur: Any, fixed_charge_cur: Any, tax_share: Any
) -> Any:
    """A bill for electricity: energy, demand, reactive energy and fixed charge, with taxes that are not recovered.

    Arguments: energy_charge_cur [currency], demand_charge_cur [currency], reactive_charge_cur [currency], fixed_charge_cur [currency], tax_share [share] on top of all.
    Returns: [currency].
    Holds: a tax that the shop gets back (such as value-added tax) is no cost: enter 0.
    Sources: tariff-practice.

    >>> bill_cur(1000, 300, 0, 100, 0.05)
    1470.0
    """
    return (energy_charge_cur + demand_charge_cur + reactive_charge_cur + fixed_charge_cur) * (1 + tax_share)


@function("definition", domain="a bill without energy has no price per kWh")
def overall_price_cur_per_kwh(bill_cur: Any, energy_kwh: Any) -> Any:
    """What a kWh costs when the whole bill is spread over it.

    Arguments: bill_cur [currency], energy_kwh [kWh].
    Returns: [currency/kWh].
    Holds: an average; a kWh saved does not save the fixed charge.
    Sources: definition.

    >>> overall_price_cur_per_kwh(240, 1200)
    0.2
    """
    return bill_cur / energy_kwh


@function("definition", domain="electricity for nothing has no such figure")
def labour_second_kj(labour_rate_cur_per_h: Any, energy_price_cur_per_kwh: Any) -> Any:
    """Electricity that costs as much as one second of labour.

    Arguments: labour_rate_cur_per_h [currency/h], energy_price_cur_per_kwh [currency/kWh].
    Returns: [kJ].
    Holds: energy price alone; a bend takes a few kJ at the sheet, so seconds and set-ups weigh more than kWh.
    Sources: definition.

    >>> round(labour_second_kj(33.9, 0.1902))
    178
    """
    return labour_rate_cur_per_h / energy_price_cur_per_kwh


@function("definition")
def co2_kg(energy_kwh: Any, co2_kg_per_kwh: Any) -> Any:
    """CO2 of an amount of electricity.

    Arguments: energy_kwh [kWh], co2_kg_per_kwh [kg/kWh]: factor of the grid or the contract, with its source and year.
    Returns: [kg].
    Holds: a factor belongs to one grid and one year; a mean factor does not tell what a saved kWh avoids.
    Sources: definition.

    >>> co2_kg(1000, 0.35)
    350.0
    """
    return energy_kwh * co2_kg_per_kwh


@function("tariff-practice")
def part_energy_cost_cur(
    part_energy_kwh: Any, energy_price_cur_per_kwh: Any, demand_cost_cur_per_year: Any, machine_energy_kwh: Any
) -> Any:
    """Cost of a part's electricity with its share of the demand charge that its machine causes.

    Arguments: part_energy_kwh [kWh], energy_price_cur_per_kwh [currency/kWh], demand_cost_cur_per_year [currency/year], machine_energy_kwh [kWh] a year.
    Returns: [currency].
    Holds: demand charge shared by energy.
    Sources: tariff-practice.

    >>> round(part_energy_cost_cur(0.1, 0.2, 300, 6000), 6)
    0.025
    """
    spread = np.where(machine_energy_kwh > 0, demand_cost_cur_per_year / machine_energy_kwh, 0.0)
    return part_energy_kwh * (energy_price_cur_per_kwh + spread)
