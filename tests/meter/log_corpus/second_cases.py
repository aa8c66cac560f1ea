"""The second corpus: other machines, courses, loggers and styles than the first, made after the reader had settled."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from .case import Case, Make
from .fault_cases import Rows, put
from .logger import Readings, cut, read
from .machines import OFF, READY, STANDBY, WARM_UP, Course, Drive, plain, shifts
from .writing import Style

OTHERS = {
    "large hydraulic": Drive(0.42, 6.4, 8.1, ((1.6, 11.5), (3.2, 24.0), (2.1, 15.5))),
    "small hydraulic": Drive(0.12, 1.15, 1.5, ((0.9, 2.1), (1.4, 4.4), (1.1, 2.6)), 720.0),
    "shear": Drive(0.18, 2.1, 2.1, ((0.8, 3.6), (0.9, 12.0), (1.0, 3.9)), 600.0),
    "servo": Drive(0.35, 0.85, 0.85, ((0.8, 4.4), (1.9, 9.6), (0.6, -1.1), (0.9, 3.0)), 240.0),
    "large belt": Drive(0.30, 0.95, 1.1, ((1.0, 5.0), (2.1, 11.0), (0.7, -2.2)), 600.0),
}
COMMON = ("powers", "energy", "hours", "strokes")


def make(
    course: Callable[..., Course], drive: str, step_s: float = 1.0, logger: dict[str, Any] | None = None, **options: Any
) -> Make:
    """A maker of readings."""
    return lambda seed: read(course(OTHERS[drive], seed, **options), seed, step_s, **(logger or {}))


def lunch(drive: Drive, seed: int) -> Course:
    """A morning and an afternoon with a break in standby, started and ended in off."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(1200, OFF)
    for half in (4.0, 3.5):
        course.rest(240, STANDBY)
        course.rest(600, WARM_UP if drive.warm_up > drive.ready and half == 4.0 else READY)
        course.produce(half * 3600, float(course.rng.uniform(18, 60)), 0.35)
        course.rest(400, READY)
        course.rest(1800, STANDBY)
    course.rest(3000, OFF)
    return course


