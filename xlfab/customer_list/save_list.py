"""What comes of a list, written into a new folder: a shop with its parts and steps, the mapping, and all that was not read.

A part of which anything is open waits in open_parts.csv and open_steps.csv: it stops none of the others.
"""

from __future__ import annotations

import shutil
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab.core.writing import csv_text, whole_folder
from xlfab.customer_list.apply_mapping import BREAKS, Intake
from xlfab.customer_list.list_mapping import Mapping, as_toml
from xlfab.customer_list.new_shop import shop_text
from xlfab.inputs.defaults import defaults
from xlfab.inputs.part_lists import PART_COLUMNS, PART_NUMBERS, STEP_COLUMNS
from xlfab.inputs.scenario import Scenario, load
from xlfab.inputs.sections import SCENARIO_FILE

NOTE_COLUMNS = ("sheet", "cell", "field", "shown", "reason")
QUOTE_FILE = "quote.toml"


@dataclass(frozen=True)
class ShopAround:
    """The shop that the parts are made in: the user's own folder, or a new one in a currency and unit system."""

    own: Path | None
    currency: str
    units: str
    list_name: str
    materials: tuple[str, ...]


@dataclass(frozen=True)
class Saved:
    """What was written: the parts and steps that are whole, the parts that wait, and the shop as it reads back (None where every part waits)."""

    whole: int
    waiting: list[str]
    cuts: int
    bends: int
    shop: Scenario | None


def write(intake: Intake, mapping: Mapping, folder: Path, shop: ShopAround) -> Saved:
    """Write the folder whole; it must not be there yet. What could not be read back as a shop is not written."""
    known = {name.casefold() for name in shop.materials}
    whole = [_is_whole(intake, number, known) for number in range(len(intake.parts))]
    with whole_folder(folder) as place:
        for name, kept in (("", True), ("open_", False)):
            picked = [number for number, ready in enumerate(whole) if ready == kept]
            if picked:
                _lists(intake, picked, place, name)
        notes = [[getattr(note, name) for name in NOTE_COLUMNS] for note in intake.notes]
        (place / "notes.csv").write_text(csv_text(NOTE_COLUMNS, notes), encoding="utf-8")
        (place / "mapping.toml").write_text(as_toml(mapping), encoding="utf-8")
        _shop(intake, place, shop)
        loaded = load(place) if any(whole) else None
    waiting = [str(part["part"]) for part, ready in zip(intake.parts, whole, strict=True) if not ready]
    steps = Counter(
        str(step["kind"]) for part, ready in zip(intake.steps, whole, strict=True) if ready for step in part
    )
    return Saved(sum(whole), waiting, steps["cut"], steps["bend"], loaded)


def _is_whole(intake: Intake, number: int, known: set[str]) -> bool:
    part, steps = intake.parts[number], intake.steps[number]
    figures = all(isinstance(part[name], float) for name in PART_NUMBERS)
    lengths = all(isinstance(step["length_mm"], float) for step in steps)
    return figures and lengths and number not in intake.unread_bends and str(part["material"]).casefold() in known


def _lists(intake: Intake, picked: Sequence[int], place: Path, name: str) -> None:
    parts = [intake.parts[number] for number in picked]
    steps = [step for number in picked for step in intake.steps[number]]
    (place / f"{name}parts.csv").write_text(csv_text(PART_COLUMNS, _rows(parts, PART_COLUMNS)), encoding="utf-8")
    (place / f"{name}steps.csv").write_text(csv_text(STEP_COLUMNS, _rows(steps, STEP_COLUMNS)), encoding="utf-8")


def _rows(records: Sequence[dict[str, Any]], columns: Sequence[str]) -> list[list[Any]]:
    return [[record.get(name) for name in columns] for record in records]


def _shop(intake: Intake, place: Path, shop: ShopAround) -> None:
    """scenario.toml, and quote.toml where there is something to say in it."""
    if shop.own is not None:
        shutil.copyfile(shop.own / SCENARIO_FILE, place / SCENARIO_FILE)
        if (shop.own / QUOTE_FILE).exists():
            shutil.copyfile(shop.own / QUOTE_FILE, place / QUOTE_FILE)
            return
    else:
        used = [name for name in shop.materials if name in {str(part["material"]) for part in intake.parts}]
        text = shop_text(shop.currency, shop.units, used or list(shop.materials[:1]))
        (place / SCENARIO_FILE).write_text(text, encoding="utf-8")
    (place / QUOTE_FILE).write_text(_quote_text(intake.breaks, shop.list_name), encoding="utf-8")


def _quote_text(breaks: set[float], list_name: str) -> str:
    """quote.toml: the list as the customer's reference, and the quantities that it asks prices for, filled up with the usual ones."""
    import tomlkit

    document = tomlkit.document()
    document.add(tomlkit.comment("Texts and terms of the quote; what is left out is a default."))
    document["texts"] = {
        "customer": "",
        "reference": list_name,
        "quote_number": "",
        "quote_date": "",
        "prepared_by": "",
    }
    if not breaks:
        return tomlkit.dumps(document)
    usual = [defaults("quote", "")[f"break_{number}_count"].value for number in range(1, BREAKS + 1)]
    wanted = [*sorted(breaks)[:BREAKS], *(value for value in usual if value not in breaks)][:BREAKS]
    document["quote"] = {f"break_{number}_count": round(value) for number, value in enumerate(sorted(wanted), 1)}
    return tomlkit.dumps(document)
