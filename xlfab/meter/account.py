"""Hours and energy of each state, so that they add up to what the meter read."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from xlfab.meter import strokes
from xlfab.meter.levels import Index, Series
from xlfab.meter.log_file import Log

REST = ("off", "standby", "warm-up", "other load", "ready")
ORDER = (*REST, "moving", "processing", "working", "production")


@dataclass
class State:
    """One state of the machine as the meter saw it."""

    name: str
    power_kw: float
    uncertainty_kw: float
    hours: float
    energy_kwh: float
    power_factor: float | None = None


@dataclass
class Work:
    """What the steps below share."""

    power: Series
    step_s: float
    meter_share: float
    limits: list[str]


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
    sample = level_state[base.level]
    step_h = work.step_s / 3600
    hours, energy = np.zeros(len(ORDER)), np.zeros(len(ORDER))
    inside = np.zeros(len(work.power), dtype=bool)
    if runs.count:
        marks = np.zeros(len(work.power) + 1, dtype=np.int64)
        np.add.at(marks, runs.first, 1)
        np.add.at(marks, runs.first + runs.length, -1)
        inside = np.cumsum(marks[:-1]) > 0
        sums = np.concatenate([[0.0], np.cumsum(work.power)])
        worked = (sums[runs.first + runs.length] - sums[runs.first]) * step_h
        spare = (runs.length * step_h - runs.time_s / 3600) / 2  # of an edge sample, what belongs to the rest beside it
        for beside in (np.maximum(runs.first - 1, 0), np.minimum(runs.first + runs.length, len(work.power) - 1)):
            np.add.at(hours, level_state[base.level[beside]], spare)
            np.add.at(energy, level_state[base.level[beside]], spare * base.power_kw[beside])
            worked -= spare * base.power_kw[beside]
        _working(work, base, runs, resolved, sample, inside, hours, energy, worked)
    mixed, other, share = _mixed_samples(work.power, base, inside)
    for state, part in ((sample[mixed], 1 - share), (level_state[other], share)):
        np.add.at(hours, state, part * step_h)
    own = base.power_kw[mixed] * (1 - share)
    np.add.at(energy, sample[mixed], own * step_h)
    np.add.at(energy, level_state[other], (work.power[mixed] - own) * step_h)
    pure = ~inside
    pure[mixed] = False
    np.add.at(hours, sample[pure], step_h)
    np.add.at(energy, sample[pure], work.power[pure] * step_h)
    apparent = None if log.apparent_kva is None else log.apparent_kva[good]
    return sample, [
        _state(number, hours, energy, sample, work, apparent) for number in range(len(ORDER)) if hours[number] > 0
    ]


def _mixed_samples(power: Series, base: strokes.Baseline, inside: NDArray[np.bool_]) -> tuple[Index, Index, Series]:
    """Samples in which one rest level goes over into another: place, the other level, and its share of the sample."""
    change = np.flatnonzero(np.diff(base.level) != 0) + 1
    places = np.concatenate([change - 1, change])
    others = np.concatenate([change, change - 1])
    own, other = base.power_kw[places], base.power_kw[others]
    share = (power[places] - own) / np.where(other == own, np.inf, other - own)
    clear = np.abs(power[places] - own) > base.threshold_kw[places] / 2
    take = ~inside[places] & clear & (share > 0) & (share < 1)
    # where two changes lie side by side, a sample is split once
    _, once = np.unique(places[take], return_index=True)
    return places[take][once], base.level[others[take][once]], share[take][once]


def _working(
    work: Work,
    base: strokes.Baseline,
    runs: strokes.Runs,
    resolved: bool,
    sample: NDArray[np.int8],
    inside: NDArray[np.bool_],
    hours: Series,
    energy: Series,
    worked: Series,
) -> None:
    """Book the strokes: as moving and processing where both can be read, else as working, or production."""
    total_h, total_kwh = float(runs.time_s.sum()) / 3600, float(worked.sum())
    excess = np.where(inside, work.power - base.power_kw, 0.0)
    split = strokes.split_working(excess, runs, work.step_s) if resolved else None
    if split is None or not 0 < split.processing_s / 3600 < total_h:
        name = ORDER.index("working" if resolved else "production")
        hours[name], energy[name] = total_h, total_kwh
        sample[inside] = name
        return
    moving, processing = ORDER.index("moving"), ORDER.index("processing")
    rested = float(np.average(base.power_kw[runs.first], weights=runs.time_s))
    hours[processing] = split.processing_s / 3600
    energy[processing] = hours[processing] * (split.processing_kw + rested)
    hours[moving], energy[moving] = total_h - hours[processing], total_kwh - energy[processing]
    sample[inside] = np.where(split.processing[inside], processing, moving)


def _state(
    number: int, hours: Series, energy: Series, sample: NDArray[np.int8], work: Work, apparent: Series | None
) -> State:
    power = float(energy[number] / hours[number])
    mine = sample == number
    inner = mine & np.roll(mine, 1) & np.roll(mine, -1)
    if ORDER[number] in REST and inner.sum() >= 20:  # readings that may be mixed with a neighbouring state are left out
        power = float(np.mean(work.power[inner]))
    factor = None
    if apparent is not None and mine.any():
        usable = mine & np.isfinite(apparent)
        total = float(apparent[usable].sum())
        factor = min(float(work.power[usable].sum()) / total, 1.0) if total > 0 else None
    scatter = _block_error(work.power, mine, work.step_s)
    spread = float(np.hypot(2 * scatter, 2 / np.sqrt(3) * work.meter_share * power))
    return State(ORDER[number], power, spread, float(hours[number]), float(energy[number]), factor)


def _block_error(power: Series, mine: NDArray[np.bool_], step_s: float) -> float:
    """Standard error of a state's mean, from the means of its hours: drift and slow change are in it."""
    if not mine.any():
        return 0.0
    block = (np.flatnonzero(mine) * step_s // 3600).astype(np.int64)
    values = power[mine]
    counts = np.bincount(block)
    sums = np.bincount(block, weights=values)
    means, weights = sums[counts > 0] / counts[counts > 0], counts[counts > 0].astype(float)
    if len(means) < 2:
        return float(np.std(values) / np.sqrt(max(len(values), 1)))
    mean = np.average(means, weights=weights)
    variance = np.average((means - mean) ** 2, weights=weights)
    effective = weights.sum() ** 2 / (weights**2).sum()
    return float(np.sqrt(variance / max(effective - 1, 1)))


def per_stroke(work: Work, runs: strokes.Runs, resolved: bool, marks: Series | None) -> tuple[float, float, float]:
    """Energy above rest of one stroke, its uncertainty, and how many there were: marked, or found one by one."""
    if marks is None and not resolved:
        return float("nan"), float("nan"), float("nan")
    count = float(runs.count if marks is None else marks.sum())
    if count == 0 or runs.count == 0:
        return float("nan"), float("nan"), count
    mean = float(runs.excess_kj.sum()) / count
    scatter = float(np.std(runs.excess_kj)) * float(np.sqrt(runs.count)) / count
    return mean, float(np.hypot(2 * scatter, 2 / np.sqrt(3) * work.meter_share * mean)), count
