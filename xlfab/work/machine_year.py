"""A machine's year with all parts on it: times by cause, hours, electricity, cost of each part."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table

if TYPE_CHECKING:
    from xlfab.work.machine_work import OnMachine

CAUSES = ("ram", "gauge", "operator")
HOURS_A_YEAR = 8760.0


def machine_rate(
    number: int, kind: str, machine: Table, workplace: Table, strokes: Ref | None, kept_up: Ref | None
) -> Table:
    """Machine-hour rate, every line of it visible; `strokes` are a blade's in a year, if the work of a whole year is known.

    A share of maintenance is taken of one price for all machines of a kind, `kept_up`: a dearer offer does not break down more often.
    """
    t = Table.record(f"{kind}_rate_{number}", f"Machine-hour rate, {kind.replace('_', ' ')} {number}")
    t.add("labour_rate_cur_per_h", F["labour_rate_cur_per_h"], workplace["wage_cur_per_h"], workplace["burden_share"])
    add_rate(t, machine, workplace, upkeep(t, machine, strokes, kept_up))
    return t


def upkeep(t: Table, m: Table, strokes: Ref | None, kept_up: Ref | None = None) -> Ref:
    """Add the lines of maintenance; the result is the share of the price or the sum of the lines, never both."""
    powered = m["on_h_per_year"]
    oil = (m["oil_volume_l"], m["oil_price_cur_per_l"], m["oil_disposal_cur_per_l"], m["oil_interval_h"])
    t.add("oil_cost_cur_per_year", F["oil_cost_cur_per_year"], *oil, powered)
    wear = (m["wear_part_cur"], m["fitting_time_h"], "labour_rate_cur_per_h", m["wear_interval_h"])
    t.add("wear_parts_cost_cur_per_year", F["wear_part_cost_cur_per_year"], *wear, powered)
    blades: Ref | float = 0.0
    if strokes is not None:
        t.total("strokes_per_year", strokes)
        edge = (m["blade_set_cur"], m["regrinds_count"], m["regrind_price_cur"], m["edge_strokes_count"])
        blades = t.add("blade_cost_cur_per_year", F["blade_cost_cur_per_year"], *edge, "strokes_per_year")
    lines = ("oil_cost_cur_per_year", "wear_parts_cost_cur_per_year", blades, m["service_cost_cur_per_year"])
    t.add("itemised_cost_cur_per_year", F["itemised_maintenance_cur_per_year"], *lines)
    share = (kept_up or m["machine_price_cur"], m["maintenance_share"])
    label = "Maintenance by share of the price" if kept_up is None else "Maintenance by share of the first one's price"
    t.add("share_cost_cur_per_year", F["maintenance_cost_cur_per_year"], *share, label=label)
    both = ("share_cost_cur_per_year", "itemised_cost_cur_per_year", m["itemised_switch"])
    return t.add("chosen_cost_cur_per_year", F["chosen_maintenance_cur_per_year"], *both, label="Maintenance as chosen")


def add_rate(t: Table, m: Table, workplace: Table, maintenance: Ref | None = None) -> None:
    """Add the lines of the machine-hour rate, and the labour rate; machine and result may be the same table."""
    price = m["machine_price_cur"]
    t.add(
        "depreciation_cur_per_year",
        F["straight_line_depreciation_cur_per_year"],
        price,
        m["salvage_cur"],
        m["life_years"],
    )
    t.add("interest_cur_per_year", F["mean_capital_interest_cur_per_year"], price, workplace["interest_rate_share"])
    t.add(
        "space_cost_cur_per_year", F["space_cost_cur_per_year"], m["floor_area_m2"], workplace["space_price_cur_per_m2"]
    )
    if maintenance is None:
        t.add("maintenance_cost_cur_per_year", F["maintenance_cost_cur_per_year"], price, m["maintenance_share"])
    else:
        t.copy("maintenance_cost_cur_per_year", maintenance)
    lines = (
        "depreciation_cur_per_year",
        "interest_cur_per_year",
        "space_cost_cur_per_year",
        "maintenance_cost_cur_per_year",
    )
    t.add("machine_rate_cur_per_h", F["machine_rate_cur_per_h"], *lines, m["planned_h_per_year"])
    if "labour_rate_cur_per_h" not in t.columns:
        people = (workplace["wage_cur_per_h"], workplace["burden_share"])
        t.add("labour_rate_cur_per_h", F["labour_rate_cur_per_h"], *people)


def part_times(on: OnMachine, common: Any) -> Table:
    """Each part on one machine: seconds by cause, run time, set-up, and whether it can be made there."""
    parts, data, workplace, _ = common
    steps, setup, feasible, collect = on.steps, on.setup, on.feasible, on.collect
    t = Table(f"parts_on_{on.kind}_{on.number}", f"Parts on {on.title.lower()}", parts.rows)
    t.copy("part", parts["part"])
    t.total("fails_count", feasible["fails_count"], "part", "part", label="Checks that fail")
    t.copy("used_switch", setup["used_switch"], label="On this machine")
    for cause in CAUSES:
        t.total(f"step_{cause}_s", steps[f"part_{cause}_s"], "part", "part", label=f"{cause.capitalize()} in the steps")
    t.total("work_energy_kj", steps["part_work_energy_kj"], "part", "part", label="Process electricity")
    t.total("lift_energy_kj", steps["part_lift_energy_kj"], "part", "part", label="Lifting electricity")
    t.sum("each_ends_s", data["load_time_s"], collect, label="Load, unload, stack and fetch of a piece")
    t.times("ends_s", "each_ends_s", "used_switch", label="Load, unload and stack")
    t.sum(
        "operator_s",
        "step_operator_s",
        "ends_s",
        label="Operator with load, unload and stack",
    )
    t.sum("normal_time_s", "step_ram_s", "step_gauge_s", "operator_s")
    t.add("part_time_s", F["standard_time_work_allowance_s"], "normal_time_s", workplace["allowance_on_work_share"])
    t.copy("setup_time_min", setup["setup_time_min"])
    return t


def parts_on(on: OnMachine, common: Any, counted: Ref) -> Table:
    """Each part on one machine: its times, hours a year, run cost, and whether it is counted in the machine's year."""
    parts, data, workplace, _ = common
    t = part_times(on, common)
    t.total("unknown_count", on.feasible["unknown_switch"], "part", "part", label="Steps without a result")
    t.switched("here_switch", "unknown_count", 0.0, counted, label="In the sums of this machine")
    _hours(t, parts, data, workplace)
    _cost(t, on.setup, on.rate, parts, data)
    for what, label in (("work", "Process electricity a year"), ("lift", "Lifting electricity a year")):
        year = (workplace["scrap_share"], parts["yearly_quantity_count"])
        t.add(f"{what}_energy_kwh", F["yearly_energy_kwh"], f"{what}_energy_kj", *year, label=label)
    return t


