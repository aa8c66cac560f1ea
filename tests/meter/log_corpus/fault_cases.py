"""Logs that cannot be read right without a question or a word."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from .case import COMMON, Case, Make, of, run
from .logger import Array, Readings, cut, read
from .machines import DRIVES, plain, shifts
from .writing import Style

Rows = list[list[Any]]


def change(function: Callable[[Rows, np.random.Generator], Rows], **style: Any) -> Style:
    """A style whose rows are damaged in a stated way."""
    return Style(change=function, **style)


def put(
    column: int, text: Callable[[np.random.Generator], str], share: float
) -> Callable[[Rows, np.random.Generator], Rows]:
    """Texts in place of a share of the readings of a column."""

    def damage(rows: Rows, rng: np.random.Generator) -> Rows:
        for place in np.flatnonzero(rng.random(len(rows) - 1) < share) + 1:
            rows[place][column] = text(rng)
        return rows

    return damage


def doubled(rows: Rows, rng: np.random.Generator) -> Rows:
    """Some rows twice."""
    places = set(rng.integers(1, len(rows), 40).tolist())
    return [row for place, row in enumerate(rows) for _ in range(2 if place in places else 1)]


def with_gap(make: Make, first: float, last: float) -> Make:
    """A log with a stretch of rows missing."""

    def gap(seed: int) -> Readings:
        readings = make(seed)
        share = np.arange(len(readings.seconds)) / len(readings.seconds)
        return cut(readings, (share < first) | (share > last))

    return gap


def feeder(drive: str, power_kw: float, on_s: float, off_s: float) -> Make:
    """A second machine on the same feeder, on and off by its own clock."""

    def make(seed: int) -> Readings:
        course = plain(DRIVES[drive], seed)
        seconds = np.arange(int(course.now) + 1)
        rng = np.random.default_rng(seed + 9)
        other: Array = np.zeros(len(seconds))
        now = float(rng.uniform(0, off_s))
        while now < len(seconds):
            length = on_s * float(rng.uniform(0.6, 1.5))
            other[int(now) : int(now + length)] = power_kw
            now += length + off_s * float(rng.uniform(0.6, 1.5))
        return read(course, seed, other_kw=other)

    return make


def faults() -> list[Case]:
    """Logs that cannot be read right without a question or a word."""
    semicolon = {"delimiter": ";", "decimal": ","}
    phases = "phase|L1|L2|L3|balance"
    codes = "code|not a number|over|left out|set aside|not read"
    return [
        Case("one phase reversed", run(), Style(phases=(0.33, -0.33, 0.34)), sound=False, words=phases),
        Case(
            "one phase reversed, watts",
            run("belt"),
            Style(phases=(-0.33, 0.33, 0.34), unit="W", digits=0),
            False,
            phases,
        ),
        Case("two phases reversed", run(), Style(phases=(-0.33, -0.33, 0.34)), sound=False, words=phases),
        Case("reversed with total", run(), Style(phases=(0.33, -0.33, 0.34), total=True), sound=False, words=phases),
        Case("one phase dead", run(), Style(phases=(0.33, 0.0, 0.34)), sound=False, words=phases),
        Case("one phase half", run(), Style(phases=(0.33, 0.12, 0.34)), sound=False, words=phases),
        Case("two phases only", run(), Style(phases=(0.33, 0.34)), sound=False, words=phases),
        Case("one phase only", run(), Style(phases=(0.33,)), sound=False, words=phases),
        Case("one phase named", run(), Style(heading="P L1 [{unit}]"), sound=False, words=phases),
        Case(
            "phases far apart, true", run("belt"), Style(phases=(0.45, 0.30, 0.25)), sound=False, words=phases, judge=()
        ),
        Case("clipped at 6 kW", run(full_range_kw=6.0), sound=False, words="range|clip|cut off"),
        Case("clipped at 8 kW", of(shifts, "hydraulic", full_range_kw=8.0), sound=False, words="range|clip|cut off"),
        Case("clipped electric", run("ball screw", full_range_kw=4.0), sound=False, words="range|clip|cut off"),
        *[
            Case(f"over range {code}", run(), Style(over_range=(8.0, code)), sound=False, words=codes)
            for code in (
                "OL",
                "9999",
                "---",
                "OVER",
                "Overload",
                "99999",
                "6553.5",
                "-1",
                "*****",
                "1e37",
                "inf",
                "NaN",
                "",
            )
        ],
        Case("max only", run(), Style(heading="P max [{unit}]"), sound=False, words="max"),
        Case("max only german", run(), Style(heading="Pmax ({unit})"), sound=False, words="max"),
        Case("peak only", run(), Style(heading="Peak power [{unit}]"), sound=False, words="peak|max"),
        Case("apparent only", run(), Style(own_power=False, after=("S", "U", "I")), sound=False, words="apparent|VA"),
        Case("kVA named power", run(), Style(heading="Power [kVA]"), sound=False, words="apparent|VA"),
        Case("current only", run(), Style(own_power=False, after=("U", "I")), sound=False, words="power"),
        Case(
            "kW over watts",
            run(),
            Style(written_as="W", digits=0),
            sound=False,
            words="unit|--unit",
            answers=({"unit": "W"},),
        ),
        Case(
            "kW over watts, electric",
            run("belt"),
            Style(written_as="W", digits=1),
            sound=False,
            words="unit",
            answers=({"unit": "W"},),
        ),
        Case(
            "W over kW", run(), Style(unit="W", written_as="kW"), sound=False, words="unit", answers=({"unit": "kW"},)
        ),
        Case("broken numbers 1.2.3", run(), change(put(1, lambda r: "1.2.3", 0.003), delimiter=";"), False, codes),
        Case("broken numbers 1.2.3 comma", run(), change(put(1, lambda r: "1.2.3", 0.003), **semicolon), False, codes),
        Case(
            "-0.5 in decimal comma",
            run(),
            change(put(1, lambda r: "-0.5", 0.003), **semicolon),
            False,
            codes + "|point|comma",
        ),
        Case(
            "-0,5 in decimal point",
            run(),
            change(put(1, lambda r: "-0,5", 0.003), delimiter=";"),
            False,
            codes + "|point|comma",
        ),
        Case("dashes", run(), change(put(1, lambda r: "-", 0.01)), False, codes),
        Case("trailing minus", run(), change(put(1, lambda r: "50-", 0.003)), False, codes),
        Case("words", run(), change(put(1, lambda r: "error", 0.01)), False, codes),
        Case("doubled rows", run(), change(doubled), False, "twice|double|same time", judge=("powers",)),
        Case("gap", with_gap(of(plain, "hydraulic"), 0.4, 0.55), sound=True, judge=("powers",)),
        Case("gap of hours", with_gap(of(shifts, "belt"), 0.3, 0.42), sound=True, judge=("powers",)),
        Case("standby cut off", with_gap(of(plain, "hydraulic"), 0.0, 0.03), sound=True, judge=("powers",)),
        Case(
            "dst forward",
            of(shifts, "hydraulic", days=2.0),
            Style(start="2026-03-28T00:00:00"),
            judge=COMMON,
            sound=False,
            words="clock|zone|gap|hour",
            answers=({"time_zone": "Europe/Vienna"},),
        ),
        Case(
            "dst back",
            of(shifts, "hydraulic", days=2.0),
            Style(start="2026-10-24T00:00:00"),
            judge=COMMON,
            sound=False,
            words="clock|zone|hour",
            answers=({"time_zone": "Europe/Vienna"},),
        ),
        Case("dst back z", of(shifts, "hydraulic", days=2.0), Style(start="2026-10-24T00:00:00", clock="iso z")),
        Case(
            "dst back offset", of(shifts, "hydraulic", days=2.0), Style(start="2026-10-24T00:00:00", clock="iso offset")
        ),
        Case("feeder 5 kW", feeder("hydraulic", 5.0, 900, 1500), sound=False, words="other load|second|another"),
        Case(
            "feeder 1.5 kW", feeder("hydraulic", 1.5, 900, 1500), sound=False, words="other load|second|another|several"
        ),
        Case(
            "feeder 1.5 kW short",
            feeder("ball screw", 1.5, 300, 400),
            sound=False,
            words="other load|second|another|several",
        ),
        Case(
            "feeder 0.8 kW electric",
            feeder("belt", 0.8, 600, 900),
            sound=False,
            words="other load|second|another|several",
        ),
        Case(
            "thousands, ambiguous kW",
            run(),
            Style(unit="kW", written_as="W", digits=0, thousands=".", delimiter=";"),
            False,
            "point|unit",
            judge=(),
        ),
        Case(
            "two power columns",
            run(),
            Style(phases=(1.0, 0.3), phase_headings=("P hall", "P machine")),
            False,
            "column",
            answers=({"columns": ("P hall [kW]",)},),
        ),
    ]
