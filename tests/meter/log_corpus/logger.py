"""What a logger's channels read of a course, and the truth over the time that it recorded."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .machines import NAMES, READY, STROKE, Course

Array = NDArray[np.float64]


@dataclass
class Truth:
    """Known of a log: mean power [kW] and hours of each state, energy, strokes, energy of a stroke above ready, quarter hours."""

    power_kw: dict[str, float]
    hours: dict[str, float]
    energy_kwh: float
    strokes: int
    stroke_kj: float
    quarter_kw: tuple[float, float]  # highest mean of a clock quarter hour, and of any quarter hour


@dataclass
class Readings:
    """Readings of a log before they are written: seconds since the start, power [kW], truth."""

    seconds: Array
    power_kw: Array
    step_s: float
    truth: Truth
    extra: dict[str, Any] = field(default_factory=dict)


def in_steps(course: Course, rate: Array, edges: Array) -> Array:
    """Integral of a piecewise constant rate over each step, exactly."""
    lengths = np.array(course.seconds)
    ends = np.concatenate([[0.0], np.cumsum(lengths)])
    total = np.concatenate([[0.0], np.cumsum(rate * lengths)])
    return np.diff(np.interp(edges, ends, total))


def read(
    course: Course,
    seed: int,
    step_s: float = 1.0,
    noise: float = 0.004,
    gain: float | None = None,
    resolution_kw: float = 0.0,
    full_range_kw: float = 0.0,
    instant: bool = False,
    other_kw: Array | None = None,
) -> Readings:
    """Readings of a course: mean of each step (or the value at its end), gain error of the meter, noise, register, range."""
    rng = np.random.default_rng(seed + 77)
    power, state = np.array(course.power), np.array(course.state)
    n = int(course.now / step_s + 1e-6)
    edges = np.arange(n + 1) * step_s
    energy = in_steps(course, power, edges)
    seconds = {k: in_steps(course, (state == k) * 1.0, edges) for k in range(len(NAMES))}
    means = energy / step_s
    if instant:
        ends = np.cumsum(course.seconds)
        means = power[np.minimum(np.searchsorted(ends, edges[1:], "left"), len(power) - 1)]
    gain = float(rng.normal(0, 0.005)) if gain is None else gain
    out = means * (1 + gain) * (1 + rng.normal(0, noise, n)) + rng.normal(0, 0.002, n) * (noise > 0)
    out = out if other_kw is None else out + other_kw[:n]
    if resolution_kw:
        out = np.round(out / resolution_kw) * resolution_kw
    if full_range_kw:
        out = np.minimum(out, full_range_kw)
    return Readings(edges[1:], out, step_s, truth_of(course, power, energy, seconds, edges, step_s))


def truth_of(
    course: Course, power: Array, energy: Array, seconds: dict[int, Array], edges: Array, step_s: float
) -> Truth:
    """The truth of a whole course."""
    state = np.array(course.state)
    hours = {NAMES[k]: float(value.sum()) / 3600 for k, value in seconds.items() if value.sum() > 0}
    kws = {}
    for k, value in seconds.items():
        if value.sum() > 0:
            kws[NAMES[k]] = float(in_steps(course, np.where(state == k, power, 0.0), edges).sum() / value.sum())
    above = in_steps(course, np.where(state == STROKE, power - course.drive.ready, 0.0), edges).sum()
    quarter = round(900 / step_s)
    total = np.concatenate([[0.0], np.cumsum(energy)])
    sliding = (total[quarter:] - total[:-quarter]) / 900 if quarter >= 1 and len(total) > quarter else np.zeros(0)
    peaks = (float(sliding[::quarter].max()), float(sliding.max())) if len(sliding) else (np.nan, np.nan)
    count = len(course.strokes)
    return Truth(kws, hours, float(energy.sum()) / 3600, count, float(above) / count if count else np.nan, peaks)


def cut(readings: Readings, keep: NDArray[np.bool_]) -> Readings:
    """The same log with rows missing. The truth stays that of the whole: only powers can be judged."""
    return Readings(readings.seconds[keep], readings.power_kw[keep], readings.step_s, readings.truth, {"cut": True})


READY_NAME = NAMES[READY]
