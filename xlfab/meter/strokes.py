"""Strokes in a log: runs of samples away from the level that the machine rests at, and how long they really lasted.

A stroke of duration T touches on average T/step + 1 samples, wherever it falls between two readings. So the sum over many strokes
of (samples touched - 1) x step is their true time, also where a stroke is shorter than the step. Each edge is missed where less
than the threshold of a sample is touched; that share is put back. The rest of the edge samples belongs to the rest level, so that
the energies of all states add up to the meter's. A meter that shows instants in place of means has no edge samples: there each
sample counts whole. What a drive gives back while it brakes is part of its stroke, with its sign.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.meter.levels import SAME_SHARE, Index, Segments, Series

PAUSE_S = 120.0  # pauses shorter than this lie inside production
EDGES, PART_SHARE = 60, 0.06  # so few of so many edge samples below half of their median: the readings are instants
BACK_SHARE = 0.01  # of the samples above rest: so many below it, and the drive gives back
REGISTER_STEPS = 2.5  # of the meter's own step: less is no stroke
Doubles = NDArray[np.float64]


@dataclass
class Baseline:
    """What each sample would read at rest: level, power, and how far from it a stroke begins."""

    level: NDArray[np.int8]
    power_kw: Series
    threshold_kw: Series


@dataclass
class Runs:
    """Stretches away from the baseline: first sample, length in samples, energy above it, true time, level rested at."""

    first: Index
    length: Index
    excess_kj: Doubles
    time_s: Doubles
    level: NDArray[np.int8]
    instants: bool = False
    hidden_share: float = 0.0  # of one sample, what the threshold hides at both edges together

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.first)

    def places(self, margin: int = 0) -> tuple[Index, Index]:
        """Every sample inside, without `margin` samples at both ends, and the run that each belongs to."""
        length = np.maximum(self.length - 2 * margin, 0)
        numbers = np.repeat(np.arange(self.count), length)
        starts = np.cumsum(length) - length
        return np.arange(len(numbers)) + (self.first + margin - starts)[numbers], numbers


def baseline(parts: Segments, label: Index, resolution_kw: float = 0.0) -> Baseline:
    """Carry each rest level over the segments between: the same level on both sides, or the higher of two."""
    known = np.flatnonzero(label >= 0)
    place = np.arange(len(label))
    before = known[np.clip(np.searchsorted(known, place, side="right") - 1, 0, None)]
    after = known[np.clip(np.searchsorted(known, place), None, len(known) - 1)]
    power = np.where(label[before] == label[after], (parts.mean[before] + parts.mean[after]) / 2, 0.0)
    higher = np.where(parts.mean[before] >= parts.mean[after], before, after)
    source = np.where(label[before] == label[after], before, higher)
    power = np.where(label[before] == label[after], power, parts.mean[higher])
    level = label[source].astype(np.int8)
    noise = np.array([np.median(parts.noise[label == item]) for item in range(label.max() + 1)])
    threshold = np.maximum(
        np.maximum(5 * noise[level], 1.25 * SAME_SHARE * power), max(0.01, REGISTER_STEPS * resolution_kw)
    )
    single = (power.astype(np.float32), threshold.astype(np.float32))
    return Baseline(np.repeat(level, parts.length), *(np.repeat(item, parts.length) for item in single))


def find_runs(power_kw: Series, base: Baseline, step_s: float, bridge: int = 0) -> Runs:
    """Stretches of samples away from the baseline that rise above it; pauses of at most `bridge` samples are part of them."""
    excess = power_kw - base.power_kw
    first, end = _stretches(excess, base.threshold_kw)
    if bridge and len(first) > 1:
        apart = first[1:] - end[:-1] > bridge
        first, end = first[np.concatenate([[True], apart])], end[np.concatenate([apart, [True]])]
    length = end - first
    energy = stretch_sums(excess, first, end) * step_s
    level = base.level[np.maximum(first - 1, 0)] if len(first) else np.zeros(0, dtype=np.int8)
    runs = Runs(first, length, energy, np.zeros(len(first)), level)
    _set_times(runs, excess, base.threshold_kw, step_s)
    return runs


def _stretches(excess: Series, threshold_kw: Series) -> tuple[Index, Index]:
    """First sample and end of each stretch away from rest; a stretch that only falls below it is none of a stroke."""
    away = excess > threshold_kw
    back = excess < -threshold_kw
    gives_back = np.count_nonzero(back) > BACK_SHARE * np.count_nonzero(away)
    active = away | back
    if gives_back:  # on the way from drawing to giving back a sample can lie at the baseline by chance
        active[1:-1] |= active[:-2] & active[2:]
    edges = np.flatnonzero(np.diff(active.astype(np.int8), prepend=0, append=0))
    first, end = edges[::2], edges[1::2]
    drawn = stretch_sums(away, first, end) > 0
    return first[drawn], end[drawn]


def stretch_sums(values: NDArray[Any], first: Index, end: Index) -> Doubles:
    """Sum of the values of each stretch, in double precision."""
    if not len(first):
        return np.zeros(0)
    bounds = np.column_stack([first, end]).ravel()
    closed = bounds[:-1] if bounds[-1] == len(values) else bounds
    return np.add.reduceat(values, closed, dtype=np.float64)[::2]


def _set_times(runs: Runs, excess: Series, threshold_kw: Series, step_s: float) -> None:
    """(touched - 1 + what the threshold hides at both edges) x step; touched x step where the readings are instants."""
    if not runs.count:
        return
    runs.instants = _are_instants(runs, excess)
    if runs.instants:
        runs.time_s = runs.length.astype(np.float64) * step_s
        return
    hidden = np.zeros(runs.count)
    for edge in (runs.first, runs.first + runs.length - 1):
        # an edge sample is touched by a random share of itself: half of the power behind it in the median
        behind = 2 * np.median(np.abs(excess[edge])) - np.median(threshold_kw[edge])
        hidden += np.clip(threshold_kw[edge] / max(behind, 1e-9), 0, 0.5)
    runs.hidden_share = float(np.mean(hidden))
    runs.time_s = np.asarray((runs.length - 1 + hidden) * step_s)


def _are_instants(runs: Runs, excess: Series) -> bool:
    """True if next to no stroke begins or ends with a sample that it touches in part: of means, a quarter are below half the median."""
    long = runs.length >= 3
    if 2 * long.sum() < EDGES:
        return False
    edges = [np.abs(excess[place[long]]) for place in (runs.first, runs.first + runs.length - 1)]
    return float(np.mean([np.mean(edge < 0.5 * np.median(edge)) for edge in edges])) < PART_SHARE


def pause_samples(runs: Runs, step_s: float) -> float:
    """Median number of samples at rest between two strokes of one production stretch; 0 if there is none."""
    pauses = runs.first[1:] - (runs.first + runs.length)[:-1]
    inside = pauses[pauses * step_s <= max(PAUSE_S, 3 * step_s)]
    return float(np.median(inside)) if len(inside) else 0.0


@dataclass
class Split:
    """Working time split into moving and processing: processing time, its power above rest, and which samples it holds."""

    processing_s: float
    processing_kw: float
    processing: Index


def split_working(excess: Series, runs: Runs, step_s: float) -> Split | None:
    """Two levels inside the strokes, if both last long enough to be read: else None. `excess` is power above rest."""
    places, numbers = runs.places(1)
    values = excess[places].astype(np.float64)
    if len(values) < 200 or np.any(values < -0.05 * np.quantile(values, 0.99)):
        return None  # a drive that gives back has more than two levels
    low, high = two_levels(values)
    between = np.mean((values > low + 0.3 * (high - low)) & (values < low + 0.7 * (high - low)))
    if high < 1.3 * low or between > 0.25:
        return None
    moving = _plateau(excess, places, numbers, values <= _half_way(excess, runs, low)[numbers])
    if moving is None:
        return None
    half = _half_way(excess, runs, moving)
    processing = _plateau(excess, places, numbers, values > half[numbers])
    if processing is None:
        return None
    all_places, all_numbers = runs.places()
    upper = all_places[excess[all_places] > half[all_numbers]]
    return Split(len(upper) * step_s, processing, upper)


def two_levels(values: Doubles) -> tuple[float, float]:
    """The two means that leave least scatter of the logarithms: exact in one dimension, since a cut in the ranking parts them.

    >>> tuple(round(level, 3) for level in two_levels(np.array([2.0, 2.0, 8.0, 8.0, 2.0])))
    (2.0, 8.0)
    """
    ranked = np.sort(np.log(np.maximum(values, 1e-6)))
    count = np.arange(1, len(ranked))
    total = np.cumsum(ranked)
    below, above = total[:-1] / count, (total[-1] - total[:-1]) / (len(ranked) - count)
    # least scatter within is most scatter between
    cut = int(np.argmax(count * (len(ranked) - count) * (above - below) ** 2))
    return float(np.exp(below[cut])), float(np.exp(above[cut]))


def _half_way(excess: Series, runs: Runs, low: float) -> Doubles:
    """For each stroke the power half way between moving and its own peak; infinite for a stroke without a peak."""
    places, _ = runs.places()
    peak = np.maximum.reduceat(excess[places], np.cumsum(runs.length) - runs.length).astype(np.float64)
    return np.where(peak > 1.3 * low, (low + peak) / 2, np.inf)


def _plateau(excess: Series, places: Index, numbers: Index, own: NDArray[np.bool_]) -> float | None:
    """Mean over samples whose neighbours are of the same kind, so that nothing is mixed in; None if there are few."""
    same = np.zeros(len(own), dtype=bool)
    same[1:-1] = own[1:-1] & own[:-2] & own[2:] & (numbers[:-2] == numbers[1:-1]) & (numbers[2:] == numbers[1:-1])
    return float(np.mean(excess[places[same]], dtype=np.float64)) if same.sum() >= max(50, 0.05 * own.sum()) else None
