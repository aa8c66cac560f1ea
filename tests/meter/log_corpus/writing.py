"""Readings into a file, in the styles of loggers: separators, number forms, clocks, headings, encodings, further columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np

from .logger import Readings

Cells = list[Any]


@dataclass(frozen=True)
class Style:
    """How a logger writes."""

    delimiter: str = ","
    decimal: str = "."
    thousands: str = ""
    digits: int = 3
    unit: str = "kW"
    written_as: str = ""  # the unit of the values where the heading lies
    heading: str = "P [{unit}]"
    kind: str = "power"  # power, counter, interval
    clock: str = "iso"
    start: str = "2026-03-16T00:00:00"
    zone: str = "Europe/Vienna"
    encoding: str = "utf-8"
    mark: bool = False
    preamble: tuple[str, ...] = ()
    cell_unit: str = ""
    quoted: bool = False
    before: tuple[str, ...] = ()  # further columns before and after the power
    after: tuple[str, ...] = ()
    phases: tuple[float, ...] = ()  # share of each phase; negative: reversed
    phase_headings: tuple[str, ...] = ("P L1", "P L2", "P L3")
    total: bool = False  # a total beside the phases
    own_power: bool = True  # False: no column of real power at all
    over_range: tuple[float, str] = (np.inf, "")  # above this power [kW] the logger writes a code
    newest_first: bool = False
    line_end: str = "\r\n"
    suffix: str = ".csv"
    change: Callable[[list[list[Any]], np.random.Generator], list[list[Any]]] | None = None
    names: dict[str, str] = field(default_factory=dict)


SCALE = {"W": 1000.0, "kW": 1.0, "Wh": 1000.0, "kWh": 1.0, "MWh": 0.001, "VA": 1000.0, "kVA": 1.0}


def number(value: float, style: Style, digits: int | None = None) -> str:
    """A number in the style's form."""
    digits = style.digits if digits is None else digits
    text = f"{value:,.{digits}f}" if style.thousands else f"{value:.{digits}f}"
    return text.replace(",", "\0").replace(".", style.decimal).replace("\0", style.thousands)


def power_cells(readings: Readings, style: Style) -> Cells:
    """Cells of the power column."""
    scale = SCALE[style.written_as or style.unit]
    if style.kind == "counter":
        counted = 48_217.35 + np.concatenate([[0.0], np.cumsum(readings.power_kw * readings.step_s / 3600)])[1:]
        values = np.floor(counted * scale * 10**style.digits) / 10**style.digits
    elif style.kind == "interval":
        values = readings.power_kw * readings.step_s / 3600 * scale
    else:
        values = readings.power_kw * scale
    if style.suffix == ".xlsx":
        return [round(float(value), style.digits) for value in values]
    cells: Cells = [number(value, style) + style.cell_unit for value in values]
    limit, code = style.over_range
    return [code if kw > limit else cell for cell, kw in zip(cells, readings.power_kw, strict=True)]


def extra_cells(name: str, readings: Readings, style: Style, rng: np.random.Generator) -> tuple[str, Cells]:
    """A further column: heading and cells."""
    kw, n = readings.power_kw, len(readings.power_kw)
    factor = np.clip(0.35 + 0.055 * np.abs(kw), 0.3, 0.95)
    kva = np.abs(kw) / factor
    scale = SCALE[style.written_as or style.unit] if style.kind == "power" else 1.0
    letter = style.unit if style.kind == "power" else "kW"
    columns: dict[str, tuple[str, Any, int]] = {
        "row": ("No.", np.arange(1, n + 1), 0),
        "count": ("Count", np.arange(1, n + 1), 0),
        "U": ("U L1 [V]", 230 + rng.normal(0, 1, n), 1),
        "I": ("I L1 [A]", kva / 3 / 0.23, 2),
        "PF": ("PF", factor, 3),
        "S": (f"S [{letter.replace('W', 'VA')}]", kva * scale, style.digits),
        "Q": (f"Q [{letter.replace('W', 'var')}]", np.sqrt(np.maximum(kva**2 - kw**2, 0)) * scale, style.digits),
        "Pmax": (f"P max [{letter}]", (kw + np.abs(rng.normal(0.1, 0.05, n)) * (1 + kw)) * scale, style.digits),
        "Pmin": (f"P min [{letter}]", (kw - np.abs(rng.normal(0.05, 0.02, n)) * (1 + kw)) * scale, style.digits),
        "T": ("Temp [C]", 22 + rng.normal(0, 0.2, n), 1),
        "status": ("Status", np.zeros(n), 0),
        "strokes": ("Strokes", readings.extra.get("strokes", np.zeros(n)), 0),
    }
    heading, values, digits = columns[name]
    heading = style.names.get(name, heading)
    if style.suffix == ".xlsx":
        return heading, [round(float(value), digits) for value in values]
    return heading, [number(float(value), style, digits) for value in values]


