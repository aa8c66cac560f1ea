"""The questions of a new comparison: in the customer's words, each with a default in the units and the money chosen, each answer checked at once.

Every reader takes the text that was typed and what is known so far, and gives values by name; InputError says what is wrong with one
example of a right answer. `known` holds the answers so far, and under `gauge_mm` the function that knows gauge numbers. Sizes stay in the unit system chosen: mm and kN, or inches and US tons.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from xlfab.core.errors import InputError
from xlfab.core.numbers import Unreadable, decimal_number
from xlfab.core.units import factor, split_name
from xlfab.inputs.data_files import data_rows
from xlfab.inputs.defaults import default_names, defaults
from xlfab.inputs.drives import drives, known_drive
from xlfab.inputs.stated_values import out_of_bounds
from xlfab.inputs.unusual import currency_scale, is_unusual

Known = Mapping[str, Any]
_NUMBER = re.compile(r"[0-9](?:[0-9.,']*[0-9])?")
_CURRENCY = re.compile(r"[^\W\d_]{1,8}|[$€£¥₹₩₺₽₴฿₫₦₱₪]")
_LENGTHS = {
    "mm": "mm",
    "cm": None,
    "m": "m",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "ft": "ft",
    "'": "ft",
}
_THICKNESS = re.compile(
    r"(?P<material>.*?)[ ,x]+(?P<number>[0-9.,/]+) *(?P<unit>mm|in|inch|\"|ga|gauge|gage)?\.?", re.IGNORECASE
)


@dataclass(frozen=True)
class Question:
    """One question: what is asked, the default by what is known so far, and how the answer is read into values by name."""

    asked: Callable[[Known], str]
    default: Callable[[Known], str]
    read: Callable[[str, Known], dict[str, Any]]
    names: tuple[str, ...]


def _us(known: Known) -> bool:
    return bool(known["units"] == "us")


def _numbers(text: str, count: int, known: Known, example: str) -> list[float]:
    """So many numbers of a text; the decimal mark is a point in US units and is asked about elsewhere."""
    found = _NUMBER.findall(text)
    if len(found) != count:
        raise InputError(f"'{text[:60]}' holds {len(found)} numbers and {count} are needed: write {example}")
    try:
        return [decimal_number(item, "." if _us(known) else None) for item in found]
    except Unreadable as error:
        raise InputError(f"'{text[:60]}' {error}; write {example}") from None


def _inside(value: float, name: str, example: str, unit: str = "") -> float:
    """A value that fits its vocabulary name; `unit` is the ending it is written in."""
    times = factor(unit, split_name(name)[1].suffix) if unit else 1.0
    problem = out_of_bounds(value * times, name)
    if problem:
        raise InputError(f"{value:g} {problem}; write {example}")
    return value


def read_units(text: str, known: Known) -> dict[str, Any]:
    """`metric EUR`, `us`, `USD`: the unit system and the currency."""
    words = text.replace(",", " ").split()
    units = next((word.lower() for word in words if word.lower() in ("metric", "us")), "")
    money = next((word for word in words if word.lower() not in ("metric", "us")), "")
    if len(words) > 2 or (money and not _CURRENCY.fullmatch(money)) or not (units or money):
        raise InputError(f"'{text[:60]}' names no units and money; write metric EUR, or us USD")
    units = units or ("us" if money.upper() in ("USD", "$") else "metric")
    return {"units": units, "currency": money or ("USD" if units == "us" else "EUR")}


def read_title(text: str, known: Known) -> dict[str, Any]:
    """The shop's name."""
    if not text.isprintable() or not 0 < len(text) <= 120:
        raise InputError("a name is one line of at most 120 letters; write Corner Shop")
    return {"title": text}


def money_reader(name: str, key: str, example: str) -> Callable[[str, Known], dict[str, Any]]:
    """A reader of one amount of money of the vocabulary."""

    def read(text: str, known: Known) -> dict[str, Any]:
        value = _inside(_numbers(text, 1, known, example)[0], key, example)
        if is_unusual(value, key, known["currency"]):
            raise InputError(
                f"{value:g} {known['currency']} is far from what is usual; check it, and type it with --{name.replace('_', '-')} if it is right"
            )
        return {name: value}

    return read


