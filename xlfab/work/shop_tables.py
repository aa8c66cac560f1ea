"""The user's inputs as tables: records for workplace, tariff, purchase, machines and options, and the three lists."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.inputs.lookup_tables import lookup_table
from xlfab.tables.table import Ref, Rows, Table

# what stands in for an input: (section, record, key) -> values, one for each variant, or another table's column
Variants = dict[tuple[str, str, str], Any]


def stated_record(name: str, title: str, section: str, record: str, data: Any, variants: Variants) -> Table:
    """A record with one column for each field of a data object, in its written order."""
    table = Table.record(name, title)
    for key, value in data.items():
        instead = variants.get((section, record, key))
        if isinstance(instead, Ref):
            note = instead.table.columns[instead.column].note
            table.copy(key, instead, note=note)
            table.columns[key].stated_in = instead.table.columns[instead.column].stated_in
            continue
        if instead is not None:
            value = np.asarray(instead, dtype=float).reshape(-1, 1)
        table.put(key, value, label=_TEXT_LABELS.get(key, ""))
    return table


_TEXT_LABELS = {"co2_source": "CO₂ factor: grid or contract", "co2_dated": "CO₂ factor: year"}
ENERGY_PRICE = "Mean energy price of the hours, with tax"
DEMAND_PRICE = "Mean demand price a month, with ratchet and tax"
_SHOP = (("workplace", "Workplace"), ("tariff", "Tariff"), ("purchase", "Purchase terms"), ("finance", "Loan and tax"))


def shop(scenario: Any, variants: Variants) -> dict[str, Table]:
    """The records that hold for the whole shop: workplace, tariff, terms of a purchase, loan and tax."""
    records = {
        key: stated_record(key, title, key, "", fields_of(getattr(scenario, key)), variants) for key, title in _SHOP
    }
    allowance = ("allowance_share", "allowance_day_switch")
    label = "Allowance on top of the work"
    records["workplace"].add("allowance_on_work_share", F["allowance_on_work_share"], *allowance, label=label)
    _calendar(records["workplace"])
    _mean_prices(records["tariff"])
    return records


def _calendar(t: Table) -> None:
    """Hours switched on by the calendar, and how often a year a machine warms up."""
    day = ("working_days_count", "shifts_count", "shift_h", "break_min", "break_on_switch")
    t.add("switched_on_h_per_year", F["switched_on_h_per_year"], *day, label="Hours switched on by the calendar")
    days = ("working_days_count", "calendar_switch")
    t.times("warm_ups_count", *days, label="Warm-ups a year, one a working day")


def hours_in_use(m: Table, workplace: Table) -> None:
    """Add what a machine's year takes: hours by the calendar or its own, stopped share by the timer or its own, and warm-up."""
    calendar = (workplace["calendar_switch"], workplace["switched_on_h_per_year"], "powered_h_per_year")
    m.switched("on_h_per_year", *calendar, label="Power-on hours in use")
    gap = ("auto_stop_min", workplace["mean_gap_min"])
    m.add("timer_stop_share", F["auto_stop_share"], *gap, label="Auto-stop by the timer")
    timer = (workplace["timer_switch"], "timer_stop_share", "auto_stop_share")
    m.switched("stop_share", *timer, label="Auto-stop in use")
    starts = ("warm_up_min", workplace["warm_ups_count"])
    m.times("warm_up_h_per_year", *starts, label="Warm-up hours a year")


def _mean_prices(t: Table) -> None:
    """The price of a kWh and of a kW and month that the year's costs are reckoned with."""
    bands = [f"{band}price_cur_per_kwh" for band in ("energy_", "peak_", "summer_", "summer_peak_")]
    hours = ("peak_hours_share", "summer_hours_share", "tax_share")
    t.add("mean_energy_price_cur_per_kwh", F["mean_energy_price_cur_per_kwh"], *bands, *hours, label=ENERGY_PRICE)
    nights = ("night_peak_hours_share", "summer_hours_share", "tax_share")
    label = "Mean energy price outside the shifts, with tax"
    t.add("night_price_cur_per_kwh", F["mean_energy_price_cur_per_kwh"], *bands, *nights, label=label)
    ratchet = ("ratchet_share", "quiet_months_count", "quiet_demand_share", "tax_share")
    price = ("demand_price_cur_per_kw", *ratchet)
    t.add("mean_demand_price_cur_per_kw", F["mean_demand_price_cur_per_kw"], *price, label=DEMAND_PRICE)


def fields_of(data: Any, leave_out: tuple[str, ...] = ()) -> dict[str, Any]:
    """The fields of a pydantic record that go into a table: numbers and text, no lists."""
    items = data.model_dump().items()
    return {key: value for key, value in items if key not in leave_out and isinstance(value, (int, float, str))}


def stated_list(name: str, title: str, rows: Rows, columns: Any, section: str, variants: Variants) -> Table:
    """A list of parts, steps or materials. A variant scales nothing here: lists are the customer's own figures."""
    table = Table(name, title, rows)
    for key, values in columns.items():
        changed = [values]
        for (where, record, what), value in variants.items():
            if where == section and what == key:
                batch = (
                    np.tile(np.asarray(values, dtype=float), (len(value), 1))
                    if np.ndim(changed[0]) == 1
                    else changed[0]
                )
                batch[:, list(columns[section]).index(record)] = value
                changed[0] = batch
        table.put("step_count" if key == "step" else key, changed[0])
    return table


def lookups() -> dict[str, Table]:
    """The small tables of the package, editable like any input."""
    found = {}
    for name, title in (
        ("guard_modes", "Protective devices"),
        ("rake", "Usual rake"),
        ("die_ratio", "Usual die opening"),
    ):
        columns = lookup_table(name)
        found[name] = Table(name, title, Rows(name, len(columns["source"])))
        for key, values in columns.items():
            if key not in ("low", "high"):
                found[name].put(key, values)
    return found
