"""Present-value factors, equal yearly cost, and savings against investment, against published worked examples.

Marks: S the example was seen (as what, is said), M from memory, C computed.
"""

from __future__ import annotations

import numpy as np
import numpy_financial as npf
import pytest

from xlfab.core.errors import RangeError
from xlfab.investment.life_cycle import (
    adjusted_internal_rate_share,
    annuity_cur_per_year,
    capital_recovery_ratio,
    equivalent_annual_cost_cur_per_year,
    modified_uniform_present_value_ratio,
    real_rate_share,
    savings_to_investment_ratio,
    uniform_present_value_ratio,
)


@pytest.mark.parametrize(("years", "printed"), [(15, 11.94), (20, 14.88)])
def test_uniform_present_value_of_the_federal_tables(years, printed):
    # NIST Handbook 135 and its annual supplement, UPV factors at 3 % (M, from memory)
    assert uniform_present_value_ratio(0.03, years) == pytest.approx(printed, abs=5e-3)


def test_factors_sum_what_they_stand_for():
    years = np.arange(1, 13)
    for rate, escalation in [(0.07, 0.03), (0.03, 0.07), (0.05, 0.05), (0.0, 0.02), (-0.02, 0.0)]:
        assert uniform_present_value_ratio(rate, 12) == pytest.approx(np.sum((1 + rate) ** -years.astype(float)))
        summed = np.sum(((1 + escalation) / (1 + rate)) ** years)
        assert modified_uniform_present_value_ratio(rate, escalation, 12) == pytest.approx(summed)


EQUAL_YEARLY_COST = [
    # outlay, salvage, yearly cost, rate, years, printed, within
    # R. Panneerselvam, Engineering Economics, examples 6.2, 6.8 and 8.4 (S, worked-example transcription)
    (500000, 0, 200000, 0.20, 15, 306941.06, 5e-3),
    (600000, 0, 150000, 0.20, 15, 278329.272, 5e-3),
    (300000, 200000, 30000, 0.15, 4, 95026.535, 5e-4),
    (600000, 300000, 0, 0.15, 4, 150079.605, 5e-4),
    (120000, 25000, 25000, 0.12, 6, 51106.443, 5e-4),
    (150000, 20000, 14000, 0.12, 6, 48019.343, 5e-4),
    # P. C. Sharma, A Textbook of Production Engineering, 11th ed., examples 5.6 and 5.13 (S, worked-example transcription)
    (46000, 8000, 10000, 0.08, 10, 16303.12, 5e-3),
    (300000, 100000, 30000, 0.10, 10, 72549.08, 5e-3),
    # encyclopaedia article on equivalent annual cost (S, copy of an older text): machine A 31,360;
    # machine B is printed 30,780 with two digits swapped, the correct value is 30,708 (C)
    (50000, 0, 13000, 0.05, 3, 31360, 0.5),
    (150000, 0, 7500, 0.05, 8, 30708, 0.5),
]


@pytest.mark.parametrize(("outlay", "salvage", "cost", "rate", "years", "printed", "within"), EQUAL_YEARLY_COST)
def test_equal_yearly_cost_of_published_examples(outlay, salvage, cost, rate, years, printed, within):
    ours = equivalent_annual_cost_cur_per_year(outlay, salvage, cost, rate, years)
    assert ours == pytest.approx(printed, abs=within)


@pytest.mark.parametrize(
    ("outlay", "yearly", "years", "present", "printed"),
    # answered exercise on two machines of unequal lives at 11 % (S, web page): present values and equal yearly costs
    [(85, 130, 2, 307.63, 179.63), (155, 105, 3, 411.59, 168.42)],
)
def test_unequal_lives_of_an_answered_exercise(outlay, yearly, years, present, printed):
    worth = outlay + yearly * uniform_present_value_ratio(0.11, years)
    assert worth == pytest.approx(present, abs=0.01)
    assert annuity_cur_per_year(worth, 0.11, years) == pytest.approx(printed, abs=0.01)


def test_capital_recovery_and_sinking_fund():
    # P. C. Sharma, example 5.2 (S, worked-example transcription): 23,491 and 3,491, cut off after the point
    assert 200000 * capital_recovery_ratio(0.10, 20) == pytest.approx(23491, abs=1)
    assert 200000 * (capital_recovery_ratio(0.10, 20) - 0.10) == pytest.approx(3491, abs=1)
    assert capital_recovery_ratio(0.07, 9) == pytest.approx(-npf.pmt(0.07, 9, 1))


def test_savings_to_investment_and_adjusted_rate_of_an_open_engine():
    # usnistgov/E3, tests of its summary of an alternative (S, repository file): savings 250 on 100 more invested;
    # rates at 5 % over 10 years
    assert savings_to_investment_ratio(550 - 300, 200 - 100) == 2.5
    assert adjusted_internal_rate_share(1, 0.05, 10) == pytest.approx(0.05, abs=1e-12)
    assert adjusted_internal_rate_share(2.5, 0.05, 10) == pytest.approx(0.150756137704478, abs=1e-13)


def test_adjusted_rate_is_the_root_of_terminal_savings_over_costs():
    # 10 CFR 436.22 (S, copy of the regulation): n-th root of terminal value of savings over present value of costs, less 1
    savings, costs, rate, years = 9000.0, 60000.0, 0.03, 15
    terminal = -npf.fv(rate, years, savings, 0)
    ratio = savings_to_investment_ratio(savings * uniform_present_value_ratio(rate, years), costs)
    assert adjusted_internal_rate_share(ratio, rate, years) == pytest.approx((terminal / costs) ** (1 / years) - 1)
    # SIR 1.5 at 3 % over 15 years (C): 5.82 %
    assert adjusted_internal_rate_share(1.5, 0.03, 15) == pytest.approx(0.0582, abs=5e-5)


def test_measures_that_do_not_exist():
    with pytest.raises(RangeError, match="nothing more is invested"):
        savings_to_investment_ratio(100, -5)
    with pytest.raises(RangeError, match="worth nothing or less"):
        adjusted_internal_rate_share(-0.2, 0.05, 10)


def test_real_rate_values_the_same_flow_alike():
    # the same amount in today's money and with inflation has one present value (identity)
    real = real_rate_share(0.09, 0.025)
    assert 1000 / (1 + real) ** 7 == pytest.approx(1000 * 1.025**7 / 1.09**7)
