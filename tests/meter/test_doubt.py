"""What a log leaves open is asked, refused or said: numbers, phases, codes, short logs; and intervals hold what they say."""

import numpy as np
import pytest
from fuzz_logs import batch
from log_corpus.case import of, run
from log_corpus.coverage import covered
from log_corpus.logger import read
from log_corpus.machines import DRIVES, READY, Course, blip, only, plain, shifts
from log_corpus.writing import Style, write
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.meter.fill import fill_scenario
from xlfab.meter.habits import habits_of
from xlfab.meter.log_file import Log, read_log
from xlfab.meter.log_numbers import form_of
from xlfab.meter.states import find_states
from xlfab.meter.uncertainty import half_width_95

BRAKE = "Brake hydraulic"


def found(course, step_s=1.0, seed=3):
    """The finding of a course's log, and the readings."""
    readings = read(course, seed, step_s)
    return find_states(Log("log", step_s, readings.power_kw)), readings


@pytest.mark.parametrize("course", [plain, blip])
def test_a_plain_log_finds_ready_between_the_strokes(tmp_path, course):
    finding, readings = found(course(DRIVES["plain"], 11))
    truth = readings.truth
    assert finding.state("ready").power_kw == pytest.approx(truth.power_kw["ready"], rel=0.015)
    assert finding.state("standby").power_kw == pytest.approx(truth.power_kw["standby"], rel=0.02)
    assert finding.state("standby").hours == pytest.approx(truth.hours["standby"], rel=0.02)
    fill_scenario(bundled("demo_shop"), BRAKE, finding, tmp_path / "copy")
    machine = next(one for one in load(tmp_path / "copy").press_brakes if one.name == BRAKE)
    assert machine.ready_power_kw == pytest.approx(2.8, rel=0.015)
    assert machine.standby_power_kw == pytest.approx(0.25, rel=0.02)


def test_energy_given_back_keeps_its_sign_and_the_states_add_up():
    finding, readings = found(shifts(DRIVES["ball screw"], 12))
    total = sum(state.energy_kwh for state in finding.states)
    assert total == pytest.approx(float(readings.power_kw.sum()) / 3600, rel=1e-6)
    assert finding.stroke_kj == pytest.approx(readings.truth.stroke_kj, rel=0.03)


@pytest.mark.parametrize("state", ["warm-up", "ready"])
def test_a_short_log_or_a_warm_up_alone_is_written_nowhere(tmp_path, state):
    drive = DRIVES["hydraulic"]
    with pytest.raises(ScenarioError, match="too short"):
        found(only(drive, 1, 60, READY))
    finding, _ = found(only(drive, 1, 2 * 3600, READY if state == "ready" else 2))
    with pytest.raises(ScenarioError, match="no state is ready for certain"):
        fill_scenario(bundled("demo_shop"), BRAKE, finding, tmp_path / "copy")


def test_a_day_left_on_reaches_the_scenario(tmp_path):
    finding, _ = found(shifts(DRIVES["hydraulic"], 5, days=3.0, left_on=(1,)), 5.0)
    habits = habits_of(finding)
    assert habits.nights_standby_h == pytest.approx(24, abs=0.3) and habits.longest_standby_h > 23
    lines = fill_scenario(bundled("demo_shop"), BRAKE, finding, tmp_path / "copy")
    machine = next(one for one in load(tmp_path / "copy").press_brakes if one.name == BRAKE)
    assert machine.control_on_share == pytest.approx(habits.left_on_share, abs=1e-4)
    assert 0.3 < machine.control_on_share < 0.6
    for words in ("switched on in", "15-minute mean", "warm-up of"):
        assert any("not carried" in line and words in line for line in lines)


def test_auto_stop_is_found_and_carried_where_the_timer_counts(tmp_path):
    course = Course(DRIVES["belt"], np.random.default_rng(4))
    course.rest(600, 1)
    for _ in range(6):
        course.produce(1800, 30)
        course.pause(2400)
    finding, _ = found(course)
    assert habits_of(finding).stops_itself_min == pytest.approx(15, rel=0.1)
    shop = tmp_path / "shop"
    shop.mkdir()
    for item in bundled("demo_shop").iterdir():
        text = item.read_text(encoding="utf-8").replace("[workplace]", "[workplace]\ntimer_switch = 1", 1)
        (shop / item.name).write_text(text, encoding="utf-8")
    fill_scenario(shop, BRAKE, finding, tmp_path / "copy")
    machine = next(one for one in load(tmp_path / "copy").press_brakes if one.name == BRAKE)
    assert machine.auto_stop_min == pytest.approx(15, rel=0.1)


