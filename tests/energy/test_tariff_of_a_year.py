"""Time of use, demand window, ratchet, fixed charge, tax and CO2 origin as inputs: against bills worked by hand, and left out."""

import dataclasses
import re
import shutil
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from xlfab.comparison.compare import compare
from xlfab.core.errors import ScenarioError
from xlfab.cost import tariff, tariff_demand
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

TIME_OF_USE = {
    "energy_price_cur_per_kwh": 0.10,
    "peak_price_cur_per_kwh": 0.20,
    "summer_price_cur_per_kwh": 0.14,
    "summer_peak_price_cur_per_kwh": 0.30,
    "peak_hours_share": 0.5,
    "summer_hours_share": 0.25,
}


def changed(name="demo_shop_us", **of_tariff):
    """A demo shop's comparison with another tariff, its values in the record and in the list of what is stated, which the desk takes."""
    shop = load(bundled(name))
    stated = [
        dataclasses.replace(item, value=value, low=value, high=value)
        if item.section == "tariff" and (value := of_tariff.get(item.key)) is not None
        else item
        for item in shop.assumptions
    ]
    tariff = shop.tariff.model_copy(update=of_tariff)
    return compare(dataclasses.replace(shop, tariff=tariff, assumptions=stated))


@given(st.floats(0, 1), st.floats(0, 1), st.lists(st.floats(0.01, 1), min_size=4, max_size=4))
def test_the_mean_price_is_the_time_of_use_price_of_the_four_bands(peak, summer, prices):
    shares = [(1 - peak) * (1 - summer), peak * (1 - summer), (1 - peak) * summer, peak * summer]
    mean = tariff.mean_energy_price_cur_per_kwh(*prices, peak, summer, 0)
    assert mean == pytest.approx(tariff.time_of_use_price_cur_per_kwh(prices, shares))
    assert min(prices) - 1e-12 <= mean <= max(prices) + 1e-12


@given(st.floats(0, 1), st.floats(0, 1), st.integers(0, 11))
def test_the_mean_demand_price_is_that_of_twelve_monthly_bills(ratchet, quiet, months):
    demands = [40.0] * (12 - months) + [40.0 * quiet] * months
    bills = tariff_demand.yearly_billed_demand_kw(demands, ratchet) * 17.25
    mean = tariff_demand.mean_demand_price_cur_per_kw(17.25, ratchet, months, quiet, 0)
    assert 40 * mean * 12 == pytest.approx(bills)


def test_a_quiet_month_under_the_published_ratchet_of_75_percent():
    # osage.net/large-industrial (seen): 75 % of the highest of the last 11 months; half demand in 3 months at 7 a kW, by hand
    assert tariff_demand.mean_demand_price_cur_per_kw(7, 0.75, 3, 0.5, 0) * 12 == pytest.approx(7 * (9 + 3 * 0.75))


def test_a_band_that_holds_hours_needs_its_price(tmp_path):
    with pytest.raises(ValueError, match="a band that holds hours"):
        tariff.mean_energy_price_cur_per_kwh(0.1, 0, 0, 0, 0.5, 0, 0)
    assert tariff.mean_energy_price_cur_per_kwh(0.1, 0, 0, 0, 0, 0, 0) == pytest.approx(0.1)
    text = (bundled("demo_shop_us") / "scenario.toml").read_text(encoding="utf-8")
    (tmp_path / "scenario.toml").write_text(text.replace("[tariff]\n", "[tariff]\npeak_hours_share = 0.5\n"))
    for name in ("parts.csv", "steps.csv"):
        (tmp_path / name).write_bytes((bundled("demo_shop_us") / name).read_bytes())
    with pytest.raises(ScenarioError, match=r"\[tariff\].*peak_price_cur_per_kwh is needed"):
        load(tmp_path)


def test_the_year_costs_what_its_bands_cost():
    before, after = changed(), changed(**TIME_OF_USE)
    for old, new in zip(before.job.options, after.job.options, strict=True):
        kwh = new.year.number("energy_kwh")
        assert kwh == pytest.approx(old.year.number("energy_kwh"))
        energy = new.year.number("electricity_cost_cur_per_year") - new.year.number("demand_cost_cur_per_year")
        by_hand = kwh * (0.375 * 0.10 + 0.375 * 0.20 + 0.125 * 0.14 + 0.125 * 0.30)
        assert energy == pytest.approx(by_hand)


def test_a_control_left_on_over_night_pays_the_price_of_the_nights():
    shop, nights = load(bundled("demo_shop_us")), {**TIME_OF_USE, "night_peak_hours_share": 0.1}
    brakes, shears = (
        [one.model_copy(update={"control_on_share": 0.5}) for one in machines]
        for machines in (shop.press_brakes, shop.shears)
    )
    tariff = shop.tariff.model_copy(update={key: nights[key] for key in nights if key != "energy_price_cur_per_kwh"})
    made = compare(dataclasses.replace(shop, tariff=tariff, press_brakes=brakes, shears=shears))
    rest = 0.104  # a kWh outside peak and summer, as the shop states it
    day = 0.375 * rest + 0.375 * 0.20 + 0.125 * 0.14 + 0.125 * 0.30
    night = 0.675 * rest + 0.075 * 0.20 + 0.225 * 0.14 + 0.025 * 0.30
    for option in made.job.options:
        machines = (option.shear, option.brake)
        hours = [8760 - one.year.number("switched_on_h") for one in machines]
        standby = [one.stated.number("standby_power_kw") for one in machines]
        drawn = sum(0.5 * h * kw for h, kw in zip(hours, standby, strict=True))
        assert drawn > 0 and option.year.number("night_energy_kwh") == pytest.approx(drawn)
        energy = option.year.number("electricity_cost_cur_per_year") - option.year.number("demand_cost_cur_per_year")
        assert energy == pytest.approx((option.year.number("energy_kwh") - drawn) * day + drawn * night)


