"""Measures of cash flows against published worked examples and general-purpose finance libraries.

Marks: S the example was seen (as what, is said), M from memory, C computed here from a seen table.
"""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import numpy_financial as npf
import pytest
import pyxirr
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st
from office import convert, installed, values

from xlfab.core.errors import RangeError
from xlfab.investment.appraisal import (
    discounted_payback_years,
    internal_rate_share,
    modified_internal_rate_share,
    net_present_value_now_cur,
    net_present_value_one_period_cur,
    simple_payback_years,
)
from xlfab.investment.dated_flows import dated_net_present_value_cur

PANNEERSELVAM = "R. Panneerselvam, Engineering Economics, PHI Learning 2010 (S, worked-example transcription)"

NPV_NOW = [
    # numpy-financial 1.0.0, docstring of npv (S, installed package)
    (0.08, [-40000, 5000, 8000, 12000, 30000], 3065.22267, 5e-6),
    # numpy-financial 1.0.0, its own tests (S, installed package)
    (0.05, [-15000, 1500, 2500, 3500, 4500, 6000], 122.89, 5e-3),
    # PANNEERSELVAM, examples 4.1 and 4.3
    (0.20, [-2000000, *[600000] * 10], 515483.251, 5e-4),
    (0.20, [-1800000, *[500000] * 10], 296236.043, 5e-4),
    (0.18, [-10000, 3000, 3000, 7000, 6000], 2052.076, 5e-4),
    (0.18, [-10000, 6000, 6000, 3000, 3000], 2767.112, 5e-4),
    # P. C. Sharma, A Textbook of Production Engineering, 11th ed., example 5.3 (S, worked-example transcription):
    # inflows 21240 a year and 8000 at the end, at 10 % over 5 years
    (0.10, [0, *[21240] * 4, 29240], 85483.68, 5e-3),
    (0.10, [40000, *[12000] * 5], 85489.44, 5e-3),
]


@pytest.mark.parametrize(("rate", "flows", "printed", "within"), NPV_NOW)
def test_net_present_value_of_published_examples(rate, flows, printed, within):
    assert net_present_value_now_cur(rate, flows) == pytest.approx(printed, abs=within)


def test_net_present_value_one_period_is_the_spreadsheets():
    # Microsoft Support, example of NPV (M, from memory): 1,188.44
    assert net_present_value_one_period_cur(0.1, [-10000, 3000, 4200, 6800]) == pytest.approx(1188.44, abs=5e-3)


IRR = [
    # numpy-financial 1.0.0, docstring of irr (S, installed package)
    ([-100, 39, 59, 55, 20], 0.28095, 5.1e-6),
    # formulajs test suite, an open re-implementation of spreadsheet functions (S)
    ([-75000, 12000, 15000, 18000, 21000, 24000], 0.05715142887178467, 1e-9),
    # Microsoft Support, example of IRR (M, from memory): 8.7 % after five years, -2.1 % after four
    ([-70000, 12000, 15000, 18000, 21000, 26000], 0.087, 5e-4),
    ([-70000, 12000, 15000, 18000, 21000], -0.021, 5e-4),
    # encyclopaedia example (M, from memory): 5.96 %
    ([-123400, 36200, 54800, 48100], 0.0596, 5e-5),
    # PANNEERSELVAM example 7.1 interpolates to 15.251 %; the exact rate is 15.238 % (C)
    ([-100000, *[30000] * 5], 0.15238, 5e-6),
]


@pytest.mark.parametrize(("flows", "printed", "within"), IRR)
def test_internal_rate_of_published_examples(flows, printed, within):
    assert internal_rate_share(flows) == pytest.approx(printed, abs=within)


@pytest.mark.parametrize(
    "flows",
    [
        [-100, 100, 0, -7],  # numpy-financial's docstring gives -0.0833, one of two rates
        [100, 50, 60],
        [-100, -50],
        [0, 0, 0],
        [100, -60, -60],
    ],
)
def test_no_internal_rate_is_no_number(flows):
    with pytest.raises(RangeError, match="no internal rate"):
        internal_rate_share(flows)
    assert np.isnan(internal_rate_share(flows, invalid="nan"))


MIRR = [
    # Microsoft Support, example of MIRR (S): -5 % after three years
    (0.10, 0.12, [-120000, 39000, 30000, 21000], -0.05, 5e-3),
    # numpy-financial 1.0.0, its own tests (S, installed package)
    (0.08, 0.055, [-4500, -800, 800, 800, 600, 600, 800, 800, 700, 3000], 0.0666, 5e-5),
    (0.05, 0.06, [100, 200, -50, 300, -200], 0.3428, 5e-5),
    # formulajs test suite (S)
    (0.10, 0.12, [-75000, 12000, 15000, 18000, 21000, 24000], 0.07971710360838036, 1e-9),
    # encyclopaedia example (M, from memory): 17.91 %
    (0.10, 0.12, [-1000, -4000, 5000, 2000], 0.1791, 5e-5),
    # examination question, 10,000 laid out at 11 % (S, web page): 12.24 %
    (0.11, 0.11, [-10000, 2000, 3000, 4000, 5000], 0.1224, 5e-5),
]


@pytest.mark.parametrize(("finance", "reinvest", "flows", "printed", "within"), MIRR)
def test_modified_rate_of_published_examples(finance, reinvest, flows, printed, within):
    assert modified_internal_rate_share(finance, reinvest, flows) == pytest.approx(printed, abs=within)


def test_no_modified_rate_without_a_return():
    with pytest.raises(RangeError, match="no modified rate"):
        modified_internal_rate_share(0.1, 0.1, [-100, -20])


