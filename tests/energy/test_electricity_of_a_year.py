"""Electricity of the demo shops' machines: states, causes and the year agree, and the words follow the figures."""

import numpy as np
import pytest

from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load
from xlfab.job.compare import compare
from xlfab.job.electricity import _basis, _weight


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
    states = ("processing", "moving", "ready", "standby", "off")
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
