"""A power logger's file as a series of real power at even steps, with what was noticed on the way.

Delimiter, decimal comma, headings, units, one or three phases and energy counters are recognised; gaps stay gaps, and a restart of
the logger starts a new stretch. What cannot be told for certain is refused with the columns and options that decide it.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_text
from xlfab.meter.clock import Times, read_times
from xlfab.meter.log_columns import Column, Roles, assign

Series = NDArray[np.float64]
LOG_BYTES = 400_000_000  # a week at 1 s with a dozen columns is below 100 MB
COARSEST_S = 60.5
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?$")
_DATED = re.compile(r"\d{1,4}[-./:]\d{1,2}[-./:]\d")


@dataclass
class Log:
    """Real power at even steps (NaN where nothing was logged), and what else the file holds."""

    title: str
    step_s: float
    power_kw: Series
    start: Any = None
    apparent_kva: Series | None = None
    strokes: Series | None = None
    notes: list[str] = field(default_factory=list)

    @property
    def hours(self) -> float:
        """Hours for which there is a reading."""
        return float(np.isfinite(self.power_kw).sum()) * self.step_s / 3600

    @property
    def energy_kwh(self) -> float:
        """Energy of all readings."""
        return float(np.nansum(self.power_kw)) * self.step_s / 3600


def read_log(path: Path, columns: tuple[str, ...] = (), unit: str = "", zone: str = "", stroke: str = "") -> Log:
    """Read a logger's file. Named columns, unit, time zone and stroke column go before what the headings say."""
    text = read_text(path, LOG_BYTES)
    delimiter, headings, first_row, comma = _layout(text, path.name)
    roles = assign(headings, columns, unit, stroke, path.name)
    table = _table(text, delimiter, len(headings), first_row, comma, roles.time)
    notes: list[str] = []
    numbers = {column.place: _numbers(table[column.place]) for column in _numeric(roles)}
    times = _times(table, headings, roles, zone, path.name)
    notes += times.notes
    power = _power(roles, numbers, times.seconds, notes, path.name)
    apparent = _apparent(roles, numbers, power)
    strokes = _increments(numbers[roles.stroke.place]) if roles.stroke else None
    _check_readable(power, times.seconds, path.name, notes)
    return _even(path.name, times, power, apparent, strokes, notes)


def _numeric(roles: Roles) -> list[Column]:
    return [*roles.power, *roles.energy, *roles.apparent, *(c for c in (roles.factor, roles.stroke) if c)]


# --- the file as a table of texts ------------------------------------------------------------------------------------


def _layout(text: str, file: str) -> tuple[str, list[str], int, bool]:
    """Delimiter, headings, the line at which the data start, and whether decimals have a comma; lines before the headings are skipped."""
    lines = text[:200_000].splitlines()[:400]
    for delimiter in (";", "\t", "|", ","):
        widths = Counter(line.count(delimiter) for line in lines if _is_data(line, delimiter))
        if widths and widths.most_common(1)[0][0] > 0:
            width = widths.most_common(1)[0][0]
            break
    else:
        raise ScenarioError(f"{file}: no rows of a time and numbers were found; allowed separators are ; tab | and ,")
    first = next(n for n, line in enumerate(lines) if _is_data(line, delimiter) and line.count(delimiter) == width)
    rows = [_fields(line, delimiter) for line in lines[first:]]
    comma = any(re.fullmatch(r"[+-]?\d+,\d+", part) for row in rows for part in row)
    above = [_fields(line, delimiter) for line in lines[max(0, first - 2) : first] if line.count(delimiter) == width]
    if not above:
        if width != 1:
            raise ScenarioError(f"{file}: the columns have no headings; add a line with a name and a unit for each")
        return delimiter, ["time", "power"], first, comma
    headings = [" ".join(part for part in parts if part).strip() for parts in zip(*above, strict=True)]
    return delimiter, headings, first, comma


def _fields(line: str, delimiter: str) -> list[str]:
    return [part.strip().strip('"') for part in line.split(delimiter)]


