"""Bills against published worked examples and public tariff sheets, each with its source.

MEHTA: V. K. Mehta and R. Mehta, Principles of Power System, 4th ed., S. Chand 2005, seen as the worked-example notebooks of FOSSEE
(IIT Bombay); the book itself was not opened. Where a tariff sheet gives prices and no bill, the bill is worked by hand here.
"""

import itertools
import math

import numpy as np
import pytest

from xlfab.cost import tariff, tariff_demand
from xlfab.energy import drive

charge = tariff.energy_cost_cur_per_year  # a price times an amount: holds for a month's bill as well


def test_two_part_tariff():
    # MEHTA Example 5.1 p. 91: 200 kW at load factor 0.4, Rs 100 per kW and year, Rs 0.10 per kWh: 12.85 paise per kWh overall
    energy = 200 * 0.4 * 8760
    bill = tariff.bill_cur(charge(energy, 0.1), tariff_demand.demand_charge_cur(200, 100), 0, 0, 0)
    assert tariff.overall_price_cur_per_kwh(bill, energy) * 100 == pytest.approx(12.85, abs=0.005)


def test_block_tariff():
    # MEHTA Example 5.2 p. 91: 4.4 kW, 8760 kWh, Rs 0.20 for the first 500 h of demand and Rs 0.10 beyond: Rs 1096
    assert tariff.block_cost_cur(8760, 500 * 4.4, 0.2, 0.1) == pytest.approx(1096)


def test_power_from_the_same_apparent_power():
    # MEHTA Example 6.1 p. 108: 300 kW at 0.6 use the kVA of 500 kW, 200 kW more at unity
    assert tariff_demand.apparent_power_kva(300, 0.6) - 300 == pytest.approx(200)


def test_power_factor_of_three_loads():
    # MEHTA Example 6.3 p. 110: 20 kW at 1, 100 kW at 0.707 leading, 50 kW at 0.9 lagging: 186 kVA, power factor 0.913
    kvar = tariff_demand.reactive_power_kvar(50, 0.9) - tariff_demand.reactive_power_kvar(100, 0.707)
    assert 170 / math.hypot(170, kvar) == pytest.approx(0.913, abs=0.0005)


def test_power_factor_correction_under_a_kva_demand_charge():
    # MEHTA Example 6.6 p. 112: 800 kW from 0.8 to 0.9, Rs 100 per kVA, capacitors Rs 60 per kVAr at 10 %: Rs 9836 a year
    kvar = tariff_demand.reactive_power_kvar(800, 0.8) - tariff_demand.reactive_power_kvar(800, 0.9)
    before = tariff_demand.demand_charge_cur(tariff_demand.apparent_power_kva(800, 0.8), 100)
    after = tariff_demand.demand_charge_cur(tariff_demand.apparent_power_kva(800, 0.9), 100)
    assert before - after - 0.1 * 60 * kvar == pytest.approx(9836, abs=0.5)


def test_yearly_cost_of_a_pump_drive():
    # ESPOSITO, Fluid Power with Applications, 6th ed., Example 5-10 p. 203 (transcription): 120 N.m, 1000 rpm, motor 85 %, 3000 h,
    # 0.11 $/kWh: printed 4884 $ with the input rounded to 14.8 kW; 4878 exactly
    energy = drive.motor_input_kw(drive.shaft_power_kw(120, 1000), 0.85) * 3000
    assert charge(energy, 0.11) == pytest.approx(4884, abs=6)


def test_sample_bill_of_a_convenience_store():
    # Energy-management handbook, section "Calculation of a monthly bill" (civilengineeringhandbook.tk/energy-management/185), printed:
    # 17,588 kWh at 0.09444, adjustment -0.017192 a kWh, demand 30 kW 262.34, customer charge 3.74: total 1,624.72 $
    price = 0.09444 - 0.017192
    bill = tariff.bill_cur(charge(17588, price), 262.34, 0, 3.74, 0)
    assert bill == pytest.approx(1624.72, abs=0.01)


def test_demand_raised_point_for_point():
    # il-batavia.civicplus.com/205, large general service, 1 May 2015: 100 $ + 0.04362 $/kWh + 17.25 $/kW, demand x (1 + (0.90 - pf)).
    # By hand for 800 kW, 300,000 kWh, power factor 0.82: 864 kW; 100 + 13,086 + 14,904 = 28,090 $
    demand = tariff_demand.power_factor_step_kw(800, 0.82, 0.90, 1)
    bill = tariff.bill_cur(charge(300_000, 0.04362), tariff_demand.demand_charge_cur(demand, 17.25), 0, 100, 0)
    assert demand == pytest.approx(864)
    assert bill == pytest.approx(28_090, abs=0.01)


def test_blocks_by_hours_of_demand_with_two_percent_a_point():
    # crppd.com/content/large-power-service: 275 $ + 10 $/kW + 0.077 / 0.051 / 0.044 $/kWh by 200 kWh per kW, +2 % a point below 95 %.
    # By hand for 60 kW, 30,000 kWh, pf 0.90: billed 66 kW; blocks 12,000 + 12,000 + 6,000 of the 60 kW measured:
    # 924 + 612 + 264 = 1,800; 275 + 660 + 1,800 = 2,735 $
    demand = tariff_demand.power_factor_step_kw(60, 0.90, 0.95, 2)
    first_two = tariff.block_cost_cur(24_000, 12_000, 0.077, 0.051)
    energy = first_two + charge(6_000, 0.044)
    bill = tariff.bill_cur(energy, tariff_demand.demand_charge_cur(demand, 10), 0, 275, 0)
    assert demand == pytest.approx(66)
    assert bill == pytest.approx(2735)


