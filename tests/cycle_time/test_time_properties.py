"""What must hold for any machine: longer is never shorter, faster never slower, overlap never later than sequence."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from xlfab.cycle_time.bottleneck import (
    gauge_ruled_time_s,
    operator_ruled_time_s,
    ram_ruled_time_s,
    saved_by_gauge_s,
    saved_by_operator_s,
    saved_by_ram_s,
)
from xlfab.cycle_time.cycle import gauge_wait_s, step_time_s
from xlfab.cycle_time.guard import closing_gap_mm, closing_speed_mm_s
from xlfab.cycle_time.learning import crawford_lot_time_s, wright_lot_time_s
from xlfab.cycle_time.motion import approach_time_s, axis_move_time_s, trapezoid_move_time_s
from xlfab.cycle_time.setup_time import family_setup_time_min
from xlfab.cycle_time.shear_stroke import pull_back_wait_s, rated_part_stroke_time_s
from xlfab.cycle_time.stroke import approach_distance_mm, press_time_s, return_opening_mm

way = st.floats(0, 5000)
speed = st.floats(1, 1000)
acceleration = st.floats(10, 20000)
jerk = st.floats(100, 1e7)
seconds = st.floats(0, 100)
switch = st.sampled_from([0.0, 1.0])
TINY = 1e-9
WAYS = ((1, 1), (1, 0), (0, 0))  # full overlap, overlap with handling only, sequence


@given(way, way, speed, acceleration, jerk)
def test_a_longer_move_never_takes_less_time(first, second, v, a, j):
    short, long = sorted((first, second))
    assert axis_move_time_s(short, v, a, j) <= axis_move_time_s(long, v, a, j) * (1 + TINY) + TINY
    assert trapezoid_move_time_s(short, v, a) <= trapezoid_move_time_s(long, v, a) * (1 + TINY) + TINY


@given(way, speed, speed, acceleration, acceleration, jerk, jerk)
def test_a_faster_axis_never_costs_time(d, v1, v2, a1, a2, j1, j2):
    (v1, v2), (a1, a2), (j1, j2) = sorted((v1, v2)), sorted((a1, a2)), sorted((j1, j2))
    slow = axis_move_time_s(d, v1, a1, j1)
    for faster in ((v2, a1, j1), (v1, a2, j1), (v1, a1, j2), (v2, a2, j2)):
        assert axis_move_time_s(d, *faster) <= slow * (1 + TINY) + TINY


@given(st.floats(0, 1000), st.floats(0, 1000), st.floats(10, 500), acceleration, st.floats(1, 100))
def test_a_longer_approach_never_takes_less_time(first, second, v, a, u):
    short, long = sorted((first, second))
    assert approach_time_s(short, v, a, u) <= approach_time_s(long, v, a, u) * (1 + 1e-6) + 1e-6


@given(seconds, seconds, seconds, seconds)
def test_overlap_is_never_slower_than_sequence(down, release, gauge, reposition):
    times = [
        step_time_s(down, release, reposition, gauge_wait_s(release, gauge, reposition, way, up)) for way, up in WAYS
    ]
    assert times[0] <= times[1] + TINY <= times[2] + 2 * TINY
    assert times[0] == pytest.approx(down + max(gauge, release + reposition), abs=1e-9)


@given(seconds, seconds, seconds, seconds, switch, switch)
def test_what_rules_a_step_adds_up_to_the_step(down, release, gauge, reposition, overlap, up):
    wait = gauge_wait_s(release, gauge, reposition, overlap, up)
    shares = (
        ram_ruled_time_s(down, release, wait, overlap, up),
        gauge_ruled_time_s(gauge, wait),
        operator_ruled_time_s(reposition, wait, overlap),
    )
    assert sum(shares) == pytest.approx(step_time_s(down, release, reposition, wait), abs=1e-9)


@given(seconds, seconds, seconds, seconds, st.sampled_from(WAYS), st.floats(0, 1))
def test_a_saving_is_never_negative_nor_more_than_its_own_time(down, release, gauge, reposition, way, faster):
    most = faster / (1 + faster)
    assert -TINY <= saved_by_ram_s(down, release, gauge, reposition, *way, faster) <= most * (down + release) + TINY
    assert -TINY <= saved_by_gauge_s(release, gauge, reposition, *way, faster) <= most * gauge + TINY
    assert -TINY <= saved_by_operator_s(release, gauge, reposition, *way, faster) <= most * reposition + TINY


@given(st.floats(10, 300), st.floats(0, 10), st.floats(0, 1500), st.floats(2, 20), st.floats(1, 200), st.floats(0, 50))
def test_a_guard_never_makes_the_ram_faster(opening, gap, guard_gap, pressing, guard_speed, penetration):
    def closing(height, slow):
        way_down = approach_distance_mm(opening, height)
        return approach_time_s(way_down, 200, 2000, slow) + press_time_s(height, penetration, slow)

    free = closing(gap, pressing)
    guarded = closing(closing_gap_mm(gap, guard_gap, opening), closing_speed_mm_s(pressing, guard_speed))
    assert guarded >= free - 1e-6


@given(st.floats(10, 300), st.floats(0, 500), st.floats(0, 50), st.floats(0, 10), switch)
def test_the_ram_never_returns_above_its_opening_nor_into_the_flange(opening, flange, clearance, gap, reduced):
    back = return_opening_mm(opening, flange, clearance, min(gap, opening), reduced)
    assert back <= opening
    assert back == opening or back >= flange + clearance - TINY


@given(st.floats(0.51, 1), st.integers(0, 5000), st.integers(1, 5000))
def test_learning_never_costs_time(rate, before, lot):
    for lot_time in (wright_lot_time_s, crawford_lot_time_s):
        assert lot_time(10, rate, before, lot) <= 10 * lot * (1 + 1e-9)
    assert crawford_lot_time_s(10, rate, 0, lot) >= wright_lot_time_s(10, rate, 0, lot) * (1 - 1e-9)


@given(st.floats(0.1, 60), st.floats(1, 3000), st.floats(0, 1))
def test_a_partial_stroke_never_takes_longer_than_the_full_one(full, length, fixed):
    assert rated_part_stroke_time_s(full, length, 3000, fixed) <= full * (1 + TINY)
    assert rated_part_stroke_time_s(full, 3000, 3000, fixed) == pytest.approx(full)


@given(seconds, seconds)
def test_pull_back_overlap_is_never_slower(pull, clamp):
    assert pull_back_wait_s(min(pull, 60), min(clamp, 60), 1) <= pull_back_wait_s(min(pull, 60), min(clamp, 60), 0)


def test_a_family_shares_its_set_up():
    lots = np.arange(1, 20)
    means = family_setup_time_min(30, 0.6, lots)
    assert means[0] == 30
    assert (np.diff(means) < 0).all()
    assert means * lots == pytest.approx(30 + (lots - 1) * 12)
