"""Workbooks whose cells call FAB_ functions, in LibreOffice with the Calc add-in: every formula cell, from corrupted stored values."""

from __future__ import annotations

from pathlib import Path

import pytest
from office import convert, corrupt, differences, formulas, recalculate, values

from xlfab.hosts import calc_package
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.workbook.comparison import build_comparison

pytestmark = pytest.mark.office
CALL = "FAB_"


@pytest.fixture(scope="module")
def addin(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return calc_package.build(tmp_path_factory.mktemp("addin") / calc_package.FILE_NAME)


def comparison(flavour: str, folder: Path) -> Path:
    path = folder / "comparison.xlsx"
    build_comparison(load(bundled("demo_shop_us")), path, flavour=flavour)
    return path


@pytest.mark.parametrize("flavour", ["addin", "names"])
def test_a_comparison_is_calculated_by_the_add_in(flavour: str, addin: Path, tmp_path: Path) -> None:
    path = comparison(flavour, tmp_path)
    cells = formulas(path)
    assert sum(CALL in text for text in cells.values()) > 5000
    assert differences(values(path), values(recalculate(path, tmp_path / "out", addin)), cells) == []


def test_a_comparison_saved_as_ods_is_calculated_again(addin: Path, tmp_path: Path) -> None:
    """Saved in LibreOffice's own format, spoiled there too, and loaded again."""
    path = comparison("addin", tmp_path)
    cells = formulas(path)
    saved = convert(path, tmp_path / "saved", "ods", addin)
    spoiled = tmp_path / "spoiled.ods"
    assert corrupt(saved, spoiled) == len(cells)
    assert differences(values(path), values(convert(spoiled, tmp_path / "out", addin=addin)), cells) == []
