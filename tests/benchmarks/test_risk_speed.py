"""How long a million draws take; run with `pytest tests/benchmarks`. Nothing is asserted about seconds."""

from __future__ import annotations

import numpy as np
import pytest

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