def test_auxiliaries_are_not_added_twice(tmp_path):
    finding, _ = found(plain(DRIVES["plain"], 11, hours=2.0))
    shop = tmp_path / "shop"
    shop.mkdir()
    for item in bundled("demo_shop").iterdir():
        text = item.read_text(encoding="utf-8").replace(
            f'name = "{BRAKE}"', f'name = "{BRAKE}"\nauxiliary_power_kw = 0.8', 1
        )
        (shop / item.name).write_text(text, encoding="utf-8")
    with pytest.raises(ScenarioError, match="--auxiliaries metered"):
        fill_scenario(shop, BRAKE, finding, tmp_path / "no")
    for said, expected in (("metered", 0.0), ("apart", 0.8)):
        fill_scenario(shop, BRAKE, finding, tmp_path / said, said)
        machine = next(one for one in load(tmp_path / said).press_brakes if one.name == BRAKE)
        assert machine.auxiliary_power_kw == expected


@pytest.mark.parametrize(
    ("texts", "decimal", "grouped", "asks"),
    [
        (["0.251", "2.803"], ".", False, False),
        (["0,251", "2,803", "12"], ",", False, False),
        (["2,803.5", "251.0"], ".", True, False),
        (["2.803", "9.013", "7.437"], ".", False, True),
        ([*map(str, range(200, 220)), *(f"{n}.803" for n in range(2, 14))], ",", True, False),
        (["2.5", "2,5"], ".", False, True),
        (["2,80 kW", "250 W"], ",", False, False),
    ],
)
def test_a_column_proves_its_decimal_sign_or_asks(texts, decimal, grouped, asks):
    form = form_of(texts)
    assert bool(form.open_text) == asks
    if not asks:
        assert (form.decimal, form.grouped) == (decimal, grouped)


def test_an_open_question_shows_both_readings(tmp_path):
    style = Style(heading="E [{unit}]", unit="kWh", kind="counter", digits=3, thousands="", delimiter=";")
    path = write(tmp_path, "log", run()(1), style, 1)
    lines = path.read_text().splitlines()
    path.write_text(
        "\n".join([lines[0], *(f"{line.split(';')[0]};48.{n // 9:03d}" for n, line in enumerate(lines[1:5000]))])
    )
    with pytest.raises(ScenarioError, match="two readings") as error:
        read_log(path)
    assert "--decimal point" in str(error.value) and "--decimal comma" in str(error.value)


def test_a_picture_never_goes_over_the_log(tmp_path):
    path = write(tmp_path, "log", run()(1), Style(), 1)
    link = tmp_path / "other.png"
    link.symlink_to(path)
    before = path.read_bytes()
    for target in (path, link):
        result = CliRunner().invoke(app, ["meter", str(path), "--picture", str(target), "--overwrite"])
        assert isinstance(result.exception, ScenarioError) and "is what is read" in str(result.exception)
    assert path.read_bytes() == before


def test_intervals_of_known_distributions():
    assert half_width_95((1.0,), 0.0) == pytest.approx(0.95, abs=0.01)  # rectangular: exact
    assert half_width_95((), 2.0) == pytest.approx(3.92, abs=0.01)  # normal: 1.96 standard deviations
    assert half_width_95((1.0, 1.0), 0.0) == pytest.approx(2 * (1 - 0.05**0.5), abs=0.02)  # triangular: exact


def test_intervals_hold_the_truth():
    inside, faults = covered(range(14))
    held = [ok for values in inside.values() for ok in values]
    assert len(held) > 50 and 0.88 <= np.mean(held) <= 1.0
    assert not faults


def test_damaged_logs_are_read_or_refused():
    ends, longest = batch(120, 7)
    assert set(ends) <= {"read", "refused"}, ends
    assert longest < 10


def test_a_log_of_phases_with_one_reversed_says_what_it_would_be(tmp_path):
    path = write(tmp_path, "log", of(plain, "belt", hours=1.5)(1), Style(phases=(0.33, -0.33, 0.34), digits=4), 1)
    with pytest.raises(ScenarioError, match=r"P L2.*clamp is reversed"):
        read_log(path)