def _hours(t: Table, parts: Table, data: Table, workplace: Table) -> None:
    """Hours a year by cause, of people and of the machine."""
    ends_year = ("ends_s", parts["yearly_quantity_count"])
    t.times("ends_h_per_year", *ends_year, label="Load, unload and stack, year")
    year = (workplace["allowance_on_work_share"], workplace["scrap_share"], parts["yearly_quantity_count"])
    for cause, column in (("ram", "step_ram_s"), ("gauge", "step_gauge_s"), ("operator", "operator_s")):
        t.add(
            f"{cause}_h_per_year",
            F["run_h_per_year"],
            column,
            data["crew_count"],
            *year,
            label=f"{cause.capitalize()}, person-hours",
        )
    t.add(
        "setup_h_per_year",
        F["setup_h_per_year"],
        "setup_time_min",
        data["lots_per_year_count"],
        label="Set-up, person-hours",
    )
    t.add("run_h_per_year", F["run_h_per_year"], "normal_time_s", 1.0, *year, label="Machine running")
    t.sum("busy_h_per_year", "run_h_per_year", "setup_h_per_year")


def _cost(t: Table, setup: Table, rate: Table, parts: Table, data: Table) -> None:
    """Run cost of a part, and its share of set-up time and try-out scrap."""
    rates = (rate["labour_rate_cur_per_h"], rate["machine_rate_cur_per_h"])
    t.add("run_cost_cur", F["work_cost_cur"], "part_time_s", data["crew_count"], *rates, label="Run cost of a part")
    lot = parts["lot_size_count"]
    t.add("setup_time_cost_cur", F["setup_cost_per_part_cur"], "setup_time_min", *rates, lot, label="Set-up time share")
    scrap = (setup["try_out_parts_count"], data["material_cost_cur"])
    t.times("try_out_cost_cur", *scrap, over=[lot], label="Try-out scrap share")
    t.sum("setup_cost_cur", "setup_time_cost_cur", "try_out_cost_cur")
    year = (*scrap, data["lots_per_year_count"])
    t.times(
        "try_out_cost_cur_per_year",
        *year,
        label="Material used up at set-up, year",
    )


