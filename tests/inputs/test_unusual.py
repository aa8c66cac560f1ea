"""A value that is allowed and most likely a slip is named where it was typed; what is usual is passed over in silence."""

import re
import shutil
from pathlib import Path

import pytest

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.units import parse_quantity
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.data_files import data_rows
from xlfab.inputs.defaults import default_rows
from xlfab.inputs.scenario import Scenario, load
from xlfab.inputs.unusual import currency_scale, is_unusual

SECTIONS = (
    "press_brake",
    "shear",
    "workplace",
    "tariff",
    "purchase",
    "finance",
    "material",
    "quote",
    "work_centre",
    "option",
)


def changed(folder: Path, file: str, old: str, new: str, shop: str = "demo_shop") -> Scenario:
    """A demo shop with one text changed."""
    shutil.copytree(bundled(shop), folder)
    text = (folder / file).read_text(encoding="utf-8")
    assert re.search(old, text)
    (folder / file).write_text(re.sub(old, new, text, count=1), encoding="utf-8")
    return load(folder)


@pytest.mark.parametrize("shop", bundled_names())
def test_the_demo_shops_hold_nothing_unusual(shop: str) -> None:
    assert [warning.words for warning in load(bundled(shop)).warnings] == []


@pytest.mark.parametrize("section", SECTIONS)
def test_no_default_is_unusual(section: str) -> None:
    found = [
        (who, key, row.value)
        for (who, key), row in default_rows(section).items()
        if is_unusual(row.value, key, who.upper() if who.upper() in ("EUR", "USD") else "EUR")
    ]
    assert found == []


# slips that were made: cents for euros, a wage a month for a wage an hour, percent for a share, metres for millimetres
@pytest.mark.parametrize(
    ("file", "old", "new", "said"),
    [
        ("scenario.toml", r"energy_price_cur_per_kwh = .*", "energy_price_cur_per_kwh = 11.5", ["[tariff]", "11.5 EUR/kWh", "cents", "energy_price_cents_per_kwh = 11.5"]),
        ("scenario.toml", r"wage_cur_per_h = .*", "wage_cur_per_h = 2400", ["[workplace]", "Wage 2400 EUR/h", "5 to 90 EUR/h"]),
        ("scenario.toml", r"burden_share = .*", "burden_share = 1.3", ["burden 1.3", "5 % is 0.05"]),
        ("parts.csv", r"(\n[^,]*,[^,]*,[^,]*),[0-9.]+,", r"\1,0.02,", ["parts.csv, line 5", "0.02 mm", "0.4 to 25 mm"]),
    ],
)  # fmt: skip
def test_a_slip_is_named_where_it_was_typed(tmp_path: Path, file: str, old: str, new: str, said: list[str]) -> None:
    warnings = changed(tmp_path / "shop", file, old, new).warnings
    assert len(warnings) == 1
    for words in (file, *said):
        assert words in warnings[0].words


def test_a_us_shop_is_told_in_its_own_units(tmp_path: Path) -> None:
    warnings = changed(
        tmp_path / "shop", "scenario.toml", r"approach_speed_in_s = .*", "approach_speed_in_s = 30", "demo_shop_us"
    ).warnings
    assert [warning.unit for warning in warnings] == ["in/s"]
    assert "30 in/s is outside the usual 1.5748 to 11.811 in/s" in warnings[0].words


@pytest.mark.parametrize(
    "price",
    [
        "energy_price_cents_per_kwh = 11.5",
        *(f'energy_price_cur_per_kwh = "11.5 {unit}"' for unit in ("ct", "ct/kWh", "cents", "¢/kWh", "c / kWh")),
    ],
)
def test_cents_are_a_unit(tmp_path: Path, price: str) -> None:
    shop = changed(tmp_path / "shop", "scenario.toml", r"energy_price_cur_per_kwh = .*", price)
    assert shop.tariff.energy_price_cur_per_kwh == pytest.approx(0.115)
    assert shop.warnings == []


def test_cents_are_of_an_energy_price_only() -> None:
    for suffix in ("cur_per_kg", "mm", "share", "cur"):
        with pytest.raises(ValueError, match="not a number with a unit"):
            parse_quantity("11.5 ct", suffix)


def test_money_is_looked_at_in_its_own_currency() -> None:
    assert not is_unusual(2400, "wage_cur_per_h", "INR")
    assert is_unusual(2400, "wage_cur_per_h", "USD")
    assert not is_unusual(1e5, "wage_cur_per_h", "shells")  # nobody has said what that is worth
    codes = [code for row in data_rows("currency") for code in row["currency"].split()]
    assert len(codes) == len(set(codes)) and all(currency_scale(code) for code in codes)


def test_none_of_it_is_usual_where_the_vocabulary_says_so() -> None:
    assert ARGUMENTS["delivery_cur"].none == 0 and not is_unusual(0, "delivery_cur", "EUR")
    assert is_unusual(0, "energy_price_cur_per_kwh", "EUR")
