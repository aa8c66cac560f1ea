"""What a finding must not be trusted for: short logs, levels that wander or lie close together, strokes that hardly stand out.

The bounds were set on logs of invented shops whose truth is known (tests/meter): beyond them powers were off by more than 3 % or
hours by more than 2 %.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from xlfab.meter import levels, strokes
from xlfab.meter.account import Work
from xlfab.meter.levels import Index, Segments, Series
from xlfab.meter.log_file import Log

SHIFT_H, DAY_H = 7.9, 23.9  # a row may be missing at either end
WANDERING_SHARE = 0.08  # between the lowest and the highest twentieth of a level's time
MIXED_RATIO = 1.5  # between the levels that count as one state
MIXED = "may be different states"
# words of limits with which no power may be written anywhere as measured
BLOCKING = ("ready or standby", "out of balance", "states may be mixed")
CLOSE_RATIO = 2.5  # of the gap between two levels to how far both wander
SHORT_RATIO = 2.0  # of a stroke to the time between two readings
FEW_STROKES = 10
OFTEN_SHARE = 0.15  # of all strokes: a level that so many start from is one that the machine works from
LONG_S, LONG_RATIO = 12.0, 2.5  # a stretch longer than both, in seconds and in median strokes, is no stroke
LONG_SHARE = 0.05  # of all energy above rest, in such stretches
COARSE_STEPS = 4.0  # of the register between two levels, or between off and the lowest
FAINT_RATIO = 8.0  # of nine in ten readings inside strokes to the threshold at which a stroke begins


def of_log(log: Log, names: list[str], runs: strokes.Runs, longest_s: float) -> list[str]:
    """What the length of the log, and what it shows at all, leave open."""
    found: list[str] = []
    if log.hours < SHIFT_H:
        found.append(
            f"{log.hours:.1f} h are less than a shift: powers can be used, hours in the states say nothing of a year"
        )
    elif log.hours < DAY_H:
        found.append(f"{log.hours:.1f} h are less than a day: hours in the states say nothing of a year")
    span = len(log.power_kw) * log.step_s / 3600
    if log.hours < 0.5 * span:
        found.append(f"more than half of the {span:.0f} h are missing")
    if longest_s < levels.REST_S:
        found.append("no rest of a minute in the log: ready power is read from the gaps between strokes")
    if runs.count < FEW_STROKES:
        found.append(
            f"{runs.count or 'no'} strokes in the log: it cannot be told whether its highest level is ready or standby; "
            "log at least a few hours of production"
        )
    for name in {name for name in names if names.count(name) > 1 and name != "other load"}:
        found.append(
            f"{names.count(name)} levels count as {name}: something switches on and off with it (cooling, hydraulics of a gauge)"
        )
    return found


def of_levels(parts: Segments, label: Index, names: list[str]) -> list[str]:
    """Levels that wander may be two states; levels close together share their hours in an uncertain way."""
    found = []
    ends = [_ends(parts, label == level) for level in range(len(names))]
    for name, (low, middle, high) in zip(names, ends, strict=True):
        if name == "other load":
            found.append(
                f"a level of {middle:.3f} kW belongs to no state and counts as other load: it may be ready with something "
                "switched on, and then ready misses these hours"
            )
        elif name != "off" and high - low > WANDERING_SHARE * middle:
            found.append(
                f"{name} wanders between {low:.3f} and {high:.3f} kW: drift, or two states close together that count as one; "
                f"power and hours of {name} may be off by more than 3 %"
            )
    for name in ("standby", "ready"):
        mine = [middle for said, (_, middle, _) in zip(names, ends, strict=True) if said == name]
        if mine and max(mine) > MIXED_RATIO * min(mine):
            found.append(
                f"levels from {min(mine):.3f} to {max(mine):.3f} kW count as {name} and {MIXED}: its power and hours mean little"
            )
    for (name, one), (other, two) in zip(
        zip(names[:-1], ends[:-1], strict=True), zip(names[1:], ends[1:], strict=True), strict=True
    ):
        apart, spread = two[1] - one[1], (one[2] - one[0] + two[2] - two[0]) / 2
        if name != other and apart < CLOSE_RATIO * spread:
            found.append(
                f"{name} and {other} lie close together ({one[1]:.3f} and {two[1]:.3f} kW): how their hours are shared is uncertain"
            )
    return found


def _ends(parts: Segments, mine: NDArray[np.bool_]) -> tuple[float, float, float]:
    """A level's power over time: lowest twentieth, mean, highest twentieth."""
    mean, length = parts.mean[mine], parts.length[mine]
    order = np.argsort(mean)
    share = np.cumsum(length[order]) / length.sum()
    low, high = (float(mean[order][min(int(np.searchsorted(share, at)), len(mean) - 1)]) for at in (0.05, 0.95))
    return low, float(np.average(mean, weights=length)), high


