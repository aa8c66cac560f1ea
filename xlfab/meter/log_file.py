"""A power logger's file as a series of real power at even steps, with what was noticed on the way.

Separator, decimal sign, headings, units, one or three phases, counters and energy per step are recognised; gaps stay gaps, and a
restart of the logger starts a new stretch. What cannot be told for certain is refused with the columns and options that decide it.
The file is read once, in batches: 60 days at 1 s stay below 400 MB of memory.
"""

from __future__ import annotations

from array import array
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.core.writing import CONTROLS
from xlfab.meter import channel_checks, even_steps, phases
from xlfab.meter.clock import Clock, Times, check_zone
from xlfab.meter.counters import power_of_counter
from xlfab.meter.log_columns import Column, Roles, assign
from xlfab.meter.log_numbers import Faults, Form, Reader, cell_unit, faults_of, form_of, high_reading
from xlfab.meter.log_rows import Rows, open_log

Series = NDArray[np.float64]
Values = NDArray[np.floating[Any]]
COARSEST_S = 60.5
BAD_SHARE = 0.2


@dataclass
class Log:
    """Real power at even steps (NaN where nothing was logged), and what else the file holds.

    `notes` say how the file was read, `limits` what its readings must not be trusted for.
    """

    title: str
    step_s: float
    power_kw: Values
    start: Any = None
    apparent_kva: Values | None = None
    strokes: Values | None = None
    notes: list[str] = field(default_factory=list)
    limits: list[str] = field(default_factory=list)

    @property
    def hours(self) -> float:
        """Hours for which there is a reading."""
        return float(np.isfinite(self.power_kw).sum()) * self.step_s / 3600

    @property
    def energy_kwh(self) -> float:
        """Energy of all readings."""
        return float(np.nansum(self.power_kw, dtype=np.float64)) * self.step_s / 3600


@dataclass(frozen=True)
class Stated:
    """What the user says of the file: it goes before what the file says itself."""

    columns: tuple[str, ...] = ()
    unit: str = ""
    zone: str = ""
    stroke: str = ""
    decimal: str = ""  # "." or ","


def read_log(
    path: Path, columns: tuple[str, ...] = (), unit: str = "", zone: str = "", stroke: str = "", decimal: str = ""
) -> Log:
    """Read a logger's file. Named columns, unit, time zone, stroke column and decimal sign go before what the file says."""
    check_zone(zone)
    stated = Stated(columns, unit, zone, stroke, decimal)
    rows = open_log(path)
    roles = _roles(rows, stated)
    clock = Clock(
        [tuple(str(row[place]) for place in roles.time) for row in rows.sample], rows.headings[roles.time[0]], path.name
    )
    log = Log(CONTROLS.sub("?", path.name), 0.0, np.zeros(0))
    readers = _readers(rows, roles, stated, log.notes)
    seconds, series = _read(rows, roles, clock, readers)
    _check_cell_units(roles, readers, path.name)
    times = clock.finish(seconds, zone)
    del seconds
    log.notes += times.notes
    _check_sound(rows, roles, readers, times, series, log)
    rows_read = len(times.seconds)
    power = _power(roles, series, times, log)
    power = channel_checks.without_codes(power, roles.load, log)
    channel_checks.check_unit(power, roles, unit, path.name)
    channel_checks.check_range(power, log)
    further = (
        {}
        if len(power) < rows_read
        else {
            "apparent": _apparent(roles, series, power),
            "strokes": channel_checks.stroke_increments(series, roles.stroke, bool(stroke), log),
        }
    )
    series.clear()
    return _even(log, times, power, further)


def _roles(rows: Rows, stated: Stated) -> Roles:
    """The columns; a unit that stands in the cells counts where the heading has none."""
    units = {unit for place in range(len(rows.headings)) if (unit := cell_unit(row[place] for row in rows.sample[:50]))}
    unit = units.pop() if len(units) == 1 else ""
    return assign(rows.headings, stated.columns, stated.unit, stated.stroke, rows.path.name, unit)


