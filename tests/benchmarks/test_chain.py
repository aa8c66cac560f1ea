"""The whole chain from step table to cost per part on a million bends, beside the hand-written floor, which it must equal.

`pytest tests/benchmarks/test_chain.py --benchmark-only` prints processor seconds, their ratio and the peak of memory. Nothing is
asserted about seconds. Any other run checks on small shops that chain and floor agree.
"""

from __future__ import annotations

import time
import tracemalloc
from dataclasses import replace

import numpy as np
import pytest
from big_shop import big_shop
from floor import cost_per_part

from xlfab.comparison.estimate import estimate
from xlfab.tables import blocks
from xlfab.tables.keys import rows_of

MILLION = 1_000_000
ROUNDS = 9
SETTINGS = {
    "as it is": ({}, {}, {}),
    "in sequence": ({"overlap_switch": 0}, {"overlap_switch": 0, "pull_back_overlap_switch": 0}, {}),
    "full return": ({"reduced_return_switch": 0, "return_overlap_switch": 0}, {"partial_stroke_switch": 0}, {}),
    "by the rating": (
        {"guard_mode": "hold-to-run slow closing", "recovered_share": 0.3, "spring_lift_ratio": 0.4},
        {"stroke_rating_switch": 1, "rear_support_switch": 1, "gap_change_switch": 1},
        {"learning_rate_share": 0.9, "wright_switch": 1, "allowance_day_switch": 1, "trips_per_station_count": 0.01},
    ),
    "maintenance by lines": ({"itemised_switch": 1}, {"itemised_switch": 1}, {}),
    "by calendar and timer": (
        {"warm_up_min": 12, "auto_stop_min": 4},
        {"warm_up_min": 5},
        {"calendar_switch": 1, "timer_switch": 1, "shifts_count": 2, "break_on_switch": 0, "mean_gap_min": 9},
    ),
    "Crawford": ({}, {}, {"learning_rate_share": 0.85}),
}


def chain(shop):
    """Cost of every part by the tables of the estimate, worked out anew."""
    return estimate(shop).options[0].parts.value("part_cost_cur")


def in_rows(shop):
    """The parts of bends and cuts as row numbers."""
    return tuple(rows_of(shop.parts["part"], steps["part"]) for steps in (shop.bends, shop.cuts))


TIME_OF_USE = {
    "peak_price_cur_per_kwh": 0.31, "summer_price_cur_per_kwh": 0.17, "summer_peak_price_cur_per_kwh": 0.4,
    "peak_hours_share": 0.6, "summer_hours_share": 0.3, "busy_stretch_min": 7, "ratchet_share": 0.8,
    "quiet_months_count": 3, "quiet_demand_share": 0.5, "tax_share": 0.05, "night_peak_hours_share": 0.1, "surcharge_ratio": 1,
}  # fmt: skip
LEFT_ON = {"control_on_share": 0.7, "auxiliary_power_kw": 0.4}


def test_chain_equals_the_floor_under_a_tariff_with_every_form(monkeypatch):
    monkeypatch.setattr(blocks, "BLOCK", 700)
    shop = big_shop(3000, seed=3)
    nights = [one.model_copy(update=LEFT_ON) for one in (shop.press_brakes[0], shop.shears[0])]
    tariff = shop.tariff.model_copy(update=TIME_OF_USE)
    shop = replace(shop, tariff=tariff, press_brakes=nights[:1], shears=nights[1:])
    np.testing.assert_allclose(chain(shop), cost_per_part(shop), rtol=1e-12)


@pytest.mark.parametrize("setting", SETTINGS)
def test_chain_equals_the_floor(monkeypatch, setting):
    monkeypatch.setattr(blocks, "BLOCK", 700)
    brake, shear, workplace = SETTINGS[setting]
    shop = big_shop(3000, seed=2)
    shop = replace(
        shop,
        press_brakes=[shop.press_brakes[0].model_copy(update=brake)],
        shears=[shop.shears[0].model_copy(update=shear)],
        workplace=shop.workplace.model_copy(update=workplace),
    )
    cost = chain(shop)
    assert np.isfinite(cost).all()
    np.testing.assert_allclose(cost, cost_per_part(shop), rtol=1e-12)


@pytest.fixture(scope="module")
def shop():
    return big_shop(MILLION)


@pytest.mark.benchmark(group="cost per part from a million bends", timer=time.process_time)
@pytest.mark.parametrize("how", [chain, cost_per_part], ids=["chain", "floor"])
def test_a_million_bends(benchmark, shop, how):
    benchmark.pedantic(how, args=(shop,), rounds=5, warmup_rounds=1)
    benchmark.extra_info["steps_per_s"] = MILLION / benchmark.stats["median"]


def test_chain_beside_floor(benchmark, shop, capsys):
    """Turn and turn about, so that whatever else the machine does falls on both."""
    rows = in_rows(shop)
    ways = {
        "chain": lambda: chain(shop),
        "floor": lambda: cost_per_part(shop),
        "floor, keys matched beforehand": lambda: cost_per_part(shop, rows),
    }
    np.testing.assert_allclose(ways["chain"](), ways["floor"](), rtol=1e-12)
    seconds = np.array([[_seconds(way) for way in ways.values()] for _ in range(ROUNDS)])
    benchmark.pedantic(ways["chain"], rounds=1)
    lines = [f"A million bends, median of {ROUNDS} rounds:"]
    for name, spent, ratio in zip(
        ways, np.median(seconds, axis=0), np.median(seconds[:, :1] / seconds, axis=0), strict=True
    ):
        info = f"{spent:.3f} s, {MILLION / spent / 1e6:.2f} million steps/s, peak {_peak_mb(ways[name]):.0f} MB, chain is {ratio:.2f} x"
        lines.append(f"  {name}: {info}")
        benchmark.extra_info[name] = info
    with capsys.disabled():
        print("", *lines, sep="\n")


def _seconds(way) -> float:
    start = time.process_time()
    way()
    return time.process_time() - start


def _peak_mb(way) -> float:
    """The most memory that is held at once, beyond the shop's own lists."""
    tracemalloc.start()
    way()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    return peak / 1e6
