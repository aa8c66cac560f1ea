"""Cost build-ups, prices and machine-hour rates against published worked examples.

The textbook examples were seen as a transcription (FOSSEE textbook companions, Python); the books themselves were not opened.
"""

import numpy as np
import pytest

from xlfab.catalogue import FUNCTIONS as F
from xlfab.core.errors import RangeError


def test_cost_build_up_of_sharma_4_1():
    """P. C. Sharma, Production Engineering, 11th ed., Exa 4.1 p. 206: total cost Rs 13225, selling price Rs 14812."""
    material, wages = 5500, 3000
    factory = material + wages + F["overhead_cur"](wages, 1.0)
    total = factory + F["overhead_cur"](factory, 0.15)
    assert total == pytest.approx(13225, abs=0.5)
    assert F["price_from_markup_cur"](total, 0.12) == pytest.approx(14812, abs=0.5)


def test_cost_build_up_of_sharma_4_2():
    """Exa 4.2 p. 207: shares from a year's accounts, then a job priced with them: selling price Rs 99000."""
    year_material, year_wages, year_factory, year_other = 160000, 120000, 120000, 50000
    year_factory_cost = year_material + year_wages + year_factory
    sold = 10000 + year_factory_cost + year_other - 15000
    profit_share = F["markup_of_cost_share"](489500 / sold, 1)
    factory = 20000 + 30000 + F["overhead_cur"](30000, year_factory / year_wages)
    total = factory + F["overhead_cur"](factory, year_other / year_factory_cost)
    assert F["price_from_markup_cur"](total, profit_share) == pytest.approx(99000, abs=0.5)


def test_margin_of_sharma_4_4():
    """Exa 4.4 p. 208: profit is 20 % of a selling price of Rs 65; after 40 % twice and Rs 15 material, Rs 2 an hour buys 7.908 h."""
    total = 65 * (1 - 0.2)
    assert F["price_from_margin_cur"](total, 0.2) == pytest.approx(65, abs=1e-9)
    assert F["margin_of_price_share"](65, total) == pytest.approx(0.2, abs=1e-12)
    wages = 7.908 * 2
    factory = 15 + wages + F["overhead_cur"](wages, 0.4)
    assert factory + F["overhead_cur"](factory, 0.4) == pytest.approx(total, abs=0.003)  # hours are printed to 3 places


def test_factory_cost_of_sharma_4_5():
    """Exa 4.5 p. 209: 400 + 1600 + 800 factory cost, selling expenses 50 % of it, sold at 4800: profit Rs 600."""
    factory = 400 + 1600 + F["overhead_cur"](1600, 0.5)
    assert 4800 - factory - F["overhead_cur"](factory, 0.5) == pytest.approx(600, abs=1e-9)


def test_piece_cost_of_sharma_5_17():
    """Exa 5.17 p. 267: labour 23000 and 55 % burden, 5 hp over 2300 h at 0.35, 26 % of 64000 a year: Rs 14.55 a piece of 3800."""
    labour = 2300 * F["labour_rate_cur_per_h"](23000 / 2300, 0.55)
    energy = F["energy_cost_cur_per_year"](5 * 0.746 * 2300, 0.35)
    standing = 64000 * 0.26
    assert (labour + energy + standing) / 3800 == pytest.approx(14.55, abs=0.005)


def test_machine_hour_rate_of_abwl():
    """ABWL-Camp model solution (seen): 29.17 + 16.67 + 2.50 + 4.90 + 0.04 + 17.53 = 70.81 EUR/h.

    Upkeep of 2.50 an hour and the interest rate (inferred from its printed line, so that line alone checks little) are taken as given.
    """
    hours = F["shift_plan_h_per_year"](250, 2, 8, 0.1)
    assert hours == pytest.approx(3600, abs=1e-9)
    value = F["replacement_value_cur"](800000, 110, 143)
    assert value == pytest.approx(1040000, abs=0.5)
    depreciation = F["straight_line_depreciation_cur_per_year"](value, -10000, 10)  # scrapping costs 10,000
    assert depreciation / hours == pytest.approx(29.17, abs=0.005)
    interest = F["mean_capital_interest_cur_per_year"](800000, 0.15)
    assert interest / hours == pytest.approx(16.67, abs=0.005)
    space = F["space_cost_cur_per_year"](20, 8)
    assert space / hours == pytest.approx(0.04, abs=0.005)
    blades = F["edge_tool_cost_cur_per_h"](2000, 9, 25 * 2.8, 15)
    assert blades == pytest.approx(17.53, abs=0.005)
    electricity = F["energy_cost_cur_per_year"](4200, 0.35) / 300
    assert electricity == pytest.approx(4.90, abs=0.005)
    standing = F["machine_rate_cur_per_h"](depreciation, interest, space, 2.5 * hours, hours)
    assert standing + electricity + blades == pytest.approx(70.81, abs=0.02)  # the printed sum adds rounded lines


