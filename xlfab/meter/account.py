"""Hours and energy of each state, so that they add up to what the meter read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from xlfab.meter import strokes
from xlfab.meter.levels import Index, Series
from xlfab.meter.log_file import Log
from xlfab.meter.uncertainty import half_width_95

REST = ("off", "standby", "warm-up", "other load", "ready")
ORDER = (*REST, "moving", "processing", "working", "production")
EDGE_SCATTER = 0.41  # of one sample: standard deviation of (samples touched - true length), both edges anywhere (derived: triangular)
INSTANT_DOUBT = 0.08  # of a sample: what phases shorter than a step leave open where readings are instants
HIDDEN_DOUBT, LEAST_DOUBT = (
    0.5,
    0.02,
)  # of the share of edge samples that the threshold hides, and no less than this part of one
TWO_CODES = 0.97  # of the readings of a state: so many on two neighbouring codes of the register
Doubles = NDArray[np.float64]


@dataclass
class State:
    """One state of the machine as the meter saw it: the uncertainty is that of its mean power in this log, at 95 %.

    `hourly_kw` are the lowest and the highest mean of an hour: what another week may show.
    """

    name: str
    power_kw: float
    uncertainty_kw: float
    hours: float
    energy_kwh: float
    power_factor: float | None = None
    hourly_kw: tuple[float, float] = (float("nan"), float("nan"))


@dataclass
class Work:
    """What the steps below share; the resolution is the meter's own step [kW]."""

    power: Series
    step_s: float
    meter_share: float
    limits: list[str]
    resolution_kw: float = 0.0


@dataclass
class Booked:
    """Hours and energy by state, and the state of each sample."""

    sample: NDArray[np.int8]
    hours: Doubles
    energy: Doubles


def account(
    work: Work,
    base: strokes.Baseline,
    runs: strokes.Runs,
    names: list[str],
    resolved: bool,
    log: Log,
    good: NDArray[np.bool_],
) -> tuple[NDArray[np.int8], list[State]]:
    """Hours and energy of each state: samples at rest, strokes with their true time, and the rest of the edge samples."""
    level_state = np.array([ORDER.index(name) for name in names], dtype=np.int8)
    booked = Booked(level_state[base.level], np.zeros(len(ORDER)), np.zeros(len(ORDER)))
    inside = np.zeros(len(work.power), dtype=bool)
    if runs.count:
        inside[runs.places()[0]] = True
        _book_strokes(work, base, runs, resolved, level_state, booked)
    _book_rest(work, base, inside, level_state, booked)
    apparent = None if log.apparent_kva is None else log.apparent_kva[good]
    states = [_state(number, booked, work, apparent) for number in range(len(ORDER)) if booked.hours[number] > 0]
    _widen_by_edges(states, work, runs, float(np.average(base.power_kw[runs.first])) if runs.count else 0.0)
    return booked.sample, states


def _book_strokes(
    work: Work,
    base: strokes.Baseline,
    runs: strokes.Runs,
    resolved: bool,
    level_state: NDArray[np.int8],
    booked: Booked,
) -> None:
    """The strokes' own time and energy, and what is left of their edge samples for the rest beside them."""
    step_h = work.step_s / 3600
    end = runs.first + runs.length
    worked = strokes.stretch_sums(work.power, runs.first, end) * step_h
    spare = (runs.length * step_h - runs.time_s / 3600) / 2  # of an edge sample, what belongs to the rest beside it
    for beside in (np.maximum(runs.first - 1, 0), np.minimum(end, len(work.power) - 1)):
        own = spare * base.power_kw[beside]
        np.add.at(booked.hours, level_state[base.level[beside]], spare)
        np.add.at(booked.energy, level_state[base.level[beside]], own)
        worked -= own
    _working(work, base, runs, resolved, booked, float(worked.sum()))


