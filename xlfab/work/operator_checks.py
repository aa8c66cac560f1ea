"""Cross-checks of the operator's work: the lifting equation as an indication, and predetermined times against the estimate."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Table

LIFT = {
    "lift_reach_mm": (450.0, "Judgement: sheet held at its near edge; measure it"),
    "lift_height_mm": (900.0, "Judgement: from the table; measure it"),
    "lift_travel_mm": (300.0, "Judgement: measure it"),
    "asymmetry_deg": (30.0, "Judgement: turn from the stack to the machine"),
    "lift_frequency_share": (0.88, "Table 5 of the manual: 3 lifts a minute for at most an hour; take your own line"),
    "lift_coupling_share": (0.9, "From memory of table 7: a poor grip, as on a bare sheet edge"),
}


def lift() -> Table:
    """The lift that is looked at, and the recommended weight limit in both sets of constants."""
    t = Table.record("lift", "Lifting equation: the lift")
    for key, (value, _) in LIFT.items():
        t.put(key, value)
    t.add("weight_limit_kg", F["weight_limit_kg"], *LIFT, label="Recommended weight limit, metric constants")
    t.add(
        "weight_limit_us_constants_kg",
        F["weight_limit_us_constants_kg"],
        *LIFT,
        label="Recommended weight limit, US constants",
    )
    return t


def lifting_of(parts: Table, data: Table, limit: Table) -> Table:
    """Lifting index of each part for one person, in words too."""
    t = Table("lifting", "Lifting index of each part", parts.rows)
    t.copy("part", parts["part"])
    t.copy("load_mass_kg", data["blank_mass_kg"], label="Mass of the blank")
    t.add(
        "lifting_index_ratio", F["lifting_index_ratio"], "load_mass_kg", limit["weight_limit_kg"], label="Lifting index"
    )
    means = ("lifting_index_ratio", data["crew_count"], data["hoist_switch"])
    t.add("lifting_word", _word, *means, text=True, label="Indication, never a clearance")
    return t


def _word(index: Any, crew: Any, hoist: Any) -> Any:
    alone = np.where(index > 1, "above 1: have it assessed", "not above 1")
    return np.where(hoist > 0, "by hoist", np.where(crew > 1, "two people: outside the method", alone))


def predetermined(parts: Table, data: Table) -> Table:
    """Load, unload and stack of one part as estimated, against TMU that the user adds up from an own data card."""
    t = Table.record("predetermined", "Predetermined times (MTM-1): cross-check of one part")
    t.put("part", np.array([parts.value("part")[0]], dtype=object), choices=parts["part"])
    t.put("tmu_count", 0.0, label="TMU of load, unload and stack, from your own data card")
    t.add("tmu_time_s", F["tmu_time_s"], "tmu_count", label="Time by MTM-1")
    t.lookup("estimated_time_s", "part", data["load_standard_s"], "part", label="Time of the estimate")
    both = ("estimated_time_s", "tmu_time_s")
    label = "Estimate above MTM-1 by"
    t.number_or("difference_share", F["time_difference_share"], "enter TMU", *both, label=label)
    return t
