"""Which parts are counted: what the first option can make. A part that it cannot make is work that the shop has not got."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from xlfab.tables.table import Ref, Table

if TYPE_CHECKING:
    from xlfab.work.machine_work import OnMachine


def first_name(scenario: Any, kind: str) -> str:
    """The machine of a kind with which the first option works; without options the first of the kind."""
    if scenario.options:
        return str(getattr(scenario.options[0], kind))
    machines = scenario.shears if kind == "shear" else scenario.press_brakes
    return str(machines[0].name) if machines else ""


def of_first_option(scenario: Any, machines: Sequence[OnMachine]) -> list[OnMachine]:
    """The machines of the first option; without options all."""
    if not scenario.options:
        return list(machines)
    first = scenario.options[0]
    return [one for one in machines if str(one.stated.value("name")[0]) in (first.shear, first.press_brake)]


def counted(parts: Table, machines: Sequence[OnMachine], taken: Any = None) -> Table:
    """A switch for each part, and how many pieces a year are counted and left out."""
    t = Table("counted", "Parts in the sums", parts.rows)
    t.add("part", lambda name: name, parts["part"], text=True)
    if taken is not None:
        t.fix("counted_switch", taken, "In the sums")
        return t
    fails: list[str | Ref] = []
    for one in machines:
        name = f"fails_on_{one.kind}_{one.number}_count"
        t.total(name, one.feasible["fails_switch"], "part", "part", label=f"Steps that {one.title.lower()} cannot make")
        fails.append(name)
    t.add("counted_switch", _none_fails, *fails, label="In the sums")
    t.add("left_out_count", _left_out, "counted_switch", parts["yearly_quantity_count"], label="Left out, a year")
    return t


def _none_fails(*fails: Any) -> Any:
    good: Any = fails[0] == 0
    for item in fails[1:]:
        good = good & (item == 0)
    return np.where(good, 1.0, 0.0)


def _left_out(counted: Any, quantity: Any) -> Any:
    return (1 - counted) * quantity
