"""A year's calendar: shifts, breaks and working days into hours switched on, and hours in each state."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

HOURS_A_YEAR = 8760


@function("definition", domain="breaks longer than the shift, or more hours than a year has")
def switched_on_h_per_year(
    working_days_count: Any, shifts_count: Any, shift_h: Any, break_min: Any, break_on_switch: Any
) -> Any:
    """Hours a year in which the machine is switched on: the shifts, with or without their breaks.

    Arguments: working_days_count [count] a year, shifts_count [count] a day, shift_h [h], break_min [min] inside each shift, break_on_switch [0 or 1]: 1 if the machine stays on in breaks.
    Returns: [h/year].
    Holds: equal days; switched on at the start of the shift and off at its end; at most 8,760 h.
    Sources: definition.

    >>> switched_on_h_per_year(220, 2, 8, 30, 1), switched_on_h_per_year(220, 2, 8, 30, 0)
    (3520.0, 3300.0)
    """
    off = np.where(break_on_switch > 0, 0.0, break_min / 60)
    hours = working_days_count * shifts_count * (shift_h - off)
    return np.where((off <= shift_h) & (hours <= HOURS_A_YEAR), hours, np.nan)


@function("energy-by-state", domain="strokes take longer than the busy hours")
def ready_h_per_year(
    busy_h_per_year: Any,
    moving_h_per_year: Any,
    processing_h_per_year: Any,
    waiting_h_per_year: Any,
    auto_stop_share: Any,
) -> Any:
    """Hours a year ready: handling and set-up while busy, and the waiting hours that are not stopped.

    Arguments: busy_h_per_year [h/year], moving_h_per_year [h/year], processing_h_per_year [h/year], waiting_h_per_year [h/year], auto_stop_share [share] of the waiting hours.
    Returns: [h/year].
    Holds: all that is busy and neither moving nor processing is ready.
    Sources: energy-by-state.

    >>> ready_h_per_year(1400, 100, 150, 600, 0.5)
    1450.0
    """
    still = busy_h_per_year - moving_h_per_year - processing_h_per_year
    return np.where(still >= 0, still + waiting_h_per_year * (1 - auto_stop_share), np.nan)


@function("energy-by-state")
def standby_h_per_year(
    waiting_h_per_year: Any, auto_stop_share: Any, powered_h_per_year: Any, control_on_share: Any
) -> Any:
    """Hours a year in standby: stopped waiting hours, and hours outside the shifts with the control left on.

    Arguments: waiting_h_per_year [h/year], auto_stop_share [share] of them, powered_h_per_year [h/year] switched on, control_on_share [share] of the other hours with the control left on.
    Returns: [h/year].
    Holds: a year of 8,760 h.
    Sources: energy-by-state.

    >>> standby_h_per_year(600, 0.5, 2760, 0.1)
    900.0
    """
    return waiting_h_per_year * auto_stop_share + np.maximum(HOURS_A_YEAR - powered_h_per_year, 0.0) * control_on_share


@function("energy-by-state")
def off_h_per_year(powered_h_per_year: Any, control_on_share: Any) -> Any:
    """Hours a year switched off.

    Arguments: powered_h_per_year [h/year] switched on, control_on_share [share] of the other hours with the control left on.
    Returns: [h/year].
    Holds: a year of 8,760 h.
    Sources: energy-by-state.

    >>> off_h_per_year(2760, 0.1)
    5400.0
    """
    return np.maximum(HOURS_A_YEAR - powered_h_per_year, 0.0) * (1 - control_on_share)
