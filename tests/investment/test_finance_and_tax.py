"""Loan, lease, depreciation and tax against published worked examples and general-purpose finance libraries.

Marks: S the example was seen (as what, is said), M from memory, C computed.
"""

from __future__ import annotations

import numpy as np
import numpy_financial as npf
import pytest

from xlfab.core.errors import InputError
from xlfab.cost.machine_rate import straight_line_depreciation_cur_per_year
from xlfab.investment.appraisal import net_present_value_now_cur
from xlfab.investment.depreciation import (
    declining_balance_depreciation_cur,
    macrs_shares,
    macrs_table,
    salvage_after_tax_cur,
    table_depreciation_cur,
    tax_cur,
)
from xlfab.investment.finance import (
    lease_flow_cur,
    loan_balance_cur,
    loan_flow_cur,
    loan_interest_cur,
    loan_payment_cur,
)


def test_payments_of_published_loans():
    # Microsoft Support, example of PMT (M, from memory): 10,000 over 10 months at 8 % a year is 1,037.03
    assert loan_payment_cur(10000, 0.08 / 12, 10) == pytest.approx(1037.03, abs=5e-3)
    # open course notes of a review in engineering economics (S): 150,000 at 6 % over 5 years is 2,900 a month in the final answer
    assert loan_payment_cur(150000, 0.005, 60) == pytest.approx(2900, abs=0.5)


def test_interest_of_a_published_loan():
    # formulajs test suite, CUMIPMT (S): 100,000 over 30 years at 10 %, interest of months 13 to 24 is 9,916.77
    months = np.arange(13, 25)
    assert loan_interest_cur(100000, 0.1 / 12, 360, months).sum() == pytest.approx(9916.77251395708, abs=1e-6)


def test_loan_agrees_with_a_finance_library():
    periods = np.arange(1, 61)
    interest = loan_interest_cur(80000, 0.004, 60, periods)
    np.testing.assert_allclose(interest, -npf.ipmt(0.004, periods, 60, 80000), rtol=1e-9, atol=1e-9)
    balance = loan_balance_cur(80000, 0.004, 60, periods)
    np.testing.assert_allclose(balance, -npf.fv(0.004, periods, npf.pmt(0.004, 60, 80000), 80000), atol=1e-6)


def test_a_loan_at_the_discount_rate_is_worth_nothing():
    years = np.arange(0, 9.0)
    for rate in (0.0, 0.06):
        assert net_present_value_now_cur(rate, loan_flow_cur(50000, rate, 6, years)) == pytest.approx(0, abs=1e-6)
    assert loan_flow_cur(50000, 0.06, 6, years)[7:].tolist() == [0, 0]


def test_lease_in_advance_and_in_arrears():
    years = np.arange(0, 7.0)
    advance = lease_flow_cur(22000, 4, 1, 5000, years)
    assert advance.tolist() == [-22000, -22000, -22000, -22000, -5000, 0, 0]
    assert lease_flow_cur(22000, 4, 0, 0, years).tolist() == [0, -22000, -22000, -22000, -22000, 0, 0]
    # worth of an annuity paid in advance, by a finance library
    worth = net_present_value_now_cur(0.14, lease_flow_cur(22000, 4, 1, 0, years))
    assert worth == pytest.approx(npf.pv(0.14, 4, 22000, when="begin"))


def test_straight_line_and_declining_balance_of_published_examples():
    # formulajs test suite, SLN and DDB (S)
    assert straight_line_depreciation_cur_per_year(30000, 7500, 10) == 2250
    for rate, year, printed in [(2 / 6, 1, 333333.3333333333), (2 / 6, 6, 31687.242798353895), (1.5 / 6, 3, 140625)]:
        ours = declining_balance_depreciation_cur(1000000, 100000, rate, year)
        assert ours == pytest.approx(printed, abs=1e-5)
    # R. Panneerselvam, Engineering Economics, example 9.4 (S, worked-example transcription): year 5 and book value 5
    written_off = declining_balance_depreciation_cur(100000, 0, 0.2, np.arange(1, 6.0))
    assert written_off[4] == pytest.approx(8192, abs=5e-4)
    assert 100000 - written_off.sum() == pytest.approx(32768, abs=5e-4)


