"""Stopping a pump or a drive in long gaps, and what starting costs."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("auto-stop-gaps")
def auto_stop_share(auto_stop_min: Any, mean_gap_min: Any) -> Any:
    """Share of the waiting hours that a machine spends stopped, when it stops itself some minutes into each gap.

    Arguments: auto_stop_min [min] until it stops, mean_gap_min [min] between jobs.
    Returns: [share].
    Holds: gaps of random length (exponential); regular gaps give max(0, 1 - stop/gap). A judgement until gaps are measured.
    Sources: auto-stop-gaps.

    >>> round(auto_stop_share(10, 20), 4)
    0.6065
    """
    return np.exp(-auto_stop_min / mean_gap_min)


@function("energy-by-state")
def gap_energy_kj(
    gap_time_s: Any, auto_stop_min: Any, ready_power_kw: Any, standby_power_kw: Any, restart_energy_kj: Any
) -> Any:
    """Energy of one gap: ready until the auto-stop, then standby, then a restart.

    Arguments: gap_time_s [s], auto_stop_min [min], ready_power_kw [kW], standby_power_kw [kW], restart_energy_kj [kJ] drawn by stopping and starting again.
    Returns: [kJ].
    Holds: a gap shorter than the auto-stop stays ready and costs no restart.
    Sources: energy-by-state.

    >>> gap_energy_kj(900, 5, 2.8, 0.25, 40)
    1030.0
    """
    limit = auto_stop_min * 60
    stopped = limit * ready_power_kw + (gap_time_s - limit) * standby_power_kw + restart_energy_kj
    return np.where(gap_time_s > limit, stopped, gap_time_s * ready_power_kw)


@function("energy-by-state", domain="stopping saves nothing: ready power must be above standby power")
def stop_break_even_s(restart_energy_kj: Any, ready_power_kw: Any, standby_power_kw: Any) -> Any:
    """Length of a gap from which stopping at once draws less than staying ready.

    Arguments: restart_energy_kj [kJ], ready_power_kw [kW], standby_power_kw [kW].
    Returns: [s].
    Holds: electricity alone; wear of starting is left out, and the drive's own limit on starts an hour comes first.
    Sources: energy-by-state.

    >>> stop_break_even_s(51, 2.8, 0.25)
    20.0
    """
    spared = ready_power_kw - standby_power_kw
    return np.where(spared > 0, restart_energy_kj / spared, np.nan)


@function("energy-by-state")
def warm_up_energy_kwh(warm_up_power_kw: Any, warm_up_min: Any, starts_per_year_count: Any) -> Any:
    """Energy that a year's warm-ups draw.

    Arguments: warm_up_power_kw [kW], warm_up_min [min] each, starts_per_year_count [count].
    Returns: [kWh] a year.
    Holds: mean power over the warm-up; its hours belong to the switched-on hours and are not waiting hours.
    Sources: energy-by-state.

    >>> warm_up_energy_kwh(4, 15, 220)
    220.0
    """
    return warm_up_power_kw * warm_up_min / 60 * starts_per_year_count