def test_haufe_rule_on_the_abwl_lines():
    """Haufe Controlling Office, ch. 5, quoting VDI 3258 (seen): depreciation WBW/(n T), interest 0.5 cost i / T, floor m2 rent / T."""
    price, years, rate, hours, area, rent = 90000, 9, 0.06, 1800, 30, 90
    expected = price / years / hours + 0.5 * price * rate / hours + area * rent / hours
    yearly = (
        F["straight_line_depreciation_cur_per_year"](price, 0, years),
        F["mean_capital_interest_cur_per_year"](price, rate),
        F["space_cost_cur_per_year"](area, rent),
    )
    assert F["machine_rate_cur_per_h"](*yearly, 0, hours) == pytest.approx(expected, rel=1e-12)


def test_standing_charges_tutorial():
    """Cost-accounting tutorial, machine of Rs 10 000 (seen): 300/4 + 80 x 2/10 + 960/6 + 9 + 1 % / 12 = 268.33 a month.

    Rent and light as floor of 1 at their share, foreman as labour, oil and insurance as upkeep.
    """
    floor = F["space_cost_cur_per_year"](1, 12 * (300 / 4 + 80 * 0.2))
    foreman = 12 * 960 / 6
    insurance = F["maintenance_cost_cur_per_year"](10000, 0.01)
    rate = F["machine_rate_cur_per_h"](0, 0, floor, foreman + 12 * 9 + insurance, 12)
    assert rate == pytest.approx(268.33, abs=0.005)


def test_break_even_of_panneerselvam_1_1():
    """R. Panneerselvam, Engineering Economics, Example 1.1 p. 10: 2 000 000 fixed, 100 against 200 a unit: 20 000 units."""
    assert F["break_even_lot_count"](0, 200, 2000000, 100) == pytest.approx(20000, abs=1e-6)


def test_routes_cost_the_same_at_their_break_even():
    lot = F["break_even_lot_count"](12, 1.9, 55, 1.2)
    assert F["unit_cost_at_lot_cur"](1.9, 12, lot, 1) == pytest.approx(
        F["unit_cost_at_lot_cur"](1.2, 55, lot, 1), rel=1e-12
    )
    more = np.array([lot * 0.5, lot * 2])
    difference = F["unit_cost_at_lot_cur"](1.9, 12, more, 1) - F["unit_cost_at_lot_cur"](1.2, 55, more, 1)
    assert difference[0] < 0 < difference[1]


@pytest.mark.parametrize("case", [(10, 2, 10, 2), (10, 2, 20, 2), (10, 2, 20, 3), (10, 2, 10, 3)])
def test_no_break_even_where_one_route_is_never_dearer(case):
    with pytest.raises(RangeError, match="cost the same"):
        F["break_even_lot_count"](*case)


def test_margin_and_markup_are_two_words_for_one_price():
    cost = np.array([0.5, 12.0, 940.0])
    for margin in (0.0, 0.1, 0.35, 0.8):
        price = F["price_from_margin_cur"](cost, margin)
        markup = F["markup_of_cost_share"](price, cost)
        assert F["margin_of_price_share"](price, cost) == pytest.approx(margin, abs=1e-12)
        assert F["price_from_markup_cur"](cost, markup) == pytest.approx(price, rel=1e-12)
        assert markup == pytest.approx(margin / (1 - margin), abs=1e-12)


def test_rounding_never_lowers_a_price_and_keeps_prices_on_the_step():
    steps = np.array([0.01, 0.05, 0.1, 1.0])[:, None]
    prices = np.round(np.arange(1, 400) * 0.0173, 6)
    rounded = F["rounded_up_price_cur"](prices, steps)
    assert (rounded >= prices - 1e-9).all() and (rounded < prices + steps + 1e-9).all()
    assert F["rounded_up_price_cur"](rounded, steps) == pytest.approx(rounded, rel=1e-12)


def test_minimum_order_is_met_exactly():
    lots = np.array([1, 10, 50, 100])
    price = F["price_with_minimum_order_cur"](1.2, lots, 60)
    assert (price * lots).tolist() == [60, 60, 60, 120]


def test_lot_cost_is_never_in_both_places():
    for spread in (0.0, 1.0):
        unit = F["unit_cost_at_lot_cur"](2.0, 50.0, 20.0, spread)
        assert unit * 20 + F["shown_lot_cost_cur"](50.0, spread) == pytest.approx(2 * 20 + 50, rel=1e-12)


def test_packages_are_whole():
    lots = np.array([1, 39, 40, 41, 80])
    assert (F["packing_cost_cur"](8, 40, lots) * lots).tolist() == pytest.approx([8, 8, 8, 16, 16])