def machine_year(
    number: int, kind: str, machine: Table, rate: Table, on: Table, workplace: Table, tariff: Table
) -> Table:
    """One machine's year: hours in each state, electricity by cause, what it costs."""
    t = Table.record(f"{kind}_year_{number}", f"Year of {kind.replace('_', ' ')} {number}")
    here = on["here_switch"]
    for cause in (*CAUSES, "setup"):
        t.total(f"{cause}_h_per_year", on[f"{cause}_h_per_year"], where=here)
    t.total("busy_h_per_year", on["busy_h_per_year"], where=here)
    warm = machine["warm_up_h_per_year"]
    usable = (machine["on_h_per_year"], warm)
    t.difference("usable_h_per_year", *usable, label="Switched on and warm")
    t.add("waiting_h_per_year", F["waiting_h_per_year"], "usable_h_per_year", "busy_h_per_year")
    hours = ("busy_h_per_year", "waiting_h_per_year", warm)
    t.sum("switched_on_h", *hours, label="Hours switched on")
    add_waiting(t, machine, workplace)
    t.times(
        "ready_energy_kwh",
        "busy_h_per_year",
        "base_power_kw",
        label="Ready electricity while busy",
    )
    t.total("work_energy_kwh", on["work_energy_kwh"], where=here)
    t.total("lift_energy_kwh", on["lift_energy_kwh"], where=here)
    parts = ("waiting_energy_kwh", "ready_energy_kwh", "work_energy_kwh", "lift_energy_kwh")
    t.sum("energy_kwh", *parts, label="Electricity a year")
    _electricity_cost(t, machine, on, tariff)
    t.times(
        "co2_kg_per_year",
        "energy_kwh",
        tariff["co2_kg_per_kwh"],
        label="CO2 of the electricity",
    )
    t.add("carried_power_kw", F["carried_power_kw"], "base_power_kw", "waiting_energy_kwh", "busy_h_per_year")
    t.sum("people_h_per_year", *(f"{cause}_h_per_year" for cause in (*CAUSES, "setup")), label="Person-hours in all")
    labour = ("people_h_per_year", rate["labour_rate_cur_per_h"])
    t.times("labour_cost_cur_per_year", *labour, label="Labour at the machine")
    t.total(
        "try_out_cost_cur_per_year", on["try_out_cost_cur_per_year"], label="Material used up at set-up", where=here
    )
    t.copy("maintenance_cost_cur_per_year", rate["maintenance_cost_cur_per_year"])
    _standing(t, machine, rate, workplace)
    return t


def _electricity_cost(t: Table, machine: Table, on: Table, tariff: Table) -> None:
    """What the year's electricity costs in the shifts and outside them, and the demand of the part that draws most."""
    prices = (tariff["mean_energy_price_cur_per_kwh"], tariff["night_price_cur_per_kwh"])
    t.add(
        "energy_cost_cur_per_year",
        F["energy_cost_with_nights_cur_per_year"],
        "energy_kwh",
        "night_energy_kwh",
        *prices,
        label="Electricity without demand charge",
    )
    paid = ("energy_cost_cur_per_year", "energy_kwh", prices[0])
    t.add("paid_price_cur_per_kwh", _paid_price, *paid, label="Energy price paid, mean of its own hours")
    t.sum("busy_energy_kwh", "ready_energy_kwh", "work_energy_kwh", "lift_energy_kwh", label="Electricity while busy")
    t.share("busy_power_kw", "busy_energy_kwh", "busy_h_per_year", label="Mean power while working")
    working = (
        on["busy_h_per_year"],
        on["work_energy_kwh"],
        on["lift_energy_kwh"],
        t["base_power_kw"],
        on["here_switch"],
    )
    on.add("part_power_kw", _part_power, *working, label="Mean power of the part while working")
    t.peak("heaviest_power_kw", on["part_power_kw"], label="Mean power while working, the part that draws most")
    add_demand(t, machine, tariff, "heaviest_power_kw")


def _standing(t: Table, m: Table, rate: Table, workplace: Table) -> None:
    """What the machine costs whether it works or not, and what hours beyond its usual ones cost more."""
    insured = (m["machine_price_cur"], m["insurance_share"])
    t.times("insurance_cost_cur_per_year", *insured, label="Insurance")
    down = (m["downtime_h_per_year"], workplace["downtime_cur_per_h"])
    t.times("downtime_cost_cur_per_year", *down, label="Stated downtime")
    lines = (rate["space_cost_cur_per_year"], "insurance_cost_cur_per_year", "downtime_cost_cur_per_year")
    t.sum("standing_cost_cur_per_year", *lines, label="Floor, insurance, downtime")
    beyond = ("labour_cost_cur_per_year", "busy_h_per_year", "usable_h_per_year")
    extra = (workplace["extra_h_per_year"], workplace["extra_wage_share"])
    label = "Overtime or another shift"
    t.add("overtime_cost_cur_per_year", F["overtime_cost_cur_per_year"], *beyond, *extra, label=label)


