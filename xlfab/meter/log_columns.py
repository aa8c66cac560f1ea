"""Which column of a logger's file is what: real power, apparent power, power factor, energy, time, stroke counter.

Nothing is guessed silently: a column without a unit, or several that could be meant, is an error that names them. Highest and
lowest values of each step are no power to count with, a row number counts no strokes, and one phase is no machine.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from xlfab.core.errors import ScenarioError

# unit as loggers print it -> kind of quantity and factor to kW, kVA, kWh
UNITS = {
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
    "stroke": r"stroke|\bhub|hübe|\bcoups\b|golpes",
    "energy": r"energy|energie|arbeit|z(ä|ae)hlerstand|énergie|energía|consumption|verbrauch|meter reading|index",
    "power": r"power|leistung|puissance|potencia|\bp\b|\bp[ _]?(tot|sum|total|avg|mean|mittel|max|min)|\bp(max|min|avg)",
    "date": r"\bdate\b|datum|fecha|\bday\b",
    "time": r"time|zeit|uhr|stamp|hora|heure|epoch|unix|elapsed|seconds|sekunden|\bt\b",
    "row": r"^(no|nr|n°|#|row|rec|record|index|lfd|count|counter|sample|point|id)\b|^#",
}
_EXTREME = re.compile(r"max|min(?!ut)|peak|spitze|höchst|hoechst|tiefst|pico|crête|crete|highest|lowest", re.IGNORECASE)
_MEAN = re.compile(r"avg|average|mean|mittel|moyen|media|promedio|ø", re.IGNORECASE)
_INTERVAL = re.compile(
    r"interval|intervall|per (step|row|record|period)|consumption|verbrauch|consommation|consumo|delta", re.IGNORECASE
)
_TOTAL = re.compile(r"total|\btot\b|sum|σ|∑|gesamt|\bsys|3.?ph|_tot", re.IGNORECASE)
_PHASE = re.compile(r"(?:^|[^a-z0-9])(?:l|p|ph|phase|w|kw)?[ _]?([123]|[abc]|[rst])(?:[^a-z0-9]|$)", re.IGNORECASE)
_BRACKET = re.compile(r"[\[(]\s*([^\])]{1,8})\s*[\])]")


@dataclass(frozen=True)
class Column:
    """One column of the file: where it stands, its heading, what it holds, and the factor to kW, kVA or kWh (0: not known)."""

    place: int
    heading: str
    kind: str
    factor: float

    @property
    def interval(self) -> bool:
        """True if it holds the energy of each step, not a running count."""
        return self.kind == "energy" and bool(_INTERVAL.search(self.heading))

    @property
    def phase(self) -> str:
        """The phase that the heading names, blank if none."""
        match = _PHASE.search(self.heading)
        return match[1].lower() if match and not _TOTAL.search(self.heading) else ""


@dataclass
class Roles:
    """The columns that are used; `checked` are the phases beside a total, `named` that the user said which columns count."""

    time: list[int]
    power: list[Column] = field(default_factory=list)
    energy: list[Column] = field(default_factory=list)
    checked: list[Column] = field(default_factory=list)
    apparent: list[Column] = field(default_factory=list)
    factor: Column | None = None
    stroke: Column | None = None
    named: bool = False

    @property
    def load(self) -> list[Column]:
        """The columns that the power comes from."""
        return self.power or self.energy

    @property
    def numeric(self) -> list[Column]:
        """All columns whose numbers are read."""
        return [*self.load, *self.checked, *self.apparent, *(c for c in (self.factor, self.stroke) if c)]


def recognise(heading: str) -> tuple[str, float]:
    """What a heading says: kind of quantity, and factor (0 if it names no unit).

    >>> recognise("P total [W]"), recognise("Energie_kWh"), recognise("Active power"), recognise("P max [kW]")
    (('power', 0.001), ('energy', 1.0), ('power', 0.0), ('extreme', 1.0))
    """
    text = heading.strip().lower()
    worded = next((kind for kind, pattern in _WORDS.items() if re.search(pattern, text)), "")
    unit = _unit_of(text)
    kind, factor = (worded, 1.0 if worded in ("factor", "stroke") else 0.0)
    if unit and worded != "factor":
        kind, factor = UNITS[unit]
    if kind in ("power", "apparent", "energy", "factor") and _EXTREME.search(text) and not _MEAN.search(text):
        return "extreme", factor
    return kind, factor


def _unit_of(text: str) -> str:
    for found in _BRACKET.findall(text):
        if found.strip() in UNITS:
            return str(found.strip())
    words = re.split(r"[\s_/\-,;:\[\]()]+", text)
    # a single letter counts as a unit only at the end (`P1_W`), where it is not the name of a phase
    for word in reversed(words):
        if word in UNITS and (len(word) > 1 or word == words[-1] != text):
            return word
    return ""


def assign(
    headings: Sequence[str], wanted: Sequence[str], unit: str, stroke: str, file: str, cell_unit: str = ""
) -> Roles:
    """Give each column its role; `wanted` names the columns, `unit` goes before what the heading says, `cell_unit` after it."""
    columns = [Column(place, heading.strip(), *recognise(heading)) for place, heading in enumerate(headings)]
    named = [_find(columns, name, file) for name in wanted]
    loads = named or [c for c in columns if c.kind in ("power", "energy")]
    if not named and any(c.factor for c in loads):
        loads = [c for c in loads if c.factor]
    usable = [_with_unit(c, unit, cell_unit, file, bool(named)) for c in loads]
    roles = Roles(_time_places(columns, {column.place for column in named}), named=bool(named))
    power = [column for column in usable if column.kind == "power"]
    energy = [column for column in usable if column.kind == "energy"]
    roles.power = power if named else _one_load(power, file)
    roles.energy = [] if roles.power else (energy if named else _one_load(energy, file))
    if not roles.load:
        raise ScenarioError(_nothing_usable(columns, file))
    if not named and roles.power:
        roles.checked = [c for c in power if c.phase and c not in roles.power][:3]
    roles.apparent = _one_load([c for c in columns if c.kind == "apparent" and c.factor], file, strict=False)
    roles.factor = next((c for c in columns if c.kind == "factor" and not _PHASE.search(c.heading)), None)
    roles.stroke = _find(columns, stroke, file) if stroke else next((c for c in columns if c.kind == "stroke"), None)
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


def _with_unit(column: Column, unit: str, cell_unit: str, file: str, named: bool) -> Column:
    if column.kind == "extreme":
        raise ScenarioError(f"{file}: '{column.heading}' holds highest or lowest values, no mean power; {_MEAN_POWER}")
    if unit:
        kind, factor = UNITS[unit.lower()]
        if column.kind in ("power", "energy", "") or named:
            return Column(column.place, column.heading, kind, factor)
    if column.factor and column.kind in ("power", "energy"):
        return column
    if cell_unit and column.kind in ("power", "energy", ""):
        return Column(column.place, column.heading, UNITS[cell_unit.lower()][0], 1.0)
    what = "holds no power or energy" if named and column.kind not in ("power", "energy", "") else "has no unit"
    raise ScenarioError(f"{file}: column '{column.heading}' {what}; say which with --unit (W, kW, Wh or kWh)")


_MEAN_POWER = "energy and hours need the mean power of each step: let the logger write 'P avg', or a kWh counter"


def _one_load(columns: list[Column], file: str, strict: bool = True) -> list[Column]:
    """The one column, the total, or the three phases that make one load."""
    if len(columns) > 1 and any(_MEAN.search(column.heading) for column in columns):
        columns = [column for column in columns if _MEAN.search(column.heading)]
    totals = [column for column in columns if _TOTAL.search(column.heading)]
    if len(totals) == 1:
        return totals
    marks = {column.phase for column in columns} - {""}
    whole = [column for column in columns if not column.phase]
    if len(whole) == 1 and len(marks) >= 2:
        return whole  # `P [kW]` beside `P1 [kW]`, `P2 [kW]`, `P3 [kW]`: its phases are checked against it
    if len(columns) == 3 and len(marks) == 3:
        return columns
    if strict and columns and len(marks) == len(columns):
        raise ScenarioError(_phases_missing(columns, file))
    if len(columns) <= 1:
        return columns
    if not strict:
        return []
    raise ScenarioError(f"{file}: several columns could be meant: {_listed(columns)}; name yours with --column")


def _phases_missing(columns: list[Column], file: str) -> str:
    named = ", ".join(f"'{column.heading}'" for column in columns)
    return (
        f"{file}: only phase {named} is in it; a machine on three phases draws the sum of all three. Export the other phases or the "
        f'total, or, if this is all that the machine draws, say so with --column "{columns[0].heading}"'
    )


def _nothing_usable(columns: list[Column], file: str) -> str:
    kinds = {column.kind for column in columns}
    if "extreme" in kinds:
        return f"{file}: it holds {_listed(columns)}: highest or lowest values, no mean power; {_MEAN_POWER}"
    if kinds & {"current", "voltage", "apparent"}:
        return (
            f"{file}: it holds {_listed(columns)} but no real power; volts times amperes (VA) overstates the power of an idling "
            "motor several times, so log real power in W or kW, or a kWh counter"
        )
    return f"{file}: no column holds power or energy; there are {_listed(columns)}; name it with --column and --unit"


def _listed(columns: list[Column]) -> str:
    return ", ".join(f"'{column.heading}'" for column in columns[:12])
