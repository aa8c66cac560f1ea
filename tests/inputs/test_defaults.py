"""Defaults: complete, inside the vocabulary, each with what it rests on; and published ones against their source."""

from __future__ import annotations

import math

import pytest

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.sources import BASES
from xlfab.inputs.defaults import default_rows, defaults
from xlfab.inputs.drives import drives
from xlfab.inputs.machine_records import PressBrake, Shear
from xlfab.inputs.material import Material
from xlfab.inputs.purchase_terms import Option, Purchase
from xlfab.inputs.tariff_record import Tariff
from xlfab.inputs.workplace import Workplace

MODELS = {
    "press_brake": PressBrake,
    "shear": Shear,
    "workplace": Workplace,
    "tariff": Tariff,
    "purchase": Purchase,
    "option": Option,
    "material": Material,
}
APPLIES_TO = {"press_brake": drives(), "shear": drives(), "workplace": ("EUR", "USD"), "tariff": ("EUR", "USD")}
STATED_BY_THE_USER = {
    "press_brake": {"rated_force_kn", "working_length_mm", "machine_price_cur"},
    "shear": {"shear_capacity_mm", "blade_length_mm", "machine_price_cur"},
}
ROWS = [(section, *key, row) for section in MODELS for key, row in default_rows(section).items()]


@pytest.mark.parametrize(("section", "who", "key", "row"), ROWS, ids=[f"{r[0]}-{r[1]}-{r[2]}" for r in ROWS])
def test_span_bounds_basis_and_source(section, who, key, row):
    assert key in MODELS[section].model_fields
    assert row.low <= row.value <= row.high
    assert ARGUMENTS[key].accepts(row.low, row.high)
    assert row.basis in BASES and len(row.source) >= 10
    if row.basis in ("memory", "common practice"):
        assert "memory" in row.source or "common practice, no source" in row.source
    if ARGUMENTS[key].kind in ("whole", "switch"):
        assert row.low == row.value == row.high, "a choice has no span"


@pytest.mark.parametrize("section", ["press_brake", "shear", "workplace", "tariff", "purchase", "option"])
def test_nothing_but_size_and_price_must_be_stated(section):
    numeric = {key for key in MODELS[section].model_fields if key in ARGUMENTS}
    for who in APPLIES_TO.get(section, ("all",)):
        assert numeric - set(defaults(section, who)) == STATED_BY_THE_USER.get(section, set())


@pytest.mark.parametrize("section", ["press_brake", "shear"])
@pytest.mark.parametrize("drive", drives())
def test_ready_draws_more_than_standby_over_the_whole_span(section, drive):
    rows = defaults(section, drive)
    assert rows["standby_power_kw"].high <= rows["ready_power_kw"].high
    assert rows["standby_power_kw"].low <= rows["ready_power_kw"].low
    assert rows["standby_power_kw"].value < rows["ready_power_kw"].value


# Tensile strength, MPa. "Seen" names the page on which the table was read; the standards themselves were not opened.
TENSILE = [
    ("S275JR", 410, 580),  # EN 10025-2 Table 7, 430-580 (t < 3), 410-560 (t >= 3); seen: readle.co.uk reprint
    ("S235JR", 360, 510),  # EN 10025-2 Table 7; seen: readle.co.uk reprint
    ("S355JR", 470, 680),  # EN 10025-2 Table 7, 510-680 (t < 3), 470-630 (t >= 3); seen: readle.co.uk reprint
    ("DC01", 270, 410),  # EN 10130:1999; seen: a steel producer's reprint
    ("DC03", 270, 370),  # EN 10130:1999; seen: a steel producer's reprint
    ("DC04", 270, 350),  # EN 10130:1999; seen: a steel producer's reprint
    ("A36", 400, 550),  # ASTM A36; seen: copy of a materials-database sheet
    ("1.4301", 540, 750),  # EN 10088-2, cold-rolled strip; from memory
    ("EN AW-5754 H111", 190, 240),  # EN 485-2, O/H111; from memory
]


