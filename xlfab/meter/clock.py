"""The time column of a logger's file: many ways of writing it, turned into seconds from the first row."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.errors import ScenarioError

_ISO = re.compile(r"\d{4}-\d{1,2}-\d{1,2}([T ]\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?\s*(Z|[+-]\d{2}:?\d{2})?)?$")
_DATE = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})[ T,]+\d")
_CLOCK = re.compile(r"\d{1,2}:\d{2}(:\d{2}([.,]\d+)?)?(\s*[AaPp][Mm])?$")
DAY = 86_400.0


@dataclass
class Times:
    """Seconds from the first row, when that was (None if the file tells no date), and what was noticed."""

    seconds: NDArray[np.float64]
    start: Any = None
    notes: list[str] = field(default_factory=list)


def read_times(texts: Any, heading: str, zone: str, file: str) -> Times:
    """Read a time column (a pandas text column). NaN where a row has no time."""
    first = next((text for text in texts[:50] if text.strip()), "")
    number = _as_numbers(texts[:50])
    if np.isfinite(number).mean() > 0.8:
        return _from_numbers(_as_numbers(texts), heading, zone)
    if _CLOCK.match(first.strip()):
        return _from_clock(texts)
    return _from_dates(texts, first.strip(), zone, file)


def _as_numbers(texts: Any) -> NDArray[np.float64]:
    import pandas as pd

    return np.asarray(pd.to_numeric(texts.str.replace(",", ".", regex=False), errors="coerce"), dtype=np.float64)


def _from_numbers(values: NDArray[np.float64], heading: str, zone: str) -> Times:
    """Epoch seconds or milliseconds, spreadsheet days, or elapsed time in the heading's unit."""
    import pandas as pd

    middle = float(np.nanmedian(values))
    if middle > 1e11:
        values, middle = values / 1000, middle / 1000
    if 5e8 < middle < 5e9:
        start = pd.Timestamp(float(values[np.isfinite(values)][0]), unit="s", tz="UTC")
        return Times(values - values[np.isfinite(values)][0], start.tz_convert(zone) if zone else start)
    if 20_000 < middle < 80_000 and np.nanmax(values) - np.nanmin(values) < 400 and np.any(values % 1):
        start = pd.Timestamp("1899-12-30") + pd.Timedelta(float(values[np.isfinite(values)][0]), unit="D")
        return Times((values - values[np.isfinite(values)][0]) * DAY, start.round("ms"))
    text = heading.lower()
    factor = 1.0
    for pattern, seconds in ((r"\bms\b|milli", 0.001), (r"\bmin|minut", 60.0), (r"\bh\b|hour|stunde", 3600.0)):
        if re.search(pattern, text):
            factor = seconds
    return Times((values - values[np.isfinite(values)][0]) * factor)


def _from_clock(texts: Any) -> Times:
    """Time of day without a date: midnight is passed where the clock jumps back by about a day."""
    import pandas as pd

    kind = "%I:%M:%S %p" if texts.iloc[0].strip().lower().endswith("m") else None
    if kind:
        moments = pd.to_datetime(texts.str.strip(), format=kind, errors="coerce")
        seconds = np.asarray((moments - moments.min().normalize()).dt.total_seconds(), dtype=np.float64)
    else:
        padded = texts.str.strip().str.replace(",", ".", regex=False)
        padded = padded.where(padded.str.count(":") == 2, padded + ":00")
        seconds = np.asarray(pd.to_timedelta(padded, errors="coerce").dt.total_seconds(), dtype=np.float64)
    days = np.cumsum(np.where(np.nan_to_num(np.diff(seconds, prepend=seconds[:1])) < -DAY / 2, DAY, 0.0))
    return Times(seconds + days - seconds[np.isfinite(seconds)][0], None, ["the file tells no date"])


def _from_dates(texts: Any, first: str, zone: str, file: str) -> Times:
    import pandas as pd

    notes: list[str] = []
    if _ISO.match(first):
        aware = bool(re.search(r"(Z|[+-]\d{2}:?\d{2})$", first[10:]))
        pointed = texts.str.replace(",", ".", regex=False) if "," in first else texts
        moments = pd.to_datetime(pointed, format="ISO8601", utc=aware, errors="coerce")
    else:
        moments, aware = _by_pattern(texts, first, file, notes), False
    if moments.notna().mean() < 0.5:
        raise ScenarioError(
            f"{file}: the time '{first}' is not in a form that is known (2024-05-31 06:00:00, 31.05.2024 06:00, ...)"
        )
    known = moments[moments.notna()]
    if aware:
        start = known.iloc[0].tz_convert(zone) if zone else known.iloc[0]
    else:
        start = known.iloc[0]
        if zone:
            moments = _localised(moments, zone, notes)
            start = moments[moments.notna()].iloc[0].tz_convert(zone)
    seconds = np.asarray((moments - moments[moments.notna()].iloc[0]).dt.total_seconds(), dtype=np.float64)
    return Times(seconds, start, notes)


def _localised(moments: Any, zone: str, notes: list[str]) -> Any:
    """Local clock times in a zone, as UTC; the doubled hour in autumn is told apart by the order of the rows."""
    try:
        aware = moments.dt.tz_localize(zone, ambiguous="infer", nonexistent="shift_forward")
    except Exception:  # pandas raises its own errors where the order of the rows does not tell
        aware = moments.dt.tz_localize(zone, ambiguous=True, nonexistent="shift_forward")
        notes.append("times in the doubled hour in autumn were read as summer time")
    return aware.dt.tz_convert("UTC")


def _by_pattern(texts: Any, first: str, file: str, notes: list[str]) -> Any:
    """Dates written with . / or -, day or month or year first; seconds, fractions and AM/PM as they come."""
    import pandas as pd

    match = _DATE.match(first)
    if match is None:
        raise ScenarioError(
            f"{file}: the time '{first}' is not in a form that is known (2024-05-31 06:00:00, 31.05.2024 06:00, ...)"
        )
    order = _date_order(texts, match[2], len(match[1]) == 4, first, notes)
    year = "%Y" if max(len(match[1]), len(match[4])) == 4 else "%y"
    date = match[2].join({"d": "%d", "m": "%m", "y": year}[letter] for letter in order)
    clock = first[match.end() - 1 :]
    half = clock.strip().lower().endswith("m")
    form = "%I" if half else "%H"
    form += ":%M:%S" if clock.count(":") == 2 else ":%M"
    if not re.match(r"\S+ \d", first) or "," in first[: match.end()]:
        texts = texts.str.replace(r"[,T ]+", " ", n=1, regex=True)
    if re.search(r"[.,]\d", clock):
        texts, form = texts.str.replace(r",(\d+)", r".\1", regex=True), form + ".%f"
    return pd.to_datetime(texts, format=date + " " + form + (" %p" if half else ""), errors="coerce")


def _date_order(texts: Any, separator: str, year_first: bool, first: str, notes: list[str]) -> str:
    if year_first:
        return "ymd"
    if separator == ".":
        return "dmy"
    parts = texts.str.extract(r"^(\d{1,2})\D(\d{1,2})\D").astype(float)
    high = parts.max()
    if high[0] > 12:
        return "dmy"
    if high[1] > 12 or first.lower().endswith("m"):
        return "mdy"
    # both can be a month: the one that stays the same over the file is
    order = "mdy" if parts[1].nunique() > parts[0].nunique() else "dmy"
    notes.append(
        f"the date '{first}' was read as {'month/day' if order == 'mdy' else 'day/month'}; hours and powers do not depend on it"
    )
    return order
