"""Cutting up a sheet, and the order of lines: as good as trying every order."""

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xlfab.core.errors import InputError
from xlfab.cycle_time.cut_list import (
    blanks_on_sheet_share,
    blanks_per_sheet_count,
    cuts_per_sheet_count,
    offcut_mass_kg,
    offcut_value_cur,
    pieces_along_count,
    rest_side_mm,
    sheets_per_lot_count,
    side_cuts_count,
    used_sheet_use_share,
)
from xlfab.work.line_order import gauge_travel_mm, least_round_order


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 500), st.integers(1, 3)), min_size=1, max_size=6))
def test_round_order_equals_brute_force_within_passes(lines):
    positions, passes = np.array(lines, dtype=float).T
    allowed = [list(order) for order in permutations(range(len(lines))) if (np.diff(passes[list(order)]) >= 0).all()]
    found = positions[least_round_order(positions, passes)]
    assert (np.diff(passes[least_round_order(positions, passes)]) >= 0).all()
    assert gauge_travel_mm(found, found[-1]) == min(
        gauge_travel_mm(positions[order], positions[order[-1]]) for order in allowed
    )


def test_round_order_of_eight_lines_equals_brute_force():
    rng = np.random.default_rng(7)
    positions = rng.uniform(5, 1000, 8)
    orders = positions[np.array(list(permutations(range(8))))]
    ways = np.abs(np.diff(orders, axis=1)).sum(axis=1) + np.abs(orders[:, 0] - orders[:, -1])
    found = positions[least_round_order(positions, np.ones(8))]
    assert gauge_travel_mm(found, found[-1]) == pytest.approx(ways.min())


def test_order_keeps_equal_lines_and_refuses_nonsense():
    assert list(least_round_order([200, 100, 200, 100], [1, 1, 1, 1])) == [1, 3, 0, 2]
    assert least_round_order([], []).size == 0
    with pytest.raises(InputError, match="finite gauge position"):
        least_round_order([100, float("nan")], [1, 1])
    with pytest.raises(InputError, match="too many"):
        least_round_order(np.arange(11), np.arange(11))


def test_a_sheet_by_hand():
    # 3000 x 1250 mm, trim 5 mm, blanks 500 x 300 mm, cut by hand on paper: along the width 4 strips of 300 leave 40 mm,
    # along the length the trims leave room for 5 pieces
    strips, pieces = pieces_along_count(1250, 5, 300), pieces_along_count(3000, 5, 500)
    assert (strips, pieces) == (4, 5)
    assert side_cuts_count(1250, 5, 300) == 5  # one trim, four strips; the far rest falls with the last strip
    assert cuts_per_sheet_count(5, 4, side_cuts_count(3000, 5, 500)) == 5 + 4 * 6
    blanks = blanks_per_sheet_count(strips, pieces)
    use = blanks_on_sheet_share(blanks, 500, 300, 3000, 1250)
    assert use == pytest.approx(0.8)
    assert used_sheet_use_share(0.7, 1, 3000, 1250, 5, 5, 500, 300) == pytest.approx(0.8)
    assert used_sheet_use_share(0.7, 0, 0, 0, 0, 0, 500, 300) == 0.7
    assert (rest_side_mm(1250, 5, 300), rest_side_mm(3000, 5, 500)) == (45, 495)  # the far trim of 5 mm is part of it
    assert offcut_value_cur(offcut_mass_kg(58.875, use), 0.25) == pytest.approx(2.94375)
    assert sheets_per_lot_count(101, blanks, 0) == 6
    assert sheets_per_lot_count(100, blanks, 0) == 5


@given(st.integers(1, 50), st.floats(10, 500), st.sampled_from([0.0, 5.0]))
def test_whole_pieces_are_never_lost_to_rounding(count, side, trim):
    sheet = count * side + 2 * trim
    assert pieces_along_count(sheet, trim, side) == count
    assert side_cuts_count(sheet, trim, side) == (count + 1 if trim else count - 1)


def test_a_blank_larger_than_the_sheet_has_no_result():
    with pytest.raises(ValueError, match="larger than the sheet"):
        pieces_along_count(1000, 5, 995)
