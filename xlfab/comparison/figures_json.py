"""The figures of a comparison as JSON, for other programs: in shop units, each with its unit; null where there is no result."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from typing import Any

from xlfab.comparison.compare import Comparison
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.core.arguments import label_of
from xlfab.core.units import split_name, unit_label
from xlfab.inputs.unusual import UnusualValue
from xlfab.tables.table import Table

YEAR = (
    "mean_part_time_s",
    "mean_setup_part_s",
    "mean_part_energy_kwh",
    "mean_part_cost_cur",
    "running_cost_cur_per_year",
    "energy_kwh",
    "co2_kg_per_year",
)
PURCHASE = ("outlay_cur", "yearly_saving_cur")
VERDICT = ("saving_doubt_cur", "simple_shown_years", "discounted_shown_years", "rate_shown_share")


def figures_json(made: Comparison, warnings: Sequence[UnusualValue]) -> str:
    """Options with their year, and for every option but the first its verdict, purchase and difference against the first."""
    scenario = made.job.scenario
    document: dict[str, Any] = {
        "scenario": scenario.name,
        "title": scenario.title,
        "currency": scenario.currency,
        "options": [
            {"name": one.name, "year": _figures(one.year, YEAR, scenario.currency)} for one in made.job.options
        ],
        "against_the_first": [
            {
                "option": one.name,
                "verdict": str(table.value("verdict")[0]),
                "difference": _figures(one.difference, DIFFERENCE_COLUMNS, scenario.currency),
                "purchase": _figures(one.purchase, PURCHASE, scenario.currency)
                | _figures(one.measures, ("net_present_value_cur",), scenario.currency)
                | _figures(table, VERDICT, scenario.currency),
            }
            for one, table in zip(made.job.options[1:], made.verdicts, strict=True)
        ],
        "unusual_values": [warning.words for warning in warnings],
    }
    return json.dumps(document, indent=2, ensure_ascii=False)


def _figures(table: Table, names: Sequence[str], currency: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name in names:
        value = table.value(name)[0]
        number = float(value) if not isinstance(value, str) else None
        shown: Any = value if number is None else number if math.isfinite(number) else None
        found[name] = {
            "label": label_of(name),
            "value": shown,
            "unit": unit_label(split_name(name)[1].suffix, currency),
        }
    return found
