"""Marks of strokes from a file of their own: one line a stroke, its time first."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_text
from xlfab.meter.clock import read_times
from xlfab.meter.log_file import Log

MARK_BYTES = 200_000_000
_TIME = re.compile(r"^\"?\d")
_NUMBER = re.compile(r"[0-9]{1,15}([.,][0-9]{1,9})?")


def add_marks(log: Log, path: Path, zone: str = "") -> None:
    """Count the strokes of a file in the readings of a log; both must tell dates, or both count from their start."""
    lines = [
        re.split(r"[;\t|]|,(?=\s*[^\d\s])", line, maxsplit=1)[0] for line in read_text(path, MARK_BYTES).splitlines()
    ]
    texts = [line.strip().strip('"') for line in lines if _TIME.match(line.strip())]
    if not texts:
        raise ScenarioError(f"{path.name}: no line starts with a time; write the time of one stroke on each line")
    times = read_times(texts, "time", zone, path.name)
    elapsed = float(texts[0].replace(",", ".")) if times.start is None and _NUMBER.fullmatch(texts[0]) else 0.0
    seconds = times.seconds + _offset(log, times.start, elapsed, path)
    place = np.floor(seconds[np.isfinite(seconds)] / log.step_s)
    inside = place[(place >= 0) & (place < len(log.power_kw))].astype(np.int64)
    if not len(inside):
        raise ScenarioError(f"{path.name}: none of its {len(texts)} times lies in the log {log.title}")
    log.strokes = counted(inside, len(log.power_kw))
    if len(inside) < len(texts):
        log.notes.append(f"{len(texts) - len(inside)} of {len(texts)} strokes in {path.name} lie outside the log")


def counted(places: NDArray[np.int64], length: int) -> NDArray[np.float64]:
    """How many strokes fall into each reading."""
    return np.bincount(places, minlength=length).astype(np.float64)


def _offset(log: Log, start: object, elapsed: float, path: Path) -> float:
    if start is None and log.start is None:
        return elapsed
    if start is None or log.start is None or (start.tz is None) != (log.start.tz is None):  # type: ignore[attr-defined]
        raise ScenarioError(
            f"{path.name} and {log.title} do not tell time alike (with a date, or from the start; with a time zone, or without); "
            "give --time-zone, or write both alike"
        )
    return float((start - log.start).total_seconds())
