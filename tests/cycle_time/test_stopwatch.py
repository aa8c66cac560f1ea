"""Stopwatch readings: the fit against certified values, and what poor files are told."""

import numpy as np
import pytest

from xlfab.core.errors import InputError
from xlfab.cycle_time.handling import handling_time_s
from xlfab.cycle_time.stopwatch import fit_file, fit_handling, least_squares, read_readings

# NIST Statistical Reference Datasets, Norris (linear, lower difficulty): data and certified values as restated in public test code
X = [
    0.2,
    337.4,
    118.2,
    884.6,
    10.1,
    226.5,
    666.3,
    996.3,
    448.6,
    777.0,
    558.2,
    0.4,
    0.6,
    775.5,
    666.9,
    338.0,
    447.5,
    11.6,
]
X += [
    556.0,
    228.1,
    995.8,
    887.6,
    120.2,
    0.3,
    0.3,
    556.8,
    339.1,
    887.2,
    999.0,
    779.0,
    11.1,
    118.3,
    229.2,
    669.1,
    448.9,
    0.5,
]
Y = [
    0.1,
    338.8,
    118.1,
    888.0,
    9.2,
    228.1,
    668.5,
    998.5,
    449.1,
    778.9,
    559.2,
    0.3,
    0.1,
    778.1,
    668.8,
    339.3,
    448.9,
    10.8,
]
Y += [
    557.7,
    228.3,
    998.0,
    888.8,
    119.6,
    0.3,
    0.6,
    557.6,
    339.3,
    888.0,
    998.5,
    778.9,
    10.2,
    117.6,
    228.9,
    668.4,
    449.2,
    0.2,
]
HEAD = "blank_length_mm,blank_width_mm,blank_mass_kg,observed_time_s\n"


def test_certified_linear_fit():
    fit = least_squares(np.array(X)[:, None], Y)
    assert fit.coefficients == pytest.approx([-0.262323073774029, 1.00211681802045], rel=1e-10)
    assert fit.standard_errors == pytest.approx([0.232818234301152, 0.429796848199937e-03], rel=1e-10)
    assert fit.residual_s == pytest.approx(0.884796396144373, rel=1e-10)
    assert fit.r_squared == pytest.approx(0.999993745883712, rel=1e-12)
    assert fit.readings == 36


def test_the_fit_finds_the_formula_it_came_from():
    rng = np.random.default_rng(1)
    length, width, mass = rng.uniform(100, 3000, 40), rng.uniform(50, 1500, 40), rng.uniform(0.2, 40, 40)
    times = handling_time_s(4, 2.5, 0.5, length, width, mass)
    exact = fit_handling(length, width, mass, times)
    assert exact.coefficients == pytest.approx([4, 2.5, 0.5], rel=1e-9)
    noisy = fit_handling(length, width, mass, times + rng.normal(0, 0.5, 40))
    assert noisy.residual_s == pytest.approx(0.5, rel=0.35)
    assert (np.abs(noisy.coefficients - [4, 2.5, 0.5]) < 4 * noisy.standard_errors).all()


def test_a_file_with_ratings(tmp_path):
    rows = [(300, 200, 1, 1.0), (1000, 500, 6, 1.1), (2000, 1000, 30, 0.9), (500, 400, 9, 1.0), (2500, 300, 5, 1.2)]
    text = HEAD.replace("\n", ",rating_share\n")
    for length, width, mass, rating in rows:
        text += f"{length},{width},{mass},{handling_time_s(4, 2.5, 0.5, length, width, mass) / rating},{rating}\n"
    path = tmp_path / "readings.csv"
    path.write_text(text)
    fit = fit_file(path)
    assert fit.coefficients == pytest.approx([4, 2.5, 0.5], rel=1e-6)
    assert fit.readings == 5


GOOD = "300,200,1,6\n1000,500,6,11\n2000,1000,30,27\n500,400,9,10\n2500,300,5,14\n"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("length,width\n1,2\n", "line 1: columns must be"),
        (HEAD + "300,200,1,6\n" * 3, "3 readings are too few"),
        (HEAD + GOOD + "400,100,1,fast\n", "line 7, observed_time_s: 'fast' is not a number"),
        (HEAD + GOOD + "400,100,-1,5\n", "line 7, blank_mass_kg: '-1' must be > 0"),
        (HEAD + GOOD + "400,100,1,0\n", "a time above 0"),
        (HEAD + GOOD + "400,100,1,nan\n", "line 7, observed_time_s: 'nan' is not a number"),
        (HEAD + GOOD + "400,100,1\n", "line 7: 3 values for 4 columns"),
        (HEAD + "300,200,1,6\n" * 6, "do not vary enough"),
    ],
)
def test_poor_files_are_refused_with_a_reason(tmp_path, text, said):
    path = tmp_path / "readings.csv"
    path.write_text(text)
    with pytest.raises(InputError, match=r"readings\.csv") as refused:
        fit_file(path)
    assert said in str(refused.value)


def test_readings_keep_all_lines(tmp_path):
    path = tmp_path / "readings.csv"
    path.write_text(HEAD + GOOD)
    assert read_readings(path)["observed_time_s"].tolist() == [6, 11, 27, 10, 14]


def test_a_slope_that_cannot_be_used_is_said():
    length, mass = np.array([100, 500, 1000, 1500, 2000, 2500.0]), np.array([5, 1, 4, 2, 6, 3.0])
    fit = fit_handling(length, np.full(6, 100.0), mass, 20 - 2 * length / 1000)
    assert any("below zero" in line for line in fit.warnings())
