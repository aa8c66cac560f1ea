"""Sources, written once and cited by key. The table is `sources.csv` beside this file.

Basis is one of: published, textbook, standard, derived, common practice, judgement, memory, measured, quoted. Only the first
three stand on something outside xlfab; `memory` means that nobody has opened the source for this purpose yet.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

from xlfab.core.errors import InputError

BASES = (
    "published",
    "textbook",
    "standard",
    "derived",
    "common practice",
    "judgement",
    "memory",
    "measured",
    "quoted",
)


@dataclass(frozen=True)
class Source:
    """A citation and what it is worth."""

    key: str
    basis: str
    citation: str
    note: str


def _read() -> dict[str, Source]:
    table: dict[str, Source] = {}
    text = Path(__file__).with_name("sources.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        if row["key"] in table or row["basis"] not in BASES:
            raise InputError(f"sources.csv: key '{row['key']}' stands twice, or basis '{row['basis']}' is unknown")
        table[row["key"]] = Source(row["key"], row["basis"], row["citation"], row["note"])
    return table


SOURCES: dict[str, Source] = _read()


def source(key: str) -> Source:
    """Find a source by key; InputError where it is missing."""
    if key not in SOURCES:
        raise InputError(f"source '{key}' is not in sources.csv")
    return SOURCES[key]
