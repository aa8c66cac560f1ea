"""Steady levels of power in a log, found without being told how many there are or where.

Jumps cut the log into segments of even mean. Segments that last, and shorter ones that lie between higher ones as the waiting
between two strokes does, are clustered by their power, weighted by seconds: each cluster is a level in which the machine rests,
such as off, standby or ready. What is never steady for long, strokes, is not clustered here; see strokes.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Series = NDArray[np.floating[Any]]
Index = NDArray[np.int64]
BLOCK = 1000  # samples whose scatter is looked at together
PIECE = 262_144  # samples searched for jumps at once, so that a long log needs little memory
WIDTHS = (1, 4, 16)  # samples whose means are compared before and after a jump
JUMP = 5.5  # times the scatter of such a difference
SAME_SHARE = 0.04  # powers closer than this are one level
REST_S = 60.0  # the shortest stretch that counts as rest by itself
WAIT_S, WAIT_SAMPLES = 3.0, 5  # the shortest stretch between two strokes that counts
LEVEL_S = 120.0  # what all stretches of a level last together
FINE_S, COARSE_S = 2.0, 6.0  # up to the first, strokes are seen one by one; beyond the second, they are averaged over
RESTLESS_SHARE = 0.02
CALM_SHARE = 0.5  # of the samples at the power of a rest level, so many lie in stretches of rest


@dataclass
class Segments:
    """Stretches of even mean: first sample, length in samples, mean and scatter in kW."""

    first: Index
    length: Index
    mean: NDArray[np.float64]
    noise: NDArray[np.float64]


def segments(power_kw: Series) -> Segments:
    """Cut a series without gaps at its jumps, neighbours of the same mean joined."""
    first = _join(power_kw, np.concatenate([[0], *_jumps(power_kw, _block_noise(power_kw))]).astype(np.int64))
    length = np.diff(first, append=len(power_kw))
    return Segments(first, length, _inner_mean(power_kw, first, length), _scatter(power_kw, first, length))


def sums(power_kw: Series, first: Index) -> NDArray[np.float64]:
    """Sum of each stretch, in double precision."""
    return np.add.reduceat(power_kw, first, dtype=np.float64)


def _scatter(power_kw: Series, first: Index, length: Index) -> NDArray[np.float64]:
    """Deviation inside each segment from the steps between its samples, so that slow drift does not count."""
    steps = np.abs(np.diff(power_kw, prepend=power_kw[:1]))
    steps[first] = 0.0
    return np.asarray(0.8862 * sums(steps, first) / np.maximum(length - 1, 1))


def _inner_mean(power_kw: Series, first: Index, length: Index) -> NDArray[np.float64]:
    """Mean of each segment without its first and last sample, which may be mixed with the neighbour's."""
    long = length >= 3
    ends = np.where(long, power_kw[first] + power_kw[first + length - 1], 0.0)
    return np.asarray((sums(power_kw, first) - ends) / np.where(long, length - 2, length))


def _block_noise(power_kw: Series) -> NDArray[np.float64]:
    """Scatter of neighbouring samples in each block, from the calmer quarter of them, and no less than the meter's step allows.

    A block of production can have no calm quarter: it is held to three times what the calmer blocks show at their power.
    """
    least = max(resolution(power_kw) / 4, 0.001)
    starts = range(0, len(power_kw), BLOCK)
    level = np.array([abs(float(np.median(power_kw[start : start + BLOCK]))) for start in starts])
    steps = [np.abs(np.diff(power_kw[start : start + BLOCK], append=power_kw[start])) for start in starts]
    calm = np.array([np.quantile(step, 0.25) for step in steps]) / (0.3186 * np.sqrt(2))
    share = np.quantile(calm / (level + 0.1), 0.25)
    return np.maximum(np.minimum(calm, 3 * share * (level + 0.1)), np.maximum(least, 0.003 * level))


def resolution(power_kw: Series) -> float:
    """The meter's own step: the smallest difference between values that occur."""
    values = np.unique(np.round(power_kw[:200_000].astype(np.float64), 5))
    return float(np.min(np.diff(values), initial=np.inf)) if len(values) > 1 else 0.0


