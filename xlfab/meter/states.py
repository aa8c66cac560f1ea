"""From levels and strokes to named states: power, hours and energy in each, their uncertainty, and what limits the finding."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.meter import levels, strokes, trust_limits
from xlfab.meter.account import State, Work, account, per_stroke
from xlfab.meter.levels import Index, Segments, Series
from xlfab.meter.log_file import Log

SHORTEST_H = 1.0


@dataclass
class Finding:
    """What a log tells: states, strokes, what to know about it, and the state of each sample for the picture."""

    log: Log
    states: list[State]
    sample_state: NDArray[np.int8]
    stroke_count: float
    stroke_kj: float
    stroke_uncertainty_kj: float
    strokes_marked: bool
    spikes: int  # left out: in sample_state they are -1, as what was not logged
    limits: list[str] = field(default_factory=list)

    def state(self, name: str) -> State | None:
        """A state by name, None if the log does not show it."""
        return next((item for item in self.states if item.name == name), None)


def find_states(log: Log, meter_share: float = 0.01) -> Finding:
    """Find the states of a log. ScenarioError where it is too short or shows no rest."""
    good = np.isfinite(log.power_kw)
    if log.hours < SHORTEST_H or good.sum() < 100:
        raise ScenarioError(
            f"{log.title}: {log.hours:.2f} h of readings are too short; log an hour at least, best a week, with idle time in it"
        )
    power, spikes = _without_spikes(log.power_kw[good].astype(np.float32))
    work = Work(power, log.step_s, meter_share, list(log.limits), levels.resolution(power))
    parts = levels.segments(power)
    label, ready = _rest(parts, work, log.title)
    base = strokes.baseline(parts, label, work.resolution_kw)
    runs, resolved = _runs(work, base)
    powers = levels.level_powers(parts, label)
    names = _names(parts, label, ready, powers)
    longest_s = float(parts.length[np.isin(label, list(ready))].max(initial=0)) * log.step_s
    work.limits += trust_limits.of_log(log, names, runs, longest_s)
    work.limits += trust_limits.of_levels(parts, label, names)
    work.limits += trust_limits.of_register(work, powers)
    work.limits += trust_limits.of_starts(runs, ready, powers)
    work.limits += trust_limits.of_strokes(work, base, runs) if resolved else []
    sample, found = account(work, base, runs, names, resolved, log, good)
    marks = log.strokes[good] if log.strokes is not None and np.any(log.strokes > 0) else None
    kj, u_kj, count = per_stroke(work, runs, resolved, marks)
    everywhere = np.full(len(log.power_kw), -1, dtype=np.int8)
    everywhere[good] = np.where(spikes, -1, sample)
    return Finding(log, found, everywhere, count, kj, u_kj, marks is not None, int(spikes.sum()), work.limits)


def _without_spikes(power: Series) -> tuple[Series, NDArray[np.bool_]]:
    """Single readings far above all others are the logger's, not the machine's: replaced by the reading before."""
    top = float(np.quantile(power, 1 - max(10 / len(power), 0.001)))
    lone = power > 2.5 * max(top, 0.0)
    lone[1:] &= power[:-1] < top
    lone[:-1] &= power[1:] < top
    for place in np.flatnonzero(lone):
        power[place] = power[place - 1] if place else top
    return power, lone


def _rest(parts: Segments, work: Work, title: str) -> tuple[Index, set[int]]:
    """Level of each segment, and which levels strokes start from."""
    for rest_s, wait in ((levels.REST_S, levels.WAIT_SAMPLES), (6 * work.step_s, 3)):
        label = levels.rest_levels(work.power, parts, work.step_s, rest_s, wait)
        powers = levels.level_powers(parts, label) if label.max() >= 0 else np.zeros(0)
        on = {level for level in range(len(powers)) if not _is_off(powers[level], work.power)}
        if not on:
            continue
        everywhere = levels.match_short(parts, label, powers, set(range(len(powers))))
        ready = _ready(
            strokes.find_runs(work.power, strokes.baseline(parts, everywhere, work.resolution_kw), work.step_s),
            on,
            powers,
        )
        # short stretches can be ready, standby or off; above ready they are strokes
        allowed = {level for level in range(len(powers)) if powers[level] <= max(powers[list(ready)])}
        label = levels.match_short(parts, label, powers, allowed)
        base = strokes.baseline(parts, label, work.resolution_kw)
        ready = _ready(strokes.find_runs(work.power, base, work.step_s), on, powers)
        return label, ready
    raise ScenarioError(
        f"{title}: the machine is never at rest in this log, so its ready power cannot be read; log some idle time"
    )


def _is_off(level: float, power: Series) -> bool:
    return level <= max(0.02, 0.003 * float(np.quantile(power, 0.999)))


def _ready(runs: strokes.Runs, on: set[int], powers: Series) -> set[int]:
    """The levels that strokes start from: a machine that makes strokes is ready. Without strokes, the highest one."""
    if runs.count < trust_limits.FEW_STROKES:
        return {max(on, key=lambda level: powers[level])}
    starts = {level: int(np.sum(runs.level == level)) for level in on}
    most = max(on, key=lambda level: starts[level])
    often = {level for level in on if starts[level] >= trust_limits.OFTEN_SHARE * runs.count} | {most}
    # levels close to each other are one state in which something switches
    return {level for level in often if powers[most] / 1.5 < powers[level] < powers[most] * 1.5}


def _runs(work: Work, base: strokes.Baseline) -> tuple[strokes.Runs, bool]:
    """Strokes one by one where the step tells them apart; else production stretches with the handling inside."""
    runs = strokes.find_runs(work.power, base, work.step_s)
    if runs.count == 0 or (strokes.pause_samples(runs, work.step_s) >= 2 and work.step_s <= levels.COARSE_S):
        return runs, True
    work.limits.append(
        f"at {work.step_s:g} s a reading, strokes and the handling between them cannot be told apart: both are in 'production'"
    )
    return strokes.find_runs(work.power, base, work.step_s, bridge=max(2, round(strokes.PAUSE_S / work.step_s))), False


def _names(parts: Segments, label: Index, ready: set[int], powers: Series) -> list[str]:
    """A name for each rest level, by its place relative to off and ready."""
    top = max(powers[level] for level in ready)
    names = []
    for level, power in enumerate(powers):
        if level in ready:
            names.append("ready")
        elif _is_off(power, parts.mean):
            names.append("off")
        elif power < top:
            names.append("standby")
        else:
            names.append("warm-up" if _follows_start(parts, label, level, ready, powers) else "other load")
    return names


def _follows_start(parts: Segments, label: Index, level: int, ready: set[int], powers: Series) -> bool:
    """True if a level mostly comes after off or standby and goes over into ready."""
    known = label[label >= 0]
    runs = known[np.concatenate([[True], np.diff(known) != 0])]
    places = np.flatnonzero(runs[1:-1] == level) + 1 if len(runs) > 2 else np.zeros(0, dtype=int)
    low = min(powers[item] for item in ready)
    starts = [powers[runs[place - 1]] < low and runs[place + 1] in ready for place in places]
    return bool(starts) and float(np.mean(starts)) > 0.6
