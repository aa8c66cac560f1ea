"""Sound logs in the styles of loggers, counters and coarse steps: read right, or asked."""

from __future__ import annotations

from typing import Any

from .case import Case, of, run
from .machines import plain, shifts
from .writing import Style


def writing_styles() -> list[Case]:
    """Sound logs in many styles: all must be read or asked, and right."""
    semicolon = {"delimiter": ";", "decimal": ","}
    styles: dict[str, tuple[Style, tuple[dict[str, Any], ...]]] = {
        "comma": (Style(), ()),
        "semicolon comma": (Style(**semicolon), ()),
        "semicolon point": (Style(delimiter=";"), ()),
        "tab comma": (Style(delimiter="\t", decimal=","), ()),
        "tab point": (Style(delimiter="\t", suffix=".txt"), ()),
        "comma quoted decimal comma": (Style(decimal=",", quoted=True), ()),
        "whole watts": (Style(unit="W", digits=0), ()),
        "whole watts, thousands comma": (Style(unit="W", digits=0, thousands=",", quoted=True), ()),
        "whole watts, thousands comma, tab": (Style(unit="W", digits=0, thousands=",", delimiter="\t"), ()),
        "whole watts, thousands point": (Style(unit="W", digits=0, thousands=".", delimiter=";"), ()),
        "whole watts, thousands space": (Style(unit="W", digits=0, thousands=" ", delimiter=";"), ()),
        "whole watts, thousands thin space": (Style(unit="W", digits=0, thousands="\u202f", delimiter=";"), ()),
        "whole watts, thousands apostrophe": (Style(unit="W", digits=0, thousands="'", delimiter=";"), ()),
        "watts 1 digit, both signs": (Style(unit="W", digits=1, thousands=".", **semicolon), ()),
        "watts 2 digits, both signs us": (Style(unit="W", digits=2, thousands=",", quoted=True), ()),
        "kW 1 digit": (Style(digits=1), ()),
        "kW 2 digits comma": (Style(digits=2, **semicolon), ()),
        "kW 3 digits comma": (Style(digits=3, **semicolon), ()),
        "kW 4 digits": (Style(digits=4), ()),
        "cells with unit": (Style(digits=2, cell_unit=" kW", heading="Power", **semicolon), ()),
        "cells with unit watts": (Style(unit="W", digits=0, cell_unit=" W", heading="Active power"), ()),
        "cells with unit no space": (Style(digits=3, cell_unit="kW", heading="Real power"), ()),
        "heading without unit": (Style(heading="Active power"), ({"unit": "kW"},)),
        "german": (
            Style(heading="Wirkleistung gesamt [{unit}]", clock="day first", digits=2, **semicolon),
            (),
        ),
        "german watts thousands": (
            Style(heading="Leistung ({unit})", unit="W", digits=0, thousands=".", clock="day first", delimiter=";"),
            (),
        ),
        "french": (Style(heading="Puissance active ({unit})", clock="day slash", digits=2, **semicolon), ()),
        "preamble": (Style(preamble=("Logger: hall 2", "Serial;123", "Interval: 1 s", "")), ()),
        "more columns": (Style(after=("S", "Q", "PF", "U", "I")), ()),
        "columns before": (Style(before=("I", "U"), after=("PF",)), ()),
        "row number": (Style(before=("row",)), ()),
        "row number german": (Style(before=("row",), names={"row": "Nr."}, **semicolon), ()),
        "count column": (Style(before=("count",)), ()),
        "count column last": (Style(after=("count",), names={"count": "Counter"}), ()),
        "avg max min": (Style(heading="P avg [{unit}]", after=("Pmax", "Pmin")), ()),
        "max first": (Style(heading="P avg [{unit}]", before=("Pmax", "Pmin")), ()),
        "max avg plain": (Style(heading="P [{unit}]", before=("Pmax",)), ()),
        "apparent beside": (Style(heading="P [{unit}]", unit="W", digits=0, before=("S",)), ()),
        "epoch": (Style(clock="epoch"), ()),
        "epoch ms": (Style(clock="epoch ms"), ()),
        "serial days": (Style(clock="serial"), ()),
        "elapsed": (Style(clock="elapsed"), ()),
        "elapsed hms": (Style(clock="elapsed hms"), ()),
        "iso T": (Style(clock="iso T"), ()),
        "iso z": (Style(clock="iso z"), ()),
        "iso offset": (Style(clock="iso offset"), ()),
        "iso ms": (Style(clock="iso ms"), ()),
        "day first": (Style(clock="day first", **semicolon), ()),
        "day first short": (Style(clock="day first short", **semicolon), ()),
        "day first, both ways": (Style(clock="day slash", start="2026-04-03T08:00:00"), ()),
        "month first": (Style(clock="month first"), ()),
        "split": (Style(clock="split", **semicolon), ()),
        "time only": (Style(clock="time only", start="2026-03-16T07:00:00"), ()),
        "time only over midnight": (Style(clock="time only", start="2026-03-16T23:00:00"), ()),
        "newest first": (Style(newest_first=True), ()),
        "unix line ends": (Style(line_end="\n"), ()),
        "utf-8 mark": (Style(mark=True), ()),
        "utf-16 mark": (Style(encoding="utf-16-le", mark=True, delimiter="\t"), ()),
        "utf-16 big mark": (Style(encoding="utf-16-be", mark=True, delimiter=";", decimal=","), ()),
        "utf-16 no mark": (Style(encoding="utf-16-le", delimiter="\t"), ()),
        "utf-16 big no mark": (Style(encoding="utf-16-be", delimiter=";"), ()),
        "latin-1": (Style(encoding="cp1252", heading="Leistung gesamt [{unit}]", preamble=("Gerät: Halle 2",)), ()),
        "xlsx": (Style(suffix=".xlsx"), ()),
        "xlsx watts": (Style(suffix=".xlsx", unit="W", digits=0, after=("PF",)), ()),
        "xlsx preamble": (Style(suffix=".xlsx", preamble=("Logger: hall 2", "Interval 1 s")), ()),
        "xlsx row number": (Style(suffix=".xlsx", before=("row",)), ()),
        "three phases": (Style(phases=(0.334, 0.333, 0.333), digits=4), ()),
        "three phases watts": (Style(phases=(0.34, 0.33, 0.33), unit="W", digits=0), ()),
        "three phases total": (Style(phases=(0.34, 0.33, 0.33), total=True, heading="P total [{unit}]"), ()),
        "three phases comma": (
            Style(phases=(0.34, 0.33, 0.33), phase_headings=("P1", "P2", "P3"), digits=3, **semicolon),
            (),
        ),
        "time zone": (Style(clock="iso", zone="America/Chicago", start="2026-06-01T06:00:00"), ()),
    }
    cases = [
        Case(f"style {name}", run(), style, answers=answers, must_read=True)
        for name, (style, answers) in styles.items()
    ]
    counters = {
        "counter kWh 3": Style(kind="counter", unit="kWh", heading="E [{unit}]"),
        "counter Wh": Style(kind="counter", unit="Wh", heading="Energy [{unit}]", digits=0),
        "counter Wh thousands": Style(
            kind="counter", unit="Wh", heading="Zaehlerstand [{unit}]", digits=0, thousands=".", delimiter=";"
        ),
        "counter kWh 6": Style(kind="counter", unit="kWh", heading="E [{unit}]", digits=6),
        "interval Wh": Style(kind="interval", unit="Wh", heading="Interval energy [{unit}]", digits=3),
        "interval kWh": Style(kind="interval", unit="kWh", heading="Energy per interval [{unit}]", digits=6),
        "interval whole Wh": Style(kind="interval", unit="Wh", heading="Consumption [{unit}]", digits=0),
    }
    judge = ("powers", "energy", "hours")
    for name, style in counters.items():
        coarse = style.digits in (0, 3) and name != "interval Wh"
        # a counter in single Wh cannot show the 37 s between two strokes, and a log without pauses has no other rest
        cases.append(
            Case(
                f"style {name}, no pauses",
                run(noise=0.0),
                style,
                not coarse,
                "cannot be told|never at rest",
                judge=judge,
            )
        )
        cases.append(
            Case(
                f"style {name}, a shift",
                of(shifts, "hydraulic", noise=0.0),
                style,
                judge=judge,
                must_read=name != "interval whole Wh",
            )
        )
    return cases