def test_demand_scaled_by_the_reference_power_factor():
    # fcremc.coop/large-power-service: demand x 90 % / power factor; 95 $ + 5.90 $/kW + 0.090 $/kWh.
    # By hand for 50 kW, 10,000 kWh, pf 0.75: 60 kW; 95 + 354 + 900 = 1,349 $
    demand = tariff_demand.power_factor_ratio_kw(50, 0.75, 0.90)
    bill = tariff.bill_cur(charge(10_000, 0.09), tariff_demand.demand_charge_cur(demand, 5.9), 0, 95, 0)
    assert demand == pytest.approx(60)
    assert bill == pytest.approx(1349)


def test_the_larger_of_kw_and_nine_tenths_of_kva():
    # hydroquebec.com, rate M: billing demand is the larger of real power and 90 % of apparent power
    for factor in (0.7, 0.9, 1.0):
        kva = tariff_demand.apparent_power_kva(100, factor)
        assert tariff_demand.power_factor_ratio_kw(100, factor, 0.9) == pytest.approx(max(100, 0.9 * kva))


def test_ratchet():
    # feds.pnnl.gov/faq/what-demand-ratchet: a peak of 1,000 kW bills at least 800 kW in the next 11 months at 80 %
    assert tariff_demand.billed_demand_kw(300, 1000, 0.8) == 800
    assert tariff_demand.yearly_billed_demand_kw([1000.0] + [300.0] * 11, 0.8) == pytest.approx(1000 + 11 * 800)
    # osage.net/large-industrial: 75 % of the highest of the preceding 11 months, 7.00 $/kW
    billed = tariff_demand.billed_demand_kw(200, 400, 0.75)
    assert tariff_demand.demand_charge_cur(billed, 7) == pytest.approx(2100)


def test_reactive_energy_beyond_half_of_the_real():
    # ytelect.com/blog, reactive power charge: 10,000 kWh and 7,000 kvarh, 50 % free, 0.05 $/kvarh: 2,000 kvarh, 100 $
    assert tariff_demand.excess_reactive_kvarh(7_000, 10_000, 0.5) * 0.05 == pytest.approx(100)


def test_one_third_free_is_a_power_factor_of_095():
    # powercapacitors.co.uk: one third of the real energy is free, which a power factor above 0.95 never exceeds
    reactive = tariff_demand.reactive_power_kvar(1000, 0.95)
    assert tariff_demand.excess_reactive_kvarh(reactive, 1000, 0.33) == 0


def test_grid_factors():
    # US EPA eGRID, US average, quoted second-hand: 823.1 lb/MWh (2022) and 767.2 lb/MWh (2023): 373 and 348 g/kWh
    for pounds, grams in ((823.1, 373), (767.2, 348)):
        assert tariff.co2_kg(1, pounds * 0.45359237 / 1000) * 1000 == pytest.approx(grams, abs=0.5)


def test_a_second_of_labour():
    # Eurostat 2024 labour cost 33.9 EUR/h and 1st half of 2025 non-household price 0.1902 EUR/kWh; BLS May 2023 wage 27.94 USD/h and EIA 2023
    # industrial price 0.0806 USD/kWh, all quoted second-hand
    assert tariff.labour_second_kj(33.9, 0.1902) == pytest.approx(178, abs=0.5)
    assert tariff.labour_second_kj(27.94, 0.0806) == pytest.approx(347, abs=0.5)


def test_demand_of_a_lower_mean_power():
    # 2.4 kW less at 17.25 $/kW (il-batavia.civicplus.com/205), fully on the peak: about 497 $ a year
    assert tariff_demand.demand_cost_cur_per_year(2.4, 1, 17.25) == pytest.approx(497, abs=0.5)


@pytest.mark.parametrize("start", [0, 5.5, 14, 22])
@pytest.mark.parametrize("length", [4, 8, 12, 24])
def test_bands_of_the_day_share_out_a_shift(start, length):
    edges = [0, 6, 8.5, 20, 24]
    overlaps = [
        tariff.band_overlap_h(start, (start + length - 1e-12) % 24 if length < 24 else start, first, last)
        for first, last in itertools.pairwise(edges)
    ]
    minutes = (start + np.arange(length * 60) / 60 + 1 / 120) % 24  # counted minute by minute: a second way
    counted = [np.count_nonzero((minutes >= a) & (minutes < b)) / 60 for a, b in itertools.pairwise(edges)]
    assert overlaps == pytest.approx(counted, abs=1e-9)


def test_a_season_and_a_day_type_weigh_the_price():
    overlap = tariff.band_overlap_h(6, 14, 8, 20)
    summer, winter = (tariff.band_share(overlap, 8, months, 1) for months in (4, 8))
    night = 1 - summer - winter
    price = tariff.time_of_use_price_cur_per_kwh([0.30, 0.20, 0.10], [summer, winter, night])
    assert price == pytest.approx(0.75 * (4 / 12 * 0.30 + 8 / 12 * 0.20) + 0.25 * 0.10)
    with pytest.raises(ValueError, match="add up to 1"):
        tariff.time_of_use_price_cur_per_kwh([0.3, 0.2], [0.5, 0.4])


def test_time_of_use_at_one_price_is_that_price():
    assert tariff.time_of_use_price_cur_per_kwh([0.19] * 4, [0.1, 0.2, 0.3, 0.4]) == pytest.approx(0.19)


def test_window_demand_lies_between_rest_and_work():
    stretch = np.array([0, 5, 15, 60])
    demand = tariff_demand.window_demand_kw(6, 2, stretch, 15)
    assert demand == pytest.approx([2, 2 + 4 / 3, 6, 6])
