"""Second press steps, blade setting and margins: published examples and limits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xlfab.process.blade_setting import blade_gap_mm, least_rake_deg, shear_thickness_limit_mm
from xlfab.process.feasibility import force_at_length_kn, force_margin_kn
from xlfab.process.press_steps import coining_force_kn, flange_height_mm, hem_closing_travel_mm
from xlfab.process.shearing import raked_shear_force_kn


def test_channel_bend_with_coining():
    # P. C. Sharma, A Textbook of Production Engineering, 11th ed. (seen as a worked-example transcription): channel bend in 1 mm,
    # 315 MPa, 50 mm long, bottoming beads 6 mm wide at 560 MPa: (0.67 Rm L t + pressure L b) / 9.81 = 18.2 tonnes-force
    bending = 0.67 * 315 * 50 * 1 / 1000
    assert (bending + coining_force_kn(560, 50, 6)) / 9.81 == pytest.approx(18.2, abs=0.05)


def test_blade_gap_examples():
    # M. P. Groover, Fundamentals of Modern Manufacturing (from memory): 0.075 of 3.2 mm is 0.24 mm
    assert blade_gap_mm(3.2, 0.075) == pytest.approx(0.24, abs=0.0005)
    # P. C. Sharma (seen as a worked-example transcription): 5 % of 1.5 mm is 0.075 mm
    assert blade_gap_mm(1.5, 0.05) == pytest.approx(0.075, abs=0.0005)


@given(st.floats(50, 900), st.floats(0.5, 20), st.floats(0.3, 10))
def test_least_rake_is_the_force_turned_round(strength, thickness, rake):
    force = raked_shear_force_kn(strength, thickness, rake, 20000)
    assert least_rake_deg(strength, thickness, force) == pytest.approx(rake, rel=1e-9)


@given(st.floats(1, 20), st.floats(200, 600), st.floats(200, 1500), st.floats(0.5, 5))
def test_the_thickness_limit_needs_no_more_force_than_the_plate(capacity, rated, strength, rake):
    limit = shear_thickness_limit_mm(capacity, rated, strength)
    assert limit <= capacity
    used = raked_shear_force_kn(0.8 * strength, limit, rake, 20000)
    assert used <= raked_shear_force_kn(0.8 * rated, capacity, rake, 20000) * (1 + 1e-9)


def test_force_on_a_short_bend():
    assert force_margin_kn(force_at_length_kn(1000, 300, 1800), 200) == pytest.approx(-100 / 3)
    assert force_at_length_kn(1000, 1800, 1800) == 1000


def test_flange_and_hem_geometry():
    assert flange_height_mm(40, 90) == 40
    assert flange_height_mm(40, 0) == 0
    assert hem_closing_travel_mm(10, 90, 2) == pytest.approx(8)
    with pytest.raises(ValueError, match="closed from a bend of 90 degrees or more"):
        hem_closing_travel_mm(10, 60, 0)
