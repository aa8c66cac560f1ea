"""Small tables that come with the package and are looked up by name or by thickness: guard modes, usual rake, usual die opening."""

from __future__ import annotations

import csv
from importlib.resources import files
from typing import Any

import numpy as np
from numpy.typing import NDArray

TEXTS = ("guard_mode", "press_step", "basis", "source")


def lookup_table(name: str) -> dict[str, NDArray[Any]]:
    """A table of the package as columns, with what each line rests on.

    >>> float(lookup_table("guard_modes")["guard_speed_mm_s"][-1])
    10.0
    """
    text = files("xlfab.inputs").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    return {
        key: np.array(
            [row[key] if key in TEXTS else float(row[key]) for row in rows], dtype=object if key in TEXTS else float
        )
        for key in rows[0]
    }
