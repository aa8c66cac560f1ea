"""How long a million draws take; run with `pytest tests/benchmarks`. Nothing is asserted about seconds."""

from __future__ import annotations

import time

import numpy as np
import pytest
import pyxirr

from xlfab.investment.appraisal import discounted_payback_years, internal_rate_share, net_present_value_now_cur
from xlfab.investment.risk import Doubt, monte_carlo

MILLION = 1_000_000
DOUBTS = [Doubt(f"saving_{number}", 500, 1000, 2000) for number in range(10)] + [Doubt("price", 50000, 60000, 70000)]


def purchase(values):
    saving = sum(values[f"saving_{number}"] for number in range(10))
    flows = np.repeat(saving[:, None], 11, axis=1)
    flows[:, 0] = -values["price"]
    return {
        "worth": net_present_value_now_cur(0.08, flows),
        "payback": discounted_payback_years(0.08, flows, invalid="nan"),
    }


def test_a_million_draws_of_a_purchase(benchmark):
    drawn = benchmark.pedantic(monte_carlo, args=(purchase, DOUBTS, MILLION), rounds=1)
    assert drawn["worth"].shape == (MILLION,)
    benchmark.extra_info["draws_per_s"] = MILLION / benchmark.stats["mean"]


@pytest.mark.parametrize("count", [MILLION])
def test_a_million_internal_rates(benchmark, count):
    flows = np.random.default_rng(1).uniform(100, 400, (count, 11))
    flows[:, 0] = -1500
    rates = benchmark.pedantic(internal_rate_share, args=(flows,), rounds=1)
    assert np.isfinite(rates).all()
    benchmark.extra_info["rates_per_s"] = count / benchmark.stats["mean"]


def test_internal_rates_against_a_loop_of_a_library(benchmark):
    """100,000 purchases: the same roots as a loop of pyxirr finds, and the ratio of the times beside it (least of five rounds)."""
    flows = np.random.default_rng(2).uniform(100, 400, (100_000, 11))
    flows[:, 0] = -1500
    loops, ours = [], []
    for _ in range(5):
        loop, seconds = timed(lambda: np.array([pyxirr.irr(line) for line in flows]))
        loops.append(seconds)
        rates, seconds = timed(lambda: internal_rate_share(flows))
        ours.append(seconds)
        np.testing.assert_allclose(rates, loop, rtol=1e-9, atol=1e-9)
    benchmark.pedantic(internal_rate_share, args=(flows,), rounds=1)
    benchmark.extra_info["ratio_to_the_loop"] = min(ours) / min(loops)


def timed(call):
    """A result and its processor seconds, which other work on the machine does not change."""
    start = time.process_time()
    found = call()
    return found, time.process_time() - start
