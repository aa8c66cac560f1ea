"""What a quote needs beside the scenario: terms, texts, further work centres and their work, bought-in pieces, packing and tools.

It stands in the scenario's folder: quote.toml, and work.csv, bought_in.csv and packing.csv, each of them optional.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.reading import read_toml
from xlfab.inputs.csv_tables import Columns, read_table
from xlfab.inputs.defaults import defaults
from xlfab.inputs.faults import Faults, nearest
from xlfab.inputs.part_lists import known_names
from xlfab.inputs.records import Name, Record, many_tables, one_table, read_record
from xlfab.inputs.scenario import Scenario
from xlfab.inputs.stated_values import Assumption
from xlfab.inputs.unusual import UnusualValue, unusual_values

QUOTE_FILE = "quote.toml"
TEXTS = {
    "shop": "",
    "shop_address": "",
    "customer": "",
    "customer_address": "",
    "reference": "",
    "quote_number": "",
    "quote_date": "",
    "prepared_by": "",
    "valid_until": "30 days from the date above",
    "lead_time": "By agreement",
    "delivery": "By arrangement",
    "payment": "30 days net",
}
WORK_COLUMNS = ("part", "work_centre", "setup_time_min", "part_time_s")
BOUGHT_COLUMNS = ("part", "item", "bought_in_price_cur", "pieces_per_part_count", "outside_lot_charge_cur")
PACKING_COLUMNS = ("part", "package_price_cur", "parts_per_package_count", "tool_price_cur", "tool_life_count")
PACKING_DEFAULTS = {
    "package_price_cur": 0.0,
    "parts_per_package_count": 1.0,
    "tool_price_cur": 0.0,
    "tool_life_count": 1.0,
}


class QuoteTerms(Record):
    """How cost becomes price, at which quantities, and by how much times are corrected."""

    margin_switch: float
    margin_share: float
    markup_share: float
    overhead_share: float
    bought_in_overhead_share: float
    minimum_order_cur: float
    price_step_cur: float
    spread_switch: float
    break_1_count: float
    break_2_count: float
    break_3_count: float
    break_4_count: float
    break_5_count: float
    shear_time_factor_ratio: float
    brake_time_factor_ratio: float
    setup_time_factor_ratio: float
    tried_count: float


class WorkCentre(Record):
    """A further work centre that is charged by the hour: welding, drilling, deburring, inspection."""

    name: Name
    machine_price_cur: float
    salvage_cur: float
    life_years: float
    floor_area_m2: float
    maintenance_share: float
    planned_h_per_year: float
    crew_count: float
    mean_power_kw: float


@dataclass(frozen=True)
class Quote:
    """The inputs of a quote. `packing` has one row for each part of the scenario, in its order."""

    terms: QuoteTerms
    texts: dict[str, str]
    work_centres: Columns
    work: Columns
    bought: Columns
    packing: Columns
    assumptions: list[Assumption]
    warnings: list[UnusualValue] = field(default_factory=list)  # values outside their usual range, as they were typed


def load_quote(folder: Path, scenario: Scenario) -> Quote:
    """Read the quote of a scenario's folder; what is missing takes its default."""
    path = Path(folder)
    raw = read_toml(path / QUOTE_FILE) if (path / QUOTE_FILE).exists() else {}
    faults = Faults()
    report = faults.report(QUOTE_FILE)
    for key in raw:
        if key not in ("quote", "texts", "work_centre"):
            report(key, f"is not known; {nearest(key, ('quote', 'texts', 'work_centre'), 'known section')}")
    terms, assumed = read_record(
        QuoteTerms,
        "quote",
        one_table(raw, "quote", faults.report(QUOTE_FILE, "[quote]")),
        defaults("quote", ""),
        scenario.currency,
        faults.report(QUOTE_FILE, "[quote]"),
    )
    centres = _work_centres(raw, scenario.currency, faults, assumed)
    parts = scenario.parts["part"].tolist()
    names = [item.name for item in centres]
    work = _list(path / "work.csv", WORK_COLUMNS, {"part": parts, "work_centre": names}, faults)
    bought = _list(path / "bought_in.csv", BOUGHT_COLUMNS, {"part": parts}, faults)
    packing = _list(path / "packing.csv", PACKING_COLUMNS, {"part": parts}, faults)
    texts = _texts(raw, scenario.title, faults)
    faults.raise_if_any()
    assert terms is not None  # its faults are raised above
    unusual = unusual_values(QUOTE_FILE, assumed, scenario.currency, scenario.units)
    return Quote(terms, texts, centre_columns(centres), work, bought, packing_of(parts, packing), assumed, unusual)


def _texts(raw: dict[str, Any], shop: str, faults: Faults) -> dict[str, str]:
    report = faults.report(QUOTE_FILE, "[texts]")
    given = one_table(raw, "texts", report)
    for key, value in given.items():
        if key not in TEXTS:
            report(key, f"is not known; {nearest(key, TEXTS, 'known text')}")
        elif not isinstance(value, str) or len(value) > 250:
            report(key, "must be a text of at most 250 characters")
    return {**TEXTS, "shop": shop, **{key: str(value) for key, value in given.items() if key in TEXTS}}


def _work_centres(raw: dict[str, Any], currency: str, faults: Faults, assumed: list[Assumption]) -> list[WorkCentre]:
    found: list[WorkCentre] = []
    tables = many_tables(raw, "work_centre", faults.report(QUOTE_FILE, "[[work_centre]]"))
    for number, entry in enumerate(tables, 1):
        report = faults.report(QUOTE_FILE, f"[[work_centre]] no. {number}")
        record, origin = read_record(WorkCentre, "work_centre", entry, defaults("work_centre", ""), currency, report)
        assumed += origin
        if record is not None:
            if record.name.casefold() in {item.name.casefold() for item in found}:
                report("name", f"'{record.name}' stands twice")
            found.append(record)
    return found


def centre_columns(centres: Sequence[WorkCentre]) -> Columns:
    """The work centres as columns, the name first."""
    columns: Columns = {"work_centre": np.array([item.name for item in centres], dtype=object)}
    for name in WorkCentre.model_fields:
        if name != "name":
            columns[name] = np.array([getattr(item, name) for item in centres], dtype=np.float64)
    return columns


def _list(path: Path, names: Sequence[str], known: dict[str, Iterable[str]], faults: Faults) -> Columns:
    """One of the CSV files: text columns that name something known, text columns, and columns of numbers."""
    if not path.exists():
        return empty(names)
    table = read_table(path, names, [], faults.report(path.name))
    if table is None:
        return empty(names)
    columns: Columns = {}
    for name in names:
        if name in known:
            columns[name] = known_names(table, name, known[name], "known name")
        elif name == "item":
            columns[name] = table.cells[name].to_numpy(dtype=object)
        else:
            columns[name] = table.numbers(name, name)
    return columns


def empty(names: Sequence[str]) -> Columns:
    """Columns without a row."""
    return {
        name: np.array([], dtype=object if name in ("part", "work_centre", "item") else np.float64) for name in names
    }


def packing_of(parts: Sequence[str], stated: Columns) -> Columns:
    """Packing and tools of every part: as stated, else none."""
    place = {name: number for number, name in enumerate(stated["part"])}
    columns: Columns = {"part": np.array(parts, dtype=object)}
    for name, without in PACKING_DEFAULTS.items():
        columns[name] = np.array(
            [stated[name][place[part]] if part in place else without for part in parts], dtype=np.float64
        )
    return columns
