"""Maintenance by lines: limits and sums. No published worked example was found; intervals are the user's."""

from __future__ import annotations

import pytest

from xlfab.cost.maintenance import (
    blade_cost_cur,
    blade_cost_cur_per_year,
    chosen_maintenance_cur_per_year,
    itemised_maintenance_cur_per_year,
    oil_cost_cur_per_year,
    wear_part_cost_cur_per_year,
)


def test_a_year_as_long_as_the_interval_costs_one_change():
    assert oil_cost_cur_per_year(180, 4.2, 0.3, 4000, 4000) == pytest.approx(180 * 4.5)
    assert wear_part_cost_cur_per_year(90, 0.5, 40, 1500, 1500) == pytest.approx(110)
    assert blade_cost_cur_per_year(2400, 3, 150, 80000, 4 * 80000) == pytest.approx(2400 + 450)


def test_a_machine_that_stands_wears_nothing():
    assert oil_cost_cur_per_year(180, 4.2, 0.3, 4000, 0) == 0
    assert wear_part_cost_cur_per_year(90, 0.5, 40, 1500, 0) == 0
    assert blade_cost_cur_per_year(2400, 3, 150, 80000, 0) == 0


def test_share_or_lines_and_never_both():
    lines = itemised_maintenance_cur_per_year(100, 200, 300, 400)
    assert lines == 1000
    assert chosen_maintenance_cur_per_year(2500, lines, 0) == 2500
    assert chosen_maintenance_cur_per_year(2500, lines, 1) == 1000


def test_blades_by_the_stroke_add_up_to_blades_by_the_year():
    each = blade_cost_cur(2400, 3, 150, 80000, 4, 1)
    assert 30000 * each == pytest.approx(blade_cost_cur_per_year(2400, 3, 150, 80000, 30000 * 4))
    assert blade_cost_cur(2400, 3, 150, 80000, 4, 0) == 0
