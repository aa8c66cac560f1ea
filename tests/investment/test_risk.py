"""Sensitivity and Monte Carlo against analytic cases, scipy's distributions and a second random generator."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from xlfab.investment.appraisal import net_present_value_now_cur, simple_payback_years
from xlfab.investment.risk import BATCH, Doubt, chance, monte_carlo, one_at_a_time, spread

TRIANGLES = [Doubt("a", 0, 1, 4), Doubt("b", -2, 0, 1), Doubt("same", 3, 3, 3)]


def total(values):
    return {"sum": values["a"] + 2 * values["b"] + values["same"]}


def test_one_triangle_has_the_quantiles_of_scipy():
    drawn = monte_carlo(lambda values: {"a": values["a"]}, [Doubt("a", 10, 12, 20)], draws=200_000)["a"]
    said = spread(drawn)
    exact = stats.triang(c=0.2, loc=10, scale=10)
    for ours, error, share in [
        (said.p10, said.p10_error, 0.1),
        (said.p50, said.p50_error, 0.5),
        (said.p90, said.p90_error, 0.9),
    ]:
        assert 0 < error < 0.05
        assert abs(ours - exact.ppf(share)) < 4 * error
    assert abs(said.mean - exact.mean()) < 4 * said.mean_error
    assert stats.kstest(drawn[:5000], exact.cdf).pvalue > 0.001


def test_a_sum_has_the_mean_and_variance_of_the_triangles():
    # mean (low + base + high) / 3, variance (l² + b² + h² - lb - lh - bh) / 18: textbook moments of a triangular distribution
    drawn = monte_carlo(total, TRIANGLES, draws=400_000)["sum"]
    mean = 5 / 3 + 2 * (-1 / 3) + 3
    variance = (16 + 1 - 4) / 18 + 4 * (4 + 1 + 2) / 18
    assert abs(drawn.mean() - mean) < 4 * np.sqrt(variance / drawn.size)
    assert drawn.var() == pytest.approx(variance, rel=0.01)


def test_two_generators_give_one_answer_within_their_error():
    first = spread(monte_carlo(total, TRIANGLES, draws=100_000, seed=3)["sum"])
    second = spread(monte_carlo(total, TRIANGLES, draws=100_000, seed=4, bits=np.random.Philox)["sum"])
    assert first != second
    for share in ("p10", "p50", "p90", "mean"):
        gap = abs(getattr(first, share) - getattr(second, share))
        assert gap < 4 * np.hypot(getattr(first, f"{share}_error"), getattr(second, f"{share}_error"))


def test_the_stated_error_is_the_error_that_repeated_runs_have():
    runs = [spread(monte_carlo(total, TRIANGLES, draws=2_000, seed=seed)["sum"]) for seed in range(60)]
    for share in ("p10", "p50", "p90", "mean"):
        seen = np.std([getattr(run, share) for run in runs])
        stated = np.mean([getattr(run, f"{share}_error") for run in runs])
        assert 0.6 < stated / seen < 1.6


def test_a_seed_repeats_and_a_further_assumption_changes_no_other_draw():
    kept = monte_carlo(lambda values: dict(values), TRIANGLES, draws=1000, seed=9)
    again = monte_carlo(lambda values: dict(values), [Doubt("new", 0, 1, 2), *TRIANGLES], draws=1000, seed=9)
    for name in ("a", "b", "same"):
        np.testing.assert_array_equal(kept[name], again[name])
    assert not np.array_equal(kept["a"], monte_carlo(lambda values: dict(values), TRIANGLES, 1000, 10)["a"])


def test_batches_join_and_progress_is_told():
    told: list[int] = []
    drawn = monte_carlo(total, TRIANGLES, draws=BATCH + 10, progress=told.append)["sum"]
    assert told == [BATCH, BATCH + 10]
    assert drawn.shape == (BATCH + 10,)


def purchase(values):
    outlay = -values["price_difference_cur"]
    flows = np.concatenate([outlay[:, None], np.repeat(values["saving"][:, None], 10, axis=1)], axis=1)
    return {
        "worth": net_present_value_now_cur(0.08, flows),
        "payback_years": simple_payback_years(flows, invalid="nan"),
    }


def test_a_payback_that_never_comes_counts_as_longer_than_all():
    doubts = [Doubt("price_difference_cur", 50000, 60000, 70000), Doubt("saving", 2000, 8000, 12000)]
    drawn = monte_carlo(purchase, doubts, draws=20_000)
    said = spread(drawn["payback_years"])
    never = np.isnan(drawn["payback_years"]).mean()
    assert 0.1 < never < 0.5
    assert said.p90 == np.inf
    assert np.isfinite(said.p50)
    inside, error = chance(drawn["payback_years"] <= 8)
    assert 0 < inside < 1 - never
    assert 0 < error < 0.005


def test_chance_of_a_known_triangle():
    # symmetric triangle on 0..2: one eighth lies below a half (geometry)
    drawn = monte_carlo(lambda values: dict(values), [Doubt("a", 0, 1, 2)], draws=50_000)["a"]
    share, error = chance(drawn <= 0.5)
    assert abs(share - 0.125) < 4 * error


def test_sensitivity_sorts_by_swing_and_says_what_decides():
    doubts = [Doubt("price_difference_cur", 50000, 60000, 70000), Doubt("saving", 6000, 9500, 12000)]
    swings = one_at_a_time(purchase, doubts, ["worth"])["worth"]
    assert [swing.name for swing in swings] == ["saving", "price_difference_cur"]
    assert all(swing.base == swings[0].base for swing in swings)
    assert swings[0].at_low < 0 < swings[0].at_high
    assert swings[0].decides
    assert one_at_a_time(purchase, doubts, ["payback_years"])["payback_years"][0].span > 0


def test_no_result_at_one_end_is_the_widest_swing():
    doubts = [Doubt("price_difference_cur", 10, 60000, 70000), Doubt("saving", 100, 9500, 12000)]
    swings = one_at_a_time(purchase, doubts, ["payback_years"])["payback_years"]
    assert swings[0].name == "saving"
    assert swings[0].span == np.inf
