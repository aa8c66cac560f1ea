"""How far the answer moves when single assumptions move: each from its low to its high value, the others at their base."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from xlfab.inputs.values import Assumption
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

    All variants are estimated at once: one batch with two variants for each assumption that has a span.
    A default that is one unknown of several machines moves in all of them together.
    """
    groups = _moving_together(scenario.assumptions)
    if not groups:
        return []
    variants: dict[tuple[str, str, str], Any] = {}
    for number, group in enumerate(groups):
        first = group[0]
        values = np.full(2 * len(groups), float(first.value))
        values[2 * number], values[2 * number + 1] = first.low, first.high
        variants |= {(item.section, item.record, item.key): values for item in group}
    job = estimate(scenario, variants)
    savings = [
        np.broadcast_to(option.purchase.value("yearly_saving_cur")[..., 0], 2 * len(groups)) for option in job.options
    ]
    return [
        Swing(_shown(group), tuple(float(s[2 * n]) for s in savings), tuple(float(s[2 * n + 1]) for s in savings))
        for n, group in enumerate(groups)
    ]


def _moving_together(assumptions: list[Assumption]) -> list[list[Assumption]]:
    """The assumptions that have a span, those that are one unknown of several machines in one group."""
    groups: dict[tuple[str, str, str], list[Assumption]] = {}
    for item in assumptions:
        if item.low < item.high:
            groups.setdefault((item.section, "" if item.common else item.record, item.key), []).append(item)
    return list(groups.values())


def _shown(group: list[Assumption]) -> Assumption:
    first = group[0]
    return first if len(group) == 1 else replace(first, record=f"All {first.section.replace('_', ' ')}s")


def combined(found: list[Swing], option: int) -> float:
    """Half-width of the yearly saving from all swings together, taken as independent: root of the sum of squares."""
    return float(np.sqrt(sum((swing.width(option) / 2) ** 2 for swing in found)))
