"""The common claim that an electric press brake works 30 to 50 % faster (common practice, no source): when it holds and when not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Rows, Table
from xlfab.trace.expression import number_or

OPENINGS_MM = (25.0, 60.0, 120.0)
HANDLINGS_S = tuple(float(time) for time in range(21))
READINGS = {"less_time": "Less time for a step", "more_parts": "More steps an hour"}


@dataclass
class Claim:
    """Settings, the strokes of both press brakes at some openings, and both readings of the claim over the handling."""

    names: tuple[str, str]
    settings: Table
    strokes: Table
    readings: Table


def claim_of(first: Any, other: Any) -> Claim:
    """Both readings for two press brakes of a job, the first one taken as the slower."""
    asked = _settings()
    strokes = _strokes(asked, (first.stated, first.basis), (other.stated, other.basis))
    names = (str(first.stated.value("name")[0]), str(other.stated.value("name")[0]))
    return Claim(names, asked, strokes, _readings(asked, strokes))


def _settings() -> Table:
    t = Table.record("claim_settings", "The bend that is looked at, and the claim")
    t.put("penetration_mm", 6.1, label="Penetration of the bend", note="2 mm, 90 degrees, die opening 16 mm")
    t.put("force_share", 0.2, label="Force as a share of the rated force")
    t.put("claim_from_share", 0.3, label="Claim: faster by at least")
    t.put("claim_to_share", 0.5, label="Claim: faster by at most")
    return t


def _strokes(asked: Table, *machines: tuple[Table, Table]) -> Table:
    """Ram times of both machines at each opening, and the longest handling with which the claim still begins to hold."""
    t = Table("claim_strokes", "Ram times and the longest handling", Rows("claim_openings", len(OPENINGS_MM)))
    t.put("opening_mm", np.array(OPENINGS_MM))
    for number, (m, close) in enumerate(machines, 1):
        t.add(
            f"ram_{number}_s",
            _ram_time,
            *_stroke_terms(t, number, m, close, asked),
            label=f"Ram down and up, brake {number}",
        )
    for key, label in READINGS.items():
        both = ("ram_1_s", "ram_2_s", asked["claim_from_share"])
        longest = F[f"handling_for_{key}_s"].formula
        t.add(f"{key}_handling_s", _or_never(longest), *both, label=f"{label}: holds up to a handling of")
    return t


def _or_never(longest: Callable[..., Any]) -> Callable[..., Any]:
    return lambda slow, fast, share: number_or(longest(slow, fast, share), "never")


def _ram_time(approach: Any, press: Any, dwell: Any, dead: Any, decompression: Any, back: Any) -> Any:
    return approach + press + dwell + dead + decompression + back


def _stroke_terms(t: Table, number: int, m: Table, close: Table, asked: Table) -> tuple[str | Ref, ...]:
    gap, speed = close["closing_gap_mm"], close["closing_speed_mm_s"]
    way = f"approach_{number}_mm"
    t.add(way, F["approach_distance_mm"], "opening_mm", gap, label=f"Approach, brake {number}")
    ram = (m["approach_speed_mm_s"], m["ram_acceleration_mm_s2"], speed)
    t.add(f"approach_{number}_s", F["approach_time_s"], way, *ram, label=f"Approach time, brake {number}")
    press = (gap, asked["penetration_mm"], speed, m["pressing_speed_mm_s"])
    t.add(f"press_{number}_s", lambda g, p, v, w: g / v + p / w, *press, label=f"Closing and bending, brake {number}")
    t.add(
        f"travel_{number}_mm",
        F["ram_travel_mm"],
        "opening_mm",
        asked["penetration_mm"],
        label=f"Travel, brake {number}",
    )
    back = (m["return_speed_mm_s"], m["ram_acceleration_mm_s2"])
    t.add(
        f"return_{number}_s", F["trapezoid_move_time_s"], f"travel_{number}_mm", *back, label=f"Return, brake {number}"
    )
    oil = (m["full_decompression_time_s"], asked["force_share"])
    t.times(f"decompression_{number}_s", *oil, label=f"Decompression, brake {number}")
    rest = (m["dwell_time_s"], m["stroke_dead_time_s"], f"decompression_{number}_s", f"return_{number}_s")
    return f"approach_{number}_s", f"press_{number}_s", *rest


def _readings(asked: Table, strokes: Table) -> Table:
    """Both readings for each opening over a range of handling times."""
    rows = Rows("claim_rows", len(OPENINGS_MM) * len(HANDLINGS_S))
    t = Table("claim_readings", "Both readings over the handling time", rows)
    t.put("opening_mm", np.repeat(OPENINGS_MM, len(HANDLINGS_S)))
    t.put("handling_s", np.tile(HANDLINGS_S, len(OPENINGS_MM)), label="Handling a step")
    for number in (1, 2):
        t.lookup(f"ram_{number}_s", "opening_mm", strokes[f"ram_{number}_s"], "opening_mm")
        step = (f"ram_{number}_s", "handling_s")
        t.sum(f"step_{number}_s", *step, label=f"Step, brake {number}")
    for end in ("from", "to"):
        t.copy(f"claim_{end}_share", asked[f"claim_{end}_share"])
    for key, label in READINGS.items():
        t.add(f"{key}_share", F[f"{key}_share"], "step_1_s", "step_2_s", label=label)
        span = (f"{key}_share", asked["claim_from_share"], asked["claim_to_share"])
        t.add(f"{key}_word", _word, *span, text=True, label=f"{label}: the claim")
    return t


def _word(value: Any, low: Any, high: Any) -> Any:
    return np.where(value < low, "does not hold", np.where(value <= high, "holds", "more than claimed"))
