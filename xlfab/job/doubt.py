"""How far the answer moves when single assumptions move: each from its low to its high value, the others at their base."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.job.estimate import estimate


@dataclass(frozen=True)
class Swing:
    """One assumption, and the yearly saving of each option at its low and its high value."""

    assumption: Any
    at_low: tuple[float, ...]
    at_high: tuple[float, ...]

    def width(self, option: int) -> float:
        """How far the yearly saving of an option moves."""
        return abs(self.at_high[option] - self.at_low[option])


def swings(scenario: Any) -> list[Swing]:
    """The yearly saving (worth money, first year) of every option with each assumption at low and at high.

    All variants are estimated at once: one batch with two variants for each assumption that has a low and a high value.
    """
    open_ones = [
        item for item in scenario.assumptions if item.low is not None and item.high is not None and item.low < item.high
    ]
    if not open_ones:
        return []
    variants: dict[tuple[str, str, str], Any] = {}
    for number, item in enumerate(open_ones):
        values = np.full(2 * len(open_ones), float(item.value))
        values[2 * number], values[2 * number + 1] = item.low, item.high
        variants[item.section, item.record, item.key] = values
    job = estimate(scenario, variants)
    savings = [
        np.broadcast_to(option.purchase.value("yearly_saving_cur")[..., 0], 2 * len(open_ones))
        for option in job.options
    ]
    return [
        Swing(item, tuple(float(s[2 * n]) for s in savings), tuple(float(s[2 * n + 1]) for s in savings))
        for n, item in enumerate(open_ones)
    ]


def combined(found: list[Swing], option: int) -> float:
    """Half-width of the yearly saving from all swings together, taken as independent: root of the sum of squares."""
    return float(np.sqrt(sum((swing.width(option) / 2) ** 2 for swing in found)))
