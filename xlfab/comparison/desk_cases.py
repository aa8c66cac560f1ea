"""The few inputs that matter most, each with a careful and a hopeful value beside the stated one, and the switch between them.

The stated values stay what they are: the switch picks which of three columns is in use, and says so wherever results stand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.assumption_swings import OptionSwings, open_assumptions
from xlfab.inputs.stated_values import Assumption
from xlfab.investment.risk import Swing
from xlfab.tables.rules import Ref
from xlfab.tables.table import Table

MOST = 10
CASES = ("careful", "base", "hopeful")


@dataclass(frozen=True)
class DeskInput:
    """One input of the desk: the assumption (the first of those that are one unknown), and its record of four columns."""

    name: str
    item: Assumption
    table: Table


@dataclass(frozen=True)
class Desk:
    """The switch, the inputs, and what the estimate takes in their place."""

    case: Table
    inputs: list[DeskInput]
    taken: dict[tuple[str, str, str], Ref]


def desk_of(scenario: Any, swings: dict[int, OptionSwings]) -> Desk:
    """The inputs that move the net present value of any option most. Lists of materials and parts stay on their sheets."""
    case = Table.record("case", "Case")
    case.put("case", "base", label="Case in use", choices=CASES)
    case.add("banner", _banner, "case", text=True)
    groups = open_assumptions(scenario)
    widest: dict[str, Swing] = {}
    for one in swings.values():
        for swing in one.worth:
            if swing.name not in widest or swing.span > widest[swing.name].span:
                widest[swing.name] = swing
    inputs: list[DeskInput] = []
    taken: dict[tuple[str, str, str], Ref] = {}
    for swing in sorted(widest.values(), key=lambda swing: -swing.span):
        group = groups[swing.name]
        if group[0].section == "material" or swing.span == 0 or len(inputs) == MOST:
            continue
        table = _input(len(inputs) + 1, group[0], swing, case["case"])
        inputs.append(DeskInput(swing.name, group[0], table))
        taken |= {(item.section, item.record, item.key): table[item.key] for item in group}
    return Desk(case, inputs, taken)


def _input(place: int, item: Assumption, swing: Swing, case: Ref) -> Table:
    worse_low = swing.at_low <= swing.at_high
    careful, hopeful = (item.low, item.high) if worse_low else (item.high, item.low)
    t = Table.record(f"desk_{place}", f"Desk, input {place}")
    columns = []
    for word, value in (("careful", careful), ("stated", item.value), ("hopeful", hopeful)):
        columns.append(t.put(f"{word}_{item.key}", value, label=word.capitalize(), like=item.key))
    t.add(item.key, _in_use, case, *columns, note="Set on the Desk sheet")
    return t


def _in_use(case: Any, careful: Any, stated: Any, hopeful: Any) -> Any:
    return np.where(case == "careful", careful, np.where(case == "hopeful", hopeful, stated))


def _banner(case: Any) -> Any:
    careful = "CAREFUL CASE - not the data: the inputs of the Desk sheet stand at their careful values."
    hopeful = "HOPEFUL CASE - not the data: the inputs of the Desk sheet stand at their hopeful values."
    other = np.where(case == "hopeful", hopeful, "Base case: all inputs as stated.")
    return np.where(case == "careful", careful, other)
