"""Reading a used workbook back: the scenario as it was, edited inputs in it, and every stored result held against Python."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from office import convert
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.used_workbook.open_used import Used
from xlfab.used_workbook.read_back import read_inputs


def run(*arguments: Any) -> Any:
    return CliRunner().invoke(app, [str(item) for item in arguments])


@pytest.fixture(scope="module")
def quote(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("read") / "quote.xlsx"
    assert run("quote", "demo_shop_us", "-o", path, "--spare", "4").exit_code == 0
    return path


def place(path: Path, table: str, column: str) -> dict[str, Any]:
    return Used.open(path).columns[table, column].model_dump()


def typed(path: Path, target: Path, changes: list[tuple[str, str, int, Any]]) -> Path:
    """A copy with values typed into input cells (shown units); openpyxl drops all stored results."""
    file = openpyxl.load_workbook(path)
    columns = Used.open(path).columns
    for table, column, row, value in changes:
        item = columns[table, column].model_dump()
        file[item["sheet"]].cell(item["row"] + row + 1, item["at"] + 1).value = value
    file.save(target)
    return target


def same(one: Any, other: Any) -> None:
    assert set(one) == set(other)
    for key, values in one.items():
        if values.dtype == object:
            assert values.tolist() == other[key].tolist()
        else:
            np.testing.assert_allclose(other[key], values, rtol=1e-12)


@pytest.mark.parametrize("kind", ["quote", "build"])
def test_an_unused_workbook_gives_the_scenario_that_it_was_built_from(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "built.xlsx"
    assert run(kind, "demo_shop_us", "-o", path).exit_code == 0
    result = run("read", path, "--to", tmp_path / "shop")
    assert result.exit_code == 0, result.output
    assert "all agree" in result.output
    before, after = load(bundled("demo_shop_us")), load(tmp_path / "shop")
    for key in ("parts", "bends", "cuts", "materials"):
        same(getattr(before, key), getattr(after, key))
    sections = [(getattr(before, key), getattr(after, key)) for key in ("workplace", "tariff", "purchase", "finance")]
    assert [item.model_dump() for item in after.options] == [item.model_dump() for item in before.options]
    machines = zip([*before.shears, *before.press_brakes], [*after.shears, *after.press_brakes], strict=True)
    for one, two in [*sections, *machines]:
        for key, value in one.model_dump().items():
            assert two.model_dump()[key] == (pytest.approx(value, rel=1e-12) if isinstance(value, float) else value)
    assert {(item.section, item.record, item.key): (item.basis, item.source) for item in before.assumptions} == {
        (item.section, item.record, item.key): (item.basis, item.source) for item in after.assumptions
    }


@pytest.mark.office
def test_edited_inputs_come_back_and_the_recalculated_results_agree(quote: Path, tmp_path: Path) -> None:
    """A wage, a margin, a lot, a thicker sheet and a further part are typed in; LibreOffice recalculates; Python agrees."""
    changes = [
        ("workplace", "wage_cur_per_h", 0, 31.5),
        ("terms", "margin_share", 0, 0.22),
        ("parts", "lot_size_count", 2, 77),
        ("texts", "customer", 0, "-Invented Ltd"),
    ]
    count = len(load(bundled("demo_shop_us")).parts["part"])
    material = load(bundled("demo_shop_us")).parts["material"][0]
    for column, value in (("part", "NEW-9"), ("material", material), ("thickness_mm", 0.1), ("blank_length_mm", 20), ("blank_width_mm", 8), ("lot_size_count", 30), ("family", "NEW-9")):  # fmt: skip
        changes.append(("parts", column, count, value))
    edited = convert(typed(quote, tmp_path / "edited.xlsx", changes), tmp_path / "out")
    result = run("read", edited, "--to", tmp_path / "shop")
    assert result.exit_code == 0, result.output
    scenario = load(tmp_path / "shop")
    stated = load_quote(tmp_path / "shop", scenario)
    assert scenario.workplace.wage_cur_per_h == 31.5 and stated.terms.margin_share == 0.22
    assert scenario.parts["lot_size_count"][2] == 77 and scenario.parts["part"][-1] == "NEW-9"
    assert scenario.parts["thickness_mm"][-1] == pytest.approx(2.54, rel=1e-12)
    assert stated.texts["customer"] == "-Invented Ltd"


def test_a_file_that_was_not_recalculated_is_told_apart(quote: Path, tmp_path: Path) -> None:
    edited = typed(quote, tmp_path / "edited.xlsx", [("terms", "margin_share", 0, 0.3)])
    result = run("read", edited, "--to", tmp_path / "shop")
    assert result.exit_code == 1
    assert "results differ" in result.output
    assert load_quote(tmp_path / "shop", load(tmp_path / "shop")).terms.margin_share == 0.3


def test_inputs_that_cannot_be_used_are_all_named_and_nothing_is_written(quote: Path, tmp_path: Path) -> None:
    changes = [
        ("parts", "thickness_mm", 1, "thick"),
        ("bends", "part", 0, "Nobody"),
        ("workplace", "wage_cur_per_h", 0, None),
    ]
    edited = typed(quote, tmp_path / "edited.xlsx", changes)
    with pytest.raises(ScenarioError, match=r"Parts!D\d+: 'thick' is no number") as caught:
        read_inputs(edited)
    assert "'Nobody' is none of the list" in str(caught.value) and "empty: a number is wanted" in str(caught.value)
    assert isinstance(run("read", edited, "--to", tmp_path / "shop").exception, ScenarioError)
    assert not (tmp_path / "shop").exists()


@pytest.mark.office
def test_what_is_tried_out_is_compared_and_table_edits_are_said_not_to_be_carried(quote: Path, tmp_path: Path) -> None:
    """Another part and margin under What if, a route by hand, a flat size, and a changed table of the package."""
    part = str(load(bundled("demo_shop_us")).parts["part"][3])
    changes = [
        ("trial", "part", 0, part),
        ("trial_margins", "margin_share", 2, 0.27),
        ("by_hand", "other_lot_cost_cur", 0, 1000),
        ("by_hand", "other_run_cost_cur", 0, 0.5),
        ("flat_sizes", "line", 1, "Bracket"),
        ("flat_sizes", "thickness_mm", 1, 0.1),
        ("flat_sizes", "inside_radius_mm", 1, 0.1),
        ("flat_sizes", "flange_1_mm", 1, 2),
        ("flat_sizes", "flange_2_mm", 1, 3),
        ("rake", "rake_deg", 1, 1.7),
    ]
    edited = convert(typed(quote, tmp_path / "edited.xlsx", changes), tmp_path / "out")
    result = run("read", edited, "--to", tmp_path / "shop")
    assert result.exit_code == 1, result.output
    said = " ".join(result.output.split())
    assert "Not carried over" in said and "1.7 in place of" in said and "Tables!B" in said
    rows = {row[0] for row in shown_sheets(result.output)}
    assert not rows & {"What if", "Tables"}, result.output
    file = openpyxl.load_workbook(edited)
    flat = place(quote, "flat_sizes", "flat_mm")
    file[flat["sheet"]].cell(flat["row"] + 2, flat["at"] + 1).value = 4.5
    file.save(tmp_path / "typed.xlsx")
    spoiled = run("read", convert(tmp_path / "typed.xlsx", tmp_path / "again"), "--to", tmp_path / "other")
    assert "Tables" in {row[0] for row in shown_sheets(spoiled.output)}


def shown_sheets(output: str) -> list[list[str]]:
    """The lines of the table of differences, cell by cell."""
    lines = [line for line in output.splitlines() if line.startswith("\u2502")]
    return [[cell.strip() for cell in line.strip("\u2502").split("\u2502")] for line in lines]


def test_own_features_and_the_sellers_sheet_come_back(tmp_path: Path) -> None:
    folder = tmp_path / "shop"
    shutil.copytree(bundled("small_lot_shop"), folder)
    with (folder / "scenario.toml").open("a", encoding="utf-8") as file:
        file.write(EXTRAS)
    path = tmp_path / "built.xlsx"
    assert run("build", folder, "-o", path).exit_code == 0
    changed = typed(path, tmp_path / "typed.xlsx", [("seller_1", "seller_cost_cur", 0, 90000)])
    assert run("read", changed, "--to", tmp_path / "again").exit_code == 1  # no program recalculated what was typed
    before, after = load(folder), load(tmp_path / "again")
    assert after.features == before.features and len(after.features) == 1
    first, second = after.sellers
    assert (first.name, first.cost_cur, first.note) == ("Electric brake", 90000, "Floor 99000")
    assert second == before.sellers[1]
    assert [one.features for one in after.press_brakes] == [one.features for one in before.press_brakes]


EXTRAS = """
[[feature]]
name = "Own clamp"
changes = [
    {machine = "press_brake", parameter = "first_setup_min", how = "times", value = 0.7, low = 0.6, high = 0.9, basis = "judgement"},
    {machine = "workplace", parameter = "search_time_s", how = "plus", value = -5},
]

[[seller]]
name = "Electric brake"
cost_cur = 91350.75
note = "Floor 99000"

[[seller]]
name = "Shear"
cost_cur = 41000
"""
