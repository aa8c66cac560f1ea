"""An option: a shear and a press brake together, cost of each part on them, and the year."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Rows, Table
from xlfab.work.machine_year import CAUSES

# what a year costs beside labour and electricity
UPKEEP = (
    "try_out_cost_cur_per_year",
    "maintenance_cost_cur_per_year",
    "standing_cost_cur_per_year",
    "overtime_cost_cur_per_year",
)


def parts_in(number: int, rows: Rows, shear: Table, brake: Table, parts: Table, data: Table, workplace: Table) -> Table:
    """Seconds, electricity and cost of each part when the option's two machines make it."""
    t = Table(f"parts_in_{number}", f"Parts in option {number}", rows)
    t.copy("part", parts["part"])
    fails = (shear["fails_count"], brake["fails_count"])
    t.add("can_it_be_made", _can, *fails, text=True, label="Can it be made")
    here = (shear["here_switch"], brake["here_switch"])
    t.times("here_switch", *here, label="In the sums")
    t.sum(
        "part_time_s",
        shear["part_time_s"],
        brake["part_time_s"],
        label="Cycle time a part",
    )
    t.add(
        "setup_part_s",
        lambda cut, bend, lot: (cut + bend) * 60 / lot,
        shear["setup_time_min"],
        brake["setup_time_min"],
        parts["lot_size_count"],
        label="Set-up time a part",
    )
    t.sum(
        "part_energy_kwh",
        shear["part_energy_kwh"],
        brake["part_energy_kwh"],
        label="Electricity of a part",
    )
    lot = ("part_energy_kwh", parts["lot_size_count"])
    t.times("lot_energy_kwh", *lot, label="Electricity of a lot")
    t.sum("setup_cost_cur", shear["setup_cost_cur"], brake["setup_cost_cur"])
    t.sum("energy_cost_cur", shear["energy_cost_cur"], brake["energy_cost_cur"])
    cost = (
        data["material_cost_cur"],
        shear["run_cost_cur"],
        brake["run_cost_cur"],
        "setup_cost_cur",
        "energy_cost_cur",
    )
    t.add("part_cost_cur", F["part_cost_cur"], *cost, workplace["scrap_share"], label="Cost of a part")
    for column in ("part_time_s", "setup_part_s", "part_energy_kwh", "part_cost_cur"):
        stem, _, unit = column.rpartition("_")
        t.times(
            f"yearly_{stem}_{unit}",
            column,
            parts["yearly_quantity_count"],
            label=f"{t.columns[column].label}, year",
        )
    return t


def _can(*fails: Any) -> Any:
    return np.where(sum(fails[1:], fails[0]) > 0, "Cannot be made as stated", "OK")


def _mean(total: Any, count: Any) -> Any:
    """A mean over counted parts; 0 where none is counted."""
    return np.where(count > 0, total / np.where(count > 0, count, 1.0), 0.0)


def option_year(
    number: int, on: Table, shear: Table, brake: Table, parts: Table, data: Table, rate: Table, tariff: Table
) -> Table:
    """The option's year and its mean part."""
    t = Table.record(f"option_year_{number}", f"Year of option {number}")
    here = on["here_switch"]
    t.total("quantity_count", parts["yearly_quantity_count"], label="Parts a year", where=here)
    for column in ("part_time_s", "setup_part_s", "part_energy_kwh", "part_cost_cur"):
        t.total(f"all_{column}", on[f"yearly_{column}"], label=on.columns[f"yearly_{column}"].label, where=here)
        t.add(
            f"mean_{column}",
            _mean,
            f"all_{column}",
            "quantity_count",
            label=f"{on.columns[column].label}, mean",
        )
    for cause in (*CAUSES, "setup"):
        t.sum(
            f"{cause}_h_per_year",
            shear[f"{cause}_h_per_year"],
            brake[f"{cause}_h_per_year"],
            label=f"{_WORD[cause]}, person-hours",
        )
        t.times(
            f"{cause}_cost_cur_per_year",
            f"{cause}_h_per_year",
            rate["labour_rate_cur_per_h"],
            label=f"Labour, {_WHILE[cause]}",
        )
    nights = (shear["night_energy_kwh"], brake["night_energy_kwh"])
    t.sum("night_energy_kwh", *nights, label=shear.columns["night_energy_kwh"].label)
    for what, label in _ENERGY.items():
        t.sum(
            f"{what}_energy_kwh",
            shear[f"{what}_energy_kwh"],
            brake[f"{what}_energy_kwh"],
            label=label,
        )
        _energy_cost(t, what, label, tariff)
    t.sum("energy_kwh", shear["energy_kwh"], brake["energy_kwh"], label="Electricity a year")
    t.total("lots_count", data["lots_per_year_count"], label="Lots a year", where=here)
    per_lot = ("energy_kwh", "lots_count")
    t.add("mean_lot_energy_kwh", _mean, *per_lot, label="Electricity of a lot, mean")
    both = ("demand_cost_cur_per_year", *UPKEEP, "co2_kg_per_year")
    for column in both:
        t.sum(column, shear[column], brake[column], label=shear.columns[column].label)
    labour = [f"{cause}_cost_cur_per_year" for cause in (*CAUSES, "setup")]
    t.sum("labour_cost_cur_per_year", *labour, label="Labour at the machines")
    energy = [f"{what}_energy_cost_cur_per_year" for what in _ENERGY]
    t.sum(
        "electricity_cost_cur_per_year",
        *energy,
        "demand_cost_cur_per_year",
        label="Electricity with demand charge",
    )
    running = ("labour_cost_cur_per_year", "electricity_cost_cur_per_year", *UPKEEP)
    label = "Running cost a year"
    t.sum("running_cost_cur_per_year", *running, label=label)
    return t


def _energy_cost(t: Table, what: str, label: str, tariff: Table) -> None:
    """What one state's electricity costs; waiting has a part outside the shifts, at the price of those hours."""
    night: str | float = "night_energy_kwh" if what == "waiting" else 0.0
    prices = (tariff["mean_energy_price_cur_per_kwh"], tariff["night_price_cur_per_kwh"])
    cost = (f"{what}_energy_kwh", night, *prices)
    t.add(f"{what}_energy_cost_cur_per_year", F["energy_cost_with_nights_cur_per_year"], *cost, label=label)


_WORD = {"ram": "Ram and blade", "gauge": "Waiting for the gauge", "operator": "Operator", "setup": "Set-up"}
_WHILE = {
    "ram": "ram and blade",
    "gauge": "back gauge",
    "operator": "handling",
    "setup": "set-up",
}
_ENERGY = {
    "waiting": "Standby and warm-up",
    "ready": "Idle power in production",
    "work": "Electricity for forming and cutting",
    "lift": "Electricity for lifting ram and blade",
}
# what the yearly difference is split into, in the order in which it is shown
DIFFERENCE_COLUMNS = (
    *(f"{cause}_cost_cur_per_year" for cause in _WHILE),
    *(f"{what}_energy_cost_cur_per_year" for what in _ENERGY),
    "demand_cost_cur_per_year",
    *UPKEEP,
)
