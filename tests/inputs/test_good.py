"""What a good scenario gives, and the ways in which the same shop may be written."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load

GOOD = Path(__file__).parent / "good"


@pytest.fixture
def written(tmp_path):
    """Write the good scenario with some texts replaced, and load it."""

    def write(file: str, *changes: tuple[str, str], encoding: str = "utf-8"):
        shutil.copytree(GOOD, tmp_path, dirs_exist_ok=True)
        text = (GOOD / file).read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        (tmp_path / file).write_bytes(text.encode(encoding))
        return load(tmp_path)

    return write


def same(first, second) -> bool:
    tables = ("materials", "parts", "bends", "cuts")
    return (
        all(
            list(getattr(first, name)[key]) == list(getattr(second, name)[key])
            for name in tables
            for key in getattr(first, name)
        )
        and first.press_brakes == second.press_brakes
        and first.shears == second.shears
        and first.options == second.options
        and first.workplace == second.workplace
        and first.tariff == second.tariff
    )


def test_rows_follow_the_parts_and_then_the_steps():
    shop = load(GOOD)
    assert list(shop.bends["part"]) == ["P-1", "P-2", "P-2"]
    assert list(shop.bends["step"]) == [3, 1, 2]
    assert list(shop.bends["bend_length_mm"]) == [180, 400, 300]
    assert list(shop.bends["turn_over_switch"]) == [0, 0, 1]
    assert list(shop.cuts["cut_length_mm"]) == [1500, 180]
    assert list(shop.cuts["per_part_count"]) == [0.1, 1]


def test_stated_texts_shares_and_names_become_numbers_and_known_spellings():
    shop = load(GOOD)
    assert shop.workplace.scrap_share == 0.02
    assert shop.tariff.energy_price_cur_per_kwh == 0.21
    assert shop.press_brakes[0].opening_mm == 60
    assert list(shop.parts["material"]) == ["S235JR", "Own alloy", "S235JR"]
    assert shop.options[1].buy == ["Brake B"]


def test_every_number_of_every_record_has_one_assumption():
    shop = load(GOOD)
    records = [
        ("workplace", "", shop.workplace),
        ("tariff", "", shop.tariff),
        ("purchase", "", shop.purchase),
        ("finance", "", shop.finance),
        *(("press_brake", item.name, item) for item in shop.press_brakes),
        *(("shear", item.name, item) for item in shop.shears),
        *(("option", item.name, item) for item in shop.options),
    ]
    wanted = {
        (section, name, key): value
        for section, name, record in records
        for key, value in record.model_dump().items()
        if isinstance(value, float)
    } | {
        ("material", name, key): float(values[row])
        for row, name in enumerate(shop.materials["material"])
        for key, values in shop.materials.items()
        if key != "material"
    }
    found = {(item.section, item.record, item.key): item.value for item in shop.assumptions}
    assert found == wanted and len(shop.assumptions) == len(found)
    assert all(item.low <= item.value <= item.high for item in shop.assumptions)
    assert all(item.source for item in shop.assumptions if item.basis not in ("stated",))


def test_origin_of_stated_measured_and_default_values():
    origin = {(item.record, item.key): item for item in load(GOOD).assumptions}
    stated = origin["Brake A", "approach_speed_mm_s"]
    assert (stated.low, stated.high, stated.basis, stated.source) == (120, 120, "stated", "")
    measured = origin["Brake A", "ready_power_kw"]
    assert (measured.low, measured.high, measured.basis, measured.source) == (2.3, 3.0, "measured", "power meter")
    assert origin["Brake B", "ready_power_kw"].basis == "judgement"


def test_numeric_columns_are_float64_and_inside_the_vocabulary():
    shop = load(bundled("demo_shop"))
    for table in (shop.parts, shop.bends, shop.cuts, shop.materials):
        assert len({len(values) for values in table.values()}) == 1
        for name, values in table.items():
            if name in ARGUMENTS:
                assert values.dtype == np.float64 and ARGUMENTS[name].accepts(values.min(), values.max())


@pytest.mark.parametrize("file", ["parts.csv", "steps.csv"])
def test_semicolons_and_decimal_commas_give_the_same_shop(written, file):
    changes = [('"Bracket, plain"', "Bracket plain")] if file == "parts.csv" else []
    assert same(written(file, *changes), written(file, *changes, (",", ";")))
    assert same(written(file, *changes), written(file, *changes, (",", ";"), (".", ",")))


def test_other_line_ends_a_mark_at_the_start_and_blank_lines_change_nothing(written):
    assert same(load(GOOD), written("steps.csv", ("\n", "\r\n"), encoding="utf-8-sig"))
    assert same(load(GOOD), written("parts.csv", ("P-3,", "\n,,,,,,,,,\nP-3,")))
    assert same(load(GOOD), written("scenario.toml", ("\n", "\r\n"), encoding="utf-8-sig"))


def test_a_line_number_counts_lines_inside_quotes(broken):
    message = broken("parts.csv", '"Bracket, plain"', '"Bracket\nof two lines"', "Cover,own alloy", "Cover,Y")
    assert "line 4, column material: 'Y'" in message


def test_a_switch_may_be_true_or_false_and_a_key_may_carry_another_unit(written):
    stated = "approach_speed_in_s = 4\noverlap_switch = false\nfirst_setup_h = 0.25"
    shop = written("scenario.toml", ("approach_speed_mm_s = 120", stated))
    brake = shop.press_brakes[0]
    assert brake.approach_speed_mm_s == pytest.approx(101.6) and brake.overlap_switch == 0
    assert brake.first_setup_min == pytest.approx(15)


def test_a_part_without_steps_is_fine():
    assert "P-3" in load(GOOD).parts["part"] and "P-3" not in load(GOOD).bends["part"]


def test_a_shop_may_have_only_cuts_or_only_bends(written):
    cuts = written("steps.csv", ("bend,180,90,24,0,0,0,0,1", "cut,180,,,0,,,,1"), ("bend,300,45,12,20,5,60,1", "cut,300,,,0,,,"), ("bend,400,90,12,0,0,0,0", "cut,400,,,0,,,"))  # fmt: skip
    assert len(cuts.cuts["part"]) == 5 and all(len(values) == 0 for values in cuts.bends.values())
    bends = written(
        "steps.csv", ("cut,1500,,,35,,,", "bend,150,90,24,0,0,0,0"), ("cut,180,,,0,,,", "bend,180,90,24,0,0,0,0")
    )
    assert len(bends.bends["part"]) == 5 and all(len(values) == 0 for values in bends.cuts.values())


def test_missing_folder_and_files(tmp_path):
    with pytest.raises(ScenarioError, match="is no folder"):
        load(tmp_path / "nowhere")
    for file in ("scenario.toml", "parts.csv", "steps.csv"):
        with pytest.raises(ScenarioError, match=f"{file}: there is no such file"):
            load(tmp_path)
        shutil.copy(GOOD / file, tmp_path)
    assert same(load(tmp_path), load(GOOD))


def test_bundled_scenarios_load_and_keep_their_promises():
    assert bundled_names() == ["demo_shop", "demo_shop_us", "small_lot_shop", "two_shift_shop"]
    shop, us = load(bundled("demo_shop")), load(bundled("demo_shop_us"))
    assert (shop.units, us.units, us.currency) == ("metric", "us", "USD")
    names, bends = np.unique(shop.bends["part"].astype(str), return_counts=True)
    assert len(shop.parts["part"]) >= 40 and len(set(shop.parts["material"])) == 3
    assert set(bends) == set(range(1, 10)) and len(names) == len(shop.parts["part"])
    assert 10 <= len(us.parts["part"]) <= 15
    for one in (load(bundled(name)) for name in bundled_names()):
        assert {machine.drive == "hydraulic" for machine in one.press_brakes} == {True, False}
        assert one.bends["bend_length_mm"].max() <= min(machine.working_length_mm for machine in one.press_brakes)
        assert one.cuts["cut_length_mm"].max() <= min(machine.blade_length_mm for machine in one.shears)
        assert one.parts["thickness_mm"].max() <= min(machine.shear_capacity_mm for machine in one.shears)
    assert {machine.drive == "hydraulic" for machine in shop.shears} == {True, False}


def test_unknown_bundled_name():
    with pytest.raises(ScenarioError, match="nearest known: demo_shop"):
        bundled("demo_shp")