def _paid_price(cost: Any, kwh: Any, price: Any) -> Any:
    return np.where(kwh > 0, cost / np.where(kwh > 0, kwh, 1.0), price)


def _part_power(hours: Any, work: Any, lift: Any, base: Any, here: Any) -> Any:
    """Nothing for a part that is not here, so that no peak passes over an error value."""
    power = base + (work + lift) / np.where(hours > 0, hours, 1.0)
    return np.where(here > 0, np.where(hours > 0, power, 0.0), 0.0)


def add_waiting(t: Table, m: Table, workplace: Table) -> None:
    """Add the power that runs with the machine, and the electricity of its waiting hours, of those outside the shifts, of warm-ups."""
    t.add("base_power_kw", F["base_power_kw"], m["ready_power_kw"], m["auxiliary_power_kw"])
    power = ("base_power_kw", m["standby_power_kw"], m["stop_share"])
    gaps = ("waiting_h_per_year", *power)
    t.add("gap_energy_kwh", F["waiting_energy_kwh"], *gaps, label="Electricity of waiting hours")
    t.excess("outside_h", HOURS_A_YEAR, "switched_on_h", label="Hours outside the shifts")
    night = ("outside_h", m["control_on_share"], m["standby_power_kw"])
    t.times("night_energy_kwh", *night, label="Electricity outside the shifts, control left on")
    warm = (m["warm_up_power_kw"], m["warm_up_min"], workplace["warm_ups_count"])
    t.add("warm_up_energy_kwh", F["warm_up_energy_kwh"], *warm, label="Electricity of warm-ups")
    idle = ("gap_energy_kwh", "night_energy_kwh", "warm_up_energy_kwh")
    t.sum("waiting_energy_kwh", *idle)


def add_demand(t: Table, m: Table, tariff: Table, busy: str) -> None:
    """Add the demand that the machine puts on the site's peak, what a power-factor clause makes of it, and its yearly charge.

    `busy` is the column of the mean power while it works, which counts as far as a stretch of work fills the averaging window.
    """
    t.add("mean_power_kw", F["mean_power_kw"], "energy_kwh", "switched_on_h")
    window = (busy, "mean_power_kw", tariff["busy_stretch_min"], tariff["demand_window_min"])
    t.add("window_demand_kw", F["window_demand_kw"], *window, label="Highest mean power in the averaging window")
    share = ("window_demand_kw", tariff["peak_share"])
    t.add("site_demand_kw", F["site_demand_kw"], *share, label="Demand on the site's peak")
    clause = (m["power_factor_share"], tariff["reference_power_factor_share"], tariff["surcharge_ratio"])
    t.add("billed_demand_kw", F["power_factor_step_kw"], "site_demand_kw", *clause)
    price = ("billed_demand_kw", 1.0, tariff["mean_demand_price_cur_per_kw"])
    t.add("demand_cost_cur_per_year", F["demand_cost_cur_per_year"], *price, label="Demand charge a year")


def part_energy(on: Table, year: Table, parts: Table, tariff: Table) -> None:
    """Electricity of each part, with its share of the machine's waiting and of the demand charge."""
    on.sum(
        "process_energy_kwh",
        "work_energy_kwh",
        "lift_energy_kwh",
        label="Process and lifting a year",
    )
    on.add(
        "process_energy_kj",
        F["energy_per_part_kj"],
        "process_energy_kwh",
        parts["yearly_quantity_count"],
        label="Process and lifting of a good part",
    )
    on.add(
        "busy_part_s",
        F["busy_time_per_part_s"],
        "busy_h_per_year",
        parts["yearly_quantity_count"],
        label="Busy time of a good part with set-up",
    )
    on.add(
        "part_energy_kwh",
        F["part_energy_kwh"],
        "busy_part_s",
        year["carried_power_kw"],
        "process_energy_kj",
        label="Electricity of a part",
    )
    price = (year["paid_price_cur_per_kwh"], year["demand_cost_cur_per_year"], year["energy_kwh"])
    on.add("energy_cost_cur", F["part_energy_cost_cur"], "part_energy_kwh", *price, label="Electricity cost of a part")
