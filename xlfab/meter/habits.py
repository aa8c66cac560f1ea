"""How a machine is used, from the states in its log: left on overnight, stopped by itself, warmed up, hours switched on."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from xlfab.meter.account import ORDER
from xlfab.meter.states import Finding

NIGHT_H = 3.0  # a rest so long lies outside the work of the day
BLIP_S = 60.0  # a shorter stretch of power does not end a night: a contactor, a pump that turns over
NIGHT_EACH_H = 16.0  # of rest: about one night, or one night of a day off
LEAST_NIGHTS_H = 10.0
SELF_STOPS, SELF_SPREAD = 3, 0.2  # so many stops after the same time, within that share: the machine stops itself
_IDLE = [ORDER.index("off"), ORDER.index("standby")]
_READY, _STANDBY, _WARM = ORDER.index("ready"), ORDER.index("standby"), ORDER.index("warm-up")


@dataclass
class Habits:
    """Hours of rest outside work (off and standby), minutes until it stopped itself, warm-ups, hours switched on."""

    nights_off_h: float = 0.0
    nights_standby_h: float = 0.0
    longest_standby_h: float = 0.0
    stop_min: list[float] = field(default_factory=list)
    warm_ups: int = 0
    warm_up_h: float = 0.0
    on_h: float = 0.0
    days: float = 0.0

    @property
    def nights_h(self) -> float:
        """Hours of rest outside work."""
        return self.nights_off_h + self.nights_standby_h

    @property
    def left_on_share(self) -> float:
        """Share of the hours outside work with the control left on."""
        return self.nights_standby_h / self.nights_h if self.nights_h else 0.0

    def left_on_span(self) -> tuple[float, float]:
        """Low and high of that share at 95 %, for so many nights: Wilson's interval of a proportion (from memory)."""
        n, p, z = max(self.nights_h / NIGHT_EACH_H, 1.0), self.left_on_share, 1.96
        middle, half = p + z**2 / (2 * n), z * float(np.sqrt(p * (1 - p) / n + z**2 / (4 * n**2)))
        return max((middle - half) / (1 + z**2 / n), 0.0), min((middle + half) / (1 + z**2 / n), 1.0)

    @property
    def stops_itself_min(self) -> float:
        """Minutes ready after which the machine stops itself, NaN where it does not or not always after the same time."""
        if len(self.stop_min) < SELF_STOPS:
            return float("nan")
        low, middle, high = np.quantile(self.stop_min, (0.1, 0.5, 0.9))
        return float(middle) if high - low <= SELF_SPREAD * middle else float("nan")


def habits_of(finding: Finding) -> Habits:
    """Read the habits from the state of each sample."""
    state = finding.sample_state
    first = np.concatenate([[0], np.flatnonzero(np.diff(state)) + 1])
    kind, hours = state[first], np.diff(first, append=len(state)) * finding.log.step_s / 3600
    result = Habits(days=len(state) * finding.log.step_s / 86_400)
    night = _nights(kind, hours)
    result.nights_off_h = float(hours[night & (kind == _IDLE[0])].sum())
    result.nights_standby_h = float(hours[night & (kind == _STANDBY)].sum())
    result.longest_standby_h = float(hours[kind == _STANDBY].max(initial=0.0))
    result.on_h = float(hours[~night & (kind >= 0)].sum())
    warm = kind == _WARM
    result.warm_up_h = float(hours[warm].sum())
    result.warm_ups = int(np.sum(warm & (hours * 3600 > BLIP_S)))
    result.stop_min = _stops(kind, hours, night)
    return result


def _nights(kind: NDArray[np.int8], hours: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Which stretches of one state belong to a long rest: off or standby, with what is shorter than a minute between."""
    idle = np.isin(kind, _IDLE) | ((kind >= 0) & (hours * 3600 < BLIP_S) & _between_rest(kind))
    group = np.cumsum(np.concatenate([[0], np.diff(idle.astype(np.int8)) != 0]))
    long = np.bincount(group, weights=hours) >= NIGHT_H
    return np.asarray(idle & long[group])


def _between_rest(kind: NDArray[np.int8]) -> NDArray[np.bool_]:
    """Stretches with off or standby on both sides."""
    rest = np.isin(kind, _IDLE)
    between = np.zeros(len(kind), dtype=bool)
    between[1:-1] = rest[:-2] & rest[2:]
    return between


def _stops(kind: NDArray[np.int8], hours: NDArray[np.float64], night: NDArray[np.bool_]) -> list[float]:
    """Minutes that the machine was ready before it went to standby in the middle of its work."""
    ends = np.flatnonzero((kind[:-1] == _READY) & (kind[1:] == _STANDBY) & ~night[1:])
    return [float(hours[place] * 60) for place in ends if place and hours[place + 1] * 3600 > BLIP_S]
