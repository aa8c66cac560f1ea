"""Steady levels of power in a log, found without being told how many there are or where.

Change points (library ruptures) cut the log into segments of even mean. Long segments are clustered by their power (DBSCAN of
scikit-learn, weighted by seconds): each cluster is a level in which the machine rests, such as off, standby or ready. What is
never steady for long, strokes, is not clustered here; see strokes.py.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Series = NDArray[np.float64]
Index = NDArray[np.int64]
BLOCK = 1000  # samples in which change points are sought at once: the search grows with the square
SAME_SHARE = 0.04  # powers closer than this are one level
REST_S = 60.0  # the shortest stretch that counts as rest
FINE_S, COARSE_S = 2.0, 6.0  # up to the first, strokes are seen one by one; beyond the second, they are averaged over
RESTLESS_SHARE = 0.02
CALM_SHARE = 0.5  # of the samples at the power of a rest level, so many lie in stretches of rest


@dataclass
class Segments:
    """Stretches of even mean: first sample, length in samples, mean and scatter in kW."""

    first: Index
    length: Index
    mean: Series
    noise: Series


def segments(power_kw: Series) -> Segments:
    """Cut a series without gaps at its change points, neighbours of the same mean joined."""
    cuts = _change_points(power_kw, _block_noise(power_kw))
    first = np.concatenate([[0], cuts]).astype(np.int64)
    first = _join(power_kw, first)
    length = np.diff(first, append=len(power_kw))
    return Segments(first, length, _inner_mean(power_kw, first, length), _scatter(power_kw, first, length))


def _scatter(power_kw: Series, first: Index, length: Index) -> Series:
    """Deviation inside each segment from the steps between its samples, so that slow drift does not count."""
    steps = np.abs(np.diff(power_kw, prepend=power_kw[:1]))
    steps[first] = 0.0
    return np.asarray(0.8862 * np.add.reduceat(steps, first) / np.maximum(length - 1, 1))


def _inner_mean(power_kw: Series, first: Index, length: Index) -> Series:
    """Mean of each segment; of longer ones without their first and last sample, which may be mixed with the neighbour's."""
    total = np.add.reduceat(power_kw, first)
    long = length >= 5
    ends = np.where(long, power_kw[first] + power_kw[first + length - 1], 0.0)
    return np.asarray((total - ends) / np.where(long, length - 2, length))


def _block_noise(power_kw: Series) -> Series:
    """Scatter of neighbouring samples in each block, from the calmer quarter of them, and no less than the logger's resolution.

    A block of production can have no calm quarter: it is held to three times what the calmer blocks show at their power.
    """
    least = max(_resolution(power_kw) / 2, 0.001)
    starts = range(0, len(power_kw), BLOCK)
    level = np.array([abs(float(np.median(power_kw[start : start + BLOCK]))) for start in starts])
    steps = [np.abs(np.diff(power_kw[start : start + BLOCK], append=power_kw[start])) for start in starts]
    calm = np.array([np.quantile(step, 0.25) for step in steps]) / (0.3186 * np.sqrt(2))
    share = np.quantile(calm / (level + 0.1), 0.25)
    return np.maximum(np.minimum(calm, 3 * share * (level + 0.1)), np.maximum(least, 0.003 * level))


def _resolution(power_kw: Series) -> float:
    """The smallest step between values that occur."""
    values = np.unique(np.round(power_kw[:200_000], 6))
    return float(np.min(np.diff(values), initial=np.inf)) if len(values) > 1 else 0.0


def _change_points(power_kw: Series, noise: Series) -> Index:
    from ruptures import KernelCPD

    found: list[int] = []
    for number, start in enumerate(range(0, len(power_kw), BLOCK)):
        part = power_kw[start : start + BLOCK]
        if start:
            found.append(start)
        if len(part) < 4 or np.ptp(part) < 9 * noise[number]:  # no more than noise spans by itself
            continue
        penalty = 6 * noise[number] ** 2 * np.log(len(power_kw))
        ends = KernelCPD(kernel="linear", min_size=1, jump=1).fit(part[:, None]).predict(pen=penalty)
        found.extend(start + end for end in ends[:-1])
    return np.array(found, dtype=np.int64)


def _join(power_kw: Series, first: Index) -> Index:
    """Join neighbours whose means do not differ by more than one level's tolerance, or by what both scatter."""
    length = np.diff(first, append=len(power_kw))
    mean = np.add.reduceat(power_kw, first) / length
    scatter = _scatter(power_kw, first, length)
    tolerance = np.maximum(SAME_SHARE * np.maximum(mean[1:], mean[:-1]), 2 * np.minimum(scatter[1:], scatter[:-1]))
    return first[np.concatenate([[True], np.abs(np.diff(mean)) > np.maximum(tolerance, 0.003)])]


def rest_levels(power_kw: Series, parts: Segments, step_s: float, rest_s: float) -> Index:
    """The level of each segment: 0, 1, ... from the lowest, or -1 where it is no rest."""
    from sklearn.cluster import DBSCAN

    least = max(5, round(rest_s / step_s))
    calm = parts.length >= least
    label = np.full(len(parts.first), -1, dtype=np.int64)
    if not calm.any():
        return label
    mean, length = parts.mean[calm], parts.length[calm]
    scale = 0.02 * max(float(np.quantile(power_kw, 0.99)), 0.01)
    scan = DBSCAN(eps=SAME_SHARE, min_samples=round(max(2 * REST_S, 2 * rest_s, 30 * step_s)))
    clusters = scan.fit_predict(np.arcsinh(mean / scale)[:, None], sample_weight=length * step_s)
    clusters = _without_production(power_kw, parts, calm, clusters, step_s)
    order = sorted(set(clusters) - {-1}, key=lambda item: float(np.mean(mean[clusters == item])))
    renamed = {old: new for new, old in enumerate(order)}
    label[calm] = [renamed.get(item, -1) for item in clusters]
    return label


def _without_production(
    power_kw: Series, parts: Segments, calm: NDArray[np.bool_], clusters: Index, step_s: float
) -> Index:
    """Drop clusters that are production averaged over whole strokes: restless, or calm in few of the samples at their power."""
    if step_s <= FINE_S:
        return clusters
    mean, length, noise = parts.mean[calm], parts.length[calm], parts.noise[calm]
    kept = clusters.copy()
    for cluster in set(clusters) - {-1}:
        mine = clusters == cluster
        restless = np.average(noise[mine], weights=length[mine]) > RESTLESS_SHARE * mean[mine].mean() + 0.005
        low, high = mean[mine].min() * (1 - SAME_SHARE) - 0.005, mean[mine].max() * (1 + SAME_SHARE) + 0.005
        rare = length[mine].sum() < CALM_SHARE * np.count_nonzero((power_kw >= low) & (power_kw <= high))
        if restless or (rare and step_s > COARSE_S):
            kept[mine] = -1
    return kept


def level_powers(parts: Segments, label: Index) -> Series:
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
