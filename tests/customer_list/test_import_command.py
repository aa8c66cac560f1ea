"""The import command: shows, asks or refuses, writes whole."""

from pathlib import Path

import pytest
import typer
from customer_lists import CASES
from typer.testing import CliRunner

from xlfab.core.errors import ScenarioError
from xlfab.customer_list import import_command
from xlfab.customer_list.import_command import add_to
from xlfab.customer_list.new_shop import start_prices
from xlfab.inputs.defaults import default_names

ROOT = Path(__file__).resolve().parents[2]
APP = typer.Typer()
add_to(APP)
APP.command("other")(lambda: None)  # a second command, so that typer keeps the names


def run(*arguments, typed=""):
    return CliRunner().invoke(APP, [str(item) for item in arguments], input=typed)


@pytest.fixture
def plain(tmp_path):
    CASES[0].make(tmp_path / "list.csv")
    return tmp_path / "list.csv"


@pytest.fixture
def unit_open(tmp_path):
    CASES[3].make(tmp_path / "list.xlsx")
    return tmp_path / "list.xlsx"


def test_nothing_is_written_before_the_mapping_was_accepted(plain, tmp_path):
    result = run("import", plain, "--to", tmp_path / "shop")
    assert isinstance(result.exception, ScenarioError) and "--accept" in str(result.exception)
    assert "thickness (mm)" in result.stdout and "Assumed" in result.stdout
    assert not (tmp_path / "shop").exists()


def test_accepted_list_is_written(plain, tmp_path):
    result = run("import", plain, "--to", tmp_path / "shop", "--accept")
    assert result.exit_code == 0, result.output
    assert "2 parts, 4 cuts, 2 bends" in result.stdout
    assert "2 rows, 75 pieces" in result.stdout and "length 300 to 410 mm" in result.stdout
    assert "a placeholder" in result.stdout and "Next: xlfab quote" in result.stdout
    names = ["mapping.toml", "notes.csv", "parts.csv", "quote.toml", "scenario.toml", "steps.csv"]
    assert sorted(item.name for item in (tmp_path / "shop").iterdir()) == names


def test_an_open_unit_is_never_accepted(unit_open, tmp_path):
    result = run("import", unit_open, "--to", tmp_path / "shop", "--accept")
    assert isinstance(result.exception, ScenarioError) and "unit of thickness" in str(result.exception)
    assert not (tmp_path / "shop").exists()


def test_a_saved_mapping_completed_by_hand_is_used(unit_open, tmp_path):
    saved = tmp_path / "mapping.toml"
    assert run("import", unit_open, "--to", tmp_path / "shop", "--save-mapping", saved).exit_code == 0
    assert not (tmp_path / "shop").exists()
    saved.write_text(saved.read_text().replace('unit = "?"', 'unit = "mm"'))
    result = run("import", unit_open, "--to", tmp_path / "shop", "--mapping", saved)
    assert result.exit_code == 0, result.output
    assert "3 parts" in result.stdout


def test_machines_prices_and_materials_come_from_the_own_shop(plain, tmp_path):
    own = tmp_path / "own"
    own.mkdir()
    text = (ROOT / "workbook_templates" / "blank_shop" / "scenario.toml").read_text().replace('"S235JR"', '"s235JR"')
    (own / "scenario.toml").write_text(text)
    result = run("import", plain, "--to", tmp_path / "shop", "--scenario", own, "--accept")
    assert result.exit_code == 0, result.output
    assert "s235JR" in (tmp_path / "shop" / "parts.csv").read_text()
    assert (tmp_path / "shop" / "scenario.toml").read_text() == text


def test_a_part_with_an_open_figure_waits_and_stops_no_other(tmp_path):
    (tmp_path / "list.csv").write_text(
        "part,material,thickness mm,length mm,width mm,qty\nA,S235JR,2,300,120,5\nB,S235JR,2,ca. 300,120,5\n"
    )
    result = run("import", tmp_path / "list.csv", "--to", tmp_path / "shop", "--accept")
    assert result.exit_code == 0, result.output
    assert "1 parts wait in open_parts.csv" in result.stdout
    assert (tmp_path / "shop" / "parts.csv").read_text().count("\n") == 2
    assert "B," in (tmp_path / "shop" / "open_parts.csv").read_text()


def test_quantities_of_the_list_become_price_breaks(tmp_path):
    (tmp_path / "list.csv").write_text(
        "part,material,thickness mm,length mm,width mm,qty\nA,S235JR,2,300,120,20/60/200\n"
    )
    assert run("import", tmp_path / "list.csv", "--to", tmp_path / "shop", "--accept").exit_code == 0
    text = (tmp_path / "shop" / "quote.toml").read_text()
    assert "= 20\n" in text and "= 60\n" in text and "= 200\n" in text


def test_another_currency_needs_an_own_shop(plain, tmp_path):
    result = run("import", plain, "--to", tmp_path / "shop", "--accept", "--currency", "CHF")
    assert isinstance(result.exception, ScenarioError) and "--scenario" in str(result.exception)
    assert not (tmp_path / "shop").exists()


def test_a_folder_that_is_there_is_not_touched(plain, tmp_path):
    (tmp_path / "shop").mkdir()
    result = run("import", plain, "--to", tmp_path / "shop", "--accept")
    assert isinstance(result.exception, ScenarioError) and "there already" in str(result.exception)
    assert list((tmp_path / "shop").iterdir()) == []


def test_questions_are_asked_at_a_terminal(unit_open, tmp_path, monkeypatch):
    monkeypatch.setattr(import_command, "can_ask", lambda: True)
    result = run("import", unit_open, "--to", tmp_path / "shop", typed="miles\nmm\nmm\ny\n")
    assert result.exit_code == 0, result.output
    assert "'miles' is none of mm" in result.stdout
    assert (tmp_path / "shop" / "parts.csv").exists()


def test_no_is_no(plain, tmp_path, monkeypatch):
    monkeypatch.setattr(import_command, "can_ask", lambda: True)
    assert run("import", plain, "--to", tmp_path / "shop", typed="n\n").exit_code == 1
    assert not (tmp_path / "shop").exists()


def test_every_material_with_defaults_has_a_placeholder_price():
    for currency in ("EUR", "USD"):
        assert set(default_names("material")) <= set(start_prices(currency))


def test_sums_of_a_us_shop_are_in_its_units(plain, tmp_path):
    result = run("import", plain, "--to", tmp_path / "shop", "--accept", "--units", "us", "--currency", "USD")
    assert result.exit_code == 0, result.output
    # 300 x 120.5 mm x 50 and 410 x 80 mm x 25 are 2.6275 m², 28.3 ft² (1 ft = 304.8 mm)
    assert "28.3 ft² of blanks" in result.stdout and "length 11.811 to 16.1417 in" in result.stdout
    assert "blade_length_in = 122" in (tmp_path / "shop" / "scenario.toml").read_text()