@pytest.mark.parametrize(("material", "low", "high"), TENSILE)
def test_tensile_strength_spans_the_standard_range(material, low, high):
    row = defaults("material", material)["tensile_strength_mpa"]
    assert (row.low, row.high) == (low, high)
    assert row.value == (low + high) / 2


def test_6082_t6_starts_at_the_least_value_of_the_standard():
    """EN 485-2, 6082 T6, 0.4 to 6 mm: 310 MPa and more (from memory)."""
    assert defaults("material", "EN AW-6082 T6")["tensile_strength_mpa"].low == 310


@pytest.mark.parametrize(
    ("material", "density"),
    [
        ("A36", 7850),  # ASTM A36; seen: copy of a materials-database sheet, 7.85 g/cm³
        ("1.4301", 7900),  # EN 10088-3; seen: agst.de/4301, 7.9 kg/dm³
        ("DC01", 7850),  # unalloyed steel; from memory
        ("EN AW-5754 H111", 2660),  # from memory, 2660 to 2680
        ("EN AW-6082 T6", 2700),  # from memory, 2700 to 2710
    ],
)
def test_density(material, density):
    assert defaults("material", material)["density_kg_per_m3"].value == density


def test_shear_ratio_spans_both_published_rules():
    """0.8: tool design formula sheet (seen, scribd.com/doc/85415351). 0.7: Kalpakjian and Schmid, example 16.1 (seen as transcription)."""
    row = defaults("material", "S235JR")["shear_ratio"]
    assert row.value == 0.8 and row.low == 0.7


def test_mean_force_share_of_the_published_bending_work():
    """Mean factor 0.6 to 0.9, 0.75 in the example: forming handbook page, 4ming.de (seen)."""
    row = defaults("press_brake", "hydraulic")["force_mean_share"]
    assert (row.low, row.value, row.high) == (0.6, 0.75, 0.9)


@pytest.mark.parametrize(("drive", "per_minute"), [("hydraulic", 14), ("screw servo-drive", 18)])
def test_full_strokes_a_minute_of_the_shear(drive, per_minute):
    """14 a minute: squaring-shear chapter b15231-40 (abstract seen); 18 a minute is judgement. Full 3 m stroke through 6 mm."""
    shear = {key: row.value for key, row in defaults("shear", drive).items()}
    travel = 3000 * math.tan(math.radians(shear["rake_deg"])) + 0.45 * 6 + shear["blade_opening_mm"]
    seconds = (
        shear["clamp_time_s"]
        + travel / shear["cutting_speed_mm_s"]
        + travel / shear["blade_return_speed_mm_s"]
        + shear["shear_dead_time_s"]
    )
    assert 60 / seconds == pytest.approx(per_minute, rel=0.01)


def test_labour_cost_of_an_hour_in_eu_industry():
    """33.9 EUR/h, Eurostat lc_lci_lev 2024 (seen on openstats.eu)."""
    rows = defaults("workplace", "EUR")
    assert rows["wage_cur_per_h"].value * (1 + rows["burden_share"].value) == pytest.approx(33.9, rel=0.01)


def test_us_wage_in_fabricated_metal_products():
    """27.94 USD/h mean, NAICS 332, May 2023: BLS OEWS (seen)."""
    assert defaults("workplace", "USD")["wage_cur_per_h"].value == 27.94


def test_energy_prices_lie_in_the_published_ranges():
    """EU 0.1902 EUR/kWh, first half 2025, countries 0.089 to 0.276 in 2023; US 0.0806 USD/kWh in 2023, states 0.0575 and up (seen)."""
    eu, us = (defaults("tariff", currency)["energy_price_cur_per_kwh"] for currency in ("EUR", "USD"))
    assert eu.value == pytest.approx(0.1902, abs=0.001) and (eu.low, eu.high) == pytest.approx(
        (0.089, 0.276), abs=0.005
    )
    assert us.low < 0.0806 < us.value < us.high


def test_one_person_mass_is_not_above_the_lifting_limit():
    """51 lb = 23 kg under ideal conditions, NIOSH (seen: OSHA eTool)."""
    row = defaults("workplace", "EUR")["one_person_mass_kg"]
    assert row.value < row.high == 23