def _is_data(line: str, delimiter: str) -> bool:
    """True if a line has a number or a date in its first two fields and a number somewhere."""
    parts = _fields(line, delimiter)
    dated = any(_NUMBER.match(part) or _DATED.match(part) for part in parts[:2])
    return len(parts) > 1 and dated and any(_NUMBER.match(part) for part in parts[1:])


def _table(text: str, delimiter: str, width: int, first_row: int, comma: bool, times: list[int]) -> Any:
    import pandas as pd

    table = pd.read_csv(
        io.StringIO(text),
        sep=delimiter,
        decimal="," if comma else ".",
        header=None,
        names=range(width),
        index_col=False,
        skiprows=first_row,
        dtype=dict.fromkeys(times, str),
        on_bad_lines="skip",
        low_memory=False,
    )
    for place in times:
        table[place] = table[place].fillna("").str.strip()
    return table


def _numbers(column: Any) -> Series:
    """A column as numbers; where a text stands among them, decimal comma or point, and NaN where there is no number."""
    import pandas as pd

    if column.dtype.kind in "fiu":
        return np.asarray(column, dtype=np.float64)
    texts = column.astype(str).str.strip()
    comma = texts.str.contains(",", regex=False)
    if comma.any():
        both = texts[comma & texts.str.contains(".", regex=False)]
        thousands = "," if len(both) and both.iloc[0].rfind(",") < both.iloc[0].rfind(".") else "."
        texts = texts.str.replace(thousands, "", regex=False).str.replace(",", ".", regex=False)
    return np.asarray(pd.to_numeric(texts, errors="coerce"), dtype=np.float64)


def _times(table: Any, headings: list[str], roles: Roles, zone: str, file: str) -> Times:
    texts = table[roles.time[0]]
    if len(roles.time) == 2:
        texts = texts + " " + table[roles.time[1]]
    return read_times(texts, headings[roles.time[0]], zone, file)


# --- power from what the columns hold ---------------------------------------------------------------------------------


def _power(roles: Roles, numbers: dict[int, Series], seconds: Series, notes: list[str], file: str) -> Series:
    if roles.power:
        if len(roles.power) > 1:
            notes.append(f"sum of {len(roles.power)} phases: {', '.join(c.heading for c in roles.power)}")
        return np.sum([numbers[c.place] * c.factor for c in roles.power], axis=0)
    counter = np.sum([numbers[c.place] * c.factor for c in roles.energy], axis=0)
    steps = np.diff(counter, prepend=np.nan)
    gaps = np.diff(seconds, prepend=np.nan)
    falling = steps < 0
    if np.nanmean(falling) > 0.1:
        raise ScenarioError(
            f"{file}: '{roles.energy[0].heading}' is no counter: it falls in {np.nanmean(falling):.0%} of the rows"
        )
    if falling.any():
        notes.append(f"the energy counter started again {int(falling.sum())} times; those steps are left out")
    notes.append("power from the differences of an energy counter")
    with np.errstate(all="ignore"):
        power = np.where(falling | (gaps <= 0), np.nan, steps / gaps * 3600)
    _check_counter_steps(steps[~falling], power, np.nanmedian(gaps), file)
    return power


def _check_counter_steps(steps: Series, power: Series, gap: float, file: str) -> None:
    """Refuse a counter whose smallest step is larger than what flows between two rows."""
    smallest = np.min(steps[steps > 0], initial=np.inf)
    if smallest * 3600 / gap > 0.25 * np.nanpercentile(power, 99):
        raise ScenarioError(
            f"{file}: the counter's smallest step ({smallest:g} kWh) is too coarse for rows every {gap:g} s: "
            f"it tells power in steps of {smallest * 3600 / gap:.3g} kW only; log real power, or read the counter less often"
        )


def _apparent(roles: Roles, numbers: dict[int, Series], power: Series) -> Series | None:
    if roles.apparent:
        return np.asarray(np.sum([numbers[c.place] * c.factor for c in roles.apparent], axis=0))
    if roles.factor is not None:
        factor = np.abs(numbers[roles.factor.place])
        factor = factor / 100 if np.nanmax(factor) > 1.5 else factor
        with np.errstate(all="ignore"):
            return np.where(factor > 0.01, power / factor, np.nan)
    return None


