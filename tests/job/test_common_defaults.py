"""A default that says the same of every drive is one unknown: it must not set two machines apart."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from xlfab.inputs.scenario import load
from xlfab.job.doubt import swings

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
    found = {(swing.assumption.record, swing.assumption.key): swing for swing in swings(twins)}
    together = [swing for (record, _), swing in found.items() if record == "All press brakes"]
    assert {swing.assumption.key for swing in together} >= {"first_setup_min", "opening_mm", "ram_mass_kg"}
    assert all(swing.width(1) == pytest.approx(0, abs=1e-9) for swing in together)


def test_defaults_of_a_drive_are_one_unknown_for_each_machine(twins):
    found = {(swing.assumption.record, swing.assumption.key): swing for swing in swings(twins)}
    first, second = found["Brake A", "ready_power_kw"], found["Brake B", "ready_power_kw"]
    assert first.width(1) > 0 and first.width(1) == pytest.approx(second.width(1))
