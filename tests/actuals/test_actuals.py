"""Actual times against estimates: interval of the median against scipy, suggested factors only where they are clear."""

import numpy as np
import pytest
from scipy import stats

from xlfab.actuals.finished_lots import CONFIDENCE, biases, median_interval, read_actuals
from xlfab.core.errors import ScenarioError


def actuals(path, rows):
    lines = ["lot,operation,estimated_min,actual_min"]
    lines += [
        f"L{number},{operation},{estimated},{actual}" for number, (operation, estimated, actual) in enumerate(rows)
    ]
    path.write_text("\n".join(lines) + "\n")
    return read_actuals(path)


@pytest.mark.parametrize("count", [5, 6, 8, 11, 20, 50, 200])
def test_interval_of_the_median_is_the_binomial_one(count):
    """scipy's quantile test gives the same distribution-free interval."""
    values = np.sort(np.random.default_rng(count).lognormal(0, 0.3, count))
    low, high = stats.quantile_test(values, q=0, p=0.5).confidence_interval(CONFIDENCE)
    assert median_interval(values) == (pytest.approx(low, rel=1e-12), pytest.approx(high, rel=1e-12))


def test_interval_covers_the_median_as_often_as_stated():
    draws = np.sort(np.random.default_rng(7).lognormal(np.log(1.2), 0.4, (4000, 15)), axis=1)
    intervals = np.array([median_interval(row) for row in draws])
    covered = np.mean((intervals[:, 0] <= 1.2) & (intervals[:, 1] >= 1.2))
    assert covered >= CONFIDENCE - 0.01


def test_too_few_lots_say_nothing():
    assert median_interval(np.array([1.5, 1.6, 1.7, 1.8])) == (0.0, float("inf"))


def test_a_clear_bias_gives_a_factor_and_noise_gives_none(tmp_path):
    rng = np.random.default_rng(3)
    slow = [("bending", 30, 30 * 1.25 * ratio) for ratio in rng.lognormal(0, 0.08, 20)]
    noise = [("shearing", 10, 10 * ratio) for ratio in rng.lognormal(0, 0.3, 20)]
    few = [("packing", 5, 9), ("packing", 5, 9), ("packing", 5, 9)]
    found = {item.operation: item for item in biases(actuals(tmp_path / "lots.csv", slow + noise + few))}
    assert found["press brake"].factor == pytest.approx(1.25, abs=0.06)
    assert found["shear"].factor is None
    assert found["packing"].factor is None and found["packing"].lots == 3
    assert found["shear"].quartile_ratio > found["press brake"].quartile_ratio
    assert list(found) == ["press brake", "shear", "packing"]


def test_worked_by_hand(tmp_path):
    rows = [("bending", 10, value) for value in (8, 9, 10, 11, 12, 13, 14)]
    (one,) = biases(actuals(tmp_path / "lots.csv", rows))
    assert (one.lots, one.estimated_min, one.actual_min, one.median_ratio) == (7, 70, 77, 1.1)
    assert (one.low, one.high) == (0.8, 1.4)  # leaving one out on each side would hold only 87.5 %
    assert one.quartile_ratio == pytest.approx(1.25 / 0.95)
    assert one.factor is None


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("lot,operation,estimated_min\n1,a,2\n", "actual_min is missing"),
        ("lot,operation,estimated_min,actual_min\n", "no rows"),
        (
            "lot,operation,estimated_min,actual_min\n1,a,0,3\n2,b,x,3\n",
            r"line 2, estimated_min: '0'.*line 3, estimated_min: 'x'",
        ),
        ("lot,operation,estimated_min,actual_min\n1,,2,3\n", "line 2, operation"),
        ("lot,operation,estimated_min,actual_min\n\n1,a,2,3\n\n2,b,-4,3\n", "line 5, estimated_min: '-4'"),
        (
            "lot;operation;estimated_min;actual_min\n1;a;1,250;3\n",
            "line 2, estimated_min: '1,250' can be read as 1250 or as 1.25",
        ),
    ],
)
def test_faults_name_the_line(tmp_path, text, fault):
    (tmp_path / "lots.csv").write_text(text)
    with pytest.raises(ScenarioError, match=fault):
        read_actuals(tmp_path / "lots.csv")


def test_one_operation_however_it_is_written(tmp_path):
    rows = [(name, 10, 12) for name in ("Bending", "press brake", "BRAKE", "Press-brake", "press  brake")]
    (one,) = biases(actuals(tmp_path / "lots.csv", rows))
    assert (one.operation, one.lots, one.factor) == ("press brake", 5, 1.2)
    assert one.total_ratio == pytest.approx(1.2)
