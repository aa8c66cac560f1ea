"""Work measurement, learning curve, OEE, lifting equation, predetermined times and shear rating against published examples.

Marks: seen = the number was read where the comment says; from memory = nobody here has opened the source.
"""

import numpy as np
import pytest

from xlfab.cycle_time.learning import crawford_lot_time_s, crawford_unit_time_s, wright_lot_time_s, wright_mean_time_s
from xlfab.cycle_time.lifting import (
    lift_frequency_per_min,
    lifting_index_ratio,
    weight_limit_kg,
    weight_limit_us_constants_kg,
)
from xlfab.cycle_time.motion import trapezoid_move_time_s
from xlfab.cycle_time.oee import availability_share, effectiveness_share, oee_share, quality_share
from xlfab.cycle_time.predetermined import tmu_time_s
from xlfab.cycle_time.shear_stroke import rated_stroke_time_s
from xlfab.cycle_time.standard_time import normal_time_s, standard_time_day_allowance_s, standard_time_work_allowance_s

INCH, POUND = 25.4, 0.45359237


def test_normal_and_standard_time():
    # J. Heizer, B. Render, C. Munson, Principles of Operations Management, 11th ed., ch. 10 problem (seen as a web extract):
    # four elements, five readings each in minutes, with a rating each; normal time 9.11 min, standard time 10.12 at 10 %
    readings = [
        [1.5, 1.6, 1.4, 1.5, 1.5],
        [2.3, 2.5, 2.1, 2.2, 2.4],
        [1.7, 1.9, 1.9, 1.4, 1.6],
        [3.5, 3.6, 3.6, 3.6, 3.2],
    ]
    normal = normal_time_s(np.mean(readings, axis=1), np.array([1.0, 0.9, 1.2, 1.0])).sum()
    assert normal == pytest.approx(9.11, abs=0.005)
    assert standard_time_day_allowance_s(normal, 0.1) == pytest.approx(10.12, abs=0.005)
    assert standard_time_work_allowance_s(normal, 0.1) == pytest.approx(
        10.02, abs=0.005
    )  # the ILO form at the same figure


@pytest.mark.parametrize(
    ("units", "mean", "total"), [(2, 80, 160), (4, 64, 256), (8, 51.2, 409.6), (16, 40.96, 655.36)]
)
def test_wright_80_percent(units, mean, total):
    # Management-accounting study text, ch. 15, table p. 324: 80 % cumulative average, first unit 100 h (seen as a web extract)
    assert wright_mean_time_s(100, 0.8, units) == pytest.approx(mean, abs=0.005)
    assert wright_lot_time_s(100, 0.8, 0, units) == pytest.approx(total, abs=0.005)


@pytest.mark.parametrize(
    ("unit", "coefficient"), [(2, 0.8), (4, 0.64), (5, 0.596), (6, 0.562), (7, 0.534), (9, 0.493), (10, 0.477)]
)
def test_crawford_80_percent(unit, coefficient):
    # Unit-time coefficients of operations-management texts, 80 % column (from memory)
    assert crawford_unit_time_s(1, 0.8, unit) == pytest.approx(coefficient, abs=0.0005)


def test_crawford_unit_250():
    # H. Kerzner, Project Management, ch. 18: 75 %, first unit 812 h, 250th unit 82 h (inputs seen, answer from memory)
    assert crawford_unit_time_s(812, 0.75, 250) == pytest.approx(82, abs=0.5)


@pytest.mark.parametrize("rate", [0.51, 0.7, 0.8, 0.95, 1.0])
@pytest.mark.parametrize(("before", "lot"), [(0, 1), (0, 7), (0, 8), (0, 9), (3, 4), (5, 20), (100, 900), (0, 5000)])
def test_crawford_lot_is_the_sum_of_its_units(rate, before, lot):
    units = np.arange(before + 1, before + lot + 1)
    assert crawford_lot_time_s(10, rate, before, lot) == pytest.approx(
        crawford_unit_time_s(10, rate, units).sum(), rel=1e-8
    )


def test_oee_examples():
    # P. Willmott, D. McCarthy, TPM - A Route to World-Class Performance, p. 127 (seen as a web extract): 86.0 %
    assert availability_share(910 - 115 - 12, 910) == pytest.approx(0.860, abs=0.0005)
    # SMRP Best Practices, 6th ed., OEE sample calculation, table 1 (seen as a web extract): 24 h, 8 idle, 1.66 + 2.08 down
    assert availability_share(24 - 8 - 1.66 - 2.08, 24 - 8) == pytest.approx(0.7663, abs=0.00006)
    # Widely published example: 480 min, 60 breaks, 47 down, ideal 1 s, 19,271 made, 423 rejected:
    # 86.11 % and 97.80 % seen, 88.81 % from memory
    available = availability_share(373 / 60, 420 / 60)
    effective = effectiveness_share(1.0, 19271, 373 / 60)
    good = quality_share(19271 - 423, 19271)
    assert available == pytest.approx(0.8881, abs=0.00005)
    assert effective == pytest.approx(0.8611, abs=0.00005)
    assert good == pytest.approx(0.9780, abs=0.00005)
    assert oee_share(available, effective, good) == pytest.approx(
        18848 / 60 / 420, rel=1e-12
    )  # good time over busy time


