"""A scenario and a quote without parts, for a blank workbook: defaults where there are any, NaN where only the user knows."""

from __future__ import annotations

from typing import TypeVar

import numpy as np

from xlfab.core.arguments import ARGUMENTS
from xlfab.inputs.csv_tables import Columns
from xlfab.inputs.cut_list_file import read_cut_lists
from xlfab.inputs.defaults import default_names, defaults
from xlfab.inputs.drives import known_drive
from xlfab.inputs.machine_records import PressBrake, Shear
from xlfab.inputs.material import Material
from xlfab.inputs.part_lists import BEND_EXTRAS, BEND_ONLY, PART_COLUMNS, PART_EXTRAS, PART_NUMBERS
from xlfab.inputs.purchase_terms import Finance, Option, Purchase
from xlfab.inputs.records import Record
from xlfab.inputs.scenario import Scenario
from xlfab.inputs.stated_values import Assumption
from xlfab.inputs.tariff_record import Tariff, with_co2_origin
from xlfab.inputs.workplace import Workplace
from xlfab.quote.quote_file import (
    BOUGHT_COLUMNS,
    PACKING_COLUMNS,
    TEXTS,
    WORK_COLUMNS,
    Quote,
    QuoteTerms,
    centre_columns,
    empty,
)

AnyRecord = TypeVar("AnyRecord", bound=Record)


def blank_scenario(currency: str, units: str = "metric", drive: str = "hydraulic") -> Scenario:
    """One shear and one press brake of a drive family, every material that has defaults, no parts."""
    assumed: list[Assumption] = []
    drive = known_drive(drive)

    def record(model: type[AnyRecord], section: str, applies_to: str, **texts: object) -> AnyRecord:
        known = defaults(section, applies_to)
        numbers = [key for key in model.model_fields if key in ARGUMENTS]
        values = {key: known[key].value if key in known else np.nan for key in numbers}
        title = str(texts.get("name", texts.get("material", "")))
        for key in values:
            if key in known:
                item = known[key]
                assumed.append(
                    Assumption(section, title, key, item.value, item.low, item.high, item.basis, item.source)
                )
        return model.model_construct(None, **{**values, **texts})

    materials = [record(Material, "material", name, material=name) for name in default_names("material")]
    shear = record(Shear, "shear", drive, name="Shear", drive=drive)
    brake = record(PressBrake, "press_brake", drive, name="Press brake", drive=drive)
    option = record(Option, "option", "", name="These machines", shear="Shear", press_brake="Press brake", buy=[])
    tariff, assumed = with_co2_origin(record(Tariff, "tariff", currency), assumed)
    return Scenario(
        name="quote",
        title="",
        currency=currency,
        units=units,
        note="",
        workplace=record(Workplace, "workplace", currency),
        tariff=tariff,
        purchase=record(Purchase, "purchase", currency),
        finance=record(Finance, "finance", currency),
        materials=_columns(materials, Material),
        parts=_no_rows(PART_COLUMNS, (*PART_NUMBERS, *PART_EXTRAS)),
        bends=_no_rows(("part",), ("step", "bend_length_mm", *BEND_ONLY, "gauge_x_mm", "per_part_count", *BEND_EXTRAS)),
        cuts=_no_rows(("part",), ("step", "cut_length_mm", "gauge_x_mm", "per_part_count")),
        cut_lines=read_cut_lists(None, {}),
        press_brakes=[brake],
        shears=[shear],
        options=[option],
        assumptions=assumed,
    )


def blank_quote() -> Quote:
    """The default terms, no further work, nothing bought in."""
    known = defaults("quote", "")
    terms = QuoteTerms(**{key: known[key].value for key in QuoteTerms.model_fields})
    assumed = [
        Assumption("quote", "", key, item.value, item.low, item.high, item.basis, item.source)
        for key, item in known.items()
    ]
    return Quote(
        terms,
        dict(TEXTS),
        centre_columns([]),
        empty(WORK_COLUMNS),
        empty(BOUGHT_COLUMNS),
        empty(PACKING_COLUMNS),
        assumed,
    )


def _columns(records: list[Material], model: type[Record]) -> Columns:
    return {
        name: np.array([getattr(item, name) for item in records], dtype=object if name == "material" else np.float64)
        for name in model.model_fields
    }


def _no_rows(texts: tuple[str, ...], numbers: tuple[str, ...]) -> Columns:
    columns: Columns = {name: np.array([], dtype=object) for name in texts}
    return columns | {name: np.array([], dtype=np.float64) for name in numbers}
