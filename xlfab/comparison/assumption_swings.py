"""The estimate as a model of its assumptions: one at a time for the swings, all at once for the Monte Carlo draws.

An assumption's name is `section|record|key`: a machine's own figure is one name and is drawn once for that machine; a wage or
a price is one name for all machines.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.estimate import estimate
from xlfab.core.arrays import Numbers
from xlfab.inputs.stated_values import Assumption
from xlfab.investment.risk import Doubt, Model, Swing, one_at_a_time
from xlfab.tables.plan import fill


@dataclass(frozen=True)
class OptionSwings:
    """How the first-year saving and the net present value of one option move with each assumption, widest first."""

    saving: list[Swing]
    worth: list[Swing]


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
        wanted = {}
        for number, option in enumerate(estimate(scenario, variants).options[1:], 2):
            wanted[f"saving_{number}"] = option.purchase["yearly_saving_cur"]
            wanted[f"worth_{number}"] = option.measures["net_present_value_cur"]
            wanted[f"payback_{number}"] = option.measures["simple_payback_years"]
        fill(wanted.values())  # together, so that what they share is worked out once
        return {name: np.asarray(ref.table.value(ref.column))[..., 0] for name, ref in wanted.items()}

    return model


def swings(scenario: Any) -> dict[int, OptionSwings]:
    """The swings of every option but the first, by option number."""
    numbers = range(2, len(scenario.options) + 1)
    results = [f"{what}_{number}" for number in numbers for what in ("saving", "worth")]
    found = one_at_a_time(model_of(scenario), doubts_of(scenario), results) if results else {}
    return {number: OptionSwings(found[f"saving_{number}"], found[f"worth_{number}"]) for number in numbers}
