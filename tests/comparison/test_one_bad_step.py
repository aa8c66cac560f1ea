"""One cut longer than the blade, or one bend that no formula holds for: every command still delivers, and names the step."""

from __future__ import annotations

import re
from pathlib import Path

import openpyxl
import pytest
from comparison.edge_base import changed, write_shop
from typer.testing import CliRunner

from xlfab.cli import app

LONG_CUT = {"steps.0.length_mm": 5000}
NO_FORCE = {"steps.7.die_opening_mm": 2}
TOLD = {
    "cut": "P1, step 1: cut longer than the blade by 1,900.0 mm",
    "bend": "P3, step 2: force too small at this length by",
}


@pytest.fixture(scope="module", params=["cut", "bend"])
def shop(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Path]:
    changes = LONG_CUT if request.param == "cut" else NO_FORCE
    return TOLD[request.param], write_shop(changed(changes), tmp_path_factory.mktemp("bad") / "shop")


def _run(*arguments: str) -> str:
    result = CliRunner().invoke(app, list(arguments))
    assert result.exit_code == 0, (result.output, result.exception)
    return " ".join(result.output.split())


def test_show_names_the_step_and_gives_figures(shop: tuple[str, Path]) -> None:
    told, folder = shop
    said = _run("show", str(folder))
    assert told in said and not re.search(r"\bnan\b", said) and "no result" not in said


def test_build_and_risk_deliver_a_workbook_without_error_values_where_people_read(
    shop: tuple[str, Path], tmp_path: Path
) -> None:
    told, folder = shop
    _run("build", str(folder), "-o", str(tmp_path / "b.xlsx"))
    _run("risk", str(folder), "-o", str(tmp_path / "r.xlsx"), "--draws", "100")
    for name in ("b.xlsx", "r.xlsx"):
        book = openpyxl.load_workbook(tmp_path / name, data_only=True)
        for sheet in ("Summary", "Desk", "Checks"):
            texts = [str(cell) for line in book[sheet].iter_rows(values_only=True) for cell in line if cell is not None]
            unread = sheet == "Checks"  # a margin without a result is drawn white there, its line says why
            assert unread or not [text for text in texts if text.startswith("#")], sheet
        assert any(told in text for text in texts), "the checks name the step"