def test_depreciation_adds_up_to_what_is_written_off():
    years = np.arange(0, 20.0)
    assert declining_balance_depreciation_cur(90000, 6000, 0.3, years).sum() == pytest.approx(84000)


PRINTED = {
    # IRS Publication 946, Table A-1 (S, in two copies of the table), per cent
    3: [33.33, 44.45, 14.81, 7.41],
    5: [20.00, 32.00, 19.20, 11.52, 11.52, 5.76],
    # the same table in a textbook exercise with seven- and ten-year columns (S, web page)
    7: [14.29, 24.49, 17.49, 12.49, 8.93, 8.92, 8.93, 4.46],
}


@pytest.mark.parametrize("years", PRINTED)
def test_macrs_table_is_the_printed_one(years):
    assert [100 * share for share in macrs_table()[years]] == pytest.approx(PRINTED[years])


@pytest.mark.parametrize(("years", "factor"), [(3, 2.0), (5, 2.0), (7, 2.0), (10, 2.0), (15, 1.5)])
def test_macrs_table_follows_from_its_method(years, factor):
    """Declining balance that goes over to straight line, half a year in the first: within the rounding of the table."""
    book, left, shares = 1.0, float(years), []
    for part in [0.5, *[1.0] * (years - 1), 0.5]:
        share = min(max(book * factor / years * part, book * part / max(left, part)), book)
        shares.append(share)
        book, left = book - share, left - part
    assert macrs_table()[years] == pytest.approx(shares, abs=1.01e-4)
    assert sum(macrs_table()[years]) == pytest.approx(1)


def test_macrs_shares_of_a_study():
    assert macrs_shares(5, 3) == [0, 0.2, 0.32, 0.192]
    with pytest.raises(InputError, match="recovery period 4 years"):
        macrs_shares(4, 3)


def test_macrs_book_values_of_a_published_exercise():
    # exercise on equipment of 984,000, seven-year property (S, web page): book values at the start of years 2 and 8
    written_off = np.cumsum(table_depreciation_cur(984000, np.array(macrs_table()[7])))
    assert 984000 - written_off[0] == pytest.approx(843386.40, abs=5e-3)
    assert 984000 - written_off[6] == pytest.approx(43886.40, abs=5e-3)


def test_flows_after_tax_of_a_published_case():
    # case on replacing a machine (S, web page): 800,000, three-year MACRS, 40 % tax; flows of years 1 to 4 and salvage 50,000
    saving = np.array([90000.0, 90000.0, 90000.0, 110000.0])
    depreciation = table_depreciation_cur(800000, np.array(macrs_table()[3]))
    assert depreciation == pytest.approx([266640, 355600, 118480, 59280])
    after_tax = saving - tax_cur(saving, depreciation, 0, 0.4)
    assert after_tax == pytest.approx([160656, 196240, 101392, 89712])
    assert after_tax[3] + salvage_after_tax_cur(50000, 0, 0.4) == pytest.approx(119712)


def test_worth_after_tax_of_a_published_exercise():
    # University of Texas, review questions on taxes (S, web page): 5,000 over 5 years, saving 1,500, 40 % tax, 10 %:
    # flow 1,300; worth -72 without, 1,791 with a salvage of 5,000 that is taxed as a gain
    saved = 1500 - tax_cur(1500, straight_line_depreciation_cur_per_year(5000, 0, 5), 0, 0.4)
    assert saved == pytest.approx(1300)
    assert net_present_value_now_cur(0.1, [-5000, *[saved] * 5]) == pytest.approx(-72, abs=0.5)
    last = saved + salvage_after_tax_cur(5000, 0, 0.4)
    assert net_present_value_now_cur(0.1, [-5000, *[saved] * 4, last]) == pytest.approx(1791, abs=0.5)