def of_register(work: Work, powers: Series) -> list[str]:
    """A meter that counts in steps as large as the levels cannot tell them apart."""
    step = work.resolution_kw
    apart = np.diff(np.sort(np.concatenate([[0.0], powers[powers > 0.01]])))
    if step and len(apart) and apart.min() < COARSE_STEPS * step:
        return [
            f"the readings go in steps of {step * 1000:.3g} W, and levels lie only {apart.min() * 1000:.3g} W apart: states may be mixed, "
            "and no power is better than half a step"
        ]
    return []


def of_starts(runs: strokes.Runs, ready: set[int], powers: Series) -> list[str]:
    """Strokes that start from levels far apart: a second machine on the feeder, or a machine that wakes up and works at once."""
    often = [level for level in range(len(powers)) if np.sum(runs.level == level) >= OFTEN_SHARE * max(runs.count, 1)]
    other = [powers[level] for level in often if level not in ready]
    if runs.count < FEW_STROKES or not other:
        return []
    one, two = np.mean([powers[level] for level in ready]), other[0]
    return [
        f"strokes start from {one:.3f} kW and from {two:.3f} kW: another machine on this feeder, or a machine that wakes up and works at "
        "once; it cannot be told which level is ready or standby. Log with the other load off, or with the clamps at the machine itself"
    ]


def of_strokes(work: Work, base: strokes.Baseline, runs: strokes.Runs) -> list[str]:
    """Strokes that last hardly longer than a reading, or that hardly stand out of what the rest level scatters, are partly missed."""
    if not runs.count:
        return []
    found = []
    if runs.instants:
        found.append(
            "the readings look like single instants, not means of a step: power and energy of working are as good as that sampling"
        )
    lasts = float(np.mean(runs.time_s))
    if lasts < SHORT_RATIO * work.step_s:
        found.append(
            f"a reading every {work.step_s:g} s is coarse for strokes of {lasts:.1f} s: power and hours of working may be off by "
            "more than 3 %"
        )
    median = float(np.median(runs.time_s))
    long = runs.time_s > max(LONG_S, LONG_RATIO * median)
    share = float(np.abs(runs.excess_kj[long]).sum() / max(np.abs(runs.excess_kj).sum(), 1e-9))
    if share > LONG_SHARE:
        found.append(
            f"{int(long.sum())} stretches above ready last much longer than a stroke of {median:.1f} s and hold {share:.0%} of its energy: "
            "another load; strokes and working are read with it"
        )
    faint = _standing_out(work.power, base, runs)
    if faint < FAINT_RATIO:
        found.append(
            f"strokes stand out of rest by only {faint:.1f} times what tells them apart (noise, or a load little above ready): "
            "part of them is missed; power and hours of working may be off by more than 3 %, and ready has their hours"
        )
    return found


def _standing_out(power: Series, base: strokes.Baseline, runs: strokes.Runs) -> float:
    """What nine in ten readings inside strokes exceed, over the threshold; without the first and last reading, which are mixed."""
    places, _ = runs.places(1)
    if not len(places):
        return float("inf")
    away = np.abs(power[places] - base.power_kw[places])
    return float(np.quantile(away, 0.1) / np.median(base.threshold_kw[runs.first]))
