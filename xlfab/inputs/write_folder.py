"""A scenario's folder written from records and columns: the other way round from reading it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from xlfab.core.sources import BASES
from xlfab.core.writing import csv_text
from xlfab.inputs.defaults import defaults
from xlfab.inputs.part_lists import BEND_EXTRAS, BEND_ONLY, PART_COLUMNS, STEP_COLUMNS
from xlfab.inputs.sections import EXTRAS, LISTS, SECTIONS

Record = dict[str, Any]
_STATED = ("value", "low", "high", "basis", "source")
# what a stated value rests on: (section, record, key) -> value, low, high, basis, source
Origins = Mapping[tuple[str, str, str], Record]


def scenario_text(texts: Record, sections: Mapping[str, Any], origins: Origins) -> str:
    """scenario.toml: texts at the top, single tables, lists of tables.

    Values that were not changed keep what they rest on; a default that still is one is left out, and stays a default.
    """
    import tomlkit

    document = tomlkit.document()
    for key, value in texts.items():
        document.add(key, value)
    for section in SECTIONS:
        if section in sections:
            document.add(section, _record(section, sections[section], origins, texts["currency"]))
    for section in LISTS:
        entries = tomlkit.aot()
        for record in sections.get(section, []):
            entries.append(_record(section, record, origins, texts["currency"]))
        document.add(section, entries)
    for section in EXTRAS:
        if extras := sections.get(section):
            entries = tomlkit.aot()
            for record in extras:
                entries.append(tomlkit.item(dict(record)))
            document.add(section, entries)
    return tomlkit.dumps(document)


def quote_text(terms: Record, texts: Record, centres: Sequence[Record], origins: Origins) -> str:
    """quote.toml."""
    import tomlkit

    document = tomlkit.document()
    document.add("quote", _record("quote", terms, origins))
    document.add("texts", tomlkit.item(dict(texts)))
    entries = tomlkit.aot()
    for record in centres:
        entries.append(_record("work_centre", record, origins))
    if centres:
        document.add("work_centre", entries)
    return tomlkit.dumps(document)


def _record(section: str, record: Record, origins: Origins, currency: str = "") -> Any:
    import tomlkit

    table = tomlkit.table()
    title = str(record.get("name", record.get("material", "")))
    known = defaults(section, str(record.get("drive", record.get("material", currency))))
    for key, value in record.items():
        if value is None or (isinstance(value, float) and math.isnan(value)):
            continue
        origin = origins.get((section, title, key))
        kept = origin if origin and isinstance(value, float) and _same(value, origin["value"]) else None
        if kept and key in known and all(kept[name] == getattr(known[key], name) for name in _STATED):
            continue
        if kept and (kept["basis"] in BASES or kept["low"] < kept["high"]):
            inline = tomlkit.inline_table()
            inline.update({name: kept[name] for name in _STATED})
            table.add(key, inline)
        else:
            table.add(key, value)
    return table


def _same(value: float, other: float) -> bool:
    return abs(value - other) <= 1e-9 * max(abs(value), abs(other))


def parts_text(parts: Sequence[Record]) -> str:
    """parts.csv."""
    return _csv(PART_COLUMNS, parts)


def number_steps(cuts: Sequence[Record], bends: Sequence[Record]) -> None:
    """Give the steps of each part numbers of their own in the order of the lists, cuts first; numbers that they have stay."""
    numbers: dict[str, set[int]] = {}
    for step in (*cuts, *bends):
        taken = numbers.setdefault(str(step["part"]).casefold(), set())
        given = step.get("step_count")
        number = int(given) if isinstance(given, float) and given >= 1 and int(given) not in taken else 0
        number = number or max(taken, default=0) + 1
        taken.add(number)
        step["step_count"] = float(number)


def steps_text(cuts: Sequence[Record], bends: Sequence[Record]) -> str:
    """steps.csv, of steps that have numbers."""
    rows: list[Record] = []
    for kind, steps in (("cut", cuts), ("bend", bends)):
        for step in steps:
            only = dict.fromkeys((*BEND_ONLY, *BEND_EXTRAS)) if kind == "cut" else {}
            length = step[f"{kind}_length_mm"]
            rows.append({**step, **only, "step": step["step_count"], "kind": kind, "length_mm": length})
    return _csv(STEP_COLUMNS, rows)


def list_text(names: Sequence[str], rows: Sequence[Record]) -> str:
    """Any other list."""
    return _csv(names, rows)


def _csv(names: Sequence[str], rows: Iterable[Record]) -> str:
    return csv_text(names, ([row.get(name) for name in names] for row in rows), digits=17)