def _readers(rows: Rows, roles: Roles, stated: Stated, notes: list[str]) -> dict[int, Reader]:
    """A reader of numbers for each column, in the form that the file proves."""
    numeric = {column.place: column for column in roles.numeric}
    forms = {
        place: form_of(row[place] for row in rows.sample)
        for place in range(len(rows.headings))
        if place not in roles.time
    }
    sure = {form.decimal for form in forms.values() if form.proved}
    others = sure.pop() if len(sure) == 1 else ""
    readers = {}
    for place, column in numeric.items():
        texts = [row[place] for row in rows.sample]
        form = form_of(texts, others)
        if stated.decimal:
            form = Form(stated.decimal, True)
        elif form.open_text:
            form = _settled(form, texts, column, rows.path.name)
        if form.note:
            notes.append(form.note)
        readers[place] = Reader(form)
    return readers


def _settled(form: Form, texts: list[Any], column: Column, file: str) -> Form:
    """A number with two readings: the one with which a machine's power is possible, or a question that shows both."""
    sign = "," if "," in form.open_text else "."
    choices = {name: Form(mark, mark != sign) for name, mark in (("point", "."), ("comma", ","))}
    highest = {name: column.factor * high_reading(texts, choice) for name, choice in choices.items()}
    possible = [name for name, kw in highest.items() if channel_checks.LEAST_KW <= kw <= channel_checks.MOST_KW]
    both = ", ".join(f"highest readings of {kw:.3g} kW with --decimal {name}" for name, kw in highest.items())
    if column.kind == "power" and len(possible) == 1 and form.consistent:
        mark = choices[possible[0]]
        note = f"'{form.open_text}' has two readings ({both}); only --decimal {possible[0]} is possible for a machine and was taken"
        return Form(mark.decimal, mark.grouped, note=note)
    raise ScenarioError(
        f"{file}: column '{column.heading}': '{form.open_text}' has two readings, and nothing in the file decides: {both}; say which"
    )


def _read(rows: Rows, roles: Roles, clock: Clock, readers: dict[int, Reader]) -> tuple[Series, dict[int, Values]]:
    """All rows once: times, and the numbers of each column (single precision holds a reading, not a counter)."""
    places = [*roles.time, *readers]
    exact = {column.place for column in roles.energy if roles.load is roles.energy}
    seconds = array("d")  # arrays that grow in place: lists of batches would need the memory twice when they are joined
    grown = {place: array("d" if place in exact else "f") for place in readers}
    for line, columns in rows.columns(places):
        seconds.frombytes(clock.read(columns[: len(roles.time)]).tobytes())
        for (place, reader), texts in zip(readers.items(), columns[len(roles.time) :], strict=True):
            grown[place].frombytes(reader.read(texts, line).astype(grown[place].typecode).tobytes())
    if not seconds:
        raise ScenarioError(f"{rows.path.name}: no row has the fields of the headings")
    return np.frombuffer(seconds), {place: np.frombuffer(values, values.typecode) for place, values in grown.items()}


def _check_cell_units(roles: Roles, readers: dict[int, Reader], file: str) -> None:
    """A unit behind the number and another one in the heading: nobody can tell which counts."""
    for column in roles.load:
        for unit in readers[column.place].units:
            if column.factor != 1.0:
                raise ScenarioError(
                    f"{file}: column '{column.heading}' has cells in {unit}; take the unit out of the heading or out of the cells"
                )


