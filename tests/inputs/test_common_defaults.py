"""A default that says the same of every drive is one unknown: it must not set two machines apart."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from xlfab.comparison.assumption_swings import swings
from xlfab.inputs.scenario import load

GOOD = Path(__file__).parents[1] / "inputs" / "good"


@pytest.fixture
def twins(tmp_path):
    """The good scenario with two press brakes alike in all but their names, everything at its default."""
    shutil.copytree(GOOD, tmp_path, dirs_exist_ok=True)
    text = (GOOD / "scenario.toml").read_text(encoding="utf-8")
    start, end = text.index("approach_speed_mm_s"), text.index("machine_price_cur = 90000")
    text = text[:start] + text[end:]
    text = text.replace("screw servo-drive", "hydraulic").replace("120000", "90000")
    (tmp_path / "scenario.toml").write_text(text, encoding="utf-8")
    return load(tmp_path)


def test_common_defaults_move_no_difference_between_equal_machines(twins):
    together = {swing.name: swing for swing in swings(twins)[2].saving if swing.name.startswith("press_brake||")}
    keys = {name.split("|")[2] for name in together}
    assert keys >= {"first_setup_min", "opening_mm", "ram_mass_kg"}
    assert all(swing.span == pytest.approx(0, abs=1e-9) for swing in together.values())


def test_defaults_of_a_drive_are_one_unknown_for_each_machine(twins):
    found = {swing.name: swing for swing in swings(twins)[2].saving}
    first, second = (found[f"press_brake|Brake {letter}|ready_power_kw"] for letter in "AB")
    assert first.span > 0 and first.span == pytest.approx(second.span)