def read_energy(text: str, known: Known) -> dict[str, Any]:
    """`19 ct`, `0.19`: the price of a kilowatt-hour in the currency."""
    value = _numbers(text, 1, known, "19 ct")[0]
    if re.search(r"ct|cent|¢|\bc\b|\bp\b", text, re.IGNORECASE):
        value /= 100
    _inside(value, "energy_price_cur_per_kwh", "19 ct")
    if is_unusual(value, "energy_price_cur_per_kwh", known["currency"]):
        raise InputError(
            f"{value:g} {known['currency']} a kilowatt-hour is far from what is usual; for cents write {text.strip()[:12]} ct"
        )
    return {"energy_price": value}


def read_shifts(text: str, known: Known) -> dict[str, Any]:
    """`1 x 8`, `2`: shifts a day and hours a shift."""
    found = _NUMBER.findall(text)
    numbers = _numbers(text, 2 if len(found) == 2 else 1, known, "1 x 8")
    shifts, hours = numbers[0], numbers[1] if len(numbers) == 2 else 8.0
    _inside(shifts, "shifts_count", "1 x 8"), _inside(hours, "shift_h", "1 x 8")
    if shifts != int(shifts) or shifts * hours > 24:
        raise InputError(f"{shifts:g} shifts of {hours:g} h do not fit into a day; write 2 x 8")
    return {"shifts": shifts, "shift_h": hours}


def read_brake(text: str, known: Known) -> dict[str, Any]:
    """`1000 kN x 3000 mm`, `110 tons x 10 ft`: rated force and working length."""
    example = "110 tons x 120 in" if _us(known) else "1000 kN x 3000 mm"
    force, length = _numbers(text, 2, known, example)
    words = re.findall(r"[A-Za-z\"']+", text.lower())
    if not _us(known) and any(word in ("t", "to", "ton", "tons", "tonne", "tonnes") for word in words):
        force *= 9.80665  # a metric ton of force, ISO 80000-4's standard gravity
    length *= _length_factor(words, known)
    _inside(force, "rated_force_kn", example, "tonf" if _us(known) else "kn")
    _inside(length, "working_length_mm", example, "in" if _us(known) else "mm")
    return {"rated_force": force, "working_length": length}


def _length_factor(words: list[str], known: Known) -> float:
    """What the last unit of length among the words is in the units chosen."""
    target = "in" if _us(known) else "mm"
    unit = next((_LENGTHS[word] for word in reversed(words) if _LENGTHS.get(word)), None)
    return factor(unit, target) if unit else 1.0


def read_drive(text: str, known: Known) -> dict[str, Any]:
    """The drive of the new brake, by any word it goes by."""
    try:
        drive = known_drive(text)
    except ValueError as error:
        raise InputError(f"'{text[:60]}' {error}") from None
    if drive == next(iter(drives())):
        raise InputError(f"the new brake is compared with a hydraulic one; write {_new_drive(known)}")
    return {"drive": drive}


def _new_drive(known: Known) -> str:
    return next(drive.name for drive in drives().values() if drive.kind == "electric")


def material_named(text: str, units: str) -> str:
    """The material that a word means in these units: its own name, or what the shop calls it."""
    folded = " ".join(text.split()).casefold()
    own = next((name for name in default_names("material") if name.casefold() == folded), "")
    meant = next((row[units] for row in data_rows("material_words") if folded in row["words"].split("; ")), "")
    if not own and not meant:
        raise InputError(
            f"'{text[:60]}' must be one of: mild steel; stainless; aluminium; {'; '.join(default_names('material'))}"
        )
    return own or meant


def gauge_table(material: str) -> str:
    """The gauge table that counts for a material: its own line, else that of sheet steel."""
    rows = data_rows("material_words")
    return next((row["gauge_table"] for row in rows if material in (row["metric"], row["us"])), rows[0]["gauge_table"])


def read_sheet(text: str, known: Known) -> dict[str, Any]:
    """`mild steel 2 mm`, `mild steel 14 ga`: material and thickness."""
    example = "mild steel 14 ga" if _us(known) else "mild steel 2 mm"
    match = _THICKNESS.fullmatch(text.strip())
    if match is None:
        raise InputError(f"'{text[:60]}' names no material with a thickness; write {example}")
    material = material_named(match["material"].strip(" ,"), known["units"])
    return {"material": material, "thickness": read_thickness(match["number"] + (match["unit"] or ""), material, known)}


