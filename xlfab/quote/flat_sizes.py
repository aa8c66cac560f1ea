"""A list to work out flat sizes from flange lengths; the result is copied into the list of parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Rows, Table

LINES = 20
FLANGES = tuple(f"flange_{n}_mm" for n in range(1, 7))


def flat_sizes(lines: Sequence[Mapping[str, Any]]) -> Table:
    """The lines as typed, and empty ones to fill in."""
    rows = Rows("flat_sizes", len(lines), LINES - len(lines))
    t = Table("flat_sizes", "Flat sizes", rows)

    def typed(name: str) -> Any:
        return np.array([np.nan if line[name] is None else line[name] for line in lines], dtype=np.float64)

    rows.key = t.put("line", np.array([line["line"] for line in lines], dtype=object), label="Part or note")
    for name, spare in (("thickness_mm", None), ("inside_radius_mm", None), ("bend_angle_deg", 90.0)):
        t.put(name, typed(name), spare=spare)
    for name in FLANGES:
        t.put(name, typed(name), spare=0.0)
    t.above("flanges_count", *FLANGES, label="Flanges")
    t.excess("bends_count", "flanges_count", 1.0, label="Bends")
    bend = ("bend_angle_deg", "inside_radius_mm", "thickness_mm")
    t.add("flat_length_change_mm", F["flat_length_change_mm"], *bend, label="Change a bend")
    t.times("bends_change_mm", "bends_count", "flat_length_change_mm", label="Change of all bends")
    t.sum("flat_mm", "bends_change_mm", *FLANGES, label="Flat size")
    return t
