"""Demand charges and power-factor clauses, in the forms that published tariffs use."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.arrays import cells
from xlfab.core.registry import function


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
def window_demand_kw(busy_power_kw: Any, rest_power_kw: Any, busy_stretch_min: Any, demand_window_min: Any) -> Any:
    """Highest mean power in a meter's averaging window, for a stretch of work among rest.

    Arguments: busy_power_kw [kW] mean while it works, rest_power_kw [kW] before and after, busy_stretch_min [min] of work without a pause, demand_window_min [min].
    Returns: [kW].
    Holds: work at even mean power; short peaks inside the window average out, and nameplate power is not demand.
    Sources: tariff-practice.

    >>> window_demand_kw(6, 2, 5, 15), window_demand_kw(6, 2, 40, 15)
    (3.333333333333333, 6.0)
    """
    share = np.minimum(busy_stretch_min / demand_window_min, 1.0)
    return rest_power_kw + (busy_power_kw - rest_power_kw) * share


@function("tariff-practice")
def site_demand_kw(window_demand_kw: Any, peak_share: Any) -> Any:
    """What a machine adds to the site's highest demand.

    Arguments: window_demand_kw [kW], peak_share [share] of it that falls on the site's peak.
    Returns: [kW].
    Holds: the share is a judgement until the site's load is measured.
    Sources: tariff-practice.

    >>> site_demand_kw(3, 0.5)
    1.5
    """
    return window_demand_kw * peak_share


@function("definition")
def apparent_power_kva(real_power_kw: Any, power_factor_share: Any) -> Any:
    """Apparent power of a real power at a power factor.

    Arguments: real_power_kw [kW], power_factor_share [share].
    Returns: [kVA].
    Holds: lagging or leading alike.
    Sources: definition.

    >>> apparent_power_kva(300, 0.6)
    500.0
    """
    return real_power_kw / power_factor_share


@function("definition")
def reactive_power_kvar(real_power_kw: Any, power_factor_share: Any) -> Any:
    """Reactive power of a real power at a power factor.

    Arguments: real_power_kw [kW], power_factor_share [share].
    Returns: [kvar].
    Holds: sinusoidal current; drives with harmonics have a lower power factor than this angle tells.
    Sources: definition.

    >>> round(reactive_power_kvar(800, 0.8), 6)
    600.0
    """
    return real_power_kw * np.sqrt(1 - power_factor_share**2) / power_factor_share


@function("definition")
def apparent_power_from_reactive_kva(real_power_kw: Any, reactive_power_kvar: Any) -> Any:
    """Apparent power from real and reactive power, as a meter shows them.

    Arguments: real_power_kw [kW], reactive_power_kvar [kvar].
    Returns: [kVA].
    Holds: sinusoidal current; harmonics come on top.
    Sources: definition.

    >>> apparent_power_from_reactive_kva(40, 30)
    50.0
    """
    return np.sqrt(real_power_kw**2 + reactive_power_kvar**2)


@function("definition", domain="no power, no power factor")
def power_factor_share(real_power_kw: Any, reactive_power_kvar: Any) -> Any:
    """Power factor from real and reactive power, as a meter shows them.

    Arguments: real_power_kw [kW], reactive_power_kvar [kvar].
    Returns: [share].
    Holds: sinusoidal current; lagging or leading alike.
    Sources: definition.

    >>> power_factor_share(40, 30)
    0.8
    """
    apparent = apparent_power_from_reactive_kva.formula(real_power_kw, reactive_power_kvar)
    return real_power_kw / apparent


@function("tariff-power-factor")
def power_factor_step_kw(
    demand_kw: Any, power_factor_share: Any, reference_power_factor_share: Any, surcharge_ratio: Any
) -> Any:
    """Billed demand under a clause that adds so much for each point that the power factor is too low.

    Arguments: demand_kw [kW], power_factor_share [share], reference_power_factor_share [share], surcharge_ratio [ratio]: percent of demand added for each percent below the reference (1 and 2 are in use).
    Returns: [kW].
    Holds: demand x (1 + surcharge x (reference - power factor)), no reward above the reference.
    Sources: tariff-power-factor.

    >>> round(power_factor_step_kw(100, 0.80, 0.90, 1), 6)
    110.0
    """
    short = np.maximum(reference_power_factor_share - power_factor_share, 0.0)
    return demand_kw * (1 + surcharge_ratio * short)


@function("tariff-power-factor")
def power_factor_ratio_kw(demand_kw: Any, power_factor_share: Any, reference_power_factor_share: Any) -> Any:
    """Billed demand under a clause that scales demand by the reference over the actual power factor.

    Arguments: demand_kw [kW], power_factor_share [share], reference_power_factor_share [share].
    Returns: [kW].
    Holds: the larger of kW and reference x kVA; no reward above the reference.
    Sources: tariff-power-factor.

    >>> round(power_factor_ratio_kw(100, 0.75, 0.90), 6)
    120.0
    """
    return np.maximum(demand_kw, demand_kw * reference_power_factor_share / power_factor_share)


@function("tariff-reactive")
def excess_reactive_kvarh(reactive_kvarh: Any, energy_kwh: Any, reactive_allowance_share: Any) -> Any:
    """Reactive energy beyond what a tariff allows free.

    Arguments: reactive_kvarh [kvarh], energy_kwh [kWh] of real energy, reactive_allowance_share [share] of the real energy (0.5 is a power factor of 0.89, 0.33 one of 0.95).
    Returns: [kvarh].
    Holds: counted over a month for the whole site.
    Sources: tariff-reactive.

    >>> excess_reactive_kvarh(7000, 10000, 0.5)
    2000.0
    """
    return np.maximum(reactive_kvarh - reactive_allowance_share * energy_kwh, 0.0)


@function("tariff-ratchet")
def billed_demand_kw(demand_kw: Any, highest_demand_kw: Any, ratchet_share: Any) -> Any:
    """Demand billed in a month: its own, or a share of the highest of the months before.

    Arguments: demand_kw [kW] of the month, highest_demand_kw [kW] of the months before, ratchet_share [share] (0 is no ratchet).
    Returns: [kW].
    Holds: the months that count are in the tariff, often the last eleven.
    Sources: tariff-ratchet.

    >>> billed_demand_kw(500, 1000, 0.8)
    800.0
    """
    return np.maximum(demand_kw, ratchet_share * highest_demand_kw)


@function(
    "tariff-ratchet",
    native=lambda d, r: f"SUMPRODUCT(({d}>{r}*MAX({d}))*{d}+({d}<={r}*MAX({d}))*{r}*MAX({d}))",
)
def yearly_billed_demand_kw(monthly_demands_kw: Any, ratchet_share: Any) -> Any:
    """Sum of the twelve monthly billed demands of a steady year, under a ratchet.

    Arguments: monthly_demands_kw [kW] one a month, ratchet_share [share] (0 is no ratchet).
    Returns: [kW], to be multiplied with the price a kilowatt and month.
    Holds: each month sees the year's highest demand among the months before it, as in a year like the last.
    Sources: tariff-ratchet.

    >>> yearly_billed_demand_kw([10, 4, 4, 10], 0.8)
    36.0
    """
    highest, billed = 0.0, 0.0
    for demand in cells(monthly_demands_kw):
        highest = np.maximum(highest, demand)
    for demand in cells(monthly_demands_kw):
        billed = billed + np.maximum(demand, ratchet_share * highest)
    return billed


@function("tariff-ratchet")
def mean_demand_price_cur_per_kw(
    demand_price_cur_per_kw: Any, ratchet_share: Any, quiet_months_count: Any, quiet_demand_share: Any, tax_share: Any
) -> Any:
    """Demand price a month, as the mean of the year for a kW of the busy months' demand, with a ratchet and taxes.

    Arguments: demand_price_cur_per_kw [currency/kW] a month, ratchet_share [share] (0 is no ratchet), quiet_months_count [count] of the year, quiet_demand_share [share] of the busy months' demand that the quiet ones reach, tax_share [share] on top.
    Returns: [currency/kW] a month.
    Holds: a quiet month is billed at its own demand or at the ratchet's share of the highest, whichever is more; 0 quiet months are twelve equal ones.
    Sources: tariff-ratchet.

    >>> mean_demand_price_cur_per_kw(10, 0.8, 6, 0.5, 0), mean_demand_price_cur_per_kw(10, 0, 6, 0.5, 0)
    (9.0, 7.5)
    """
    less = (1 - np.maximum(quiet_demand_share, ratchet_share)) * quiet_months_count / 12
    return demand_price_cur_per_kw * (1 - less) * (1 + tax_share)


@function("tariff-practice")
def demand_charge_cur(billed_demand_kw: Any, demand_price_cur_per_kw: Any) -> Any:
    """Demand charge of a month.

    Arguments: billed_demand_kw [kW], demand_price_cur_per_kw [currency/kW] a month.
    Returns: [currency].
    Holds: a price per kVA goes with the demand in kVA.
    Sources: tariff-practice.

    >>> demand_charge_cur(12, 10)
    120.0
    """
    return billed_demand_kw * demand_price_cur_per_kw


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