def _book_rest(
    work: Work, base: strokes.Baseline, inside: NDArray[np.bool_], level_state: NDArray[np.int8], booked: Booked
) -> None:
    """Samples at rest, and those in which one level goes over into another."""
    step_h = work.step_s / 3600
    mixed, other, share = _mixed_samples(work.power, base, inside)
    own = base.power_kw[mixed] * (1 - share)
    for state, part, energy in (
        (booked.sample[mixed], 1 - share, own),
        (level_state[other], share, work.power[mixed] - own),
    ):
        np.add.at(booked.hours, state, part * step_h)
        np.add.at(booked.energy, state, energy * step_h)
    pure = ~inside
    pure[mixed] = False
    for state in np.unique(level_state):
        mine = pure & (booked.sample == state)
        booked.hours[state] += mine.sum() * step_h
        booked.energy[state] += float(work.power[mine].sum(dtype=np.float64)) * step_h


def _mixed_samples(power: Series, base: strokes.Baseline, inside: NDArray[np.bool_]) -> tuple[Index, Index, Doubles]:
    """Samples in which one rest level goes over into another: place, the other level, and its share of the sample."""
    change = np.flatnonzero(np.diff(base.level) != 0) + 1
    places = np.concatenate([change - 1, change])
    others = np.concatenate([change, change - 1])
    own, other = base.power_kw[places].astype(np.float64), base.power_kw[others].astype(np.float64)
    share = (power[places] - own) / np.where(other == own, np.inf, other - own)
    clear = np.abs(power[places] - own) > base.threshold_kw[places] / 2
    take = ~inside[places] & clear & (share > 0) & (share < 1)
    # where two changes lie side by side, a sample is split once
    _, once = np.unique(places[take], return_index=True)
    return places[take][once], base.level[others[take][once]].astype(np.int64), share[take][once]


def _working(
    work: Work, base: strokes.Baseline, runs: strokes.Runs, resolved: bool, booked: Booked, total_kwh: float
) -> None:
    """Book the strokes: as moving and processing where both can be read, else as working, or production."""
    total_h = float(runs.time_s.sum()) / 3600
    places, _ = runs.places()
    split = strokes.split_working(work.power - base.power_kw, runs, work.step_s) if resolved else None
    if split is None or not 0 < split.processing_s / 3600 < total_h:
        name = ORDER.index("working" if resolved else "production")
        booked.hours[name], booked.energy[name] = total_h, total_kwh
        booked.sample[places] = name
        return
    moving, processing = ORDER.index("moving"), ORDER.index("processing")
    rested = float(np.average(base.power_kw[runs.first], weights=runs.time_s))
    booked.hours[processing] = split.processing_s / 3600
    booked.energy[processing] = booked.hours[processing] * (split.processing_kw + rested)
    booked.hours[moving] = total_h - booked.hours[processing]
    booked.energy[moving] = total_kwh - booked.energy[processing]
    booked.sample[places] = moving
    booked.sample[split.processing] = processing


def _state(number: int, booked: Booked, work: Work, apparent: Series | None) -> State:
    power = float(booked.energy[number] / booked.hours[number])
    mine = booked.sample == number
    inner = mine.copy()
    inner[1:] &= mine[:-1]
    inner[:-1] &= mine[1:]
    if ORDER[number] not in REST or inner.sum() < 20:
        inner = mine
    values = work.power[inner]
    if ORDER[number] in REST and len(values) >= 20:  # readings that may be mixed with a neighbouring state are left out
        power = float(values.mean(dtype=np.float64))
    factor = None
    if apparent is not None and mine.any():
        usable = mine & np.isfinite(apparent)
        total = float(apparent[usable].sum(dtype=np.float64))
        factor = min(float(work.power[usable].sum(dtype=np.float64)) / total, 1.0) if total > 0 else None
    spread = half_width_95((work.meter_share * power, _register_doubt(values, work.resolution_kw)), _scatter(values))
    hourly = _hourly(np.flatnonzero(inner), values, work.step_s)
    return State(
        ORDER[number], power, spread, float(booked.hours[number]), float(booked.energy[number]), factor, hourly
    )


