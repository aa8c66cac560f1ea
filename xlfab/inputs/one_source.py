"""Figures that a switch of the workplace puts out of use: stating one beside the switch is refused, for it would count for nothing."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

# (switch of the workplace, its value, key of a machine that then counts for nothing, what counts in its place)
UNUSED = (
    (
        "calendar_switch",
        1,
        "powered_h_per_year",
        "the calendar gives the hours: leave this out, or set calendar_switch = 0",
    ),
    ("calendar_switch", 0, "warm_up_min", "a warm-up counts once each working day: it needs calendar_switch = 1"),
    ("calendar_switch", 0, "warm_up_power_kw", "it counts with a warm-up, which needs calendar_switch = 1"),
    ("timer_switch", 1, "auto_stop_share", "the timer gives the share: leave this out, or set timer_switch = 0"),
    ("timer_switch", 0, "auto_stop_min", "the stated share counts: leave this out, or set timer_switch = 1"),
)


def unused_keys(workplace: Mapping[str, Any], machine: Mapping[str, Any]) -> dict[str, str]:
    """Keys of a machine that count for nothing under the workplace's switches, with the reason."""
    return {
        key: f"is not in use with [workplace] {switch} = {value}: {reason}"
        for switch, value, key, reason in UNUSED
        if workplace.get(switch, 0) == value and machine.get(key) is not None and machine[key] != 0
    }
