"""Electricity of the demo shops' machines: states, causes and the year agree, and the words follow the figures."""

import dataclasses

import numpy as np
import openpyxl
import pytest

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import build_comparison
from xlfab.comparison.electricity_use import _basis, _weight
from xlfab.comparison.estimate_checks import all_checks
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load


@pytest.fixture(scope="module", params=bundled_names())
def made(request):
    """A demo shop's comparison."""
    return compare(load(bundled(request.param)))


def test_states_causes_and_year_are_one_sum(made):
    for one, table in zip(made.job.machines, made.electricity, strict=True):
        year = one.year.number("energy_kwh")
        assert table.number("states_kwh") == pytest.approx(year, rel=1e-9)
        assert table.number("causes_kwh") == pytest.approx(year, rel=1e-9)
        assert table.value("balance")[0] == "OK"
        for cause in ("idle_kwh", "work_kwh", "net_lift_kwh", "losses_kwh"):
            assert table.number(cause) >= -1e-9


def test_hours_of_the_states_are_a_year(made):
    states = ("processing", "moving", "ready", "standby", "off", "warm_up")
    for table in made.electricity:
        assert sum(table.number(f"{state}_h_per_year") for state in states) == pytest.approx(8760, rel=1e-9)


def test_strokes_fit_into_the_time_of_the_ram(made):
    for one, strokes in zip(made.job.machines, made.strokes, strict=True):
        ram = one.steps.value("ram_s" if one.kind == "press_brake" else "blade_s")
        assert np.all(strokes.value("moving_s") + strokes.value("processing_s") <= ram + 1e-9)


def test_what_it_weighs_follows_the_figures(made):
    for option, table in zip(made.job.options[1:], made.weights, strict=True):
        part = option.purchase.number("energy_saving_cur") / option.purchase.number("yearly_saving_cur")
        assert table.number("energy_part_share") == pytest.approx(part)
        assert table.value("weight")[0].startswith("Electricity is a minor part") == (abs(part) < 0.25)
        weak, known = _basis(option, made.job)
        assert 0 < weak <= known


@pytest.mark.parametrize(
    ("saving", "total", "doubt", "weak", "words"),
    [
        (0.0, 1000.0, 10.0, 5.0, "Nothing differs"),
        (100.0, 1000.0, 10.0, 5.0, "minor part of the saving: seconds"),
        (100.0, 1000.0, 200.0, 5.0, "minor part of the saving, and no winner"),
        (600.0, 1000.0, 700.0, 5.0, "No winner on electricity"),
        (600.0, 1000.0, 100.0, 5.0, "rests on judgement"),
        (600.0, 1000.0, 100.0, 0.0, "a large part of the saving."),
    ],
)
def test_words(saving, total, doubt, weak, words):
    assert words in str(_weight(saving, total, doubt, weak))


def changed(**of_brake):
    """The metric demo shop with some figures of its first press brake changed; `tariff` changes the tariff."""
    shop = load(bundled("demo_shop"))
    tariff = shop.tariff.model_copy(update=of_brake.pop("tariff", {}))
    brakes = [shop.press_brakes[0].model_copy(update=of_brake), *shop.press_brakes[1:]]
    return compare(dataclasses.replace(shop, tariff=tariff, press_brakes=brakes))


def first_brake(made):
    """The tables of the first press brake, and its electricity."""
    place = len(made.job.shears)
    return made.job.machines[place], made.electricity[place]


@pytest.mark.parametrize("share", [0.5, 1.0])
def test_a_control_left_on_draws_standby_power_outside_the_shifts(share):
    one, table = first_brake(changed(control_on_share=share))
    before, _ = first_brake(changed())
    outside = 8760 - one.year.number("switched_on_h")
    added = share * outside * one.stated.number("standby_power_kw")
    assert one.year.number("energy_kwh") - before.year.number("energy_kwh") == pytest.approx(added)
    assert table.number("off_h_per_year") == pytest.approx((1 - share) * outside)
    assert table.value("balance")[0] == "OK"


def test_auxiliaries_run_whenever_the_machine_is_ready():
    one, table = first_brake(changed(auxiliary_power_kw=0.6))
    before, _ = first_brake(changed())
    states = ("ready", "moving", "processing")
    hours = sum(table.number(f"{state}_h_per_year") for state in states)
    assert one.year.number("energy_kwh") - before.year.number("energy_kwh") == pytest.approx(0.6 * hours)
    assert table.value("balance")[0] == "OK"


def test_a_power_factor_clause_raises_the_billed_demand():
    # +2 % of demand for each percent below 95 % (crppd.com/content/large-power-service) at a power factor of 0.75: 1.4 times
    clause = {"reference_power_factor_share": 0.95, "surcharge_ratio": 2.0}
    one, _ = first_brake(changed(power_factor_share=0.75, tariff=clause))
    before, _ = first_brake(changed())
    ratio = one.year.number("demand_cost_cur_per_year") / before.year.number("demand_cost_cur_per_year")
    assert ratio == pytest.approx(1.4)


def test_the_share_on_judgement_falls_to_nothing_once_all_power_figures_are_measured():
    shop = load(bundled("demo_shop_us"))
    before = compare(shop).weights[0]
    assert 0 < before.number("weak_share") <= 1
    assert before.number("weak_doubt_cur") <= before.number("energy_doubt_cur")
    measured = [dataclasses.replace(item, basis="measured", low=item.low, high=item.high) for item in shop.assumptions]
    after = compare(dataclasses.replace(shop, assumptions=measured)).weights[0]
    assert after.number("weak_share") == 0
    assert after.number("energy_doubt_cur") == pytest.approx(before.number("energy_doubt_cur"))


def test_a_balance_that_does_not_close_is_among_all_checks():
    made = changed()
    good = all_checks(made.job, made.electricity, made.bills)[2]
    assert good.value("all_checks")[0] == "OK"
    power = made.electricity[0]
    for key in ("balance", "causes_kwh"):
        power.known.pop(key)
    power.known["losses_kwh"] = power.value("losses_kwh") + 1e-3  # of some thousand kWh
    bad = all_checks(made.job, made.electricity, made.bills)[2]
    assert bad.value("all_checks")[0] == (
        "Shear hydraulic: Sum of causes = sum of states = electricity a year: The sums differ"
    )


def test_electricity_is_in_kilojoules_and_kilowatt_hours_in_a_us_workbook(tmp_path):
    path = tmp_path / "us.xlsx"
    build_comparison(load(bundled("demo_shop_us")), path)
    book = openpyxl.load_workbook(path, read_only=True)
    sheets = ("Bend times", "Machine years")
    units = {str(cell) for sheet in sheets for row in book[sheet].iter_rows(values_only=True) for cell in row}
    assert {"kJ", "kWh"} <= units and not any("lbf" in unit for unit in units)