PAYBACK = [
    # textbook problems on discounted payback (S, web pages): outlay, rate, years
    (0.14, [-5200, 2800, 3700, 5100, 4300], 1.96),
    (0.14, [-10400, 2800, 3700, 5100, 4300], 3.65),
    (0.05, [-23327, *[10533] * 6], 2.41),
    # the discounted table was seen (53,571.43 63,775.51 49,824.62 38,131.08), the quotient is C
    (0.12, [-200000, 60000, 80000, 70000, 60000, 50000], 3.86),
]


@pytest.mark.parametrize(("rate", "flows", "printed"), PAYBACK)
def test_discounted_payback_of_published_examples(rate, flows, printed):
    assert discounted_payback_years(rate, flows) == pytest.approx(printed, abs=5e-3)


def test_payback_edges():
    assert simple_payback_years([-100, 50, 0, 50, 10]) == 3  # a year without flow still passes
    assert simple_payback_years([-100, -20, 60, 60, 60]) == 3
    assert simple_payback_years([20, 10, 10]) == 0
    for never in ([-100, 20, 20], [-100, 120, -50, 60]):  # not within the years, and not for good
        with pytest.raises(RangeError, match="does not come back"):
            simple_payback_years(never)


one_outlay = st.tuples(
    st.floats(1, 1e6), st.lists(st.floats(0, 1e6), min_size=1, max_size=12).filter(lambda flows: sum(flows) > 1)
).map(lambda pair: [-pair[0], *pair[1]])


@given(one_outlay, st.floats(-0.3, 0.5), st.floats(0, 0.5))
def test_agrees_with_two_finance_libraries(flows, rate, other):
    assert net_present_value_now_cur(rate, flows) == pytest.approx(npf.npv(rate, flows), rel=1e-9, abs=1e-6)
    assert net_present_value_now_cur(rate, flows) == pytest.approx(pyxirr.npv(rate, flows), rel=1e-9, abs=1e-6)
    ours = modified_internal_rate_share(rate, other, flows)
    assert ours == pytest.approx(npf.mirr(np.array(flows), rate, other), rel=1e-9, abs=1e-9)
    assert ours == pytest.approx(pyxirr.mirr(flows, rate, other), rel=1e-9, abs=1e-9)


@given(one_outlay)
def test_internal_rate_put_back_makes_the_flows_worth_nothing(flows):
    rate = internal_rate_share(flows, invalid="nan")
    if np.isfinite(rate) and -0.9 < rate <= 10:
        assert net_present_value_now_cur(rate, flows) == pytest.approx(0, abs=1e-6 * sum(map(abs, flows)))


@given(one_outlay, st.floats(0, 0.5))
def test_at_the_payback_time_the_running_sum_is_zero(flows, rate):
    years = discounted_payback_years(rate, flows, invalid="nan")
    running = np.cumsum(np.array(flows) / (1 + rate) ** np.arange(len(flows)))
    if np.isnan(years):
        assert running[-1] < 0
    else:
        assert np.interp(years, np.arange(len(flows)), running) == pytest.approx(0, abs=1e-7 * max(map(abs, flows)))


def test_many_draws_at_once_are_the_same_as_one_by_one():
    rng = np.random.default_rng(5)
    flows = rng.uniform(-50, 300, (40, 9))
    flows[:, 0] = -rng.uniform(100, 1500, 40)
    rates = rng.uniform(0, 0.2, 40)
    for function, arguments in [
        (net_present_value_now_cur, (rates,)),
        (discounted_payback_years, (rates,)),
        (internal_rate_share, ()),
        (simple_payback_years, ()),
        (modified_internal_rate_share, (rates, rates)),
    ]:
        together = function(*arguments, flows, invalid="nan")
        single = [function(*(float(item[row]) for item in arguments), flows[row], invalid="nan") for row in range(40)]
        np.testing.assert_allclose(together, single, rtol=1e-12)


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
def test_a_spreadsheet_finds_rates_far_below_zero(tmp_path):
    """Purchases that bring back from 5 % to five times their outlay, in 31 cells of which the last are empty years."""
    rng = np.random.default_rng(3)
    flows = np.zeros((60, 31))
    flows[:, 0] = -rng.uniform(1, 1000, 60)
    for row, years in enumerate(rng.integers(2, 16, 60)):
        flows[row, 1 : years + 1] = -flows[row, 0] * 0.05 * 100 ** (row / 59) / years
    with xlsxwriter.Workbook(tmp_path / "rates.xlsx") as file:
        sheet = file.add_worksheet("Rates")
        for row, line in enumerate(flows):
            sheet.write_row(row, 0, line)
            sheet.write_formula(row, 31, "=" + internal_rate_share.spec.native(f"A{row + 1}:AE{row + 1}"), None, 7)
    found = values(convert(tmp_path / "rates.xlsx", tmp_path / "out"))
    rates = [found["Rates", f"AF{row + 1}"] for row in range(60)]
    assert min(rates) < -0.5
    assert rates == pytest.approx([pyxirr.irr(list(line)) for line in flows], rel=1e-7)


@pytest.mark.parametrize("seed", range(20))
def test_dated_flows_are_worth_what_a_library_says(seed):
    rng = np.random.default_rng(seed)
    days = [0, *(int(day) for day in rng.choice(np.arange(1, 4000), int(rng.integers(1, 9)), replace=False))]
    flows = rng.uniform(-1000, 1000, len(days))
    dates = [date(2023, 7, 1) + timedelta(day) for day in days]
    ours = dated_net_present_value_cur(0.07, flows, days)
    assert ours == pytest.approx(pyxirr.xnpv(0.07, dates, flows), rel=1e-9, abs=1e-6)
