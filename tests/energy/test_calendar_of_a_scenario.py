"""The calendar and the timers of a scenario: hours in each state worked by hand, either one or the other, both refused."""

import dataclasses
import math
import shutil

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from xlfab.comparison.compare import compare
from xlfab.comparison.electricity_use import _basis, electricity_of, strokes_of
from xlfab.comparison.estimate import estimate
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.one_source import unused_keys
from xlfab.inputs.scenario import load
from xlfab.used_workbook.scenario_texts import sections_of

STATES = ("processing", "moving", "ready", "standby", "off", "warm_up")
CALENDAR = {
    "calendar_switch": 1.0,
    "working_days_count": 220.0,
    "shifts_count": 2.0,
    "shift_h": 8.0,
    "break_min": 30.0,
    "break_on_switch": 0.0,
}


def changed(workplace, **of_machine):
    """The US demo shop with another calendar and other machines."""
    shop = load(bundled("demo_shop_us"))
    new = {
        key: [item.model_copy(update=of_machine) for item in getattr(shop, key)] for key in ("press_brakes", "shears")
    }
    return dataclasses.replace(shop, workplace=shop.workplace.model_copy(update=workplace), **new)


def test_hours_of_the_states_by_hand():
    job = estimate(changed(CALENDAR, warm_up_min=15.0, warm_up_power_kw=4.0, control_on_share=0.0))
    for one in job.machines:
        year, stated = one.year, one.stated
        busy = year.number("busy_h_per_year")
        assert stated.number("on_h_per_year") == pytest.approx(220 * 2 * 7.5)  # 3,300 h, breaks switched off
        assert stated.number("warm_up_h_per_year") == pytest.approx(55)  # 220 mornings of a quarter of an hour
        waiting = 3300 - 55 - busy
        assert year.number("waiting_h_per_year") == pytest.approx(waiting)
        assert year.number("warm_up_energy_kwh") == pytest.approx(220)
        power = electricity_of(one, strokes_of(one, job))
        stop = stated.number("auto_stop_share")
        assert power.number("standby_h_per_year") == pytest.approx(waiting * stop)
        assert power.number("off_h_per_year") == pytest.approx(8760 - 3300)
        assert sum(power.number(f"{state}_h_per_year") for state in STATES) == pytest.approx(8760, rel=1e-9)
        assert power.value("balance")[0] == "OK"


def test_the_timer_gives_the_stopped_share():
    shop = changed({"timer_switch": 1.0, "mean_gap_min": 20.0}, auto_stop_min=10.0)
    for one in estimate(shop).machines:
        assert one.stated.number("stop_share") == pytest.approx(math.exp(-0.5))


def test_without_the_switches_each_machines_own_figures_count():
    for one in estimate(changed({"working_days_count": 300.0, "mean_gap_min": 3.0})).machines:
        assert one.stated.number("on_h_per_year") == one.stated.number("powered_h_per_year")
        assert one.stated.number("stop_share") == one.stated.number("auto_stop_share")
        assert one.year.number("warm_up_energy_kwh") == 0


@settings(max_examples=25, deadline=None)
@given(
    st.integers(150, 300),
    st.sampled_from([1, 2, 3]),
    st.floats(0, 60),
    st.integers(0, 1),
    st.floats(0, 30),
    st.floats(1, 90),
)
def test_any_calendar_makes_a_year_of_8760_hours_and_a_closed_balance(days, shifts, rest, stay, warm, gap):
    calendar = {
        "calendar_switch": 1.0,
        "working_days_count": float(days),
        "shifts_count": float(shifts),
        "shift_h": 7.5,
    }
    calendar |= {"break_min": rest, "break_on_switch": float(stay), "timer_switch": 1.0, "mean_gap_min": gap}
    job = estimate(changed(calendar, warm_up_min=warm, auto_stop_min=3.0))
    for one in job.machines:
        power = electricity_of(one, strokes_of(one, job))
        assert sum(power.number(f"{state}_h_per_year") for state in STATES) == pytest.approx(8760, rel=1e-9)
        assert power.value("balance")[0] == "OK"


def test_the_shop_with_a_calendar_uses_it():
    made = compare(load(bundled("two_shift_shop")))
    assert made.job.workplace.number("calendar_switch") == 1
    assert {one.stated.number("on_h_per_year") for one in made.job.machines} == {3600.0}
    assert made.overall_check.value("all_checks")[0] == "OK"


@pytest.mark.parametrize(
    ("workplace", "machine", "words"),
    [
        (
            "calendar_switch = 1",
            "powered_h_per_year = 2000",
            r"powered_h_per_year = 2000: is not in use .*calendar_switch = 1",
        ),
        ("", "warm_up_min = 10", r"warm_up_min = 10: .*once each working day.*needs calendar_switch = 1"),
        ("timer_switch = 1", "auto_stop_share = 0.4", r"auto_stop_share = 0.4: is not in use .*timer_switch = 1"),
        ("", "auto_stop_min = 5", r"auto_stop_min = 5: is not in use"),
        ("calendar_switch = 1\nshifts_count = 3\nshift_h = 9", "", "a day must hold the shifts"),
        ("calendar_switch = 1\nbreak_min = 700", "", "a shift its breaks"),
    ],
)
def test_both_at_once_is_refused_with_its_place(tmp_path, workplace, machine, words):
    shutil.copytree(bundled("small_lot_shop"), tmp_path, dirs_exist_ok=True)
    path = tmp_path / "scenario.toml"
    text = path.read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith(("powered_h", "auto_stop"))]
    text = "\n".join(lines).replace("[workplace]", f"[workplace]\n{workplace}", 1)
    path.write_text(text, encoding="utf-8")
    if machine:
        load(tmp_path)
        path.write_text(text.replace("[[press_brake]]", f"[[press_brake]]\n{machine}", 1), encoding="utf-8")
    with pytest.raises(ScenarioError, match=words):
        load(tmp_path)


def test_a_switch_set_in_a_workbook_drops_what_it_puts_out_of_use():
    shop = load(bundled("demo_shop_us"))
    sections = {"workplace": {"calendar_switch": 0.0}, "option": []}
    sections |= {"shear": [{"name": "S", "powered_h_per_year": 1800.0}], "press_brake": []}
    tables = {
        "workplace": [{"calendar_switch": 1.0}],
        "materials": [],
        "shear_1": [{"name": "S", "powered_h_per_year": 1800.0}],
    }
    found = sections_of({"sections": sections}, "comparison", tables)
    assert found["shear"] == [{"name": "S"}]
    assert unused_keys(shop.workplace.model_dump(), {"powered_h_per_year": 1800.0}) == {}


def test_only_figures_in_use_are_counted_as_judgement_or_not():
    job = estimate(load(bundled("demo_shop_us")))
    _, before = _basis(job.options[1], job)
    job.scenario = changed({"calendar_switch": 1.0, "timer_switch": 1.0})
    _, after = _basis(job.options[1], job)
    machines = (
        3  # one shear, two press brakes: each takes its timer and two figures of its warm-up for its stopped share
    )
    assert after - before == 2 * machines
