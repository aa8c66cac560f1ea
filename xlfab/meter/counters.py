"""Power from an energy counter, or from the energy of each step.

A counter that moves in steps coarser than what flows between two rows is read at its ticks: when a tick comes is known to one row,
so the energy between two ticks over the time between them is the mean power, and rest is read exactly however coarse the step.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.meter.log_columns import Column

if TYPE_CHECKING:
    from xlfab.meter.clock import Times
    from xlfab.meter.log_file import Log

Series = NDArray[np.float64]
Values = NDArray[np.floating[Any]]
FINE_SHARE, COARSE_SHARE = 0.02, 0.3  # of the counter's step, as power over one row, to the busiest quarter hour
STEPS_S = (1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 60.0)


def power_of_counter(columns: list[Column], series: dict[int, Values], times: Times, log: Log) -> Values:
    """Power [kW] of each row; a coarse counter puts its power on a coarser grid, in `times` as well."""
    count = np.sum([series[column.place] * column.factor for column in columns], axis=0)
    gaps = np.diff(times.seconds, prepend=np.nan)
    gap = float(np.nanmedian(gaps[gaps > 0])) if np.any(gaps > 0) else 1.0
    if columns[0].interval:
        log.notes.append("power from the energy of each step")
        steps = np.where(np.isfinite(count), count, np.nan)
        gaps = np.where((gaps > 0) & (gaps < 1.5 * gap), gaps, gap)
    else:
        log.notes.append("power from the differences of an energy counter")
        steps = np.diff(count, prepend=np.nan)
        _check_rising(steps, columns[0], log)
        steps[steps < 0] = np.nan
    smallest = _smallest(steps)  # kWh
    busiest = _busiest_kw(np.nan_to_num(steps), times.seconds)
    if smallest * 3600 / gap > FINE_SHARE * busiest and smallest * 3600 / gap > 0.02:
        if columns[0].interval:
            raise ScenarioError(
                f"{log.title}: the energy of each step goes in steps of {smallest * 1000:.3g} Wh, {smallest * 3600 / gap:.3g} kW over one "
                "row: too coarse, and what each row rounds away is lost; log real power, or a running counter"
            )
        return _from_ticks(steps, times, gap, smallest, busiest, log)
    with np.errstate(all="ignore"):
        return np.asarray(np.where(gaps > 0, steps / gaps * 3600, np.nan), dtype=np.float32)


def _check_rising(steps: Series, column: Column, log: Log) -> None:
    falling = float(np.nanmean(steps < 0))
    if falling > 0.1:
        raise ScenarioError(
            f"{log.title}: '{column.heading}' is no counter: it falls in {falling:.0%} of the rows; if it holds the energy of each "
            "step, write 'interval' into its heading"
        )
    if falling:
        log.notes.append(
            f"the energy counter started again {int(np.nansum(steps < 0))} times; those steps are left out"
        )


def _smallest(steps: Series) -> float:
    """The counter's own step: the smallest difference between two of its steps."""
    some = steps[np.isfinite(steps)][:500_000]
    values = np.unique(np.round(some[some >= 0], 9))
    return (
        float(np.min(np.diff(values), initial=np.inf))
        if len(values) > 1
        else float(values[-1])
        if len(values)
        else np.inf
    )


def _busiest_kw(steps: Series, seconds: Series) -> float:
    """Highest mean of a quarter hour, or of the whole where it is shorter."""
    at = np.nan_to_num(seconds)
    total = np.concatenate([[0.0], np.cumsum(steps)[1:]])
    quarter = np.arange(at[0], at[-1] + 1, 900.0)
    if len(quarter) < 3:
        return float(total[-1] / max(at[-1] - at[0], 1.0) * 3600)
    return float(np.diff(np.interp(quarter, at, total)).max() / 900 * 3600)


def _from_ticks(steps: Series, times: Times, gap: float, smallest: float, busiest: float, log: Log) -> Values:
    """Energy interpolated between ticks, on the finest grid that the counter's step allows."""
    fits = [step for step in STEPS_S if step >= gap and smallest * 3600 / step <= FINE_SHARE * busiest]
    step = fits[0] if fits else STEPS_S[-1]
    if smallest * 3600 / step > COARSE_SHARE * busiest or step < gap:
        raise ScenarioError(
            f"{log.title}: the counter's smallest step ({smallest:g} kWh) is too coarse: even over a minute it tells power in steps of "
            f"{smallest * 60:.3g} kW; log real power, or use a counter that shows single Wh"
        )
    good = np.isfinite(times.seconds) & np.isfinite(np.nan_to_num(steps))
    seconds, energy = times.seconds[good], np.cumsum(np.nan_to_num(steps)[good])
    ticks = np.flatnonzero(np.diff(energy, prepend=energy[0] - 1) > 0)
    ticks = np.unique(np.concatenate([[0], ticks, [len(energy) - 1]]))
    grid = np.arange(seconds[0] + step, seconds[-1] + 1e-6, step)
    power = np.diff(np.interp(np.concatenate([[seconds[0]], grid]), seconds[ticks], energy[ticks])) / step * 3600
    jumps = np.flatnonzero(np.diff(seconds) > max(3 * gap, step))
    for place in jumps:  # what was not logged stays a gap
        power[(grid > seconds[place]) & (grid - step < seconds[place + 1])] = np.nan
    log.limits.append(
        f"the counter moves in steps of {smallest * 1000:.3g} Wh: power is read over {step:g} s, and strokes cannot be told one by one"
    )
    times.seconds = grid
    return power.astype(np.float32)
