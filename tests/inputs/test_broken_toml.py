"""Broken scenario.toml files: each is refused with the file, the place, the value and what is allowed."""

from __future__ import annotations

import pytest

APPROACH = "approach_speed_mm_s = 120"
PRICE = "machine_price_cur = 90000"
BRAKE = "[[press_brake]] 'Brake A'"

# what is put in place of what, and the words that the message must hold
BROKEN = [
    # keys
    (APPROACH, "approach_speed = 120", [BRAKE, "unit is missing", "approach_speed_mm_s", "approach_speed_in_s"]),
    (APPROACH, "aproach_speed_mm_s = 120", [BRAKE, "aproach_speed_mm_s = 120", "nearest known key: approach_speed_mm_s"]),
    (APPROACH, "approach_speed_kg = 120", [BRAKE, "unit of another kind", "approach_speed_mm_s or approach_speed_in_s"]),
    (APPROACH, "approach_speed_mms = 120", [BRAKE, "approach_speed_mms", "approach_speed_mm_s"]),
    (APPROACH, APPROACH + "\napproach_speed_in_s = 4.7", [BRAKE, "approach_speed_in_s = 4.7", "keep one"]),
    (APPROACH, APPROACH + "\n" + APPROACH, ["scenario.toml", "TOML", "line"]),
    (APPROACH, "Approach_Speed_mm_s = 120", [BRAKE, "nearest known key: approach_speed_mm_s"]),
    (APPROACH, "gauge_y_speed_mm_s = 120", [BRAKE, "gauge_y_speed_mm_s", "nearest known key: gauge_"]),
    ("wage_cur_per_h", "wage", ["[workplace]", "unit is missing", "wage_cur_per_h"]),
    ("wage_cur_per_h", "wages_cur_per_h", ["[workplace]", "wages_cur_per_h = 25", "wage_cur_per_h"]),
    ("wage_cur_per_h", "wage_cur_per_kwh", ["[workplace]", "unit of another kind", "wage_cur_per_h"]),
    ("study_years = 10", "studdy_years = 10", ["[purchase]", "study_years"]),
    ("[tariff]", "[tarif]", ["scenario.toml", "tarif", "nearest known: tariff"]),
    ("[[press_brake]]", "[[press_brakes]]", ["press_brakes", "nearest known: press_brake"]),
    ('units = "metric"', 'unit = "metric"', ["unit", "nearest known: units"]),
    # values
    (APPROACH, "approach_speed_mm_s = 'fast'", [BRAKE, "approach_speed_mm_s = 'fast'", "mm/s", "> 0 and <= 1000"]),
    (APPROACH, "approach_speed_mm_s = '120'", [BRAKE, "'120'", "number with a unit", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = '120 kg'", [BRAKE, "'120 kg'", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = '120 furlongs/s of'", [BRAKE, "furlongs", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = '9**9**9**9 mm/s'", [BRAKE, "9**9", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = ''", [BRAKE, "''", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = '1,5 mm/s'", [BRAKE, "'1,5 mm/s'", "mm/s"]),
    (APPROACH, "approach_speed_mm_s = true", [BRAKE, "True is not a number", "> 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = [120]", [BRAKE, "[120] is not a number", "> 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = 2024-05-01", [BRAKE, "2024-05-01 is not a number", "> 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = nan", [BRAKE, "nan", "> 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = inf", [BRAKE, "inf", "> 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = 0", [BRAKE, "0 must be > 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = -120", [BRAKE, "-120 must be > 0 and <= 1000 mm/s"]),
    (APPROACH, "approach_speed_in_s = 120", [BRAKE, "approach_speed_in_s = 120", "3048 mm/s", "<= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = '90 in/s'", [BRAKE, "'90 in/s'", "2286 mm/s", "<= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = 1" + "0" * 400, [BRAKE, "<= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = {valu = 120}", [BRAKE, "'valu'", "nearest known: value"]),
    (APPROACH, "approach_speed_mm_s = {low = 100}", [BRAKE, "has no value"]),
    (APPROACH, "approach_speed_mm_s = {value = 120, low = 130}", [BRAKE, "low 130, value 120", "rising order"]),
    (APPROACH, "approach_speed_mm_s = {value = 120, high = 5000}", [BRAKE, "5000 must be", "<= 1000 mm/s"]),
    (APPROACH, "approach_speed_mm_s = {value = 120, basis = 'guess'}", [BRAKE, "basis 'guess'", "judgement", "measured"]),
    (APPROACH, "approach_speed_mm_s = {value = 120, source = 3}", [BRAKE, "source 3 must be a text"]),
    (APPROACH, "overlap_switch = 0.5", [BRAKE, "overlap_switch = 0.5", "0 or 1"]),
    (APPROACH, "overlap_switch = 'yes'", [BRAKE, "overlap_switch = 'yes'", "0 or 1"]),
    (APPROACH, "drive_efficiency_share = '55 deg'", [BRAKE, "'55 deg'", "> 0 and <= 1 share"]),
    (APPROACH, "drive_efficiency_share = 55", [BRAKE, "55 must be > 0 and <= 1 share"]),
    ('scrap_share = "2 %"', 'scrap_share = "120 %"', ["[workplace]", "'120 %'", "< 1 share"]),
    ('"0.21 EUR/kWh"', '"0.21 USD/kWh"', ["[tariff]", "'0.21 USD/kWh'", "EUR/kWh"]),
    ('"0.21 EUR/kWh"', '"21 Hz"', ["[tariff]", "'21 Hz'", "EUR/kWh"]),
    ("study_years = 10", "study_years = 10.5", ["[purchase]", "10.5 must be a whole number", "<= 100"]),
    # records
    (PRICE, "", [BRAKE, "machine_price_cur", "is missing and has no default", ">= 0"]),
    (PRICE, PRICE + "\nsalvage_cur = 95000", [BRAKE, "salvage_cur = 95000 must be <= machine_price_cur = 90000"]),
    ("value = 2.6, low = 2.3", "value = 0.1, low = 0.1", [BRAKE, "standby_power_kw = 0.25 must be <= ready_power_kw = 0.1"]),
    ('opening_mm = "60 mm"', "opening_mm = 4", [BRAKE, "slow_down_gap_mm = 6 must be <= opening_mm = 4"]),
    ('drive = "hydraulic"', 'drive = "steam"', [BRAKE, "drive = 'steam'", "electric, belt"]),
    ('drive = "hydraulic"', "", [BRAKE, "drive: is missing"]),
    ('drive = "hydraulic"', "drive = 5", [BRAKE, "drive = 5", "hydraulic"]),
    ('name = "Brake A"', "", ["[[press_brake]] no. 1", "name: is missing"]),
    ('name = "Brake A"', 'name = "=Brake"', ["name = '=Brake'", "letters, digits, space . _ -"]),
    ('name = "Brake B"', 'name = "brake a"', ["'brake a'", "stands twice"]),
    ('name = "Shear A"', 'name = "Brake A"', ["'Brake A'", "stands twice"]),
    ('material = "Own alloy"', 'material = "s235jr"', ["[[material]]", "stands twice"]),
    ("tensile_strength_mpa = 300", "", ["[[material]] 'Own alloy'", "tensile_strength_mpa", "no default", "<= 3000 MPa"]),
    ('currency = "EUR"', 'currency = "CHF"', ["[workplace]", "burden_share", "no default"]),
    ("[workplace]", "[[workplace]]", ["[workplace]", "one table"]),
    ('[[shear]]\nname = "Shear A"', '[shear]\nname = "Shear A"', ["[[shear]]", "list of tables"]),
    # options
    ('shear = "Shear A"', 'shear = "Shear X"', ["[[option]] 'Keep'", "shear = 'Shear X'", "Shear A"]),
    ('shear = "Shear A"', 'shear = "Brake A"', ["[[option]] 'Keep'", "shear = 'Brake A'", "Shear A"]),
    ('press_brake = "Brake B"', 'press_brake = "Brake C"', ["'Brake C'", "nearest known press_brake: Brake"]),
    ('buy = ["Brake B"]', 'buy = ["Brake A"]', ["[[option]] 'Buy'", "Brake A", "only machines of this option"]),
    ('buy = ["Brake B"]', 'buy = ["Brake B", "brake b"]', ["[[option]] 'Buy'", "each machine once"]),
    ('buy = ["Brake B"]', 'buy = "Brake B"', ["[[option]] 'Buy'", "buy = 'Brake B'", "list"]),
    ("buy = []", "", ["[[option]] 'Keep'", "buy: is missing"]),
    ("buy = []", "buy = [1]", ["[[option]] 'Keep'", "buy", "string"]),
    # the file as a whole
    ('name = "good"\n', "", ["scenario.toml, name", "is missing"]),
    ('name = "good"', 'name = "a/b"', ["name = 'a/b'", "letters, digits"]),
    ('name = "good"', "name = 3", ["name = 3", "a text"]),
    ('currency = "EUR"\n', "", ["scenario.toml, currency", "is missing", "EUR"]),
    ('currency = "EUR"', 'currency = "E{U}R"', ["currency = 'E{U}R'", "such as EUR"]),
    ('units = "metric"', 'units = "imperial"', ["units = 'imperial'", "'metric' or 'us'"]),
    (APPROACH, "approach_speed_mm_s == 120", ["scenario.toml", "TOML", "line 31"]),
    (APPROACH, "approach_speed_mm_s = 120 # \x01", ["scenario.toml", "control character", "line 31"]),
    ("", "", ["scenario.toml, name", "is missing"]),
    ("", "a = " + "[" * 5000, ["scenario.toml", "nested"]),
    ('title = "A small', b'title = "\xc4 small', ["scenario.toml, line 2", "0xc4", "UTF-8"]),
    ("", b"\xff\xfen\x00a\x00", ["scenario.toml", "UTF-16"]),
    ("A small good", "A small\x00good", ["scenario.toml, line 2", "zero byte"]),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "words"), BROKEN, ids=[f"{i}" for i in range(len(BROKEN))])
def test_refused_with_file_place_value_and_allowed(broken, old, new, words):
    message = broken("scenario.toml", old, new)
    assert message.splitlines()[-1].lstrip() and "scenario.toml" in message
    for word in words:
        assert word in message


def test_faults_are_listed_together(broken):
    message = broken("scenario.toml", "approach_speed_mm_s = 120", "approach_speed = 120\ndwell_time_s = -1\nspeed = 3")
    assert message.startswith("3 faults:") and len(message.splitlines()) == 4


def test_no_more_than_twenty_faults_are_shown(broken):
    keys = "\n".join(f"unknown_{i} = 1" for i in range(50))
    message = broken("scenario.toml", "approach_speed_mm_s = 120", keys)
    assert message.startswith("50 faults:") and len(message.splitlines()) == 22 and message.endswith("and 30 more")
