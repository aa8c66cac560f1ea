"""`xlfab risk`, `page`, `share` and `new comparison` from the command line."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from office import installed
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import XlfabError

RUN = CliRunner()
needs_office = pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")


def run(*words: str) -> str:
    result = RUN.invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def refused(*words: str) -> str:
    result = RUN.invoke(app, list(words))
    assert isinstance(result.exception, XlfabError), result.output
    return str(result.exception)


@pytest.fixture(scope="module")
def drawn(tmp_path_factory) -> tuple[Path, str]:
    path = tmp_path_factory.mktemp("risk") / "risk.xlsx"
    return path, run("risk", "small_lot_shop", "-o", str(path), "--draws", "300", "--seed", "7")


def test_risk_prints_and_writes_the_same(drawn):
    path, said = drawn
    assert "300 draws, seed 7" in said and "P90" in said
    sheet = openpyxl.load_workbook(path, data_only=True)["Uncertainty"]
    texts = " ".join(str(cell.value) for row in sheet.iter_rows() for cell in row if cell.value is not None)
    assert "300 draws" in texts and "seed 7" in texts


def test_risk_refuses_a_file_that_is_there_and_too_few_draws(drawn):
    path, _ = drawn
    assert "is there already" in refused("risk", "small_lot_shop", "-o", str(path))
    assert RUN.invoke(app, ["risk", "small_lot_shop", "-o", "x.xlsx", "--draws", "5"]).exit_code == 2


@pytest.mark.parametrize(
    ("shop", "words"),
    [
        (
            "two_shift_shop",
            "Electric against Hydraulic: Pays: the extra investment is back after 1.2 years; 3.0 are wanted.",
        ),
        (
            "demo_shop",
            "Electric brake against Keep both: Does not pay: at 9,000 EUR a year",
        ),
        ("small_lot_shop", "Electric against Keep: No winner: the chance that it pays is 43 %"),
    ],
)
def test_the_terminal_says_of_each_shop_whether_it_pays(shop, words):
    assert words in " ".join(run("show", shop).split())


def test_share_says_what_it_did_and_keeps_the_sellers_file(drawn, tmp_path):
    path, _ = drawn
    assert "There was no seller's sheet" in " ".join(run("share", str(path), "-o", str(tmp_path / "copy.xlsx")).split())
    assert "name of its own" in refused("share", str(path), "-o", str(path), "--overwrite")


@pytest.mark.office
@needs_office
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_is_one_page_of_the_right_size(tmp_path, paper):
    import subprocess

    run("build", "small_lot_shop", "-o", str(tmp_path / "book.xlsx"), "--paper", paper)
    run("page", str(tmp_path / "book.xlsx"), "-o", str(tmp_path / "page.pdf"))
    told = subprocess.run(["pdfinfo", str(tmp_path / "page.pdf")], capture_output=True, text=True, check=True).stdout
    assert "Pages:           1" in told
    assert ("595" if paper == "A4" else "612") in told


def test_page_wants_a_workbook_with_the_page(tmp_path):
    openpyxl.Workbook().save(tmp_path / "other.xlsx")
    if installed("soffice"):
        assert "no sheet 'Summary'" in refused("page", str(tmp_path / "other.xlsx"), "-o", str(tmp_path / "page.pdf"))
    assert not (tmp_path / "page.pdf").exists()