def coarse() -> list[Case]:
    """Counters and intervals of minutes: production cannot be split, energy must be right."""
    judge = ("energy", "powers", "hours")
    days = {"days": 3.0}
    return [
        Case(
            "quarter hours of interval energy",
            of(shifts, "hydraulic", 900, days=14.0),
            Style(kind="interval", unit="kWh", heading="Energy per interval [{unit}]"),
            judge=judge,
        ),
        Case(
            "quarter hours, consumption",
            of(shifts, "ball screw", 900, days=14.0),
            Style(kind="interval", unit="Wh", digits=0, heading="Consumption [{unit}]"),
            judge=judge,
        ),
        Case(
            "coarse counter 0.1 kWh at 60 s",
            of(shifts, "hydraulic", 60, noise=0.0, **days),
            Style(kind="counter", unit="kWh", digits=1, heading="Meter reading [{unit}]"),
            judge=judge,
        ),
        Case(
            "coarse counter 1 kWh at 60 s",
            of(shifts, "hydraulic", 60, noise=0.0, **days),
            Style(kind="counter", unit="kWh", digits=0, heading="E [{unit}]"),
            judge=judge,
        ),
        Case(
            "counter 0.01 kWh at 1 s",
            of(plain, "hydraulic", 1, noise=0.0),
            Style(kind="counter", unit="kWh", digits=2, heading="Active energy [{unit}]"),
            judge=judge,
        ),
        Case("minutes", of(shifts, "hydraulic", 60, days=2.0), judge=judge),
        Case("five minutes", of(shifts, "hydraulic", 300, days=6.0), judge=judge),
        Case("ten seconds", of(shifts, "hydraulic", 10), judge=judge),
    ]
