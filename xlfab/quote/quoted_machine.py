"""A machine in a quote: cost an hour, electricity at its planned hours, and what each part costs there per piece and per lot."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Table
from xlfab.work.machine_work import OnMachine, on_machine
from xlfab.work.machine_year import add_demand, add_waiting, part_times

TITLES = {"shear": "Shear", "press_brake": "Press brake"}


@dataclass
class QuotedMachine:
    """One machine of the quote: the work on it, its planned year, and what each part costs there."""

    on: OnMachine
    load: Table
    parts: Table

    @property
    def stated(self) -> Table:
        """The machine as stated."""
        return self.on.stated

    @property
    def title(self) -> str:
        """What it is called in headings."""
        return self.on.title

    def tables(self) -> list[Table]:
        """Its tables in the order in which they are calculated."""
        on = self.on
        return [on.stated, on.basis, on.rate, self.load, on.steps, on.feasible, on.setup, self.parts]


def quoted_machine(
    number: int,
    kind: str,
    item: Any,
    steps: Table,
    step_data: Table,
    lookups: dict[str, Table],
    common: Any,
    terms: Table,
) -> QuotedMachine:
    """Lay out one machine. `number` tells two routes apart."""
    _, data, workplace, tariff = common
    on = on_machine(number, kind, item, steps, step_data, lookups, common, {})
    load = planned_load(number, kind, on.stated, workplace, tariff)
    parts = part_times(on, common)
    _add_costs(parts, on, load, data, tariff, terms)
    if kind == "shear":
        _add_blades(parts, on.stated, steps)
    return QuotedMachine(on, load, parts)


def planned_load(number: int, kind: str, m: Table, workplace: Table, tariff: Table) -> Table:
    """Electricity of the machine's planned hours, waiting included: what an hour of work has to carry."""
    t = Table.record(f"{kind}_load_{number}", f"Electricity at planned hours, {TITLES[kind].lower()}")
    usable = (m["on_h_per_year"], m["warm_up_h_per_year"])
    t.difference("usable_h_per_year", *usable, label="Switched on and warm")
    t.add("waiting_h_per_year", F["waiting_h_per_year"], "usable_h_per_year", m["planned_h_per_year"])
    t.copy("switched_on_h", m["on_h_per_year"], label="Hours switched on")
    add_waiting(t, m, workplace)
    t.add("carried_power_kw", F["carried_power_kw"], "base_power_kw", "waiting_energy_kwh", m["planned_h_per_year"])
    t.times("energy_kwh", "carried_power_kw", m["planned_h_per_year"], label="Electricity a year")
    add_demand(t, m, tariff, "base_power_kw")
    return t


def _add_costs(t: Table, on: OnMachine, load: Table, data: Table, tariff: Table, terms: Table) -> None:
    rate = on.rate
    factor = terms[f"{'shear' if on.kind == 'shear' else 'brake'}_time_factor_ratio"]
    t.times("quoted_time_s", "part_time_s", factor, label="Run time quoted")
    again = terms["setup_time_factor_ratio"]
    t.times("quoted_setup_min", "setup_time_min", again, label="Set-up quoted")
    rates = (rate["labour_rate_cur_per_h"], rate["machine_rate_cur_per_h"])
    t.add("run_cost_cur", F["work_cost_cur"], "quoted_time_s", data["crew_count"], *rates, label="Run cost of a part")
    t.add(
        "setup_time_cost_cur", F["setup_cost_per_part_cur"], "quoted_setup_min", *rates, 1.0, label="Set-up time, a lot"
    )
    scrap = (on.setup["try_out_parts_count"], data["material_cost_cur"])
    t.times("try_out_cost_cur", *scrap, label="Try-out scrap, a lot")
    t.sum("lot_cost_cur", "setup_time_cost_cur", "try_out_cost_cur", label="Set-up cost of a lot")
    both = ("work_energy_kj", "lift_energy_kj")
    t.sum("process_energy_kj", *both, label="Process and lifting electricity")
    carried = load["carried_power_kw"]
    t.add("part_energy_kwh", F["part_energy_kwh"], "quoted_time_s", carried, "process_energy_kj")
    t.times("setup_s", "quoted_setup_min", label="Set-up quoted")
    t.add("setup_energy_kwh", F["part_energy_kwh"], "setup_s", carried, 0.0, label="Electricity of a set-up")
    price = (tariff["mean_energy_price_cur_per_kwh"], load["demand_cost_cur_per_year"], load["energy_kwh"])
    t.add("energy_cost_cur", F["part_energy_cost_cur"], "part_energy_kwh", *price, label="Electricity of a part")
    t.add(
        "setup_energy_cost_cur", F["part_energy_cost_cur"], "setup_energy_kwh", *price, label="Electricity of a set-up"
    )


def _add_blades(t: Table, m: Table, cuts: Table) -> None:
    """Blades by the strokes of the part: a quote knows no year's work over which to spread them."""
    t.total("strokes_count", cuts["per_part_count"], "part", "part", label="Strokes in a part")
    edge = (m["blade_set_cur"], m["regrinds_count"], m["regrind_price_cur"], m["edge_strokes_count"])
    t.add("blade_cost_cur", F["blade_cost_cur"], *edge, "strokes_count", m["itemised_switch"], label="Blades of a part")
    t.sum("shear_cost_cur", "run_cost_cur", "blade_cost_cur", label="Shear with blades")
