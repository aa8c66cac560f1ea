"""The shop around an imported list, where the user has none yet: one shear, one press brake, placeholders for what nobody knows but he.

Every placeholder is judgement, says so, and is to be replaced; wage, power and all else come from the defaults with their sources.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.inputs.defaults import defaults
from xlfab.inputs.rests_on import PLACEHOLDER

TITLE = "Name of your shop"
SHEAR, BRAKE = "Shear", "Press brake"
_MACHINES: dict[str, dict[str, dict[str, float]]] = {
    "metric": {
        SHEAR: {"shear_capacity_mm": 6.0, "blade_length_mm": 3100.0},
        BRAKE: {"rated_force_kn": 1000.0, "working_length_mm": 3100.0},
    },
    "us": {
        SHEAR: {"shear_capacity_in": 0.25, "blade_length_in": 122.0},
        BRAKE: {"rated_force_tonf": 110.0, "working_length_in": 122.0},
    },
}


@cache
def start_prices(currency: str) -> dict[str, tuple[float, float, float]]:
    """Value, low and high of each placeholder price in a currency; empty where there are none."""
    text = files("xlfab").joinpath("customer_list/start_prices.csv").read_text(encoding="utf-8")
    rows = [row for row in csv.DictReader(text.splitlines()) if row["currency"] == currency.upper()]
    return {row["what"]: (float(row["value"]), float(row["low"]), float(row["high"])) for row in rows}


def shop_text(currency: str, units: str, materials: list[str]) -> str:
    """scenario.toml of a shop for these materials; ScenarioError where nothing is known in the currency."""
    import tomlkit

    prices = start_prices(currency)
    if not prices or "wage_cur_per_h" not in defaults("workplace", currency):
        raise ScenarioError(
            f"--currency {currency}: placeholder prices are there for EUR and USD only; give your own shop with --scenario FOLDER"
        )
    document = tomlkit.document()
    document.add(
        tomlkit.comment("Made for an imported list. Prices and machines below are placeholders: put in your own.")
    )
    document.add(tomlkit.comment("What is not here is a default; the workbook says on what each rests."))
    document.update({"name": "imported", "title": TITLE, "currency": currency, "units": units})
    lists: dict[str, list[dict[str, Any]]] = {
        "material": [
            {
                "material": name,
                "material_price_cur_per_kg": _placeholder(prices[name], "take it from your supplier's list"),
            }
            for name in materials
            if name in prices
        ],
        "shear": [_machine(SHEAR, units, prices)],
        "press_brake": [_machine(BRAKE, units, prices)],
        "option": [{"name": "These machines", "shear": SHEAR, "press_brake": BRAKE, "buy": []}],
    }
    for section, records in lists.items():
        document[section] = tomlkit.aot()
        for record in records:
            document[section].append(tomlkit.item(record))  # type: ignore[union-attr, arg-type, unused-ignore]
    return tomlkit.dumps(document)


def _machine(name: str, units: str, prices: dict[str, tuple[float, float, float]]) -> dict[str, Any]:
    price = _placeholder(prices[name], "put in what yours costs, new")
    return {"name": name, "drive": "hydraulic", **_MACHINES[units][name], "machine_price_cur": price}


def _placeholder(figures: tuple[float, float, float], advice: str) -> dict[str, Any]:
    value, low, high = figures
    return {"value": value, "low": low, "high": high, "basis": "judgement", "source": f"{PLACEHOLDER}: {advice}"}
