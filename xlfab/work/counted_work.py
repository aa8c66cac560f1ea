"""Which parts are counted: what the first option can make. A part that it cannot make is work that the shop has not got."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

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
    t.copy("part", parts["part"])
    if taken is not None:
        t.fix("counted_switch", taken, "In the sums")
        return t
    fails: list[str | Ref] = []
    for one in machines:
        name = f"fails_on_{one.kind}_{one.number}_count"
        t.total(name, one.feasible["fails_switch"], "part", "part", label=f"Steps that {one.title.lower()} cannot make")
        fails.append(name)
    t.sum("fails_count", *fails, label="Steps that cannot be made")
    t.switched("counted_switch", "fails_count", 0.0, 1.0, label="In the sums")
    t.switched("left_out_count", "counted_switch", 0.0, parts["yearly_quantity_count"], label="Left out, a year")
    return t
