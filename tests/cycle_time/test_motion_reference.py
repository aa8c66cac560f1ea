"""The closed-form move time against ruckig, a general-purpose library for time-optimal moves, and against numerical integration."""

from __future__ import annotations

import numpy as np
import pytest
import ruckig
from scipy.integrate import quad

from xlfab.cycle_time import motion


def _ruckig_time(distance: float, speed: float, acceleration: float, jerk: float) -> float:
    task = ruckig.InputParameter(1)
    task.current_position, task.current_velocity, task.current_acceleration = [0.0], [0.0], [0.0]
    task.target_position, task.target_velocity, task.target_acceleration = [distance], [0.0], [0.0]
    task.max_velocity, task.max_acceleration, task.max_jerk = [speed], [acceleration], [jerk]
    path = ruckig.Trajectory(1)
    ruckig.Ruckig(1).calculate(task, path)
    return float(path.duration)


def _kind(distance: float, speed: float, acceleration: float, jerk: float) -> tuple[bool, bool]:
    """Whether the move cruises, and whether acceleration stays at its limit for a while."""
    peak = min(acceleration, np.sqrt(speed * jerk))
    cruises = distance >= speed * (speed / peak + peak / jerk)
    if cruises:
        return True, speed * jerk > acceleration**2
    knee = acceleration**2 / jerk
    return False, (np.sqrt(knee**2 + 4 * acceleration * distance) - knee) / 2 > knee


def test_jerk_limited_move_against_ruckig() -> None:
    """2,000 random moves over all four kinds of profile."""
    random = np.random.default_rng(20261125)
    cases = np.column_stack(
        [
            10 ** random.uniform(-2, 3.8, 2000),
            10 ** random.uniform(0.5, 3.3, 2000),
            10 ** random.uniform(1.5, 4, 2000),
            10 ** random.uniform(2.5, 6, 2000),
        ]
    )
    found = motion.axis_move_time_s(*cases.T)
    expected = np.array([_ruckig_time(*case) for case in cases])
    kinds = {_kind(*case) for case in cases}
    assert kinds == {(True, True), (True, False), (False, True), (False, False)}
    np.testing.assert_allclose(found, expected, rtol=1e-9)


def test_without_a_jerk_limit_the_move_is_a_trapezoid() -> None:
    distance = np.array([3.0, 100.0, 125.0, 4000.0])
    limit = motion.axis_move_time_s(distance, 500, 2000, 1e8)
    np.testing.assert_allclose(motion.trapezoid_move_time_s(distance, 500, 2000), limit, rtol=1e-3)


@pytest.mark.parametrize("distance", [0.05, 0.2, 5.0, 54.0, 200.0])
def test_approach_covers_its_distance(distance: float) -> None:
    """The speed over time, integrated numerically, gives back the distance; it ends at pressing speed or is still rising."""
    v, a, u = 120.0, 600.0, 9.0
    total = motion.approach_time_s(distance, v, a, u)
    reaches = distance >= u * u / (2 * a)
    peak = min(v, np.sqrt(a * distance + u * u / 2)) if reaches else a * total
    slowing = (peak - u) / a if reaches else 0.0

    def speed(t: float) -> float:
        return min(a * t, peak, u + a * (total - t)) if reaches else a * t

    way, _ = quad(speed, 0, total, points=sorted({min(peak / a, total), max(total - slowing, 0.0)}), limit=200)
    assert way == pytest.approx(distance, rel=1e-8)
    assert speed(total) == pytest.approx(u if reaches else a * total)
    assert speed(total) <= u * (1 + 1e-12) or reaches


def test_approach_from_rest_to_rest_equals_the_trapezoid() -> None:
    distance = np.array([1.0, 10.0, 100.0])
    np.testing.assert_allclose(
        motion.approach_time_s(distance, 100, 500, 1e-9), motion.trapezoid_move_time_s(distance, 100, 500), rtol=1e-9
    )
