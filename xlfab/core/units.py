"""Units: the closed list of name endings, and conversion at the edges.

Inside xlfab every number is in shop units, and the unit is the end of its name: `thickness_mm`,
`ram_mass_kg`, `energy_price_cur_per_kwh`. US customary units exist only where data comes in or goes out.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from typing import Any

from xlfab.core.errors import InputError


@dataclass(frozen=True)
class Unit:
    """One unit: the ending of names in it, how it is printed, how pint spells it, and its US customary partner."""

    suffix: str
    label: str
    pint: str
    us_suffix: str | None = None
    scale: float = 1.0  # how much of the unit as pint spells it: a cent is a hundredth of the currency

    @property
    def money(self) -> bool:
        """True if the unit counts money."""
        return self.suffix.startswith(("cur", "cents"))


# `cur` is the scenario's own currency: it is never converted. `share` is a fraction of one, `count` a number of pieces.
_UNITS = [
    Unit("mm", "mm", "mm", "in"),
    Unit("m", "m", "m", "ft"),
    Unit("mm2", "mm²", "mm**2", "in2"),
    Unit("m2", "m²", "m**2", "ft2"),
    Unit("mm_s", "mm/s", "mm/s", "in_s"),
    Unit("mm_s2", "mm/s²", "mm/s**2", "in_s2"),
    Unit("mm_s3", "mm/s³", "mm/s**3", "in_s3"),
    Unit("m_s", "m/s", "m/s", "ft_s"),
    Unit("s", "s", "s"),
    Unit("min", "min", "min"),
    Unit("h", "h", "h"),
    Unit("s_per_m", "s/m", "s/m", "s_per_ft"),
    Unit("s_per_kg", "s/kg", "s/kg", "s_per_lb"),
    Unit("h_per_year", "h/year", "h/year"),
    Unit("min_per_year", "min/year", "min/year"),
    Unit("years", "years", "year"),
    Unit("days", "days", "day"),
    Unit("per_min", "1/min", "1/min"),
    Unit("per_year", "1/year", "1/year"),
    Unit("kn", "kN", "kN", "tonf"),
    Unit("n", "N", "N", "lbf"),
    Unit("nm", "N·m", "N*m", "lbf_in"),
    Unit("kn_per_m", "kN/m", "kN/m", "tonf_per_ft"),
    Unit("mpa", "MPa", "MPa", "ksi"),
    Unit("bar", "bar", "bar", "psi"),
    Unit("l_per_min", "l/min", "liter/min", "gpm"),
    Unit("j", "J", "J", "ftlbf"),
    Unit("kj", "kJ", "kJ"),  # electricity, and the work it is held against, in both systems
    Unit("kwh", "kWh", "kWh"),
    Unit("kwh_per_year", "kWh/year", "kWh/year"),
    Unit("kw", "kW", "kW"),
    Unit("kva", "kVA", "kV*A"),
    Unit("kvar", "kvar", "kV*A"),
    Unit("kvarh", "kvarh", "kV*A*h"),
    Unit("kg", "kg", "kg", "lb"),
    Unit("kg_per_m3", "kg/m³", "kg/m**3", "lb_per_in3"),
    Unit("kg_per_kwh", "kg/kWh", "kg/kWh", "lb_per_kwh"),
    Unit("kg_per_year", "kg/year", "kg/year", "lb_per_year"),
    Unit("l", "l", "liter", "gal"),
    Unit("l_per_year", "l/year", "liter/year", "gal_per_year"),
    Unit("deg", "°", "degree"),
    Unit("share", "share", "dimensionless"),
    Unit("ratio", "ratio", "dimensionless"),
    Unit("count", "count", "dimensionless"),
    Unit("switch", "0 or 1", "dimensionless"),
    Unit("year", "year", "dimensionless"),
    Unit("cur", "{cur}", "dimensionless"),
    Unit("cur_per_year", "{cur}/year", "1/year"),
    Unit("cur_per_h", "{cur}/h", "1/h"),
    Unit("cur_per_kwh", "{cur}/kWh", "1/kWh"),
    Unit(
        "cents_per_kwh", "ct/kWh", "1/kWh", None, 0.01
    ),  # of any currency that has a hundredth; read, never computed with
    Unit("cur_per_kw", "{cur}/kW", "1/kW"),
    Unit("cur_per_kva", "{cur}/kVA", "1/(kV*A)"),
    Unit("cur_per_kvarh", "{cur}/kvarh", "1/(kV*A*h)"),
    Unit("cur_per_kg", "{cur}/kg", "1/kg", "cur_per_lb"),
    Unit("cur_per_m2", "{cur}/m²", "1/m**2", "cur_per_ft2"),
    Unit("cur_per_l", "{cur}/l", "1/liter", "cur_per_gal"),
    # US customary partners: read and shown, never computed with
    Unit("in", "in", "inch"),
    Unit("ft", "ft", "foot"),
    Unit("in2", "in²", "inch**2"),
    Unit("ft2", "ft²", "foot**2"),
    Unit("in_s", "in/s", "inch/s"),
    Unit("in_s2", "in/s²", "inch/s**2"),
    Unit("in_s3", "in/s³", "inch/s**3"),
    Unit("ft_s", "ft/s", "foot/s"),
    Unit("s_per_ft", "s/ft", "s/foot"),
    Unit("s_per_lb", "s/lb", "s/pound"),
    Unit("tonf", "US tonf", "US_ton_force"),
    Unit("lbf", "lbf", "lbf"),
    Unit("lbf_in", "lbf·in", "lbf*inch"),
    Unit("tonf_per_ft", "US tonf/ft", "US_ton_force/foot"),
    Unit("ksi", "ksi", "ksi"),
    Unit("psi", "psi", "psi"),
    Unit("gpm", "US gal/min", "gallon/min"),
    Unit("ftlbf", "ft·lbf", "foot*lbf"),
    Unit("kftlbf", "1000 ft·lbf", "kilofoot_pound"),
    Unit("lb", "lb", "pound"),
    Unit("lb_per_in3", "lb/in³", "pound/inch**3"),
    Unit("lb_per_kwh", "lb/kWh", "pound/kWh"),
    Unit("lb_per_year", "lb/year", "pound/year"),
    Unit("gal", "US gal", "gallon"),
    Unit("gal_per_year", "US gal/year", "gallon/year"),
    Unit("cur_per_lb", "{cur}/lb", "1/pound"),
    Unit("cur_per_ft2", "{cur}/ft²", "1/foot**2"),
    Unit("cur_per_gal", "{cur}/US gal", "1/gallon"),
]
UNITS: dict[str, Unit] = {unit.suffix: unit for unit in _UNITS}


@cache
def split_name(name: str) -> tuple[str, Unit]:
    """Split a name into its stem and its unit: the longest known ending wins.

    >>> split_name("approach_speed_mm_s")[0], split_name("approach_speed_mm_s")[1].label
    ('approach_speed', 'mm/s')
    """
    words = name.split("_")
    for first in range(len(words)):
        unit = UNITS.get("_".join(words[first:]))
        if unit is not None:
            return "_".join(words[:first]), unit
    if name in UNITS:
        return name, UNITS[name]
    raise InputError(f"name '{name}' does not end in a known unit; known endings: {', '.join(sorted(UNITS))}")


def ends_in_unit(name: str) -> bool:
    """True if a name ends in a known unit; names of texts do not.

    >>> ends_in_unit("wage_cur_per_h"), ends_in_unit("basis")
    (True, False)
    """
    try:
        return bool(split_name(name))
    except InputError:
        return False


@cache
def registry() -> Any:
    """The pint registry, built at first use: it is needed at the edges only and takes a while to load."""
    import pint

    return pint.UnitRegistry(autoconvert_offset_to_baseunit=False)


@cache
def factor(from_suffix: str, to_suffix: str) -> float:
    """What a number in the first unit is multiplied by to be in the second; InputError where dimensions differ.

    >>> round(factor("in", "mm"), 12)
    25.4
    """
    if from_suffix == to_suffix:
        return 1.0
    first, second = UNITS[from_suffix], UNITS[to_suffix]
    try:
        value = registry().Quantity(1.0, first.pint).to(second.pint).magnitude
    except Exception as error:  # pint's own errors differ by version
        raise InputError(f"{first.label} cannot be turned into {second.label}") from error
    if first.money != second.money or (first.pint == "dimensionless" or second.pint == "dimensionless"):
        raise InputError(f"{first.label} cannot be turned into {second.label}")
    return float(value) * (first.scale / second.scale)


_CENTS = ("ct", "cts", "cent", "cents", "c", "¢", "p")
# One or more words joined by / * · or a space, each with at most one power: nothing here can make pint compute for long.
_WORD = r"[^\W\d_]+(?:(?:\^|\*\*)?[23]|[²³])?"
_QUANTITY = re.compile(
    rf"([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d{{1,3}})?)\s*(%|°|¢(?: ?/ ?kWh)?|{_WORD}(?:\s*[/*·]\s*{_WORD}|\s+{_WORD})*)"
)


def parse_quantity(text: str, to_suffix: str, currency: str = "currency") -> float:
    """Read a number with a written unit ('36 in', '4.7 in/s', '34 EUR/h') into the unit of an ending.

    >>> round(parse_quantity("36 in", "mm"), 6), parse_quantity("12 %", "share"), parse_quantity("34 EUR/h", "cur_per_h", "EUR")
    (914.4, 0.12, 34.0)
    >>> round(parse_quantity("11.5 ct", "cur_per_kwh"), 6), round(parse_quantity("11.5 ct/kWh", "cur_per_kwh"), 6)
    (0.115, 0.115)
    """
    target = UNITS[to_suffix]
    match = _QUANTITY.fullmatch(text.strip())
    try:
        if match is None:
            raise InputError(text)
        return float(match[1]) * _written_factor(match[2], to_suffix, currency)
    except InputError as error:
        label = target.label.replace("{cur}", currency)
        raise InputError(f"'{text}' is not a number with a unit that turns into {label}") from error


def _written_factor(written: str, to_suffix: str, currency: str) -> float:
    target = UNITS[to_suffix]
    if written == "%" and target.pint == "dimensionless" and to_suffix in ("share", "ratio"):
        return 0.01
    if to_suffix.startswith("cur_per_kv") or to_suffix == "cur_per_kwh":
        money, _, per = written.replace(" ", "").partition("/")
        if money in _CENTS and per in ("", unit_label(to_suffix).partition("/")[2]):
            return 0.01
    for unit in _UNITS:
        if written in (unit_label(unit.suffix, currency), unit.suffix):
            return factor(unit.suffix, to_suffix)
    if target.money or target.pint in ("dimensionless", "degree"):
        raise InputError(written)  # pint would take any pure number for an angle, a share or money
    spelled = re.sub(r"(?<=[^\W\d_])([23])", r"**\1", written)
    try:
        return float(registry().Quantity(1.0, spelled).to(target.pint).magnitude)
    except Exception as error:  # pint's own errors differ by version
        raise InputError(written) from error


def shown_unit(suffix: str, system: str) -> str:
    """The ending in which a number of the given ending is shown: itself in 'metric', its partner in 'us'."""
    return (UNITS[suffix].us_suffix or suffix) if system == "us" else suffix


def unit_label(suffix: str, currency: str = "currency") -> str:
    """How a unit is printed, the currency's own symbol or code put in.

    >>> unit_label("cur_per_h", "EUR")
    'EUR/h'
    """
    return UNITS[suffix].label.replace("{cur}", currency)
