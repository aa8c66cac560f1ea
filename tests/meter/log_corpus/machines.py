"""Invented machines: the true power of each state, and the course of states of a shop as pieces of constant power."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

OFF, STANDBY, WARM_UP, READY, STROKE = range(5)
NAMES = ("off", "standby", "warm-up", "ready", "working")


@dataclass(frozen=True)
class Drive:
    """Power [kW] of the states and the phases (seconds, kW) of a stroke; a negative power is fed back to the mains."""

    standby: float
    ready: float
    warm_up: float
    phases: tuple[tuple[float, float], ...]
    auto_stop_s: float = 0.0  # idle time after which pump or drives stop; 0: they never do


DRIVES = {
    "plain": Drive(0.25, 2.8, 2.8, ((3.0, 9.0),)),
    "hydraulic": Drive(0.25, 2.8, 3.7, ((1.2, 4.6), (2.0, 9.5), (1.6, 6.1))),
    "start-stop": Drive(0.22, 0.45, 0.45, ((0.4, 14.0), (1.0, 4.2), (2.0, 9.0), (1.5, 5.5)), 600.0),
    "servo-hydraulic": Drive(0.30, 0.62, 0.75, ((0.9, 3.1), (1.8, 8.2), (1.0, 4.4)), 300.0),
    "ball screw": Drive(0.28, 0.50, 0.50, ((0.7, 2.4), (0.3, -0.9), (1.6, 6.3), (0.8, 3.4), (0.5, -1.6)), 900.0),
    "belt": Drive(0.21, 0.46, 0.46, ((0.8, 2.9), (1.5, 5.2), (0.9, 0.8)), 900.0),
}


@dataclass
class Course:
    """Pieces of constant power one after the other."""

    drive: Drive
    rng: np.random.Generator
    seconds: list[float] = field(default_factory=list)
    power: list[float] = field(default_factory=list)
    state: list[int] = field(default_factory=list)
    strokes: list[float] = field(default_factory=list)  # start of each stroke [s]
    now: float = 0.0
    bend_spread: float = 0.08
    drift: float = 0.0  # of the ready power over hours, as oil warms

    def put(self, seconds: float, power: float, state: int) -> None:
        """One piece."""
        if seconds > 0:
            self.seconds.append(float(seconds))
            self.power.append(float(power))
            self.state.append(state)
            self.now += float(seconds)

    def rest(self, seconds: float, state: int) -> None:
        """Off, standby, warm-up or ready; ready in pieces of two minutes, so that a drift is followed."""
        level = {OFF: 0.0, STANDBY: self.drive.standby, WARM_UP: self.drive.warm_up, READY: self.drive.ready}[state]
        end = self.now + seconds
        while self.now < end - 1e-6:
            wave = 1 + (self.drift * np.sin(2 * np.pi * self.now / 32_400) if state == READY else 0.0)
            self.put(min(120.0, end - self.now), level * wave, state)

    def stroke(self) -> None:
        """The phases of one stroke; each bend takes its own power."""
        self.strokes.append(self.now)
        bend = float(np.exp(self.rng.normal(0, self.bend_spread)))
        for seconds, power in self.drive.phases:
            self.put(seconds, power * (bend if power > 0 else 1.0), STROKE)

    def produce(self, seconds: float, every_s: float, spread: float = 0.1) -> None:
        """Strokes one after the other, ready between them."""
        end = self.now + seconds
        own = sum(length for length, _ in self.drive.phases)
        while self.now < end - every_s:
            self.stroke()
            self.rest(max(every_s * float(np.exp(self.rng.normal(0, spread))) - own, 1.0), READY)
        self.rest(end - self.now, READY)

    def pause(self, seconds: float) -> None:
        """Idle: ready, then standby where the machine stops by itself."""
        stop = self.drive.auto_stop_s
        self.rest(min(seconds, stop) if stop else seconds, READY)
        if stop and seconds > stop:
            self.rest(seconds - stop, STANDBY)


def plain(drive: Drive, seed: int, hours: float = 6.0, every_s: float = 40.0) -> Course:
    """Standby of ten minutes, production without a break, standby of ten minutes."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(600, STANDBY)
    course.produce(hours * 3600 - 1200, every_s)
    course.rest(600, STANDBY)
    return course


def blip(drive: Drive, seed: int) -> Course:
    """As the plain one, with a contactor that pulls in once during standby."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(300, STANDBY)
    course.put(2, drive.standby + 4.0, STANDBY)
    course.rest(298, STANDBY)
    course.produce(6 * 3600 - 1800, 40)
    course.rest(1200, STANDBY)
    return course


def shifts(
    drive: Drive, seed: int, days: float = 1.0, left_on: tuple[int, ...] = (), night: int = OFF, drift: float = 0.0
) -> Course:
    """Days of a shift of eight hours: warm-up, runs of strokes, pauses; days `left_on` are spent in standby."""
    course = Course(drive, np.random.default_rng(seed), drift=drift)
    for day in range(int(np.ceil(days))):
        start = day * 86_400.0
        if day in left_on:
            course.rest(start + 86_400 - course.now, STANDBY)
            continue
        course.rest(start + 6 * 3600 - course.now, night)
        course.rest(float(course.rng.uniform(120, 600)), STANDBY)
        course.rest(900 if drive.warm_up > drive.ready else 200, WARM_UP if drive.warm_up > drive.ready else READY)
        end = start + 14 * 3600
        while course.now < end - 4000:
            course.produce(float(course.rng.uniform(900, 3600)), float(course.rng.uniform(14, 45)), 0.25)
            course.pause(float(course.rng.exponential(700) + 120))
        course.rest(max(end - course.now, 60), READY)
        course.rest(start + days * 86_400 - course.now if days < 1 else start + 86_400 - course.now, night)
    return course


def only(drive: Drive, seed: int, seconds: float, state: int) -> Course:
    """One state alone: the warm-up, or a minute of ready."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(seconds, state)
    return course