def _check_sound(
    rows: Rows, roles: Roles, readers: dict[int, Reader], times: Times, series: dict[int, Values], log: Log
) -> None:
    """Refuse a file in which many rows cannot be read; say what was set aside in the others."""
    load = [column.place for column in roles.load]
    good = np.isfinite(times.seconds)
    for place in load:
        good &= np.isfinite(series[place])
    odd = sum(rows.odd.values())
    bad, total = int((~good).sum()) + odd, len(good) + odd
    faults = faults_of([readers[place] for place in load])
    if good.sum() < 2 or bad > BAD_SHARE * total:
        raise ScenarioError(f"{log.title}: {bad} of {total} rows hold no time or no number{_first_fault(faults)}")
    if odd:
        log.limits.append(
            f"{odd} rows have another number of fields than the headings (the first near line {rows.odd_line}); they are set aside, "
            "not read"
        )
    if faults.count:
        log.limits.append(
            f"{faults.count} readings are no number and are left out{_first_fault(faults)}{_high(series, load)}"
        )
    missing = int((~np.isfinite(times.seconds)).sum())
    if missing:
        log.notes.append(f"{missing} rows without a time that can be read are left out")


def _first_fault(faults: Faults) -> str:
    if not faults.count:
        return ""
    texts = ", ".join(f"'{text}'" for text in faults.texts)
    return f": {texts} (the first near line {faults.line}: {faults.reason})"


def _high(series: dict[int, Values], load: list[int]) -> str:
    """Words for readings that are missing where the power is high: the meter's range was probably too small."""
    values = series[load[0]]
    gone = np.flatnonzero(np.isnan(values))
    beside = np.concatenate([np.maximum(gone - 1, 0), np.minimum(gone + 1, len(values) - 1)])
    known = values[beside][np.isfinite(values[beside])]
    if len(known) < 5 or np.mean(known > np.nanquantile(values, 0.9)) < 0.4:
        return ""
    return "; they lie where power is high, so strokes and the 15-minute maximum may be read too low (a code for over range?)"


def _power(roles: Roles, series: dict[int, Values], times: Times, log: Log) -> Values:
    """Power in kW of each row, from one column, from three phases, or from an energy counter."""
    if roles.power:
        checked = [*roles.power, *roles.checked]
        phases.check(roles, {column.place: series[column.place] for column in checked}, log)
        power = series[roles.power[0].place] * np.float32(roles.power[0].factor)
        for column in roles.power[1:]:
            power += series[column.place] * np.float32(column.factor)
        if np.nanmedian(power) < 0:
            raise ScenarioError(
                f"{log.title}: power is negative most of the time: the current clamps point the wrong way"
            )
        return power
    return power_of_counter(roles.energy, series, times, log)


def _apparent(roles: Roles, series: dict[int, Values], power: Values) -> Values | None:
    if roles.apparent:
        return np.asarray(sum(series[column.place] * np.float32(column.factor) for column in roles.apparent))
    if roles.factor is not None:
        factor = np.abs(series[roles.factor.place])
        factor = factor / 100 if np.nanmax(factor, initial=0.0) > 1.5 else factor
        with np.errstate(all="ignore"):
            return np.where(factor > 0.01, power / factor, np.nan).astype(np.float32)
    return None


def _even(log: Log, times: Times, power: Values, further: dict[str, Values | None]) -> Log:
    """The rows on a grid of even steps."""
    seconds = times.seconds
    if even_steps.newest_first(seconds):
        log.notes.append("the newest row stands first; the rows are read in the order of their times")
        seconds, power = seconds[::-1], power[::-1]
        further = {name: None if values is None else values[::-1] for name, values in further.items()}
    good = np.isfinite(power) & np.isfinite(seconds)
    log.step_s, place = even_steps.places(seconds, good, log)
    times.seconds = np.zeros(0)
    if log.step_s > COARSEST_S:
        raise ScenarioError(
            f"{log.title}: one row every {log.step_s:g} s is too coarse to tell states apart; log at 60 s or shorter, best at 1 s"
        )
    log.start = times.start
    log.power_kw = even_steps.mean_on_grid(place, power[good])
    even_steps.bridge(log.power_kw, 2)
    even_steps.say_gaps(log)
    apparent, strokes = further.get("apparent"), further.get("strokes")
    if apparent is not None:
        log.apparent_kva = even_steps.mean_on_grid(place, apparent[good])
    if strokes is not None:
        log.strokes = np.bincount(place, weights=strokes[good], minlength=len(log.power_kw)).astype(np.float64)
    return log
