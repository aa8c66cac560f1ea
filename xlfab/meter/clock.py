"""The time column of a logger's file: many ways of writing it, turned into seconds from the first row.

A `Clock` is set up from a sample of the file and reads the rows in batches; each different date and time of day is read once.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError

Series = NDArray[np.float64]
_DATE = re.compile(r"([0-9]{1,4})([./-])([0-9]{1,2})\2([0-9]{1,4})[T, ]*")
_DAY = re.compile(r"([0-9]{1,4})[./-]([0-9]{1,2})[./-]([0-9]{1,4})")
_TIME = re.compile(
    r"([0-9]{1,5}):([0-9]{2})(?::([0-9]{2})(?:[.,]([0-9]{1,9}))?)?\s*([AaPp]\.?[Mm]\.?)?\s*(Z|[+-][0-9]{2}:?[0-9]{2})?$"
)
_NUMBER = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?(?:[eE][+-]?[0-9]+)?$")
DAY = 86_400.0
YEARS = (1970, 2199)  # what a logger's clock can show
KNOWN = "2026-05-31 06:00:00, 31.05.2026 06:00, 5/31/2026 6:00 AM, seconds, ..."


@dataclass
class Times:
    """Seconds from the first row, when that was (None if the file tells no date), and what was noticed."""

    seconds: Series
    start: Any = None
    notes: list[str] = field(default_factory=list)


class _Memo(dict[str, float]):
    """Texts read once each."""

    def __init__(self, read: Callable[[str], float]) -> None:
        super().__init__()
        self.read = read

    def __missing__(self, text: str) -> float:
        if len(self) > 200_000:
            self.clear()
        self[text] = self.read(text)
        return self[text]


class Clock:
    """How a file writes time: as numbers, as time of day alone, or as dates with a time of day."""

    def __init__(self, samples: Sequence[tuple[str, ...]], heading: str, file: str) -> None:
        """`samples` are rows of the time column, or of a date column and a time column."""
        self.heading = heading
        self.notes: list[str] = []
        self.texts = [text for row in samples if (text := " ".join(part.strip() for part in row).strip())]
        first = self.texts[0] if self.texts else ""
        self.aware = False
        if np.mean([bool(_NUMBER.match(text)) for text in self.texts[:50]] or [False]) > 0.8:
            self.kind = "number"
        elif _TIME.match(first):
            self.kind = "time of day"
        else:
            self.kind = "date"
            self._set_up_dates(first, file)
        self._days, self._clocks = _Memo(self._day), _Memo(_clock)

    def _set_up_dates(self, first: str, file: str) -> None:
        match = _DATE.match(first)
        clock = _TIME.match(first[match.end() :]) if match else None
        if match is None or (clock is None and first[match.end() :].strip()):
            raise ScenarioError(f"{file}: the time '{first[:40]}' is not in a form that is known ({KNOWN})")
        self.aware = bool(clock and clock[6])
        self.order = self._date_order(match[2], len(match[1]) == 4, first)
        self.between = "T" if first[match.end(4) :].startswith("T") else " "  # day and time of day

    def _date_order(self, separator: str, year_first: bool, first: str) -> str:
        if year_first:
            return "ymd"
        if separator == ".":
            return "dmy"
        parts = np.array([[int(m[1]), int(m[3])] for text in self.texts if (m := _DATE.match(text))])
        if parts[:, 0].max() > 12:
            return "dmy"
        clock = _TIME.search(first)
        if parts[:, 1].max() > 12 or (clock is not None and clock[5]):
            return "mdy"
        # both can be a month: the one that stays the same over the file is
        order = "mdy" if len(set(parts[:, 1])) > len(set(parts[:, 0])) else "dmy"
        self.notes.append(
            f"the date '{first}' was read as {'month/day' if order == 'mdy' else 'day/month'}; hours and powers do not depend on it"
        )
        return order

    def _day(self, text: str) -> float:
        match = _DAY.fullmatch(text.strip(" ,"))
        if match is None:
            return math.nan
        year, month, day = (int(match[self.order.index(letter) + 1]) for letter in "ymd")
        year = year + 2000 if year < 100 else year
        if not YEARS[0] <= year <= YEARS[1]:
            return math.nan
        try:
            return date(year, month, day).toordinal() * DAY
        except ValueError:
            return math.nan

    def read(self, columns: Sequence[Sequence[Any]]) -> Series:
        """A batch of the time column (or of date and time) as seconds, not yet from the first row; NaN where there is no time."""
        count = len(columns[0])
        if self.kind == "number":
            return np.fromiter((_plain_number(text) for text in columns[0]), dtype=np.float64, count=count)
        if self.kind == "time of day":
            return np.fromiter((self._clocks[str(text)] for text in columns[-1]), dtype=np.float64, count=count)
        days, clocks = self._days, self._clocks
        if len(columns) == 2:
            sums = (days[str(day)] + clocks[str(clock)] for day, clock in zip(*columns, strict=True))
        else:
            parted = (str(text).partition(self.between) for text in columns[0])
            sums = (days[day] + clocks[clock] for day, _, clock in parted)
        return np.fromiter(sums, dtype=np.float64, count=count)

    def finish(self, seconds: Series, zone: str = "") -> Times:
        """All batches together, as seconds from the first row with a time; `seconds` itself is changed, for it is large."""
        good = np.isfinite(seconds)
        if not good.any():
            raise ScenarioError(f"the time column '{self.heading}' holds no time that can be read ({KNOWN})")
        first = float(seconds[np.argmax(good)])
        if self.kind == "number":
            return self._from_numbers(seconds, first, zone)
        if self.kind == "time of day":
            back = np.nan_to_num(np.diff(seconds, prepend=seconds[:1])) < -DAY / 2
            return Times(seconds + np.cumsum(back) * DAY - first, None, [*self.notes, "the file tells no date"])
        return self._from_dates(seconds, first, zone)

    def _from_numbers(self, values: Series, first: float, zone: str) -> Times:
        """Epoch seconds or milliseconds, spreadsheet days, or elapsed time in the heading's unit."""
        import pandas as pd

        if first > 1e11:
            values, first = values / 1000, first / 1000
        if 5e8 < first < 5e9:
            start = pd.Timestamp(first, unit="s", tz="UTC")
            return Times(values - first, start.tz_convert(zone) if zone else start, self.notes)
        if 20_000 < first < 80_000 and np.nanmax(values) - np.nanmin(values) < 400 and np.any(values % 1):
            start = pd.Timestamp("1899-12-30") + pd.Timedelta(first, unit="D")
            return Times((values - first) * DAY, start.round("ms"), self.notes)
        text, factor = self.heading.lower(), 1.0
        for pattern, seconds in ((r"\bms\b|milli", 0.001), (r"\bmin|minut", 60.0), (r"\bh\b|hour|stunde", 3600.0)):
            factor = seconds if re.search(pattern, text) else factor
        return Times((values - first) * factor, None, self.notes)

    def _from_dates(self, seconds: Series, first: float, zone: str) -> Times:
        import pandas as pd

        epoch = date(1970, 1, 1).toordinal() * DAY
        start = pd.Timestamp(first - epoch, unit="s", tz="UTC" if self.aware else None)
        if self.aware or not zone:
            seconds -= first
        if self.aware:
            return Times(seconds, start.tz_convert(zone) if zone else start, self.notes)
        if not zone:
            return Times(seconds, start, self.notes)
        moments = _localised(pd.Series(pd.to_datetime(seconds - epoch, unit="s")), zone, self.notes)
        known = moments[moments.notna()].iloc[0]
        apart = np.asarray((moments - known).dt.total_seconds(), dtype=np.float64)
        return Times(apart, known.tz_convert(zone), self.notes)


