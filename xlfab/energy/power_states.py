"""Energy by state, over a step and over a year."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.registry import function


@function("energy-by-state")
def state_energy_kj(state_power_kw: Any, state_time_s: Any) -> Any:
    """Energy drawn in one state: its power times its time.

    Arguments: state_power_kw [kW], state_time_s [s].
    Returns: [kJ].
    Holds: constant power in the state. Not a machine comparison after ISO 14955-1, which excludes that use.
    Sources: energy-by-state.

    >>> round(state_energy_kj(2.8, 11.55), 2)
    32.34
    """
    return state_power_kw * state_time_s


@function("energy-by-state", domain="the machine would be busy for longer than it is switched on")
def waiting_h_per_year(powered_h_per_year: Any, busy_h_per_year: Any) -> Any:
    """Hours a year in which the machine is switched on and no part or set-up is on it.

    Arguments: powered_h_per_year [h/year], busy_h_per_year [h/year].
    Returns: [h/year].
    Holds: busy time not longer than switched-on time.
    Sources: energy-by-state.

    >>> waiting_h_per_year(2000, 1400)
    600.0
    """
    rest = powered_h_per_year - busy_h_per_year
    return np.where(rest >= 0, rest, np.nan)


@function("energy-by-state")
def waiting_energy_kwh(
    waiting_h_per_year: Any, ready_power_kw: Any, standby_power_kw: Any, auto_stop_share: Any
) -> Any:
    """Energy of a year's waiting hours, part of them stopped to standby by the machine's auto-stop.

    Arguments: waiting_h_per_year [h/year], ready_power_kw [kW], standby_power_kw [kW], auto_stop_share [share] of the waiting hours.
    Returns: [kWh] a year.
    Holds: long gaps are stopped, short ones are not.
    Sources: energy-by-state.

    >>> waiting_energy_kwh(600, 2.8, 0.25, 0.5)
    915.0
    """
    return waiting_h_per_year * (ready_power_kw * (1 - auto_stop_share) + standby_power_kw * auto_stop_share)


@function("definition")
def energy_kwh(energy_kj: Any) -> Any:
    """Kilojoules as kilowatt-hours.

    Arguments: energy_kj [kJ].
    Returns: [kWh].
    Holds: 3,600 kJ are 1 kWh.
    Sources: definition.

    >>> energy_kwh(7200)
    2.0
    """
    return energy_kj / 3600
