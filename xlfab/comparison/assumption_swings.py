"""The estimate as a model of its assumptions: one at a time for the swings, all at once for the Monte Carlo draws.

An assumption's name is `section|record|key`: a machine's own figure is one name and is drawn once for that machine; a wage or
a price is one name for all machines.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.estimate import OptionTables, estimate
from xlfab.comparison.purchase_flows import LAST_YEAR
from xlfab.core.arrays import Numbers
from xlfab.inputs.stated_values import Assumption
from xlfab.investment.risk import Doubt, Model, Swing, one_at_a_time
from xlfab.tables.plan import fill
from xlfab.tables.rules import Ref


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


# what is drawn of each option beside its saving and its net present value: the causes of its worth, and the money still out
CAUSES_OF_WORTH = {
    "labour": ("labour_present_value_cur",),
    "energy": ("energy_present_value_cur",),
    "upkeep": ("upkeep_present_value_cur", "scrap_present_value_cur"),
}
YEARS = range(LAST_YEAR + 1)


def model_of(scenario: Any, whole: bool = False) -> Model:
    """Named values of assumptions to each option's first-year saving, net present value and payback against the first.

    `whole` adds the causes of the worth, the money back at the wanted payback, and the money still out after each year. Every
    variant is estimated for the parts that are counted as stated.
    """

    groups = open_assumptions(scenario)
    counted = estimate(scenario).counted.value("counted_switch")

    def model(values: dict[str, Numbers]) -> dict[str, Numbers]:
        variants = {
            (item.section, item.record, item.key): array for name, array in values.items() for item in groups[name]
        }
        wanted: dict[str, Ref] = {}
        options = estimate(scenario, variants, counted).options
        for number, option in enumerate(options[1:], 2):
            wanted[f"saving_{number}"] = option.purchase["yearly_saving_cur"]
            wanted[f"worth_{number}"] = option.measures["net_present_value_cur"]
            wanted[f"payback_{number}"] = option.measures["simple_payback_years"]
            if whole:
                wanted |= _causes(number, option)
        fill(wanted.values())  # together, so that what they share is worked out once
        found = {name: np.asarray(ref.table.value(ref.column))[..., 0] for name, ref in wanted.items()}
        for number, option in enumerate(options[1:], 2):
            if whole:
                sums = option.cash_flow.value("simple_sum_cur")
                found |= {f"out_{number}_{year}": sums[..., year] for year in YEARS}
        return found

    return model


def _causes(number: int, option: OptionTables) -> dict[str, Ref]:
    columns = [column for group in CAUSES_OF_WORTH.values() for column in (*group, "in_target_cur")]
    return {f"{column}_{number}": option.measures[column] for column in columns}


def swings(scenario: Any) -> dict[int, OptionSwings]:
    """The swings of every option but the first, by option number."""
    numbers = range(2, len(scenario.options) + 1)
    results = [f"{what}_{number}" for number in numbers for what in ("saving", "worth")]
    found = one_at_a_time(model_of(scenario), doubts_of(scenario), results) if results else {}
    return {number: OptionSwings(found[f"saving_{number}"], found[f"worth_{number}"]) for number in numbers}
