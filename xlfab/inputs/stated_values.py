"""One stated value: a number, a text with a unit, or a table of value, low, high, basis and source; and what its key means."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import InputError
from xlfab.core.sources import BASES
from xlfab.core.units import UNITS, factor, parse_quantity, split_name, unit_label
from xlfab.inputs.faults import nearest

STATED = "stated"  # the basis of a number that the scenario gives without a word on where it comes from
_TABLE_KEYS = ("value", "low", "high", "basis", "source")


@dataclass(frozen=True)
class Stated:
    """A value in the unit of its vocabulary name, its span, and what it rests on. Without a span low = value = high."""

    value: float
    low: float
    high: float
    basis: str
    source: str
    common: bool = False


@dataclass(frozen=True)
class Assumption:
    """A value that the estimate leans on: where it stands, its span, and what it rests on.

    `common`: a default that says the same of every machine of its kind, whatever the drive. It is one unknown and not one for each
    machine, so all machines that leave it to the default move together.
    """

    section: str
    record: str
    key: str
    value: float
    low: float
    high: float
    basis: str
    source: str
    common: bool = False


def resolve_key(key: str, known: Iterable[str], what: str = "known key") -> tuple[str, str]:
    """Find the known name that a key means, and the unit that the key is written in.

    >>> resolve_key("approach_speed_in_s", ["approach_speed_mm_s"])
    ('approach_speed_mm_s', 'in_s')
    """
    names = list(known)
    if key in names:
        return key, _stem_and_suffix(key)[1]
    stems = {stem: name for name in names for stem, suffix in [_stem_and_suffix(name)] if suffix}
    if key in stems:
        raise InputError(f"the unit is missing from '{key}': write {_with_units(stems[key])}")
    stem, written = _stem_and_suffix(key)
    if stem not in stems or not written:
        raise InputError(f"'{key}' is not known; {nearest(key, names, what)}")
    name = stems[stem]
    try:
        factor(written, split_name(name)[1].suffix)
    except InputError:
        raise InputError(f"'{key}' has a unit of another kind: write {_with_units(name)}") from None
    return name, written


def _stem_and_suffix(name: str) -> tuple[str, str]:
    try:
        stem, unit = split_name(name)
    except InputError:
        return name, ""
    return stem, unit.suffix


def _with_units(name: str) -> str:
    stem, unit = split_name(name)
    return f"{name} or {stem}_{unit.us_suffix}" if unit.us_suffix else name


def read_number(raw: Any, name: str, written: str = "", currency: str = "currency") -> float:
    """Read a number or a text with a unit into the unit of a vocabulary name, and check it against the name's bounds."""
    suffix = split_name(name)[1].suffix
    if isinstance(raw, bool) and ARGUMENTS[name].kind == "switch":
        return float(raw)
    if isinstance(raw, str):
        try:
            number = parse_quantity(raw, suffix, currency)
        except InputError as error:
            plain = f"{shown(raw)} is a text: write a plain number" if UNITS[suffix].pint == "dimensionless" else error
            raise InputError(f"{plain}; allowed: {allowed(name, currency)}") from None
    elif isinstance(raw, (int, float)) and not isinstance(raw, bool):
        number = _to_float(raw) * factor(written or suffix, suffix)
    else:
        raise InputError(f"{shown(raw)} is not a number; allowed: {allowed(name, currency)}")
    problem = out_of_bounds(number, name, currency)
    if problem:
        converted = (
            f" ({number:.6g} {unit_label(suffix, currency)})" if isinstance(raw, str) or written != suffix else ""
        )
        raise InputError(f"{shown(raw)}{converted} {problem}")
    return number


def _to_float(raw: int | float) -> float:
    try:
        return float(raw)
    except OverflowError:
        return math.inf


def out_of_bounds(number: float, name: str, currency: str = "currency") -> str:
    """Say what is allowed if a number does not fit its vocabulary name; empty if it does."""
    argument = ARGUMENTS[name]
    whole = argument.kind in ("whole", "switch")
    if argument.accepts(number, number) and not (whole and number != math.floor(number)):
        return ""
    return f"must be {allowed(name, currency)}"


def allowed(name: str, currency: str = "currency") -> str:
    """What a vocabulary name allows, in words.

    >>> allowed("lot_size_count"), allowed("overlap_switch")
    ('a whole number >= 1 and <= 1e+07 count', '0 or 1')
    """
    argument = ARGUMENTS[name]
    if argument.kind == "switch":
        return "0 or 1"
    words = argument.allowed.replace("currency", currency)
    return f"a whole number {words}" if argument.kind == "whole" else words


def shown(raw: Any) -> str:
    """A value as the message shows it: short, on one line.

    >>> shown("fast"), shown(float("nan"))
    ("'fast'", 'nan')
    """
    text = repr(raw) if isinstance(raw, (str, int, float, bool, list, dict)) else str(raw)
    return text if len(text) <= 60 else text[:57] + "..."


def read_stated(raw: Any, name: str, written: str = "", currency: str = "currency") -> Stated:
    """Read a stated value in any of its three forms."""
    if not isinstance(raw, dict):
        number = read_number(raw, name, written, currency)
        return Stated(number, number, number, STATED, "")
    for key in raw:
        if key not in _TABLE_KEYS:
            raise InputError(f"'{key}' is not known in a table of a value; {nearest(key, _TABLE_KEYS)}")
    if "value" not in raw:
        raise InputError(f"{shown(raw)} has no value; a table holds value and, if wanted, low, high, basis, source")
    value, low, high = (
        read_number(raw.get(key, raw["value"]), name, written, currency) for key in ("value", "low", "high")
    )
    if not low <= value <= high:
        raise InputError(f"low {low:g}, value {value:g}, high {high:g} must stand in rising order")
    basis, source = raw.get("basis", STATED), raw.get("source", "")
    if basis not in (*BASES, STATED):
        raise InputError(f"basis {shown(basis)} must be one of: {', '.join((*BASES, STATED))}")
    if not isinstance(source, str):
        raise InputError(f"source {shown(source)} must be a text")
    return Stated(value, low, high, basis, source)
