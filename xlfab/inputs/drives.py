"""The drives of press brakes and shears, as data: `data/drives.csv` names them, `press_brake.csv` and `shear.csv` hold their defaults."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from xlfab.inputs.data_files import data_rows


@dataclass(frozen=True)
class Drive:
    """One drive: its name, `electric` or `hydraulic`, a short word for a machine's name, and what else it is called."""

    name: str
    kind: str
    short: str
    also: tuple[str, ...]


@cache
def drives() -> dict[str, Drive]:
    """All drives by name, in the order in which they are offered.

    >>> [drive.name for drive in drives().values() if drive.kind == "electric"]
    ['electric, ball screw', 'electric, belt']
    """
    return {
        row["drive"]: Drive(row["drive"], row["kind"], row["short"], tuple(filter(None, row["also"].split("; "))))
        for row in data_rows("drives")
    }


def drive_named(text: Any) -> Any:
    """The drive's own name for any of the words it goes by; what is no drive is handed back as it is.

    >>> drive_named("Hybrid"), drive_named("electric,  belt"), drive_named("steam")
    ('servo-hydraulic (hybrid)', 'electric, belt', 'steam')
    """
    folded = " ".join(text.split()).casefold() if isinstance(text, str) else text
    for drive in drives().values():
        if folded in (drive.name.casefold(), *drive.also):
            return drive.name
    return text


def known_drive(text: Any) -> str:
    """The drive's own name; ValueError naming all of them where it is none."""
    found = drive_named(text)
    if found not in drives():
        raise ValueError(f"must be one of: {'; '.join(drives())}")
    return str(found)
