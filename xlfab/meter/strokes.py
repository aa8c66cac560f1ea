"""Strokes in a log: runs of samples above the level that the machine rests at, and how long they really lasted.

A stroke of duration T touches on average T/step + 1 samples, wherever it falls between two readings. So the sum over many strokes
of (samples touched - 1) x step is their true time, also where a stroke is shorter than the step. Each edge is missed where less
than the threshold of a sample is touched; that share is put back. The rest of the edge samples belongs to the rest level, so that
the energies of all states add up to the meter's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from xlfab.meter.levels import SAME_SHARE, Index, Segments, Series

PAUSE_S = 120.0  # pauses shorter than this lie inside production


@dataclass
class Baseline:
    """What each sample would read at rest: level, power, and how far above it a stroke begins."""

    level: Index
    power_kw: Series
    threshold_kw: Series


@dataclass
class Runs:
    """Stretches above the baseline: first sample, length in samples, energy above it, true time, level rested at."""

    first: Index
    length: Index
    excess_kj: Series
    time_s: Series
    level: Index

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.first)


def baseline(parts: Segments, label: Index) -> Baseline:
    """Carry each rest level over the segments between: the same level on both sides, or the higher of two."""
    known = np.flatnonzero(label >= 0)
    place = np.arange(len(label))
    before = known[np.clip(np.searchsorted(known, place, side="right") - 1, 0, None)]
    after = known[np.clip(np.searchsorted(known, place), None, len(known) - 1)]
    power = np.where(label[before] == label[after], (parts.mean[before] + parts.mean[after]) / 2, 0.0)
    higher = np.where(parts.mean[before] >= parts.mean[after], before, after)
    source = np.where(label[before] == label[after], before, higher)
    power = np.where(label[before] == label[after], power, parts.mean[higher])
    level = label[source]
    noise = np.array([np.median(parts.noise[label == item]) for item in range(label.max() + 1)])
    threshold = np.maximum(np.maximum(5 * noise[level], 1.25 * SAME_SHARE * power), 0.01)
    return Baseline(*(np.repeat(item, parts.length) for item in (level, power, threshold)))


def find_runs(power_kw: Series, base: Baseline, step_s: float, bridge: int = 0) -> Runs:
    """Stretches of samples above the threshold; pauses of at most `bridge` samples are part of them."""
    above = power_kw > base.power_kw + base.threshold_kw
    edges = np.flatnonzero(np.diff(above.astype(np.int8), prepend=0, append=0))
    first, end = edges[::2], edges[1::2]
    if bridge and len(first) > 1:
        apart = first[1:] - end[:-1] > bridge
        first, end = first[np.concatenate([[True], apart])], end[np.concatenate([apart, [True]])]
    length = end - first
    sums = np.concatenate([[0.0], np.cumsum(power_kw - base.power_kw)])
    excess = (sums[end] - sums[first]) * step_s
    time = _true_time(power_kw - base.power_kw, base.threshold_kw, first, length, step_s)
    level = base.level[np.maximum(first - 1, 0)] if len(first) else np.zeros(0, dtype=np.int64)
    return Runs(first, length, excess, time, level)


def _true_time(excess: Series, threshold_kw: Series, first: Index, length: Index, step_s: float) -> Series:
    """(touched - 1 + what the threshold hides at both edges) x step."""
    if not len(first):
        return np.zeros(0)
    hidden = np.zeros(len(first))
    for edge in (first, first + length - 1):
        # an edge sample is touched by a random share of itself: half of the power behind it in the median
        behind = 2 * np.median(excess[edge]) - np.median(threshold_kw[edge])
        hidden += np.clip(threshold_kw[edge] / max(behind, 1e-9), 0, 0.5)
    return np.asarray((length - 1 + hidden) * step_s)


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
    processing: NDArray[np.bool_]


def split_working(excess: Series, runs: Runs, step_s: float) -> Split | None:
    """Two levels inside the strokes, if both last long enough to be read: else None."""
    from sklearn.cluster import KMeans

    inside = np.zeros(len(excess), dtype=bool)
    for offset in range(1, int(runs.length.max(initial=0)) - 1):
        reach = runs.length > offset + 1
        inside[runs.first[reach] + offset] = True
    values = excess[inside]
    if len(values) < 200:
        return None
    fit = KMeans(2, n_init=3, random_state=0).fit(np.log(np.maximum(values, 1e-6))[:, None])
    low, high = np.exp(np.sort(fit.cluster_centers_.ravel()))
    between = np.mean((values > low + 0.3 * (high - low)) & (values < low + 0.7 * (high - low)))
    if high < 1.3 * low or between > 0.25:
        return None
    moving = _plateau(excess, inside & (excess <= _half_way(excess, runs, low)))
    if moving is None:
        return None
    half = _half_way(excess, runs, moving)
    processing = _plateau(excess, inside & (excess > half))
    if processing is None:
        return None
    upper = excess > half
    return Split(float(upper.sum()) * step_s, processing, upper)


def _half_way(excess: Series, runs: Runs, low: float) -> Series:
    """The power half way between moving and each stroke's own peak; no sample of a stroke without a peak is above it."""
    half = np.full(len(excess), np.inf)
    numbers = np.repeat(np.arange(runs.count), runs.length)
    starts = np.cumsum(runs.length) - runs.length
    places = np.arange(len(numbers)) + (runs.first - starts)[numbers]
    peak = np.maximum.reduceat(excess[places], starts)
    half[places] = np.where(peak > 1.3 * low, (low + peak) / 2, np.inf)[numbers]
    return half


def _plateau(excess: Series, own: NDArray[np.bool_]) -> float | None:
    """Mean over samples whose neighbours are of the same kind, so that nothing is mixed in; None if there are few."""
    whole = own & np.roll(own, 1) & np.roll(own, -1)
    return float(np.mean(excess[whole])) if whole.sum() >= 50 else None
