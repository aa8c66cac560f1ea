"""Factors of time found from finished lots, written into the quote.toml of a copy of a scenario, the rest of its text kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from xlfab.core.reading import toml_document
from xlfab.core.writing import whole_copy
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import QUOTE_FILE, load_quote


@dataclass(frozen=True)
class Found:
    """A ratio of actual to estimated time with its interval, and where it comes from."""

    ratio: float
    low: float
    high: float
    source: str


def write_factors(scenario: Path, found: Mapping[str, Found], to: Path) -> list[str]:
    """Write a copy of the folder in which each named factor is multiplied by what was found; returns what was set.

    The estimates are taken to have been made with the factors that stand in the scenario, so that both belong together.
    """
    import tomlkit

    terms = load_quote(scenario, load(scenario)).terms
    file = scenario / QUOTE_FILE
    document = toml_document(file) if file.exists() else tomlkit.document()
    if "quote" not in document:
        document["quote"] = tomlkit.table()
    done = []
    for key, item in found.items():
        before = float(getattr(terms, key))
        value = tomlkit.inline_table()
        numbers = [round(before * ratio, 4) for ratio in (item.ratio, item.low, item.high)]
        value["value"], value["low"], value["high"] = numbers[0], min(numbers[:2]), max(numbers[0], numbers[2])
        value["basis"], value["source"] = "measured", item.source
        document["quote"][key] = value
        done.append(f"{key} = {before:g} before, {numbers[0]:g} now")
    with whole_copy(scenario, to) as place:
        (place / QUOTE_FILE).write_text(tomlkit.dumps(document), encoding="utf-8", newline="\n")
        load_quote(place, load(place))  # the copy must be a sound scenario, or it is not written
    return done
