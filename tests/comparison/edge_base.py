"""A small invented shop for the edges of the verdict: one shear, an old and a new brake, three parts; and what an edge changes in it."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import tomlkit

from xlfab.inputs.scenario import Scenario, load

SHOP: dict[str, Any] = {
    "name": "edge",
    "title": "Edge shop (invented)",
    "currency": "EUR",
    "workplace": {"wage_cur_per_h": 24.0, "burden_share": 0.3},
    "tariff": {"energy_price_cur_per_kwh": 0.2, "demand_price_cur_per_kw": 6.0},
    "purchase": {"discount_rate_share": 0.08, "study_years": 10, "released_value_share": 0.8, "target_payback_years": 4},
    "material": [{"material": "S235JR", "material_price_cur_per_kg": 1.0, "offcut_price_cur_per_kg": 0.2}],
    "shear": [
        {"name": "Shear", "drive": "hydraulic", "shear_capacity_mm": 6, "blade_length_mm": 3100, "machine_price_cur": 40000},
        {"name": "Shear 2", "drive": "hydraulic", "shear_capacity_mm": 6, "blade_length_mm": 3100, "machine_price_cur": 40000},
    ],
    "press_brake": [
        {
            "name": "Old",
            "drive": "hydraulic",
            "rated_force_kn": 1000,
            "working_length_mm": 3100,
            "first_setup_min": 18,
            "further_station_min": 5,
            "maintenance_share": 0.02,
            "machine_price_cur": 80000,
        },
        {
            "name": "New",
            "drive": "screw servo-drive",
            "rated_force_kn": 1000,
            "working_length_mm": 3100,
            "first_setup_min": 8,
            "further_station_min": 2.5,
            "maintenance_share": 0.02,
            "machine_price_cur": 100000,
        },
    ],
    "option": [
        {"name": "Keep", "shear": "Shear", "press_brake": "Old", "buy": []},
        {"name": "Buy", "shear": "Shear", "press_brake": "New", "buy": ["New"]},
    ],
    "parts": [
        {"part": "P1", "material": "S235JR", "thickness_mm": 2, "blank_length_mm": 600, "blank_width_mm": 300,
         "lot_size_count": 25, "yearly_quantity_count": 6000, "tool_stations_count": 2, "sheet_use_share": 0.85},
        {"part": "P2", "material": "S235JR", "thickness_mm": 3, "blank_length_mm": 1500, "blank_width_mm": 250,
         "lot_size_count": 10, "yearly_quantity_count": 2000, "tool_stations_count": 1, "sheet_use_share": 0.85},
        {"part": "P3", "material": "S235JR", "thickness_mm": 4, "blank_length_mm": 2400, "blank_width_mm": 400,
         "lot_size_count": 5, "yearly_quantity_count": 500, "tool_stations_count": 1, "sheet_use_share": 0.85},
    ],
    "steps": [
        {"part": part, "step": step, "kind": kind, "length_mm": length, "bend_angle_deg": angle, "die_opening_mm": die,
         "gauge_x_mm": gauge, "gauge_r_mm": rest, "gauge_z_mm": rest, "turn_over_switch": rest, "per_part_count": 1}
        for part, step, kind, length, angle, die, gauge, rest in (
            ("P1", 1, "cut", 600, "", "", 300, ""), ("P1", 2, "bend", 600, 90, 16, 40, 0), ("P1", 3, "bend", 600, 90, 16, 60, 0),
            ("P2", 1, "cut", 1500, "", "", 250, ""), ("P2", 2, "bend", 1500, 90, 24, 50, 0), ("P2", 3, "bend", 1500, 120, 24, 80, 0),
            ("P3", 1, "cut", 2400, "", "", 400, ""), ("P3", 2, "bend", 2400, 90, 32, 100, 0),
        )
    ],
}  # fmt: skip
LISTS = {"parts": "parts.csv", "steps": "steps.csv"}


def changed(changes: dict[str, Any]) -> dict[str, Any]:
    """The shop with values at paths such as `press_brake.1.machine_price_cur` or `option.1.buy` replaced."""
    shop = copy.deepcopy(SHOP)
    for path, value in copy.deepcopy(changes).items():  # a whole machine among them must not be changed by what follows
        *way, last = path.split(".")
        place: Any = shop
        for word in way:
            place = place[int(word)] if isinstance(place, list) else place.setdefault(word, {})
        if isinstance(place, list):
            place[int(last)] = value
        elif value is None:
            place.pop(last, None)
        else:
            place[last] = value
    return shop


def write_shop(shop: dict[str, Any], folder: Path) -> Path:
    """Write a shop as a scenario's folder."""
    folder.mkdir(parents=True, exist_ok=True)
    document = {key: value for key, value in shop.items() if key not in LISTS}
    (folder / "scenario.toml").write_text(tomlkit.dumps(document), encoding="utf-8")
    for key, name in LISTS.items():
        heads = list(shop[key][0])
        lines = [",".join(str(row.get(head, "")) for head in heads) for row in shop[key]]
        (folder / name).write_text("\n".join([",".join(heads), *lines]) + "\n", encoding="utf-8")
    return folder


def edge_shop(changes: dict[str, Any], folder: Path) -> Scenario:
    """The changed shop, loaded."""
    return load(write_shop(changed(changes), folder))
