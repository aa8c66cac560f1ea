"""A shop of any size, drawn at random into arrays: one shear, one press brake, five bends and one cut a part. All of it invented."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import Scenario, load

BENDS_A_PART = 5
BRAKE = {
    "reduced_return_switch": 1,
    "overlap_switch": 1,
    "gauge_pull_back_mm": 20,
    "first_setup_min": 0.05,
    "further_station_min": 0.02,
    "program_call_min": 0.01,
    "try_out_min": 0.01,
    "try_out_per_bend_count": 0.1,
}
SHEAR = {"overlap_switch": 1, "partial_stroke_switch": 1, "gauge_pull_back_mm": 10, "rear_support_switch": 0}
SHEAR |= {"shear_setup_min": 0.03, "gauge_setting_min": 0.01}
WORKPLACE = {"trips_per_station_count": 0, "first_piece_check_min": 0}


def big_shop(bends: int, seed: int = 1) -> Scenario:
    """The demo shop's records with lists of this many bends; set-ups are short, so that a year holds them all."""
    random = np.random.default_rng(seed)
    shop = load(bundled("demo_shop"))
    count = max(1, bends // BENDS_A_PART)
    parts = _parts(random, count, shop.materials["material"])
    of = np.sort(random.integers(0, count, bends))
    return replace(
        shop,
        parts=parts,
        bends=_bends(random, parts["part"][of], parts["thickness_mm"][of]),
        cuts=_cuts(random, parts["part"]),
        workplace=shop.workplace.model_copy(update=WORKPLACE),
        press_brakes=[shop.press_brakes[0].model_copy(update=BRAKE)],
        shears=[shop.shears[0].model_copy(update=SHEAR)],
        options=shop.options[:1],
    )


def _parts(random, count, materials):
    names = np.array([f"P{number:07d}" for number in range(count)], dtype=object)
    lots = random.integers(1, 5, count).astype(float)
    return {
        "part": names,
        "description": names,
        "material": materials[random.integers(0, len(materials), count)],
        "thickness_mm": random.choice([1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0], count),
        "blank_length_mm": random.uniform(100, 2500, count),
        "blank_width_mm": random.uniform(60, 1250, count),
        "lot_size_count": lots,
        "yearly_quantity_count": lots,
        "tool_stations_count": random.integers(1, 4, count).astype(float),
        "sheet_use_share": random.uniform(0.7, 0.95, count),
        "family": names,
        "stored_program_switch": np.ones(count),
        "sheet_length_mm": np.zeros(count),
        "sheet_width_mm": np.zeros(count),
        "edge_trim_mm": np.zeros(count),
        "strip_trim_mm": np.zeros(count),
        "sheet_plan_switch": np.zeros(count),
    }


def _bends(random, part, thickness_mm):
    count = len(part)

    def sometimes(share, low, high):
        return random.uniform(low, high, count) * (random.random(count) < share)

    return {
        "part": part,
        "step": np.ones(count),
        "bend_length_mm": random.uniform(50, 2400, count),
        "bend_angle_deg": random.uniform(20, 120, count),
        "die_opening_mm": thickness_mm * random.choice([8.0, 10.0, 12.0], count),
        "gauge_r_mm": sometimes(0.3, 1, 40),
        "gauge_z_mm": sometimes(0.3, 10, 800),
        "turn_over_switch": (random.random(count) < 0.2) * 1.0,
        "gauge_x_mm": random.uniform(0, 300, count),
        "per_part_count": random.integers(1, 3, count).astype(float),
        "flange_length_mm": random.uniform(40, 90, count),
        "force_multiple_ratio": random.choice([1.0, 1.5], count),
        "second_travel_mm": sometimes(0.1, 1, 5),
    }


def _cuts(random, part):
    count = len(part)
    return {
        "part": part,
        "step": np.ones(count),
        "cut_length_mm": random.uniform(100, 2500, count),
        "gauge_x_mm": random.uniform(0, 600, count),
        "per_part_count": random.uniform(0.2, 1, count),
    }
