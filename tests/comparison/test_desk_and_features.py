"""The desk's switch between cases, and features on a shop's machines: limits and sums that hold whatever the numbers are."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from xlfab.comparison.assumption_swings import doubts_of, model_of, swings
from xlfab.comparison.compare import compare
from xlfab.comparison.desk_cases import CASES, DECIDING, desk_of, fixed_rows
from xlfab.comparison.estimate import estimate
from xlfab.comparison.feature_value import features_of, known_features
from xlfab.core.errors import InputError, ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

SHOP = load(bundled("small_lot_shop"))


@pytest.fixture(scope="module")
def found():
    return swings(SHOP)


def test_the_three_demo_shops_say_three_things():
    said = {name: compare(load(bundled(name))) for name in ("two_shift_shop", "demo_shop", "small_lot_shop")}
    words = {name: made.verdicts[-1].value("verdict")[0] for name, made in said.items()}
    assert words["two_shift_shop"].startswith("Pays")
    assert words["demo_shop"].startswith("Does not pay")
    assert words["small_lot_shop"].startswith("No winner") and "the chance that it pays is" in words["small_lot_shop"]
    gains = {name: made.risk.options[len(made.job.options)].gain[0] for name, made in said.items()}
    assert gains["two_shift_shop"] > 0.9 > gains["small_lot_shop"] > 0.1 > gains["demo_shop"]


def worth_in(case: str, found) -> float:
    desk = desk_of(SHOP, found)
    desk.case.known["case"] = np.array([case])
    return estimate(SHOP, desk.taken).options[1].measures.number("net_present_value_cur")


def test_the_base_case_is_the_data_and_the_others_lie_on_either_side(found):
    conservative, base, optimistic = (worth_in(case, found) for case in CASES)
    assert base == estimate(SHOP).options[1].measures.number("net_present_value_cur")
    assert conservative < base < optimistic


def test_the_conservative_case_is_the_model_at_the_conservative_values(found):
    desk = desk_of(SHOP, found)
    values = {one.name: np.array([one.base]) for one in doubts_of(SHOP)}
    for one in desk.inputs:
        if one.name in values:  # a row without a span is the same in every case
            values[one.name] = np.array([one.table.number(f"conservative_{one.item.key}")])
    assert worth_in("conservative", found) == pytest.approx(float(model_of(SHOP)(values)["worth_2"][0]))


def test_the_rows_that_a_customer_says_aloud_come_first_in_one_order(found):
    """Wage, electricity, hours a year, both prices, a saved hour, set-up and speed of both machines; then what decides."""
    for name in ("small_lot_shop", "two_shift_shop", "demo_shop", "demo_shop_us"):
        shop = load(bundled(name))
        desk = desk_of(shop, found if name == "small_lot_shop" else swings(shop))
        fixed = [one for one in desk.inputs if one.fixed]
        assert desk.inputs[: len(fixed)] == fixed and len(desk.inputs) - len(fixed) == DECIDING
        said = dict.fromkeys(key for _, _, key in fixed_rows(shop))  # machines that share a default share its row
        assert list(dict.fromkeys(one.item.key for one in fixed)) == list(said)
        assert [one.item.key for one in fixed][:3] == [
            "wage_cur_per_h",
            "energy_price_cur_per_kwh",
            "powered_h_per_year",
        ]


def test_the_desk_leaves_stated_values_alone_and_says_the_case(found):
    desk = desk_of(SHOP, found)
    stated = {(item.section, item.record, item.key): item.value for item in SHOP.assumptions}
    for one in desk.inputs:
        key = one.item.key
        assert one.table.number(f"stated_{key}") == stated[one.item.section, one.item.record, key]
        assert one.table.number(key) == one.table.number(f"stated_{key}")
    desk.case.known["case"] = np.array(["conservative"])
    assert "not the data" in str(desk.case.value("banner")[0])


def test_features_that_are_there_are_named_and_counted_from_machines_without_them():
    study = features_of(SHOP, 2)
    assert study.there["Quick clamping"] and not features_of(SHOP, 1).there["Quick clamping"]
    clamping = next(item for item in study.worth if item.name == "Quick clamping")
    assert clamping.last["cost_cur_per_year"] < 0
    everything = study.cost_without + sum(item.in_order["cost_cur_per_year"] for item in study.worth)
    assert everything < estimate(SHOP).options[1].year.number("running_cost_cur_per_year") < study.cost_without


def with_toml(tmp_path, text: str):
    folder = tmp_path / "shop"
    folder.mkdir()
    for name in ("parts.csv", "steps.csv"):
        (folder / name).write_bytes((bundled("small_lot_shop") / name).read_bytes())
    whole = (bundled("small_lot_shop") / "scenario.toml").read_text(encoding="utf-8")
    (folder / "scenario.toml").write_text(whole + text, encoding="utf-8")
    return load(folder)


def test_a_feature_of_the_users_own(tmp_path):
    shop = with_toml(
        tmp_path,
        '\n[[feature]]\nname = "Faster ram"\nchanges = [{machine = "press_brake", parameter = "approach_speed_mm_s", how = "times", value = 1.5}]\n',
    )
    assert known_features(shop)[-1].name == "Faster ram"
    own = features_of(shop, 1).worth[-1]
    assert own.alone["time_h_per_year"] < 0 and own.alone["cost_cur_per_year"] < 0


def test_faults_of_features_and_sellers_are_named(tmp_path):
    with pytest.raises(
        ScenarioError, match=r"\[\[seller\]\] 'Electric brakes'.*is no machine of this scenario.*Electric brake"
    ):
        with_toml(tmp_path, '\n[[seller]]\nname = "Electric brakes"\ncost_cur = 80000\n')
    brakes = [item.model_copy(update={"features": ("Quick clamp",)}) for item in SHOP.press_brakes]
    with pytest.raises(InputError, match=r"feature .Quick clamp. is not known; known: .*Quick clamping"):
        features_of(replace(SHOP, press_brakes=brakes), 1)


def test_a_feature_that_changes_nothing_known_is_refused(tmp_path):
    shop = with_toml(
        tmp_path,
        '\n[[feature]]\nname = "Odd"\nchanges = [{machine = "shear", parameter = "ram_speed", how = "set", value = 1}]\n',
    )
    with pytest.raises(InputError, match="changes ram_speed of 'shear'"):
        features_of(shop, 1)