def test_tax_is_on_energy_and_demand_and_the_fixed_charge_on_neither_comparison_nor_part():
    before, after = changed(), changed(tax_share=0.1, fixed_charge_cur_per_year=1200)
    for old, new, bill in zip(before.job.options, after.job.options, after.bills, strict=True):
        cost, was = (one.year.number("electricity_cost_cur_per_year") for one in (new, old))
        assert cost == pytest.approx(1.1 * was)
        assert bill.number("bill_cur") == pytest.approx(1.1 * (was + 1200))
        assert bill.value("bill_check")[0] == "OK"
    assert after.overall_check.value("all_checks")[0] == "OK"


def test_a_long_stretch_of_work_is_billed_at_the_mean_while_working_and_a_short_one_in_part():
    whole, third, none = (changed(busy_stretch_min=minutes) for minutes in (60, 5, 0))
    for long, short, flat in zip(whole.job.machines, third.job.machines, none.job.machines, strict=True):
        busy, mean = long.year.number("heaviest_power_kw"), long.year.number("mean_power_kw")
        assert busy >= long.year.number("busy_power_kw")
        assert busy == pytest.approx(long.parts.value("part_power_kw").max())
        assert long.year.number("window_demand_kw") == pytest.approx(busy)
        assert flat.year.number("window_demand_kw") == pytest.approx(mean)
        assert short.year.number("window_demand_kw") == pytest.approx(mean + (busy - mean) / 3)


def test_the_shop_with_time_of_use_and_ratchet_agrees_with_its_bill():
    made = changed("two_shift_shop")
    shop = made.job.scenario.tariff
    assert shop.peak_hours_share > 0 and shop.ratchet_share > 0 and shop.quiet_months_count > 0
    for option, bill in zip(made.job.options, made.bills, strict=True):
        assert bill.number("energy_band_kwh") == pytest.approx(option.year.number("energy_kwh") * 0.25 * 0.67)
        demand = bill.number("billed_demand_kw") * 8 * (10 + 2 * 0.75)
        assert bill.number("demand_charge_cur") == pytest.approx(demand)
        assert bill.value("bill_check")[0] == "OK"


def test_a_bill_that_does_not_add_up_is_named():
    made = changed()
    made.bills[0].known["bill_cur"] = made.bills[0].value("bill_cur") * (1 + 1e-6)
    for key in ("bill_check",):
        made.bills[0].known.pop(key, None)
    assert made.bills[0].value("bill_check")[0] == "The sums differ"


def test_source_and_year_of_the_co2_factor_are_shown_or_said_to_be_missing(tmp_path):
    shop = load(bundled("two_shift_shop"))
    assert shop.tariff.co2_dated == "2025" and "supplier" in shop.tariff.co2_source
    default = load(bundled("small_lot_shop")).tariff
    assert default.co2_dated == "2023" and "EU" in default.co2_source
    for name in ("scenario.toml", "parts.csv", "steps.csv"):
        (tmp_path / name).write_bytes((bundled("small_lot_shop") / name).read_bytes())
    path = tmp_path / "scenario.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("[tariff]\n", "[tariff]\nco2_kg_per_kwh = 0.3\n"), encoding="utf-8")
    assert load(tmp_path).tariff.co2_dated == "not stated"
    stated = '[tariff]\nco2_kg_per_kwh = 0.3\nco2_source = "Label"\nco2_dated = 2024\n'
    path.write_text(text.replace("[tariff]\n", stated), encoding="utf-8")
    again = load(tmp_path)
    assert (again.tariff.co2_source, again.tariff.co2_dated) == ("Label", "2024")
    assert next(i for i in again.assumptions if i.key == "co2_kg_per_kwh").source == "Label; year: 2024"


def test_electricity_of_lots_adds_up_to_the_year():
    made = changed()
    lots = np.asarray(made.job.part_data.value("lots_per_year_count")).reshape(-1)
    for option in made.job.options:
        assert option.year.number("mean_lot_energy_kwh") * lots.sum() == pytest.approx(option.year.number("energy_kwh"))
        size = np.asarray(made.job.part_list.value("lot_size_count")).reshape(-1)
        part = np.asarray(option.parts.value("part_energy_kwh")).reshape(-1)
        np.testing.assert_allclose(np.asarray(option.parts.value("lot_energy_kwh")).reshape(-1), part * size)


@pytest.mark.parametrize("name", ["blank_shop", "blank_shop_us"])
def test_the_lines_offered_in_the_blank_shops_hold_when_they_are_used(name, tmp_path):
    template = Path(__file__).parents[2] / "workbook_templates" / name
    shutil.copytree(template, tmp_path, dirs_exist_ok=True)
    text = (tmp_path / "scenario.toml").read_text(encoding="utf-8")
    first, last = text.index("# Hours switched on"), text.index("# How a purchase")
    used = re.sub(r"(?m)^# ([a-z0-9_]+ = )", r"\1", text[first:last])
    (tmp_path / "scenario.toml").write_text(text[:first] + used + text[last:], encoding="utf-8")
    made = compare(load(tmp_path))
    shop = made.job.scenario
    assert shop.workplace.calendar_switch == shop.workplace.timer_switch == 1
    assert shop.tariff.peak_hours_share > 0 and shop.tariff.ratchet_share > 0 and shop.tariff.co2_dated == "2025"
    assert made.overall_check.value("all_checks")[0] == "OK"
