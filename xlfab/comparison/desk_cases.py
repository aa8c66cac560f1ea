"""Inputs of the desk, each with a conservative and an optimistic value beside the stated one, and the switch between them.

First the rows that a customer says aloud, always there and always in one order; then the few that decide this case.
The stated values stay what they are: the switch picks which of three columns is in use, and says so wherever results stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.assumption_swings import OptionSwings, open_assumptions
from xlfab.inputs.stated_values import Assumption
from xlfab.investment.risk import Swing
from xlfab.tables.rules import Ref
from xlfab.tables.table import Table

DECIDING = 3  # rows behind the fixed ones
CASES = ("conservative", "base", "optimistic")


@dataclass(frozen=True)
class DeskInput:
    """One input of the desk: the assumption (the first of those that are one unknown), and its record of four columns."""

    name: str
    item: Assumption
    table: Table
    fixed: bool = False


@dataclass(frozen=True)
class Desk:
    """The switch, the inputs, and what the estimate takes in their place."""

    case: Table
    inputs: list[DeskInput]
    taken: dict[tuple[str, str, str], Ref]


def desk_of(scenario: Any, swings: dict[int, OptionSwings]) -> Desk:
    """The fixed rows, then the inputs that move the net present value of any option most. Lists stay on their sheets."""
    case = Table.record("case", "Case")
    case.put("case", "base", label="Case in use", choices=CASES)
    case.add("banner", _banner, "case", text=True)
    desk = Desk(case, [], {})
    if not swings:
        return desk
    widest = _widest(swings)
    groups = {f"{item.section}|{item.record}|{item.key}": [item] for item in scenario.assumptions}
    groups |= open_assumptions(scenario)
    names = {(item.section, item.record, item.key): name for name, group in groups.items() for item in group}
    for place in fixed_rows(scenario):
        name = names.get(place, "")
        if name and place not in desk.taken:
            _take(desk, name, groups[name], widest.get(name), True)
    for swing in sorted(widest.values(), key=lambda swing: -swing.span):
        group = groups[swing.name]
        known = {one.name for one in desk.inputs}
        further = sum(not one.fixed for one in desk.inputs)
        if further < DECIDING and group[0].section != "material" and swing.span > 0 and swing.name not in known:
            _take(desk, swing.name, group, swing, False)
    return desk


def fixed_rows(scenario: Any) -> Iterator[tuple[str, str, str]]:
    """Section, record and key of what a customer says aloud: wage, electricity, hours a year, both prices, saved hour, set-up, speed."""
    first, *others = scenario.options
    kind, offered, candidate = _offered(first, others)
    there = getattr(first, kind)
    keys = {
        "press_brake": ("first_setup_min", "approach_speed_mm_s"),
        "shear": ("shear_setup_min", "cutting_speed_mm_s"),
    }
    setup, speed = keys[kind]
    yield "workplace", "", "wage_cur_per_h"
    yield "tariff", "", "energy_price_cur_per_kwh"
    yield kind, there, "powered_h_per_year"
    yield kind, offered, "machine_price_cur"
    yield (kind, there, "machine_price_cur") if first.buy else ("option", candidate.name, "trade_in_cur")
    yield "purchase", "", "released_value_share"
    for key in (setup, speed):
        yield kind, there, key
        yield kind, offered, key


def _offered(first: Any, others: list[Any]) -> tuple[str, str, Any]:
    """The machine that the first other option brings in: its kind, its name, and the option."""
    for one in others:
        for kind in ("press_brake", "shear"):
            if getattr(one, kind) != getattr(first, kind):
                return kind, getattr(one, kind), one
    return "press_brake", others[0].press_brake, others[0]


def _widest(swings: dict[int, OptionSwings]) -> dict[str, Swing]:
    widest: dict[str, Swing] = {}
    for one in swings.values():
        for swing in one.worth:
            if swing.name not in widest or swing.span > widest[swing.name].span:
                widest[swing.name] = swing
    return widest


def _take(desk: Desk, name: str, group: list[Assumption], swing: Swing | None, fixed: bool) -> None:
    table = _input(len(desk.inputs) + 1, group[0], swing, desk.case["case"])
    desk.inputs.append(DeskInput(name, group[0], table, fixed))
    desk.taken.update({(item.section, item.record, item.key): table[item.key] for item in group})


def _input(place: int, item: Assumption, swing: Swing | None, case: Ref) -> Table:
    worse_low = swing is None or swing.at_low <= swing.at_high
    worse, better = (item.low, item.high) if worse_low else (item.high, item.low)
    t = Table.record(f"desk_{place}", f"Desk, input {place}")
    stated, conservative, optimistic = [
        t.put(f"{word}_{item.key}", value, label=label, like=item.key)
        for word, label, value in (
            ("stated", "As stated", item.value),
            ("conservative", "Conservative", worse),
            ("optimistic", "Optimistic", better),
        )
    ]
    choices = {"conservative": conservative, "optimistic": optimistic}
    t.by_word(item.key, case, choices, stated, note="Set on the Desk sheet")
    t.columns[item.key].stated_in = stated
    return t


def _banner(case: Any) -> Any:
    worse = "CONSERVATIVE CASE - not the data: the inputs of the Desk sheet stand at their conservative values."
    better = "OPTIMISTIC CASE - not the data: the inputs of the Desk sheet stand at their optimistic values."
    other = np.where(case == "optimistic", better, "Base case: all inputs as stated.")
    return np.where(case == "conservative", worse, other)