@pytest.mark.parametrize(
    ("reach", "height", "travel", "twist", "frequency", "coupling", "limit"),
    [  # inches, degrees, pounds; Waters, Putz-Anderson, Garg, Applications Manual, DHHS (NIOSH) 94-110, rev. 2021
        (20, 59, 37, 0, 0.88, 1.0, 15.2),  # example 4, destination (seen as a quotation; H from memory)
        (15, 27, 17, 0, 1.0, 0.90, 28.0),  # example 2, origin (from memory)
        (20, 10, 17, 0, 1.0, 0.90, 18.1),  # example 2, destination (from memory)
        (18, 15, 21, 45, 1.0, 0.95, 18.9),  # example 3 (from memory)
        (20, 44, 37, 30, 0.8, 1.0, 14.4),  # example 5, origin (from memory)
    ],
)
def test_niosh_us_examples(reach, height, travel, twist, frequency, coupling, limit):
    neutral = (10, 30, 10, 0)
    product = 51 * frequency * coupling
    for place, value in enumerate((reach, height, travel, twist)):  # the worksheets multiply two-decimal multipliers
        lift = [value if i == place else neutral[i] for i in range(4)]
        alone = weight_limit_us_constants_kg(*(x * INCH for x in lift[:3]), lift[3], 1, 1) / (51 * POUND)
        product *= np.floor(alone * 100 + 0.5 + 1e-9) / 100
    assert product == pytest.approx(limit, abs=0.05)
    exact = weight_limit_us_constants_kg(reach * INCH, height * INCH, travel * INCH, twist, frequency, coupling) / POUND
    assert exact == pytest.approx(limit, rel=0.025)


def test_niosh_example_4_at_full_precision():
    # the same manual, example 4, destination, unrounded multipliers (seen as a quotation): 15.3 lb
    assert weight_limit_us_constants_kg(20 * INCH, 59 * INCH, 37 * INCH, 0, 0.88, 1) / POUND == pytest.approx(
        15.3, abs=0.05
    )


def test_niosh_constants_and_limits():
    # the manual's section 1.3 (seen as a quotation): load constants 23 kg and 51 lb; outside its reach the limit is 0
    assert weight_limit_kg(250, 750, 250, 0, 1, 1) == pytest.approx(23)
    assert weight_limit_us_constants_kg(10 * INCH, 30 * INCH, 10 * INCH, 0, 1, 1) == pytest.approx(51 * POUND)
    assert weight_limit_kg(100, 750, 0, 0, 1, 1) == pytest.approx(23)  # nearer than 25 cm counts as 25 cm
    outside = [(640, 750, 250, 0), (250, 1760, 250, 0), (250, 750, 1760, 0), (250, 750, 250, 136)]
    assert [weight_limit_kg(*case, 1, 1) for case in outside] == [0.0] * 4
    # vertical multiplier at 20 in is 0.925 (table prints 0.93, seen as a quotation)
    assert weight_limit_us_constants_kg(254, 20 * INCH, 254, 0, 1, 1) / (51 * POUND) == pytest.approx(0.925)
    # special frequency adjustment (seen as a quotation): 10 lifts a minute for 8 of 15 minutes
    assert lift_frequency_per_min(10, 8) == pytest.approx(5.33, abs=0.005)
    # lifting index of example 4, 26 lb (from memory): 0.7 at the origin, 1.7 at the destination
    assert lifting_index_ratio(26, 34.9) == pytest.approx(0.7, abs=0.05)
    assert lifting_index_ratio(26, 15.2) == pytest.approx(1.7, abs=0.05)
    with pytest.raises(ValueError, match="outside the method's reach"):
        lifting_index_ratio(5, 0)


def test_mtm_anchors():
    # MTM-1 Data Card (SI), 2019 EN (seen): 1 TMU = 0.036 s; 1 s = 27.8 TMU; 1 min = 1666.7 TMU
    assert tmu_time_s(1) == pytest.approx(0.036)
    assert 1 / tmu_time_s(1) == pytest.approx(27.8, abs=0.05)
    assert 60 / tmu_time_s(1) == pytest.approx(1666.7, abs=0.05)


def test_hydraulic_shear_at_14_strokes():
    # Squaring-shear chapter, Taylor & Francis b15231-40 (seen): 14 strokes a minute, 4 s for a full-length cut, rounded
    assert rated_stroke_time_s(14) == pytest.approx(4.3, abs=0.05)
    assert rated_stroke_time_s(14) == pytest.approx(4, abs=0.5)


def test_trapezoid_run():
    # J. B. Gupta et al., Utilization of Electrical Energy and Traction, ch. 7 (seen as a transcription):
    # 26.25 km at 150 km/h with 5 km/h/s up and down takes 660 s
    assert trapezoid_move_time_s(26250, 150 / 3.6, 5 / 3.6) == pytest.approx(660, rel=1e-9)