def read_thickness(text: str, material: str, known: Known) -> float:
    """A thickness in the units chosen, from a number, a number with mm or in, or a gauge number."""
    target, example = ("in", "14 ga") if _us(known) else ("mm", "2 mm")
    value = _numbers(text, 1, known, example)[0]
    unit = re.sub(r"[0-9.,' ]", "", text.lower())
    if unit.startswith("ga"):
        try:
            value = round(known["gauge_mm"](value, gauge_table(material)) * factor("mm", target), 4)
        except ValueError as error:
            raise InputError(str(error)) from None
    elif unit:
        value *= factor("mm" if unit == "mm" else "in", target)
    _inside(value, "thickness_mm", example, target)
    if is_unusual(value * factor(target, "mm"), "thickness_mm", known["currency"]):
        raise InputError(f"a thickness of {value:g} {target} is far from what is usual; write {example}")
    return value


def read_blank(text: str, known: Known) -> dict[str, Any]:
    """`600 x 300, 4 bends`: the flat blank and its bends."""
    example = "24 x 12, 4 bends" if _us(known) else "600 x 300, 4 bends"
    length, width, bends = _numbers(text, 3, known, example)
    times = _length_factor(re.findall(r"[A-Za-z\"']+", text.lower()), known)
    for name, value in (("blank_length_mm", length), ("blank_width_mm", width)):
        _inside(value * times, name, example, "in" if _us(known) else "mm")
    if bends != int(bends) or not 1 <= bends <= 60:
        raise InputError(f"{bends:g} bends must be at least 1 and at most 60; write {example}")
    return {"length": length * times, "width": width * times, "bends": int(bends)}


def read_volume(text: str, known: Known) -> dict[str, Any]:
    """`20000 in lots of 40`: parts a year and parts a lot."""
    year, lot = _numbers(text, 2, known, "20000 in lots of 40")
    _inside(year, "yearly_quantity_count", "20000 in lots of 40"), _inside(lot, "lot_size_count", "20000 in lots of 40")
    return {"yearly_quantity": int(year), "lot_size": int(lot)}


def _money(known: Known, section: str, key: str, about: float) -> float:
    """A default in the currency: its own, else that of the euro brought to its size."""
    there = defaults(section, known["currency"])
    if key in there:
        return there[key].value
    return float(f"{about * (currency_scale(known['currency']) or 1.0):.3g}")


def _price_of_new(known: Known) -> str:
    return f"{120_000 * (currency_scale(known['currency']) or 1.0):.0f}"


def _cents(known: Known) -> str:
    price = _money(known, "tariff", "energy_price_cur_per_kwh", 0.19)
    return f"{price * 100:.3g} ct" if price < 1 else f"{price:.3g}"


UNITS = Question(
    lambda known: "Units and money (metric EUR, us USD, metric GBP ...)",
    lambda known: "metric EUR",
    read_units,
    ("units", "currency"),
)
QUESTIONS = (
    Question(lambda known: "Whose shop is it", lambda known: "My shop", read_title, ("title",)),
    Question(
        lambda known: f"What does the operator earn an hour, gross, in {known['currency']}",
        lambda known: f"{_money(known, 'workplace', 'wage_cur_per_h', 26):.4g}",
        money_reader("wage", "wage_cur_per_h", "26"), ("wage",),
    ),
    Question(lambda known: "What does a kilowatt-hour cost", _cents, read_energy, ("energy_price",)),
    Question(lambda known: "How many shifts a day, of how many hours", lambda known: "1 x 8", read_shifts, ("shifts", "shift_h")),
    Question(
        lambda known: f"How large is the press brake: force x length ({'US tons x inches' if _us(known) else 'kN x mm'})",
        lambda known: "110 tons x 120 in" if _us(known) else "1000 kN x 3000 mm", read_brake, ("rated_force", "working_length"),
    ),
    Question(lambda known: f"Which drive has the new one ({'; '.join(list(drives())[1:])})", _new_drive, read_drive, ("drive",)),
    Question(
        lambda known: f"What does the new one cost, in {known['currency']}", _price_of_new,
        money_reader("new_price", "machine_price_cur", "120000"), ("new_price",),
    ),
    Question(
        lambda known: "A typical part: material and thickness",
        lambda known: "mild steel 14 ga" if _us(known) else "mild steel 2 mm", read_sheet, ("material", "thickness"),
    ),
    Question(
        lambda known: f"Its flat size in {'inches' if _us(known) else 'mm'}, and its bends",
        lambda known: "24 x 12, 4 bends" if _us(known) else "600 x 300, 4 bends", read_blank, ("length", "width", "bends"),
    ),
    Question(lambda known: "How many such parts a year, in lots of how many", lambda known: "20000 in lots of 40", read_volume, ("yearly_quantity", "lot_size")),
)  # fmt: skip