def _register_doubt(values: Series, resolution_kw: float) -> float:
    """Bound of the register's error in a mean [kW]: half a step for a steady power, next to nothing where readings scatter widely.

    Readings on two codes alone tell the power if they scatter, and that it lies at the border of both if they do not: the bound
    covers both. On more codes a scatter of r steps damps the error by exp(-2 pi^2 r^2) (derived: the first harmonic of a sawtooth);
    rounding itself adds a twelfth of a squared step to the variance that is seen (Sheppard's correction, from memory).
    """
    if not len(values) or resolution_kw <= 0:
        return 0.0
    codes, counts = np.unique(np.rint(values / resolution_kw), return_counts=True)
    usual = np.sort(np.argsort(counts)[-2:])
    if counts[usual].sum() > TWO_CODES * len(values):
        high = counts[usual[-1]] / counts[usual].sum() if len(usual) > 1 and np.diff(codes[usual]) < 1.5 else 1.0
        return resolution_kw * abs(float(high) - 0.5)
    variance = float(np.var(values, dtype=np.float64)) / resolution_kw**2 - 1 / 12
    return resolution_kw / 2 * float(np.exp(-2 * np.pi**2 * min(max(variance, 0.0), 4.0)))


def _scatter(values: Series) -> float:
    return float(np.std(values, dtype=np.float64)) / max(len(values), 1) ** 0.5 if len(values) else 0.0


def _hourly(places: Index, values: Series, step_s: float) -> tuple[float, float]:
    """Lowest and highest mean of an hour, of hours with at least a minute in the state."""
    if not len(values):
        return (float("nan"), float("nan"))
    hour = (places * step_s // 3600).astype(np.int64)
    counts = np.bincount(hour)
    with np.errstate(invalid="ignore", divide="ignore"):
        means = (np.bincount(hour, weights=values) / counts)[counts * step_s >= min(60.0, counts.max() * step_s)]
    return float(means.min()), float(means.max())


def _widen_by_edges(states: list[State], work: Work, runs: strokes.Runs, rested_kw: float) -> None:
    """Add to the working power what the edges of strokes leave open: their time is known to a part of a reading."""
    if not runs.count:
        return
    doubt = edge_doubt(runs, work.step_s)
    for state in states:
        if state.name in ("working", "moving", "processing"):
            state.uncertainty_kw = half_width_95(
                (work.meter_share * state.power_kw,), abs(state.power_kw - rested_kw) * doubt
            )


def edge_doubt(runs: strokes.Runs, step_s: float) -> float:
    """Relative standard uncertainty of the strokes' time, from where their edges fall between two readings."""
    total = float(runs.time_s.sum())
    if total <= 0:
        return 1.0
    scatter = EDGE_SCATTER * step_s * runs.count**0.5
    part = INSTANT_DOUBT if runs.instants else max(HIDDEN_DOUBT * runs.hidden_share, LEAST_DOUBT)
    hidden = part * step_s * runs.count
    return float(np.hypot(scatter, hidden)) / total


def per_stroke(work: Work, runs: strokes.Runs, resolved: bool, marks: Series | None) -> tuple[float, float, float]:
    """Energy above rest of one stroke, its uncertainty, and how many there were: marked, or found one by one."""
    if marks is None and not resolved:
        return float("nan"), float("nan"), float("nan")
    count = float(runs.count if marks is None else marks.sum())
    if count == 0 or runs.count == 0:
        return float("nan"), float("nan"), count
    mean = float(runs.excess_kj.sum()) / count
    # an edge that lies below the threshold is missed: on average half of what the threshold lets pass
    missed = 0.5 * runs.hidden_share**2 * float(np.sum(np.abs(runs.excess_kj) / np.maximum(runs.length, 1))) / count
    return mean, half_width_95((work.meter_share * mean,), missed), count
