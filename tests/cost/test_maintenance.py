"""Maintenance by lines: limits and sums. No published worked example was found; intervals are the user's."""

from __future__ import annotations

from dataclasses import replace

import pytest

from xlfab.comparison.compare import compare
from xlfab.cost.maintenance import (
    blade_cost_cur,
    blade_cost_cur_per_year,
    chosen_maintenance_cur_per_year,
    itemised_maintenance_cur_per_year,
    oil_cost_cur_per_year,
    wear_part_cost_cur_per_year,
)
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load


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


def by_lines(scenario, *names):
    """The scenario with the maintenance of some machines counted by lines."""

    def changed(machines):
        return [one.model_copy(update={"itemised_switch": float(one.name in names)}) for one in machines]

    return replace(scenario, shears=changed(scenario.shears), press_brakes=changed(scenario.press_brakes))


def test_a_machine_counts_its_share_or_its_lines_and_mixing_is_named():
    shop = load(bundled("small_lot_shop"))
    names = [one.name for one in (*shop.shears, *shop.press_brakes)]
    for lines in ((), names, names[:1]):
        made = compare(by_lines(shop, *lines))
        for one in made.job.machines:
            counted = one.year.number("maintenance_cost_cur_per_year")
            item = next(item for item in (*shop.shears, *shop.press_brakes) if item.name == one.stated.value("name")[0])
            if item.name not in lines:
                kind = shop.shears if one.kind == "shear" else shop.press_brakes
                first = next(item for item in kind if item.name == getattr(shop.options[0], one.kind))
                assert counted == pytest.approx(first.machine_price_cur * item.maintenance_share)
                continue
            wage = shop.workplace.wage_cur_per_h * (1 + shop.workplace.burden_share)
            oil = item.oil_volume_l * (item.oil_price_cur_per_l + item.oil_disposal_cur_per_l) / item.oil_interval_h
            wear = (item.wear_part_cur + item.fitting_time_h * wage) / item.wear_interval_h
            blades = 0.0
            if one.kind == "shear":
                strokes = made.job.cut_data.value("strokes_per_year").sum()
                edges = (item.blade_set_cur + item.regrinds_count * item.regrind_price_cur) / (item.regrinds_count + 1)
                blades = edges * strokes / item.edge_strokes_count
            hours = item.powered_h_per_year
            assert counted == pytest.approx((oil + wear) * hours + blades + item.service_cost_cur_per_year)
        alike = made.option_checks[1].value("maintenance_check")[0]
        assert (alike == "OK") == (len(lines) != 1)
        assert (made.overall_check.value("all_checks")[0] == "OK") == (len(lines) != 1)
