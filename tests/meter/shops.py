"""Invented shops: a machine's true power as a function of time, and what a logger with faults of its own writes of it."""

from dataclasses import dataclass, field

import numpy as np

STATES = ("off", "standby", "ready", "moving", "processing")
PIECE_S = 120.0  # the longest piece of constant power, so that drift is followed


@dataclass
class Shop:
    """A machine and its logger; what is not given is drawn from the seed."""

    seed: int
    days: float = 2.0
    step_s: float = 1.0
    two_shifts: bool = False
    pump_stops: bool = True
    switched_off_at_night: bool = True
    slow_strokes: bool = False
    noise: float = 0.006
    gain_drift: float = 0.004
    ready_drift: float = 0.015
    spikes: int = 8
    gaps: int = 2
    powers: dict = field(default_factory=dict)

    def __post_init__(self):
        rng = np.random.default_rng(self.seed)
        standby = rng.uniform(0.1, 0.5)
        ready = rng.uniform(1.6, 8) * standby + 0.15
        moving = ready + rng.uniform(1.5, 5)
        off, processing = rng.uniform(0, 0.006), moving * rng.uniform(1.5, 2.5)
        self.powers = dict(zip(STATES, (off, standby, ready, moving, processing), strict=True)) | self.powers


class Course:
    """The machine's states one after the other."""

    def __init__(self):
        self.ends, self.states = [], []

    def put(self, end_s, name):
        start = self.ends[-1] if self.ends else 0.0
        pieces = max(1, int(np.ceil((end_s - start) / PIECE_S)))
        self.ends += list(np.linspace(start, end_s, pieces + 1)[1:])
        self.states += [STATES.index(name)] * pieces

    def stay(self, seconds, name):
        self.put(self.ends[-1] + seconds, name)


def course_of(shop):
    """Shifts of production in runs of strokes, with pauses in which the pump may stop."""
    rng = np.random.default_rng(shop.seed + 1000)
    course = Course()
    night = "off" if shop.switched_off_at_night else "standby"
    slow = 3.0 if shop.slow_strokes else 1.0
    approach, press, back = (rng.uniform(*span) * slow for span in ((0.6, 1.1), (1.2, 2.2), (0.7, 1.5)))
    for day in range(int(np.ceil(shop.days))):
        course.put((day * 24 + 6) * 3600.0, night)
        end = (day * 24 + (22 if shop.two_shifts else 14)) * 3600.0
        course.stay(rng.uniform(300, 900), "ready")
        while course.ends[-1] < end - 3600:
            for _ in range(int(rng.integers(20, 150))):
                course.stay(approach, "moving")
                course.stay(press * rng.uniform(0.8, 1.2), "processing")
                course.stay(back, "moving")
                course.stay(rng.uniform(5, 14), "ready")
            pause = rng.exponential(700) + 90
            course.stay(min(pause, 600), "ready")
            if pause > 600:
                course.stay(pause - 600, "standby" if shop.pump_stops else "ready")
        course.put(max(end, course.ends[-1] + 60), "ready")
    course.put(np.ceil(shop.days) * 86400.0, night)
    return np.array(course.ends), np.array(course.states)


def powers_of(shop, ends, states):
    """Power of each piece: ready power drifts as oil warms, processing differs from bend to bend."""
    rng = np.random.default_rng(shop.seed + 2000)
    power = np.array([shop.powers[name] for name in STATES])[states]
    wave = 1 + shop.ready_drift * np.sin(2 * np.pi * ends / 32_400 + rng.uniform(0, 6))
    bends = np.where(states == STATES.index("processing"), rng.normal(1, 0.08, len(states)), 1.0)
    return power * bends * np.where(states == STATES.index("ready"), wave, 1.0)


@dataclass
class Logged:
    """What the logger wrote (NaN where it wrote nothing) and the truth over the time it has readings of."""

    power_kw: np.ndarray
    step_s: float
    truth_kw: dict
    truth_h: dict
    truth_kwh: float
    strokes: int

    def truth_of(self, *names):
        """Mean power and hours of several states together."""
        hours = sum(self.truth_h[name] for name in names)
        return sum(self.truth_h[name] * self.truth_kw[name] for name in names if self.truth_h[name]) / hours, hours


def logged(shop):
    """Mean power of each step, then the logger's own faults; the truth counts only what was logged."""
    rng = np.random.default_rng(shop.seed + 3000)
    ends, states = course_of(shop)
    power = powers_of(shop, ends, states)
    n = int(shop.days * 86400 / shop.step_s)
    edges = np.arange(n + 1) * shop.step_s
    there = np.ones(n, dtype=bool)
    for _ in range(shop.gaps):
        first = int(rng.uniform(0, 0.9) * n)
        there[first : first + int(rng.uniform(1200, 9000) / shop.step_s)] = False

    def in_steps(rate):
        """Integral of a piecewise constant rate over each step, exactly."""
        total = np.concatenate([[0.0], np.cumsum(rate * np.diff(ends, prepend=0.0))])
        return np.diff(np.interp(edges, np.concatenate([[0.0], ends]), total))

    energy = in_steps(power)
    seconds = {name: in_steps((states == k) * 1.0)[there].sum() for k, name in enumerate(STATES)}
    energies = {name: in_steps(np.where(states == k, power, 0.0))[there].sum() for k, name in enumerate(STATES)}
    truth_kw = {name: float(energies[name] / seconds[name]) for name in STATES if seconds[name] > 0}
    gain = 1 + shop.gain_drift * np.sin(2 * np.pi * edges[:-1] / 40_000 + rng.uniform(0, 6))
    out = energy / shop.step_s * gain * (1 + rng.normal(0, shop.noise, n)) + rng.normal(0, 0.003, n)
    out[rng.integers(10, n - 10, shop.spikes)] += shop.powers["processing"] * rng.uniform(5, 20, shop.spikes)
    begun = ends[:-1][states[1:] == STATES.index("processing")]
    strokes = int(there[np.minimum((begun / shop.step_s).astype(int), n - 1)].sum())
    hours = {name: float(value) / 3600 for name, value in seconds.items()}
    return Logged(
        np.where(there, np.round(out, 4), np.nan),
        shop.step_s,
        truth_kw,
        hours,
        float(energy[there].sum()) / 3600,
        strokes,
    )