def clock_cells(readings: Readings, style: Style) -> tuple[list[str], list[Cells]]:
    """Headings and cells of the clock."""
    seconds = readings.seconds
    start = datetime.fromisoformat(style.start).replace(tzinfo=ZoneInfo(style.zone))
    base = start.astimezone(UTC)
    forms = {
        "iso": "%Y-%m-%d %H:%M:%S",
        "iso T": "%Y-%m-%dT%H:%M:%S",
        "iso z": "%Y-%m-%dT%H:%M:%SZ",
        "iso offset": "%Y-%m-%dT%H:%M:%S%z",
        "iso ms": "%Y-%m-%d %H:%M:%S.000",
        "day first": "%d.%m.%Y %H:%M:%S",
        "day first short": "%d.%m.%y %H:%M:%S",
        "day slash": "%d/%m/%Y %H:%M:%S",
        "month first": "%m/%d/%Y %I:%M:%S %p",
        "time only": "%H:%M:%S",
    }
    if style.clock in ("elapsed", "epoch", "epoch ms", "serial"):
        offset, factor, digits = {
            "elapsed": (0.0, 1.0, 0),
            "epoch": (base.timestamp(), 1.0, 0),
            "epoch ms": (base.timestamp(), 1000.0, 0),
            "serial": (46_097.0 * 86_400, 1 / 86_400, 6),
        }[style.clock]
        heading = {"elapsed": "Elapsed [s]", "epoch": "Timestamp", "epoch ms": "Timestamp", "serial": "Date Time"}
        return [heading[style.clock]], [
            [f"{(offset + s) * factor:.{digits}f}".replace(".", style.decimal) for s in seconds]
        ]
    if style.clock == "elapsed hms":
        return ["Elapsed"], [[f"{int(s) // 3600:02d}:{int(s) % 3600 // 60:02d}:{int(s) % 60:02d}" for s in seconds]]
    zone = UTC if style.clock == "iso z" else ZoneInfo(style.zone)
    moments = [(base + timedelta(seconds=float(s))).astimezone(zone) for s in seconds]
    if style.suffix == ".xlsx":
        return ["Time"], [[moment.replace(tzinfo=None) for moment in moments]]
    if style.clock == "split":
        return ["Date", "Time"], [[f"{m:%d.%m.%Y}" for m in moments], [f"{m:%H:%M:%S}" for m in moments]]
    return ["Time"], [[m.strftime(forms[style.clock]) for m in moments]]


def rows_of(readings: Readings, style: Style, rng: np.random.Generator) -> list[list[Any]]:
    """Heading and rows."""
    headings, columns = clock_cells(readings, style)
    columns = [list(column) for column in columns]
    for name in style.before:
        heading, cells = extra_cells(name, readings, style, rng)
        headings, columns = [heading, *headings], [cells, *columns]
    if style.phases:
        scale = SCALE[style.unit]
        for share, heading in zip(style.phases, style.phase_headings, strict=False):
            wobble = 1 + rng.normal(0, 0.01, len(readings.power_kw))
            cells = [number(v, style) for v in readings.power_kw * share * wobble * scale]
            headings, columns = [*headings, f"{heading} [{style.unit}]"], [*columns, cells]
    if style.own_power and (style.total or not style.phases):
        headings, columns = [*headings, style.heading.format(unit=style.unit)], [*columns, power_cells(readings, style)]
    for name in style.after:
        heading, cells = extra_cells(name, readings, style, rng)
        headings, columns = [*headings, heading], [*columns, cells]
    body = [list(row) for row in zip(*columns, strict=True)]
    if style.newest_first:
        body.reverse()
    rows = [headings, *body]
    return style.change(rows, rng) if style.change else rows


def write(folder: Path, name: str, readings: Readings, style: Style, seed: int) -> Path:
    """Write a log; returns the file."""
    rows = rows_of(readings, style, np.random.default_rng(seed + 500))
    path = folder / (name.replace(" ", "-").replace("/", "-") + style.suffix)
    if style.suffix == ".xlsx":
        from xlsxwriter import Workbook

        with Workbook(path, {"default_date_format": "yyyy-mm-dd hh:mm:ss", "constant_memory": True}) as book:
            sheet = book.add_worksheet("Log")
            for place, row in enumerate([[line] for line in style.preamble] + rows):
                sheet.write_row(place, 0, row)
        return path
    buffer = io.StringIO()
    for line in style.preamble:
        buffer.write(line + style.line_end)
    quoting = csv.QUOTE_ALL if style.quoted else csv.QUOTE_MINIMAL
    csv.writer(buffer, delimiter=style.delimiter, lineterminator=style.line_end, quoting=quoting).writerows(rows)
    data = buffer.getvalue().encode(style.encoding)
    marks = {"utf-8": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
    path.write_bytes((marks[style.encoding] if style.mark else b"") + data)
    return path