def left_ready(drive: Drive, seed: int) -> Course:
    """The pump runs all night."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(900, STANDBY)
    course.produce(3 * 3600, 25)
    course.rest(10 * 3600, READY)
    course.produce(3 * 3600, 25)
    course.rest(3600, STANDBY)
    return course


def fan(drive: Drive, seed: int) -> Course:
    """An oil cooler that switches on and off while the machine is ready."""
    course = Course(drive, np.random.default_rng(seed))
    course.rest(1800, STANDBY)
    for _ in range(24):
        for extra in (0.0, 0.45):
            course.put(220, drive.ready + extra, READY)
            for _ in range(6):
                course.stroke()
                course.put(16, drive.ready + extra, READY)
    course.rest(1800, STANDBY)
    return course


def bursts(drive: str, kw: float, on_s: float, every_s: float) -> Make:
    """A compressor on the same feeder."""

    def maker(seed: int) -> Readings:
        course = plain(OTHERS[drive], seed, hours=5.0, every_s=33.0)
        other = np.zeros(int(course.now) + 1)
        for start in np.arange(100, len(other), every_s * 1.07):
            other[int(start) : int(start + on_s)] = kw
        return read(course, seed, other_kw=other)

    return maker


def thinned(base: Make, share: float) -> Make:
    """Rows lost here and there."""

    def maker(seed: int) -> Readings:
        readings = base(seed)
        return cut(readings, np.random.default_rng(seed).random(len(readings.seconds)) > share)

    return maker


def shuffled_pairs(rows: Rows, rng: np.random.Generator) -> Rows:
    """Some neighbours in the wrong order."""
    for place in rng.integers(2, len(rows) - 2, 15).tolist():
        rows[place], rows[place + 1] = rows[place + 1], rows[place]
    return rows


def headings_again(rows: Rows, rng: np.random.Generator) -> Rows:
    """The headings once more in the middle."""
    rows.insert(len(rows) // 2, list(rows[0]))
    return rows


def footer(rows: Rows, rng: np.random.Generator) -> Rows:
    """A sum below the readings."""
    return [*rows, ["Total", "123.4"], ["Mean", "5.1"]]


def ranging(rows: Rows, rng: np.random.Generator) -> Rows:
    """A logger that changes its unit by itself: 850 W, 2.80 kW."""
    for row in rows[1:]:
        kw = float(row[1])
        row[1] = f"{kw * 1000:.0f} W" if kw < 1 else f"{kw:.3f} kW"
    return rows


def odd_rows(rows: Rows, rng: np.random.Generator) -> Rows:
    """A decimal comma without quotation marks in a comma file, in a few rows."""
    for place in rng.integers(1, len(rows), 25).tolist():
        rows[place] = [*rows[place][:-1], *str(rows[place][-1]).split(".")]
    return rows


def turned_phases(rows: Rows, rng: np.random.Generator) -> Rows:
    """A clamp on the wrong phase: it reads a third of what it should."""
    for row in rows[1:]:
        row[3] = f"{float(row[3]) * 0.3:.4f}"
    return rows


def sound() -> list[Case]:
    """Logs that are right, written in other ways."""
    semi: dict[str, Any] = {"delimiter": ";", "decimal": ","}
    short = {"hours": 2.2, "every_s": 31.0}
    styles = {
        "sep line": Style(preamble=("sep=;",), **semi),
        "preamble of pairs": Style(preamble=("Serial,123", "Interval,1", "Start,2026"), line_end="\n"),
        "footer": Style(change=footer),
        "headings again": Style(change=headings_again),
        "auto range": Style(heading="Power", change=ranging),
        "phases RST": Style(phases=(0.32, 0.35, 0.33), phase_headings=("P R", "P S", "P T"), unit="W", digits=1),
        "phases ABC semicolon": Style(
            phases=(0.33, 0.33, 0.34), phase_headings=("Phase A", "Phase B", "Phase C"), digits=4, **semi
        ),
        "watts decimals thousands": Style(unit="W", digits=3, thousands=".", **semi),
        "kW five digits": Style(digits=5),
        "whole watts apostrophe curly": Style(unit="W", digits=0, thousands="’", delimiter=";", encoding="cp1252"),
        "year first slash": Style(clock="day slash", start="2026-05-25T05:00:00", **semi),
        "tab cp1252": Style(
            delimiter="\t", encoding="cp1252", heading="Leistung Σ".replace("Σ", "gesamt") + " [{unit}]"
        ),
        "pipe": Style(delimiter="|"),
        "split point": Style(clock="split", digits=2),
        "epoch ms watts": Style(clock="epoch ms", unit="W", digits=1),
        "utf-16 no mark comma": Style(encoding="utf-16-le", **semi),
        "utf-16 no mark watts": Style(encoding="utf-16-be", unit="W", digits=0, delimiter="\t"),
        "xlsx factors": Style(suffix=".xlsx", after=("PF", "U"), unit="W", digits=1),
        "xlsx max beside": Style(suffix=".xlsx", heading="P mean [{unit}]", before=("Pmax",)),
        "status and temperature": Style(after=("T", "status")),
        "record number": Style(before=("row",), names={"row": "Record"}, **semi),
        "power mean max min reactive": Style(heading="Average power [{unit}]", after=("Pmax", "Pmin", "Q", "S", "PF")),
        "month first night": Style(clock="month first", start="2026-07-04T22:00:00"),
        "chicago offset": Style(clock="iso offset", zone="America/Chicago"),
        "newest first comma": Style(newest_first=True, clock="day first", **semi),
        "cells in W comma": Style(unit="W", digits=1, cell_unit=" W", heading="Real power", **semi),
    }
    drives = list(OTHERS)
    return [
        Case(f"2 {name}", make(plain, drives[n % len(drives)], **short), style, must_read=True)
        for n, (name, style) in enumerate(styles.items())
    ]


def used() -> list[Case]:
    """Courses and loggers."""
    cases = []
    for n, drive in enumerate(OTHERS):
        cases += [
            Case(f"2 lunch {drive}", make(lunch, drive), must_read=True),
            Case(
                f"2 shift at 0.5 s {drive}",
                make(shifts, drive, 0.5, days=0.6),
                Style(clock="elapsed", unit="W", digits=1),
                must_read=n < 0,
            ),
            Case(
                f"2 coarse steps {drive}",
                make(lunch, drive, logger={"resolution_kw": 0.02}),
                Style(digits=2),
                must_read=True,
            ),
            Case(
                f"2 noisy {drive}", make(lunch, drive, logger={"noise": 0.02}), sound=False, words="strokes stand out"
            ),
            Case(f"2 ready all night {drive}", make(left_ready, drive, 2), sound=False, words="coarse", judge=COMMON),
            Case(f"2 fan {drive}", make(fan, drive), sound=False, words="count as ready|other load|strokes start"),
            Case(
                f"2 at 5 s {drive}",
                make(shifts, drive, 5),
                sound=False,
                words="coarse|cannot be told apart",
                judge=("powers", "energy"),
            ),
        ]
    cases += [
        Case(
            "2 two days left on",
            make(shifts, "large hydraulic", 5, days=4.0, left_on=(1, 2)),
            sound=False,
            words="coarse|apart",
        ),
        Case(
            "2 rows lost",
            thinned(make(lunch, "shear"), 0.02),
            judge=("powers",),
            sound=False,
            words="strokes stand|not logged",
        ),
        Case(
            "2 pairs out of order",
            make(lunch, "servo"),
            Style(change=shuffled_pairs),
            False,
            "started again|same time",
            judge=COMMON,
        ),
    ]
    return cases


def faulty() -> list[Case]:
    """Logs with a fault that must be seen."""
    short = {"hours": 2.2, "every_s": 31.0}
    base = make(plain, "large belt", **short)
    codes = "no number|code|left out|set aside"
    phases = "phase|balance"
    three = ("P L1", "P L2", "P L3")
    cases = [
        Case(
            "2 clamp on the wrong phase",
            base,
            Style(phases=(0.33, 0.34, 0.33), digits=4, change=turned_phases),
            False,
            phases,
        ),
        Case(
            "2 third phase reversed, RST",
            base,
            Style(phases=(0.33, 0.34, -0.33), phase_headings=("P R", "P S", "P T")),
            False,
            phases,
        ),
        Case("2 leaning phases", base, Style(phases=(0.30, 0.42, 0.28), phase_headings=three), False, phases, judge=()),
        Case("2 decimal comma in a comma file", base, Style(change=odd_rows), False, "fields|set aside"),
        Case("2 all decimal commas in a comma file", base, Style(decimal=","), False, "fields|decimal"),
        Case("2 compressor", bursts("large hydraulic", 5.5, 25, 300), Style(), False, "another load|other load|longer"),
        Case("2 compressor long", bursts("shear", 3.0, 90, 700), Style(), False, "another|other load|longer"),
        Case("2 compressor small", bursts("servo", 2.2, 240, 900), Style(), False, "another|other load|longer"),
        Case(
            "2 clipped large", make(lunch, "large hydraulic", logger={"full_range_kw": 20.0}), Style(), False, "range"
        ),
        Case(
            "2 clipped watts",
            make(lunch, "shear", logger={"full_range_kw": 6.5535}),
            Style(unit="W", digits=1),
            False,
            "range",
        ),
        Case("2 highest only", base, Style(heading="Highest power [{unit}]"), False, "highest"),
        Case("2 spitze only", base, Style(heading="Spitzenleistung ({unit})"), False, "highest"),
        Case("2 MW over kW", base, Style(unit="kW", heading="P [MW]"), False, "unit", ({"unit": "kW"},)),
        Case(
            "2 kW over watts shear",
            make(plain, "shear", **short),
            Style(written_as="W", digits=0),
            False,
            "unit",
            ({"unit": "W"},),
        ),
        Case("2 negative sign convention", lambda seed: _negative(base(seed)), Style(), False, "wrong way"),
        Case("2 blanks in production", base, Style(over_range=(10.5, " ")), False, codes),
        Case("2 not available", base, Style(change=put(1, lambda r: "n/a", 0.02)), False, codes),
        Case("2 minus at the end", base, Style(change=put(1, lambda r: "2.8-", 0.01)), False, codes),
        Case("2 two signs", base, Style(change=put(1, lambda r: "--2.8", 0.01)), False, codes),
        Case("2 underscore", base, Style(change=put(1, lambda r: "2_8", 0.01)), False, codes),
        Case("2 hash", base, Style(over_range=(9.0, "######")), False, codes),
        Case("2 -999", base, Style(over_range=(9.0, "-999"), unit="W", digits=1), False, codes),
        Case("2 32767", base, Style(over_range=(9.0, "327670"), unit="W", digits=0), False, codes),
        Case(
            "2 dst spring zone",
            make(shifts, "shear", 5, days=2.0),
            Style(start="2026-03-28T00:00:00"),
            False,
            "apart|gap",
        ),
        Case(
            "2 dst autumn", make(shifts, "shear", 5, days=2.0), Style(start="2026-10-24T00:00:00"), False, "apart|clock"
        ),
        Case("2 phase beside its machine", base, Style(heading="P L2 [{unit}]", after=("PF",)), False, phases),
    ]
    return cases


def _negative(readings: Readings) -> Readings:
    return Readings(readings.seconds, -readings.power_kw, readings.step_s, readings.truth)


def second_corpus() -> list[Case]:
    """All cases of the second corpus."""
    return [*sound(), *used(), *faulty()]
