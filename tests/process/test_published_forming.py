"""Bending, flat blank and shearing against published worked examples, each with its source beside it."""

from __future__ import annotations

import numpy as np
import pytest

from xlfab.process import bending, flat_blank, shearing

SHARMA = "P. C. Sharma, A Textbook of Production Engineering, 11th ed., S. Chand 2008 (seen as a worked-example transcription; the book was not opened)"


def test_air_bend_force_and_work_of_the_forming_handbook() -> None:
    # 4ming.de forming handbook, Bending force I (after Oehler, Lange): 310 MPa, 1 mm, w 10, l 100, h 15, m 0.75
    # printed: F = 4.34 kN, W = 48.82 J (48.83 recomputed)
    force = bending.air_bend_force_kn(1, 310, 100, 10)
    assert force == pytest.approx(4.34, abs=0.005)
    assert bending.air_bend_work_kj(force, 15, 0.75) * 1000 == pytest.approx(48.82, abs=0.01)


@pytest.mark.parametrize(
    ("factor", "strength", "thickness", "length", "opening", "printed", "tolerance"),
    [
        (1.2, 630, 2.5, 375, 40, 44.3, 0.05),  # SHARMA, Exa 2.3 p. 133
        (1.33, 455, 1.6, 1200, 12.8, 145.24, 0.005),  # SHARMA, Exa 2.12 p. 139
    ],
)
def test_v_die_force_with_a_stated_factor(
    factor: float, strength: float, thickness: float, length: float, opening: float, printed: float, tolerance: float
) -> None:
    force = bending.v_die_force_factor_kn(factor, thickness, strength, length, opening)
    assert force == pytest.approx(printed, abs=tolerance), SHARMA


def test_the_two_v_die_forms_meet_where_the_handbooks_factor_is_reached() -> None:
    # convention fork: 1.33 is said of V = 8 t, but 1 + 4 t/V gives 1.5 there and 1.33 at V = 12 t
    assert bending.air_bend_force_kn(1, 400, 1000, 12) == pytest.approx(
        bending.v_die_force_factor_kn(4 / 3, 1, 400, 1000, 12), rel=1e-12
    )
    assert bending.air_bend_force_kn(1, 400, 1000, 8) == pytest.approx(
        bending.v_die_force_factor_kn(1.5, 1, 400, 1000, 8), rel=1e-12
    )


def test_penetration_at_its_limits() -> None:
    # geometry: flat needs none; a sharp thin sheet bent square goes down half the opening
    assert bending.air_bend_penetration_mm(0, 16, 2, 2.5) == 0
    assert bending.air_bend_penetration_mm(90, 16, 1e-9, 1e-9) == pytest.approx(8, rel=1e-8)


def test_developed_length_of_an_l_bracket() -> None:
    # SHARMA, Exa 2.10 p. 138: legs 76 and 115 mm outside, 2.3 mm thick, inside radius 0.9 mm, neutral line at t/3: 187.22 mm
    straight = 76 + 115 - 2 * flat_blank.outside_setback_mm(90, 0.9, 2.3)
    allowance = flat_blank.bend_allowance_k_factor_mm(90, 0.9, 2.3, 1 / 3)
    assert straight + allowance == pytest.approx(187.22, abs=0.005), SHARMA


def test_bend_allowance_with_a_stated_k_factor() -> None:
    # M. P. Groover, Fundamentals of Modern Manufacturing, Example 20.2 (from memory): 60 deg, R 4.75, t 3.2, K 0.33: 6.08 mm
    assert flat_blank.bend_allowance_k_factor_mm(60, 4.75, 3.2, 0.33) == pytest.approx(6.08, abs=0.005)


@pytest.mark.parametrize(("ratio", "printed"), [(3, 0.9), (2, 0.8), (1.2, 0.7), (0.8, 0.6)])
def test_din_6935_factor_against_a_printed_table(ratio: float, printed: float) -> None:
    # tool-design formula sheet, scribd.com/doc/85415351: k rounded to one decimal; the formula itself (DIN 6935) is from memory
    assert flat_blank.din_6935_k_ratio(ratio, 1) == pytest.approx(printed, abs=0.05)


def test_din_6935_compensation_value() -> None:
    # computed by hand from the formula (DIN 6935 from memory): pi/2 (3 + 0.65 x 1.5) - 2 x 6 = -5.756
    assert flat_blank.flat_length_change_mm(90, 3, 3) == pytest.approx(np.pi / 2 * (3 + 0.65 * 1.5) - 12, rel=1e-12)


def test_guillotine_with_parallel_blades() -> None:
    # SHARMA, Exa 2.14 p. 140: 2 m of 5 mm sheet at 382.5 MPa: 3.825 MN
    assert shearing.parallel_shear_force_kn(382.5, 5, 2000) / 1000 == pytest.approx(3.825, abs=0.0005), SHARMA


def test_raked_guillotine_is_half_of_the_rectangle_rule() -> None:
    # SHARMA, Exa 2.14 p. 140, 6 deg, without the factor 1/2 and with sin: 91.48 kN; the triangle rule is cos(6 deg)/2 of that
    published = 91.48
    assert shearing.raked_shear_force_kn(382.5, 5, 6, 2000) == pytest.approx(
        published * np.cos(np.radians(6)) / 2, rel=2e-4
    )


def test_raked_force_goes_with_one_over_the_tangent_of_the_rake() -> None:
    # steel supplier's technical note (guantangzx.cn/tech.php?pid=25): 3, 4, 5 degrees need 73, 55, 44 tons, rounded
    force = shearing.raked_shear_force_kn(400, 9.5, np.array([3.0, 4.0, 5.0]), 3000)
    np.testing.assert_allclose(force / force[0] * 73, [73, 55, 44], atol=0.5)


def test_raked_force_never_exceeds_parallel_blades() -> None:
    assert shearing.raked_shear_force_kn(300, 6, 0.01, 50) == shearing.parallel_shear_force_kn(300, 6, 50)


def test_rake_changes_force_and_not_work() -> None:
    # derived: mean force times blade travel is the work, whatever the rake; encyclopaedia texts say the same of raked blades
    assert shearing.shear_work_kj(330, 6, 3000, 0.45, 0.65) == pytest.approx(10.43, abs=0.05)
