"""What a case is: a course, a logger, a style, and what may come of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from .logger import Readings, read
from .machines import DRIVES, Course, plain
from .writing import Style

Make = Callable[[int], Readings]
Rows = list[list[Any]]


@dataclass(frozen=True)
class Case:
    """One log. `sound`: all that is said must be right. Else a refusal, a question, or a limit with one of `words` will do."""

    name: str
    make: Make
    style: Style = field(default_factory=Style)
    sound: bool = True
    words: str = ""  # regular expression that a note or limit must match where the log is not sound
    answers: tuple[dict[str, Any], ...] = ()  # options that answer its question, tried one after the other
    judge: tuple[str, ...] = ("powers", "energy", "hours", "strokes")
    must_read: bool = False  # a refusal is a fault: everybody's logger writes so


def of(course: Callable[..., Course], drive: str = "hydraulic", step_s: float = 1.0, **logger: Any) -> Make:
    """A maker of readings from a course of a drive."""
    options = {name: logger.pop(name) for name in list(logger) if name not in LOGGER}

    def make(seed: int) -> Readings:
        return read(course(DRIVES[drive], seed, **options), seed, step_s, **logger)

    return make


LOGGER = ("noise", "gain", "resolution_kw", "full_range_kw", "instant")
SHORT = {"course": plain, "hours": 2.5}


def run(drive: str = "hydraulic", step_s: float = 1.0, hours: float = 2.5, **more: Any) -> Make:
    """A short production run with standby at both ends: what the many writing styles are tried on."""
    return of(plain, drive, step_s, hours=hours, **more)


COMMON = ("powers", "energy", "hours", "strokes")
