"""Which column of a logger's file is what: real power, apparent power, power factor, energy counter, time, stroke counter.

Nothing is guessed silently: a column without a unit, or several that could be meant, is an error that names them.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from xlfab.core.errors import ScenarioError

# unit as loggers print it -> kind of quantity and factor to kW, kVA, kWh
_UNITS = {
    "w": ("power", 0.001),
    "kw": ("power", 1.0),
    "mw": ("power", 1000.0),
    "va": ("apparent", 0.001),
    "kva": ("apparent", 1.0),
    "wh": ("energy", 0.001),
    "kwh": ("energy", 1.0),
    "mwh": ("energy", 1000.0),
    "var": ("reactive", 0.001),
    "kvar": ("reactive", 1.0),
    "v": ("voltage", 1.0),
    "a": ("current", 1.0),
    "hz": ("frequency", 1.0),
}
_WORDS = {
    "factor": r"power.?factor|cos.?(phi|φ)|\bpf\b|leistungsfaktor|facteur",
    "apparent": r"apparent|scheinleistung|apparente|aparente",
    "reactive": r"reactive|blindleistung|blindarbeit|réactive|reactiva",
    "stroke": r"stroke|\bhub|hübe|piece|\bcycles?\b|\bcount(er)?\b|stück|event|ereignis",
    "energy": r"energy|energie|arbeit|zählerstand|énergie|energía",
    "power": r"power|leistung|puissance|potencia|\bp\b|\bp_?(tot|sum|total)",
    "date": r"\bdate\b|datum|fecha|\bday\b",
    "time": r"time|zeit|uhr|stamp|hora|heure|epoch|unix|elapsed|seconds|sekunden|\bt\b",
}
_TOTAL = re.compile(r"total|\btot\b|sum|σ|∑|gesamt|\bsys|3.?ph|_tot", re.IGNORECASE)
_PHASE = re.compile(r"(?:^|[^a-z0-9])(?:l|p|ph|phase|w|kw)?[ _]?([123]|[abc]|[rst])(?:[^a-z0-9]|$)", re.IGNORECASE)
_BRACKET = re.compile(r"[\[(]\s*([^\])]{1,8})\s*[\])]")


@dataclass(frozen=True)
class Column:
    """One column of the file: where it stands, its heading, what it holds, and the factor to kW, kVA or kWh."""

    place: int
    heading: str
    kind: str
    factor: float


@dataclass
class Roles:
    """The columns that are used."""

    time: list[int]
    power: list[Column] = field(default_factory=list)
    energy: list[Column] = field(default_factory=list)
    apparent: list[Column] = field(default_factory=list)
    factor: Column | None = None
    stroke: Column | None = None


def recognise(heading: str) -> tuple[str, float]:
    """What a heading says: kind of quantity, and factor (0 if it names no unit).

    >>> recognise("P total [W]"), recognise("Energie_kWh"), recognise("Active power")
    (('power', 0.001), ('energy', 1.0), ('power', 0.0))
    """
    text = heading.strip().lower()
    worded = next((kind for kind, pattern in _WORDS.items() if re.search(pattern, text)), "")
    unit = _unit_of(text)
    if unit and worded != "factor":
        return _UNITS[unit]
    return worded, 1.0 if worded in ("factor", "stroke") else 0.0


def _unit_of(text: str) -> str:
    for found in _BRACKET.findall(text):
        if found.strip() in _UNITS:
            return str(found.strip())
    words = re.split(r"[\s_/\-,;:\[\]()]+", text)
    # a single letter counts as a unit only at the end (`P1_W`), where it is not the name of a phase
    for word in reversed(words):
        if word in _UNITS and (len(word) > 1 or word == words[-1] != text):
            return word
    return ""


def assign(headings: Sequence[str], wanted: Sequence[str], unit: str, stroke: str, file: str) -> Roles:
    """Give each column its role; `wanted` names power or energy columns, `unit` the unit where the heading has none."""
    columns = [Column(place, heading.strip(), *recognise(heading)) for place, heading in enumerate(headings)]
    named = [_find(columns, name, file) for name in wanted]
    if named:
        usable = [_with_unit(column, unit, file, named=True) for column in named]
    else:
        loads = [c for c in columns if c.kind in ("power", "energy")]
        usable = [c for c in loads if c.factor] or [_with_unit(c, unit, file) for c in loads]
    taken = {column.place for column in named}
    roles = Roles(_time_places(columns, taken))
    power = [column for column in usable if column.kind == "power"]
    energy = [column for column in usable if column.kind == "energy"]
    roles.power = power if named else _one_load(power, file)
    roles.energy = [] if roles.power else (energy if named else _one_load(energy, file))
    if not roles.power and not roles.energy:
        raise ScenarioError(_nothing_usable(columns, file))
    roles.apparent = _one_load([c for c in columns if c.kind == "apparent" and c.factor], file, strict=False)
    roles.factor = next((c for c in columns if c.kind == "factor" and not _PHASE.search(c.heading)), None)
    if stroke:
        roles.stroke = _find(columns, stroke, file)
    else:
        roles.stroke = next((c for c in columns if c.kind == "stroke"), None)
    return roles


def _time_places(columns: list[Column], taken: set[int]) -> list[int]:
    dates = [c.place for c in columns if c.kind == "date" and c.place not in taken]
    times = [c.place for c in columns if c.kind == "time" and c.place not in taken]
    if dates and times and "date" not in columns[times[0]].heading.lower():
        return [dates[0], times[0]]
    return (times or dates or [0])[:1]


def _find(columns: list[Column], name: str, file: str) -> Column:
    for column in columns:
        if column.heading.casefold() == name.strip().casefold():
            return column
    raise ScenarioError(f"{file}: there is no column '{name}'; there are {_listed(columns)}")


def _with_unit(column: Column, unit: str, file: str, named: bool = False) -> Column:
    if column.factor and column.kind in ("power", "energy"):
        return column
    if unit:
        kind, factor = _UNITS[unit.lower()]
        return Column(column.place, column.heading, kind, factor)
    what = "holds no power or energy" if named and column.kind not in ("power", "energy", "") else "has no unit"
    raise ScenarioError(f"{file}: column '{column.heading}' {what}; say which with --unit (W, kW, Wh or kWh)")


def _one_load(columns: list[Column], file: str, strict: bool = True) -> list[Column]:
    """The one column, the total, or the three phases that make one load."""
    if len(columns) <= 1:
        return columns
    totals = [column for column in columns if _TOTAL.search(column.heading)]
    if len(totals) == 1:
        return totals
    phases = [_PHASE.search(column.heading) for column in columns]
    marks = {match[1].lower() for match in phases if match}
    if len(columns) in (2, 3) and all(phases) and len(marks) == len(columns):
        return columns
    if not strict:
        return []
    raise ScenarioError(f"{file}: several columns could be meant: {_listed(columns)}; name yours with --column")


def _nothing_usable(columns: list[Column], file: str) -> str:
    kinds = {column.kind for column in columns}
    if kinds & {"current", "voltage", "apparent"}:
        return (
            f"{file}: it holds {_listed(columns)} but no real power; volts times amperes overstates the power of an idling motor "
            "several times, so log real power in W or kW, or a kWh counter"
        )
    return f"{file}: no column holds power or energy; there are {_listed(columns)}; name it with --column and --unit"


def _listed(columns: list[Column]) -> str:
    return ", ".join(f"'{column.heading}'" for column in columns[:12])