def _jumps(power_kw: Series, noise: NDArray[np.float64]) -> Iterator[Index]:
    """Places where the mean before and after differs by more than noise makes it: sharp ones first, then faint ones between."""
    widest = WIDTHS[-1]
    for start in range(0, len(power_kw), PIECE):
        low, high = max(start - widest, 0), min(start + PIECE + widest, len(power_kw))
        part = power_kw[low:high].astype(np.float64)
        total = np.concatenate([[0.0], np.cumsum(part)])
        limit = JUMP * np.sqrt(2.0) * noise[np.arange(low, high) // BLOCK]
        found = np.zeros(len(part), dtype=bool)
        for width in WIDTHS:
            _add_jumps(found, total, limit / np.sqrt(width), width)
        places = np.flatnonzero(found) + low
        yield places[(places >= max(start, 1)) & (places < start + PIECE)]


def _add_jumps(found: NDArray[np.bool_], total: NDArray[np.float64], limit: NDArray[np.float64], width: int) -> None:
    """Mark the largest difference of each stretch that exceeds the limit, where no sharper jump lies inside the two windows."""
    place = np.arange(width, len(found) - width + 1)
    place = place[place < len(found)]
    apart = np.abs(total[place + width] - 2 * total[place] + total[place - width]) / width
    over = apart > limit[place]
    if width == 1:
        found[place[over]] = True
        return
    count = np.concatenate([[0], np.cumsum(found)])
    over &= count[place + width] == count[place - width + 1]
    edges = np.flatnonzero(np.diff(over.astype(np.int8), prepend=0, append=0))
    tops = [first + int(np.argmax(apart[first:end])) for first, end in zip(edges[::2], edges[1::2], strict=True)]
    found[place[tops]] = True


def _join(power_kw: Series, first: Index) -> Index:
    """Join neighbours whose means do not differ by more than one level's tolerance, or by what both scatter."""
    length = np.diff(first, append=len(power_kw))
    mean = sums(power_kw, first) / length
    scatter = _scatter(power_kw, first, length)
    tolerance = np.maximum(SAME_SHARE * np.maximum(mean[1:], mean[:-1]), 2 * np.minimum(scatter[1:], scatter[:-1]))
    return first[np.concatenate([[True], np.abs(np.diff(mean)) > np.maximum(tolerance, 0.003)])]


def rest_levels(power_kw: Series, parts: Segments, step_s: float, rest_s: float, wait_samples: int) -> Index:
    """The level of each segment: 0, 1, ... from the lowest, or -1 where it is no rest."""
    calm = (parts.length >= max(5, round(rest_s / step_s))) | _waits(parts, step_s, wait_samples)
    label = np.full(len(parts.first), -1, dtype=np.int64)
    if not calm.any():
        return label
    mean, length = parts.mean[calm], parts.length[calm]
    scale = 0.02 * max(float(np.quantile(power_kw, 0.99)), 0.01)
    clusters = cluster(np.arcsinh(mean / scale), length * step_s, SAME_SHARE, max(LEVEL_S, 2 * rest_s, 30 * step_s))
    clusters = _without_production(power_kw, parts, calm, clusters, step_s)
    order = sorted(set(clusters) - {-1}, key=lambda item: float(np.mean(mean[clusters == item])))
    renamed = {old: new for new, old in enumerate(order)}
    label[calm] = [renamed.get(item, -1) for item in clusters]
    return label


def _waits(parts: Segments, step_s: float, samples: int) -> NDArray[np.bool_]:
    """Stretches between two higher ones, as the machine waits between two strokes; only where a step shows single strokes."""
    waits = np.zeros(len(parts.first), dtype=bool)
    if step_s > COARSE_S or len(waits) < 3:
        return waits
    middle = parts.mean[1:-1]
    gap = np.maximum(2 * SAME_SHARE * np.abs(middle), 0.02)
    waits[1:-1] = (parts.mean[:-2] > middle + gap) & (parts.mean[2:] > middle + gap)
    return waits & (parts.length >= max(samples, round(WAIT_S / step_s)))


def cluster(values: Series, weights: Series, reach: float, least: float) -> Index:
    """Clusters of numbers by density (DBSCAN in one dimension): -1 where too little weight lies within reach.

    >>> cluster(np.array([1.0, 1.01, 5.0, 1.02, 9.0]), np.array([50.0, 50, 200, 50, 1]), 0.1, 100).tolist()
    [0, 0, 1, 0, -1]
    """
    order = np.argsort(values, kind="stable")
    ranked, total = values[order], np.concatenate([[0.0], np.cumsum(weights[order])])
    first, end = np.searchsorted(ranked, ranked - reach), np.searchsorted(ranked, ranked + reach, side="right")
    core = np.flatnonzero(total[end] - total[first] >= least)
    found = np.full(len(values), -1, dtype=np.int64)
    if not len(core):
        return found
    number = np.concatenate([[0], np.cumsum(np.diff(ranked[core]) > reach)])
    after = np.clip(np.searchsorted(ranked[core], ranked), 0, len(core) - 1)
    before = np.maximum(after - 1, 0)
    nearer = np.abs(ranked[core][before] - ranked) <= np.abs(ranked[core][after] - ranked)
    nearest = np.where(nearer, before, after)
    found[order] = np.where(np.abs(ranked[core][nearest] - ranked) <= reach, number[nearest], -1)
    return found


def _without_production(
    power_kw: Series, parts: Segments, calm: NDArray[np.bool_], clusters: Index, step_s: float
) -> Index:
    """Drop clusters that are production averaged over whole strokes: restless, or calm in few of the samples at their power."""
    if step_s <= FINE_S:
        return clusters
    mean, length, noise = parts.mean[calm], parts.length[calm], parts.noise[calm]
    kept = clusters.copy()
    for item in set(clusters) - {-1}:
        mine = clusters == item
        restless = np.average(noise[mine], weights=length[mine]) > RESTLESS_SHARE * mean[mine].mean() + 0.005
        low, high = mean[mine].min() * (1 - SAME_SHARE) - 0.005, mean[mine].max() * (1 + SAME_SHARE) + 0.005
        rare = length[mine].sum() < CALM_SHARE * np.count_nonzero((power_kw >= low) & (power_kw <= high))
        if restless or (rare and step_s > COARSE_S):
            kept[mine] = -1
    return kept


def level_powers(parts: Segments, label: Index) -> NDArray[np.float64]:
    """Power of each level: the mean over its samples."""
    return np.array(
        [
            np.average(parts.mean[label == level], weights=parts.length[label == level])
            for level in range(label.max() + 1)
        ]
    )


def match_short(parts: Segments, label: Index, powers: Series, allowed: set[int]) -> Index:
    """Give short segments of two samples and more the level whose power they have, where that level is allowed to them."""
    result = label.copy()
    for level in sorted(allowed):
        tolerance = np.maximum(1.5 * SAME_SHARE * powers[level], 2 * np.median(parts.noise[label == level]))
        near = np.abs(parts.mean - powers[level]) <= np.maximum(tolerance, 0.005)
        result[(result == -1) & near & (parts.length >= 2)] = level
    return result
