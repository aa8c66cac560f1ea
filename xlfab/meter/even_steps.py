"""Rows with their times put on a grid of even steps: gaps stay gaps, one or two missing rows are bridged."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError

if TYPE_CHECKING:
    from xlfab.meter.log_file import Log

Values = NDArray[np.floating[Any]]
Place = NDArray[np.int32]
LONGEST_STEPS = 50_000_000
SOME = 500_000  # steps that the usual one is found from


def newest_first(seconds: NDArray[np.float64]) -> bool:
    """True if most rows stand before the one above them in time."""
    some = seconds[:: max(1, len(seconds) // SOME)]
    steps = np.diff(some[np.isfinite(some)])
    return len(steps) > 0 and float(np.mean(steps < 0)) > 0.5


def places(seconds: NDArray[np.float64], good: NDArray[np.bool_], log: Log) -> tuple[float, Place]:
    """Step [s], and the place on the grid of each row that counts; `log` gets the notes."""
    steps = np.diff(seconds if good.all() else seconds[good])
    step = _step(steps, log.title)
    same = int(np.sum(steps == 0))
    if same:
        log.notes.append(f"{same} rows stand at the same time as the row before them; their mean counts")
    moved = _forward(steps, step, log.notes)
    np.cumsum(moved, out=moved)  # in place, here and below: a log of 60 days has five million steps
    moved /= step
    np.rint(moved, out=moved)
    if moved[-1] > LONGEST_STEPS:
        raise ScenarioError(
            f"{log.title}: the times span {moved[-1] * step / 86400:.0f} days at {step:g} s; cut the file"
        )
    place = np.zeros(len(moved) + 1, dtype=np.int32)
    place[1:] = moved
    return step, place


def _step(steps: NDArray[np.float64], title: str) -> float:
    """The usual step between rows [s]."""
    steps = steps[:: max(1, len(steps) // SOME)]
    step = float(np.median(steps[steps > 0])) if np.any(steps > 0) else np.nan
    if not np.isfinite(step):
        raise ScenarioError(f"{title}: the times of the log do not move forward")
    near = steps[(steps > 0.5 * step) & (steps < 1.5 * step)]
    step = float(np.mean(near))  # times that are rounded have steps that are too
    return round(step) if abs(step - round(step)) < 0.02 * step and step > 0.5 else step


def _forward(steps: NDArray[np.float64], step: float, notes: list[str]) -> NDArray[np.float64]:
    """Steps that never run back: an hour set back by the clock is put right, a restart follows after a short gap."""
    back = steps < -0.5 * step
    if not back.any():
        return np.maximum(steps, 0, out=steps)
    hour = back & (np.abs(steps + 3600 - step) < 2 * step + 1)
    if hour.any():
        notes.append(f"the clock was set back an hour {int(hour.sum())} times")
    if (back & ~hour).any():
        notes.append(
            f"the logger started again {int((back & ~hour).sum())} times; the time between is not known and not counted"
        )
    # a restart leaves a gap of three steps, so that nothing is bridged across it
    return np.where(hour, steps + 3600, np.where(back, 4 * step, np.maximum(steps, 0)))


def mean_on_grid(place: Place, values: Values) -> Values:
    """Mean of the rows at each place, NaN where there is none. Without gaps and doubles the values themselves."""
    if place[-1] + 1 == len(place) and np.all(np.diff(place) == 1):
        return values
    count = np.bincount(place)
    with np.errstate(all="ignore"):
        return (np.bincount(place, weights=np.nan_to_num(values)) / count).astype(values.dtype)


def bridge(values: Values, longest: int) -> None:
    """Fill gaps of at most so many steps with the value before them, in place."""
    gap = np.isnan(values)
    edges = np.flatnonzero(np.diff(gap.astype(np.int8), prepend=0, append=0))
    firsts, ends = edges[::2], edges[1::2]
    short = ends - firsts <= longest
    for first, end in zip(firsts[short], ends[short], strict=True):
        values[first:end] = values[first - 1] if first else values[end]


def say_gaps(log: Log) -> None:
    """Note the hours that are not logged."""
    gap = np.isnan(log.power_kw)
    missing = float(gap.sum()) * log.step_s
    if missing:
        runs = np.count_nonzero(np.diff(gap.astype(np.int8)) == 1)
        log.notes.append(f"{missing / 3600:.2f} h in {runs} gaps are not logged and not counted")
