"""What electricity costs."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.registry import function


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
def demand_cost_cur_per_year(mean_power_kw: Any, peak_share: Any, demand_price_cur_per_kw: Any) -> Any:
    """Yearly demand charge that a machine causes: the part of its mean power that falls on the site's peak, billed monthly.

    Arguments: mean_power_kw [kW] while it works, peak_share [share] that falls on the site's peak, demand_price_cur_per_kw [currency/kW] a month.
    Returns: [currency/year].
    Holds: twelve equal months; a ratchet or an averaging window changes it.
    Sources: tariff-practice.

    >>> round(demand_cost_cur_per_year(2.4, 1, 17.25), 1)
    496.8
    """
    return mean_power_kw * peak_share * demand_price_cur_per_kw * 12


@function("definition", domain="energy without hours")
def mean_power_kw(energy_kwh: Any, working_h: Any) -> Any:
    """Mean power over the hours in which an amount of energy was drawn.

    Arguments: energy_kwh [kWh], working_h [h].
    Returns: [kW].
    Holds: hours above zero.
    Sources: definition.

    >>> mean_power_kw(4200, 1400)
    3.0
    """
    return energy_kwh / working_h


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
