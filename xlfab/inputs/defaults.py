"""Defaults with their span and what they rest on, read from data/*.csv.

A row applies to one drive family, currency or material, or to `all`; the particular row goes before the general one.
"""

from __future__ import annotations

from functools import cache

from xlfab.inputs.data_files import data_rows
from xlfab.inputs.drives import drive_named
from xlfab.inputs.stated_values import Stated

ALL = "all"
_MACHINES = ("press_brake", "shear")


def default_names(section: str) -> list[str]:
    """What a section has particular defaults for, in its own spelling: the names of materials, say."""
    return [name for name in dict.fromkeys(row["applies_to"] for row in data_rows(section)) if name != ALL]


@cache
def default_rows(section: str) -> dict[tuple[str, str], Stated]:
    """All defaults of a section by what they apply to and key."""
    return {
        (row["applies_to"].casefold(), row["key"]): Stated(
            float(row["value"]),
            float(row["low"]),
            float(row["high"]),
            row["basis"],
            row["source"],
            common=section in _MACHINES and row["applies_to"] == ALL,
        )
        for row in data_rows(section)
    }


def defaults(section: str, applies_to: str) -> dict[str, Stated]:
    """The defaults of a section for one drive family, currency or material.

    >>> defaults("press_brake", "hydraulic")["ready_power_kw"].value
    2.8
    """
    rows = default_rows(section)
    applies_to = drive_named(applies_to) if section in _MACHINES else applies_to
    return {key: row for wanted in (ALL, applies_to.casefold()) for (who, key), row in rows.items() if who == wanted}


def built_in(section: str, applies_to: str) -> dict[str, tuple[float, str]]:
    """The built-in defaults of a section: value and basis by key."""
    return {key: (item.value, item.basis) for key, item in defaults(section, applies_to).items()}
