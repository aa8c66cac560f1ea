"""Desk, sensitivity, risk and features in the workbook: the switch recalculates, and what was worked out beforehand says so."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import openpyxl
import pytest
from office import differences, formulas, installed, recalculate, values

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import build_comparison, plan_comparison
from xlfab.core.arguments import label_of
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.workbook.book import Book

SHOP = load(bundled("small_lot_shop"))


@pytest.fixture(scope="module")
def built(tmp_path_factory) -> Path:
    path = tmp_path_factory.mktemp("built") / "built.xlsx"
    build_comparison(SHOP, path)
    return path


def cell_of(book: openpyxl.Workbook, name: str) -> tuple[str, str]:
    """The sheet and cell of a defined name."""
    sheet, cell = book.defined_names[name].attr_text.split("!")
    return sheet.strip("'"), cell.replace("$", "")


def forget(book: Book) -> None:
    """Drop every figure that follows inputs, so that it is worked out anew."""
    for table in book.grid._kept:
        table.known = {name: value for name, value in table.known.items() if not table.columns[name].rule.follows}


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
@pytest.mark.parametrize("case", ["conservative", "optimistic"])
def test_the_switch_recalculates_to_the_python_value(built, tmp_path, case):
    """Every cell of the workbook whose switch is turned by hand is that of the model in the case."""
    book = openpyxl.load_workbook(built)
    sheet, cell = cell_of(book, "Case")
    book[sheet][cell] = case
    book.save(tmp_path / "switched.xlsx")
    found = values(recalculate(tmp_path / "switched.xlsx", tmp_path / "out"))
    made = compare(SHOP)
    planned = plan_comparison(made)
    forget(planned)  # the draws, and which rows are worth a line, stay as of the build
    made.desk.case.known["case"] = np.array([case])
    planned.save(tmp_path / "expected.xlsx")
    expected = values(tmp_path / "expected.xlsx")
    cells = formulas(built)
    assert differences(expected, found, cells) == []
    saving = cell_of(book, "Yearly_saving_option_2")
    assert (found[saving] > values(built)[saving]) == (case == "optimistic")
    banners = [item for (name, _), item in found.items() if name == "Summary" and "not the data" in str(item)]
    assert banners and case.upper() in banners[0]


def test_the_stated_value_keeps_its_own_cell(built):
    book = openpyxl.load_workbook(built)
    desk = book["Desk"]
    named = label_of("released_value_share").lower()
    saved = next(row for row in desk.iter_rows() if named in str(row[0].value).lower())
    stated, conservative, optimistic, used = (cell.value for cell in saved[2:6])
    assert (conservative, stated, optimistic) == (0.2, 0.6, 0.9)
    assert str(used).startswith("=IF(")


def test_what_was_worked_out_beforehand_is_locked_and_no_formula(built):
    book = openpyxl.load_workbook(built)
    made = compare(SHOP)
    wanted = {
        "Uncertainty": {round(swing.at_low - swing.base, 6) for swing in made.swings[2].worth}
        | {round(made.risk.options[2].worth.p50, 6)},
        "Speed and features": {-item.alone["cost_cur_per_year"] for item in made.features[1].worth},
    }
    for name, figures in wanted.items():
        stated = [cell for row in book[name].iter_rows() for cell in row if isinstance(cell.value, (int, float))]
        fixed = [cell for cell in stated if cell.protection.locked]
        found = {round(cell.value, 6) for cell in fixed}
        assert all(any(abs(one - value) < 1e-5 for one in found) for value in figures)
    unlocked = [cell for row in book["Uncertainty"].iter_rows() for cell in row if not cell.protection.locked]
    assert not [cell for cell in unlocked if cell.value is not None]


def test_charts_stand_on_their_sheets(built):
    book = openpyxl.load_workbook(built)
    counts = {name: len(book[name]._charts) for name in ("Summary", "Uncertainty", "Speed and features")}
    # spread and tornado; a waterfall for each of two options, two readings of the claim, the steps of two press brakes
    assert counts == {"Summary": 2, "Uncertainty": 2, "Speed and features": 6}


def test_three_assumptions_are_named_on_the_first_page(built):
    made = compare(SHOP)
    lines = [str(cell.value) for row in openpyxl.load_workbook(built)["Summary"].iter_rows() for cell in row]
    named = [line for line in lines if ": net present value " in line]
    assert len(named) == 3
    assert made.swings[2].worth[0].name.endswith("released_value_share") == (
        label_of("released_value_share").lower() in named[0].lower()
    )


@pytest.mark.parametrize(
    ("flavour", "paper"), [("portable", "Letter"), ("plain", "A4"), ("names", "A4"), ("addin", "A4")]
)
def test_all_flavours_are_planned(flavour, paper, tmp_path):
    plan_comparison(compare(SHOP), flavour, paper).save(tmp_path / "book.xlsx")
    assert "Desk" in openpyxl.load_workbook(tmp_path / "book.xlsx", read_only=True).sheetnames
