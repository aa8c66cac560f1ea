"""The inputs of a quote as tables: the lists with their spare rows, and the records of shop, terms and texts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from xlfab.catalogue import FUNCTIONS as F
from xlfab.inputs.part_lists import BEND_EXTRAS, PART_EXTRAS
from xlfab.tables.table import Rows, Table
from xlfab.work import shop_tables
from xlfab.work.machine_year import add_rate

NO_SPARE: dict[str, int] = {}
KEYS = {"materials": "material", "work_centres": "work_centre"}


def _numbers(texts: Mapping[str, str]) -> dict[str, float]:
    return {name: float(text) for name, text in texts.items()}


# what an unused row shows in columns that have a usual value
SPARE_VALUES: dict[str, dict[str, float]] = {
    "parts": {"tool_stations_count": 1, "sheet_use_share": 0.8, **_numbers(PART_EXTRAS)},
    "bends": {
        "bend_angle_deg": 90,
        "gauge_x_mm": 0,
        "gauge_r_mm": 0,
        "gauge_z_mm": 0,
        "turn_over_switch": 0,
        "per_part_count": 1,
        **_numbers(BEND_EXTRAS),
    },
    "cuts": {"gauge_x_mm": 0, "per_part_count": 1},
    "work": {"setup_time_min": 0},
    "bought": {"pieces_per_part_count": 1, "outside_lot_charge_cur": 0},
    "packing": {"package_price_cur": 0, "parts_per_package_count": 1, "tool_price_cur": 0, "tool_life_count": 1},
}


@dataclass
class QuoteInputs:
    """All that the user states, and the rates of the further work centres."""

    workplace: Table
    tariff: Table
    terms: Table
    texts: Table
    materials: Table
    parts: Table
    cuts: Table
    bends: Table
    packing: Table
    work_centres: Table
    work: Table
    bought: Table
    lookups: dict[str, Table]

    def tables(self) -> list[Table]:
        """All of them."""
        return [*(item for item in vars(self).values() if isinstance(item, Table)), *self.lookups.values()]


def quote_inputs(scenario: Any, quote: Any, spare: Mapping[str, int] = NO_SPARE) -> QuoteInputs:
    """Lay out the inputs; `spare` adds rows to fill in."""
    columns = {
        "materials": scenario.materials, "parts": scenario.parts, "cuts": scenario.cuts, "bends": scenario.bends,
        "work_centres": quote.work_centres, "work": quote.work, "bought": quote.bought,
    }  # fmt: skip
    lists = {key: _list(key, values, spare.get(key, 0)) for key, values in columns.items()}
    _choices(lists)
    records = shop_tables.shop(scenario, {})
    terms = shop_tables.stated_record("terms", "Terms", "quote", "", shop_tables.fields_of(quote.terms), {})
    texts = Table.record("texts", "Texts")
    for key, value in quote.texts.items():
        texts.put(key, [value])
    made = QuoteInputs(
        workplace=records["workplace"],
        tariff=records["tariff"],
        terms=terms,
        texts=texts,
        packing=_packing(lists["parts"], quote.packing),
        lookups=shop_tables.lookups(),
        **lists,
    )
    _work_rates(made)
    return made


def _list(key: str, columns: Any, spare: int) -> Table:
    count = len(next(iter(columns.values())))
    table = shop_tables.stated_list(key, key.replace("_", " ").capitalize(), Rows(key, count, spare), columns, key, {})
    table.rows.key = table[KEYS.get(key, "part")]
    for name, value in SPARE_VALUES.get(key, {}).items():
        table.columns[name].spare = float(value)
    return table


def _packing(part_list: Table, columns: Any) -> Table:
    table = Table("packing", "Packing and tools", part_list.rows)
    table.copy("part", part_list["part"])
    for name, value in SPARE_VALUES["packing"].items():
        table.put(name, columns[name], spare=float(value))
    return table


def _choices(tables: dict[str, Table]) -> None:
    """Names are chosen from the lists that hold them."""
    for key in ("cuts", "bends", "work", "bought"):
        tables[key].columns["part"].choices = tables["parts"]["part"]
    tables["parts"].columns["material"].choices = tables["materials"]["material"]
    tables["work"].columns["work_centre"].choices = tables["work_centres"]["work_centre"]


def _work_rates(made: QuoteInputs) -> None:
    """Machine-hour rates of the further work centres, and what their work costs a part and a lot."""
    centres, work = made.work_centres, made.work
    add_rate(centres, centres, made.workplace)
    hour = ("machine_rate_cur_per_h", "crew_count", "labour_rate_cur_per_h", "mean_power_kw")
    price = made.tariff["mean_energy_price_cur_per_kwh"]
    centres.add("work_centre_rate_cur_per_h", F["work_centre_rate_cur_per_h"], *hour, price)
    work.lookup("rate_cur_per_h", "work_centre", centres["work_centre_rate_cur_per_h"], "work_centre", label="Rate")
    work.add("run_cost_cur", F["work_centre_cost_cur"], 0.0, "part_time_s", "rate_cur_per_h", 1.0, label="Each piece")
    work.add("lot_cost_cur", F["work_centre_cost_cur"], "setup_time_min", 0.0, "rate_cur_per_h", 1.0, label="Each lot")
