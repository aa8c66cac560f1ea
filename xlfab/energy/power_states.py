"""Power by state (off, standby, ready, moving, processing) and the energy of a time spent in it.

Ready power runs through a whole stroke; what the ram's lift and the work at the sheet draw comes on top of it. So the energy by
state and the energy by cause are two splits of one sum.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("energy-by-state")
def state_energy_kwh(state_power_kw: Any, state_h_per_year: Any) -> Any:
    """Energy that a year's hours in one state draw.

    A machine is in one state at a time: off, standby, ready, moving, processing. Its energy is the sum over the states of mean power
    times hours. In this program the base power runs through ready, moving and processing alike, and what lift and work draw comes on
    top: so the same sum can be split by cause. State names after ISO 14955-1, which is not meant for comparing machines.

    Arguments: state_power_kw [kW], state_h_per_year [h/year].
    Returns: [kWh] a year.
    Holds: mean power in the state.
    Sources: energy-by-state.

    >>> state_energy_kwh(0.25, 400)
    100.0
    """
    return state_power_kw * state_h_per_year


@function("energy-by-state")
def base_power_kw(ready_power_kw: Any, auxiliary_power_kw: Any) -> Any:
    """Power that runs whenever the machine is ready: its own and that of its auxiliaries.

    Arguments: ready_power_kw [kW], auxiliary_power_kw [kW] of cooling, extraction, light and the like.
    Returns: [kW].
    Holds: auxiliaries that run with the machine; a load that a meter on the machine's feed has seen is in the ready power already.
    Sources: energy-by-state.

    >>> base_power_kw(0.5, 0.25)
    0.75
    """
    return ready_power_kw + auxiliary_power_kw


@function("energy-by-state")
def waiting_h_per_year(powered_h_per_year: Any, busy_h_per_year: Any) -> Any:
    """Hours a year in which the machine is switched on and no part or set-up is on it.

    Arguments: powered_h_per_year [h/year], busy_h_per_year [h/year].
    Returns: [h/year].
    Holds: work beyond the switched-on hours is overtime: the machine is then on for as long as it works, and never waits.
    Sources: energy-by-state.

    >>> waiting_h_per_year(2000, 1400), waiting_h_per_year(2000, 2100)
    (600.0, 0.0)
    """
    return np.maximum(powered_h_per_year - busy_h_per_year, 0.0)


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


@function("energy-by-state")
def carried_power_kw(ready_power_kw: Any, waiting_energy_kwh: Any, busy_h_per_year: Any) -> Any:
    """Power that each busy hour carries: ready power, and the year's waiting energy spread over the busy hours.

    Arguments: ready_power_kw [kW], waiting_energy_kwh [kWh] a year, busy_h_per_year [h/year].
    Returns: [kW].
    Holds: a machine without work carries nothing over.
    Sources: energy-by-state.

    >>> carried_power_kw(2.8, 700, 1400)
    3.3
    """
    return ready_power_kw + np.where(busy_h_per_year > 0, waiting_energy_kwh / busy_h_per_year, 0.0)


@function("energy-by-state")
def part_energy_kwh(part_time_s: Any, carried_power_kw: Any, process_energy_kj: Any) -> Any:
    """Electricity of one part at a machine: its time at the carried power, and what forming, cutting and lifting draw.

    Arguments: part_time_s [s], carried_power_kw [kW], process_energy_kj [kJ].
    Returns: [kWh].
    Holds: every part carries waiting energy by its share of busy time.
    Sources: energy-by-state.

    >>> round(part_energy_kwh(36, 3.3, 7.2), 6)
    0.035
    """
    return (part_time_s * carried_power_kw + process_energy_kj) / 3600


@function("definition")
def yearly_energy_kwh(energy_kj: Any, scrap_share: Any, yearly_quantity_count: Any) -> Any:
    """Electricity a year of what every part made draws.

    Arguments: energy_kj [kJ] a part made, scrap_share [share] of parts made, yearly_quantity_count [count] good parts.
    Returns: [kWh] a year.
    Holds: scrap found after the last step.
    Sources: definition.

    >>> yearly_energy_kwh(7.2, 0, 1000)
    2.0
    """
    return energy_kj * yearly_quantity_count / (1 - scrap_share) / 3600


@function("definition")
def energy_per_part_kj(energy_kwh: Any, yearly_quantity_count: Any) -> Any:
    """Electricity of a year shared by its good parts.

    Arguments: energy_kwh [kWh] a year, yearly_quantity_count [count] good parts.
    Returns: [kJ].
    Holds: the year's mean.
    Sources: definition.

    >>> energy_per_part_kj(2, 1000)
    7.2
    """
    return energy_kwh * 3600 / yearly_quantity_count
