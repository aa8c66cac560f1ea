"""Coverage of the stated intervals on simulated logs: python -m log_corpus.coverage [logs], in tests/meter. Each should hold 93 to 97 %."""

from __future__ import annotations

import sys
from collections import defaultdict

import numpy as np

from xlfab.meter.log_file import Log
from xlfab.meter.states import find_states

from .judge import compare
from .logger import Readings, read
from .machines import DRIVES, Drive, plain, shifts

BASE = 40_000
STEPS = (1.0, 1.0, 1.0, 0.5, 2.0)
RESOLUTIONS = (0.0, 0.001, 0.01, 0.02)


def simulated(number: int) -> Readings:
    """A log of its own machine, course, step, register and meter: the meter's gain lies anywhere within one percent."""
    seed = BASE + number
    rng = np.random.default_rng(seed)
    known = list(DRIVES.values())[number % len(DRIVES)]
    size = rng.uniform(0.6, 1.6)
    drive = Drive(
        known.standby * size * rng.uniform(0.8, 1.2),
        known.ready * size,
        known.warm_up * size,
        tuple((seconds * rng.uniform(0.8, 1.3), power * size) for seconds, power in known.phases),
        known.auto_stop_s,
    )
    if number % 3:
        course = shifts(drive, seed, drift=rng.uniform(0, 0.02))
    else:
        course = plain(drive, seed, hours=4, every_s=rng.uniform(15, 50))
    noise, gain = rng.uniform(0.002, 0.01), rng.uniform(-0.01, 0.01)
    step = STEPS[number % len(STEPS)]
    return read(course, seed, step, noise=noise, gain=gain, resolution_kw=RESOLUTIONS[number % len(RESOLUTIONS)])


def covered(numbers: range) -> tuple[dict[str, list[bool]], list[str]]:
    """For each state, whether its interval holds the truth, log by log; and faults of logs on which no limit stands."""
    inside: dict[str, list[bool]] = defaultdict(list)
    faults = []
    for number in numbers:
        readings = simulated(number)
        finding = find_states(Log(f"log {number}", readings.step_s, readings.power_kw))
        found, held = compare(finding, readings.truth, ("powers", "energy", "hours", "strokes"))
        faults += [
            f"log {number}: {fault}" for fault in found if not any("coarse" in limit for limit in finding.limits)
        ]
        for name, ok in held.items():
            inside[name].append(ok)
    return inside, faults


if __name__ == "__main__":
    inside, faults = covered(range(int(sys.argv[1]) if len(sys.argv) > 1 else 220))
    for name, held in inside.items():
        print(f"{name:10} {len(held):4} intervals, {np.mean(held):.1%} hold the truth")
    everything = [ok for held in inside.values() for ok in held]
    print(f"{'all':10} {len(everything):4} intervals, {np.mean(everything):.1%} hold the truth")
    print("\n".join(faults))
