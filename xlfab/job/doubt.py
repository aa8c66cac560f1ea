"""The estimate as a model of its assumptions: one at a time for the swings, all at once for the Monte Carlo draws.

An assumption's name is `section|record|key`: a machine's own figure is one name and is drawn once for that machine; a wage or
a price is one name for all machines.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.arrays import Numbers
from xlfab.inputs.values import Assumption
from xlfab.investment.risk import Doubt, Model, Swing, combined_half_width, monte_carlo, one_at_a_time
from xlfab.job.estimate import estimate

BATCH = 500  # draws estimated at once: with the steps of all parts they stay in the processor's cache


@dataclass(frozen=True)
class OptionSwings:
    """How the first-year saving and the net present value of one option move with each assumption, widest first."""

    saving: list[Swing]
    worth: list[Swing]

    @property
    def saving_doubt(self) -> float:
        """Half-width of the yearly saving from all assumptions together."""
        return combined_half_width(self.saving)

    @property
    def worth_doubt(self) -> float:
        """Half-width of the net present value from all assumptions together."""
        return combined_half_width(self.worth)


def open_assumptions(scenario: Any) -> dict[str, list[Assumption]]:
    """The assumptions that have a span, by name; a default that is one unknown of several machines is one name."""
    groups: dict[str, list[Assumption]] = {}
    for item in scenario.assumptions:
        if item.low < item.high:
            record = "" if item.common else item.record
            groups.setdefault(f"{item.section}|{record}|{item.key}", []).append(item)
    return groups


def doubts_of(scenario: Any) -> list[Doubt]:
    """The open assumptions with their spans."""
    return [
        Doubt(name, group[0].low, group[0].value, group[0].high) for name, group in open_assumptions(scenario).items()
    ]


def model_of(scenario: Any) -> Model:
    """Named values of assumptions to each option's first-year saving, net present value and payback against the first."""

    groups = open_assumptions(scenario)

    def model(values: dict[str, Numbers]) -> dict[str, Numbers]:
        variants = {
            (item.section, item.record, item.key): array for name, array in values.items() for item in groups[name]
        }
        job = estimate(scenario, variants)
        found = {}
        for number, option in enumerate(job.options[1:], 2):
            found[f"saving_{number}"] = _flat(option.purchase.value("yearly_saving_cur"))
            found[f"worth_{number}"] = _flat(option.measures.value("net_present_value_cur"))
            found[f"payback_{number}"] = _flat(option.measures.value("simple_payback_years"))
        return found

    return model


def _flat(values: Numbers) -> Numbers:
    return np.asarray(values)[..., 0]


def swings(scenario: Any) -> dict[int, OptionSwings]:
    """The swings of every option but the first, by option number."""
    numbers = range(2, len(scenario.options) + 1)
    results = [f"{what}_{number}" for number in numbers for what in ("saving", "worth")]
    found = one_at_a_time(model_of(scenario), doubts_of(scenario), results) if results else {}
    return {number: OptionSwings(found[f"saving_{number}"], found[f"worth_{number}"]) for number in numbers}


def draw(
    scenario: Any, draws: int, seed: int, progress: Callable[[int], None] = lambda done: None
) -> dict[str, Numbers]:
    """Saving, worth and payback of every option but the first, for many random values of all open assumptions."""
    return monte_carlo(model_of(scenario), doubts_of(scenario), draws, seed, batch=BATCH, progress=progress)