def check_zone(zone: str) -> None:
    """Refuse the name of a time zone that is not known; blank is none."""
    from zoneinfo import ZoneInfo

    try:
        ZoneInfo(zone or "UTC")
    except (KeyError, ValueError, OSError) as error:
        raise ScenarioError(f"--time-zone {zone[:60]}: there is no such zone; write it as Europe/Vienna") from error


def read_times(texts: Sequence[str], heading: str, zone: str, file: str) -> Times:
    """Read a short time column at once."""
    clock = Clock([(text,) for text in texts], heading, file)
    return clock.finish(clock.read([texts]), zone)


def _plain_number(text: Any) -> float:
    if isinstance(text, (int, float)):
        return float(text)
    text = text.strip()
    return float(text.replace(",", ".")) if len(text) <= 40 and _NUMBER.match(text) else math.nan


def _clock(text: str) -> float:
    """Seconds of a time of day, in UTC where it names its distance from it; 0 for a blank (midnight in some exports)."""
    text = text.strip()
    if not text:
        return 0.0
    match = _TIME.fullmatch(text)
    if match is None:
        return math.nan
    hours = int(match[1])
    if match[5]:
        hours = hours % 12 + (12 if match[5][0] in "pP" else 0)
    seconds = hours * 3600 + int(match[2]) * 60 + int(match[3] or 0) + float(f"0.{match[4] or 0}")
    if match[6] and match[6] != "Z":
        away = int(match[6][1:3]) * 3600 + int(match[6][-2:]) * 60
        seconds -= away if match[6][0] == "+" else -away
    return seconds


def _localised(moments: Any, zone: str, notes: list[str]) -> Any:
    """Local clock times in a zone, as UTC; the doubled hour in autumn is told apart by the order of the rows."""
    try:
        aware = moments.dt.tz_localize(zone, ambiguous="infer", nonexistent="shift_forward")
    except ValueError:  # pandas' own error, where the order of the rows does not tell
        aware = moments.dt.tz_localize(zone, ambiguous=True, nonexistent="shift_forward")
        notes.append("times in the doubled hour in autumn were read as summer time")
    return aware.dt.tz_convert("UTC")