def _increments(counts: Series) -> Series:
    """Strokes in each row, from a running count or from marks of 0 and 1."""
    filled = np.nan_to_num(counts)
    if filled.max(initial=0) <= 1:
        return filled
    return np.maximum(np.diff(filled, prepend=filled[0]), 0)


def _check_readable(power: Series, seconds: Series, file: str, notes: list[str]) -> None:
    good = np.isfinite(power) & np.isfinite(seconds)
    bad = int((~good).sum())
    if good.sum() < 2 or bad > 0.2 * len(good):
        row = int(np.argmax(~good)) + 1
        raise ScenarioError(
            f"{file}: {bad} of {len(good)} rows hold no time or no number (the first is data row {row})"
        )
    if bad:
        notes.append(f"{bad} rows without a time or a number are left out")
    if np.median(power[good]) < 0:
        raise ScenarioError(f"{file}: power is negative most of the time: the current clamps point the wrong way")


# --- even steps ----------------------------------------------------------------------------------------------------------


def _even(
    file: str, times: Times, power: Series, apparent: Series | None, strokes: Series | None, notes: list[str]
) -> Log:
    """Put the rows on a grid of even steps; one or two missing rows are bridged, longer gaps stay gaps."""
    good = np.isfinite(power) & np.isfinite(times.seconds)
    seconds, step = _monotone(times.seconds[good], notes)
    if step > COARSEST_S:
        raise ScenarioError(
            f"{file}: one row every {step:g} s is too coarse to tell states apart; log at 60 s or shorter, best at 1 s"
        )
    place = np.rint((seconds - seconds[0]) / step).astype(np.int64)
    if place[-1] > 50_000_000:
        raise ScenarioError(f"{file}: the times span {seconds[-1] / 86400:.0f} days at {step:g} s; cut the file")
    count = np.bincount(place)
    with np.errstate(all="ignore"):
        even = [
            None if values is None else np.bincount(place, weights=np.nan_to_num(values[good])) / count
            for values in (power, apparent)
        ]
    grid = even[0]
    assert grid is not None
    _bridge(grid, 2)
    missing = float(np.isnan(grid).sum()) * step
    if missing:
        runs = np.count_nonzero(np.diff(np.isnan(grid).astype(np.int8)) == 1)
        notes.append(f"{missing / 3600:.2f} h in {runs} gaps are not logged and not counted")
    marks = None if strokes is None else np.bincount(place, weights=strokes[good]).astype(np.float64)
    return Log(file, step, grid, times.start, even[1], marks, notes)


def _monotone(seconds: Series, notes: list[str]) -> tuple[Series, float]:
    """Times that never run back: an hour set back by the clock is put right, a restart follows one step after the row before."""
    steps = np.diff(seconds)
    step = float(np.median(steps[steps > 0])) if np.any(steps > 0) else np.nan
    if not np.isfinite(step):
        raise ScenarioError("the times of the log do not move forward")
    step = round(step) if abs(step - round(step)) < 0.02 * step and step > 0.5 else step
    back = steps < -0.5 * step
    hour = back & (np.abs(steps + 3600 - step) < 2 * step + 1)
    if hour.any():
        notes.append(f"the clock was set back an hour {int(hour.sum())} times")
    if (back & ~hour).any():
        notes.append(
            f"the logger started again {int((back & ~hour).sum())} times; the time between is not known and not counted"
        )
    # a restart leaves a gap of three steps, so that nothing is bridged across it
    steps = np.where(hour, steps + 3600, np.where(back, 4 * step, np.maximum(steps, 0)))
    return np.concatenate([[0.0], np.cumsum(steps)]), step


def _bridge(values: Series, longest: int) -> None:
    """Fill gaps of at most so many steps with the value before them, in place."""
    gap = np.isnan(values)
    edges = np.flatnonzero(np.diff(gap.astype(np.int8), prepend=0, append=0))
    firsts, ends = edges[::2], edges[1::2]
    short = ends - firsts <= longest
    for first, end in zip(firsts[short], ends[short], strict=True):
        values[first:end] = values[first - 1] if first else values[end]
