"""`xlfab risk`, `page`, `share` and `new comparison` from the command line."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import openpyxl
import pytest
from office import installed
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import XlfabError
from xlfab.inputs.scenario import load

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
            "Electric brake against Keep both: Does not pay within the study of 10 years: at 8,300 EUR a year",
        ),
        ("small_lot_shop", "Electric against Keep: No winner: the chance that it pays is 3"),
    ],
)
def test_the_terminal_says_of_each_shop_whether_it_pays(shop, words):
    assert words in " ".join(run("show", shop).split())


def test_share_says_what_it_did_and_keeps_the_sellers_file(drawn, tmp_path):
    path, _ = drawn
    assert "there was no seller's sheet" in " ".join(run("share", str(path), "-o", str(tmp_path / "copy.xlsx")).split())
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


def test_a_new_comparison_from_flags_can_be_shown(tmp_path):
    run("new", "comparison", str(tmp_path / "shop"), "--wage", "27", "--yearly-quantity", "30000", "--bends", "3")
    shop = load(tmp_path / "shop")
    assert shop.workplace.wage_cur_per_h == 27
    assert len(shop.bends["part"]) == 3 and shop.parts["yearly_quantity_count"][0] == 30000
    assert "Electric brake against Keep the hydraulic brake" in " ".join(run("show", str(tmp_path / "shop")).split())


def test_a_new_comparison_in_us_units(tmp_path):
    sizes = (
        "--thickness",
        "0.075",
        "--length",
        "24",
        "--width",
        "12",
        "--working-length",
        "120",
        "--rated-force",
        "110",
    )
    run("new", "comparison", str(tmp_path / "shop"), "--units", "us", "--currency", "USD", *sizes)
    shop = load(tmp_path / "shop")
    assert shop.parts["thickness_mm"][0] == pytest.approx(1.905)
    assert shop.press_brakes[0].rated_force_kn == pytest.approx(110 * 8.896443)


def test_a_new_comparison_refuses_what_it_does_not_know(tmp_path):
    for folder, flag, value, words in (
        ("a", "--material", "unobtainium", "must be one of"),
        ("b", "--bends", "0", "must be at least 1"),
        ("c", "--wage", "-3", "must be > 0"),
    ):
        result = RUN.invoke(app, ["new", "comparison", str(tmp_path / folder), flag, value])
        said = " ".join(result.output.replace("│", " ").split())
        assert result.exit_code == 2 and words in said and flag in said, said
    (tmp_path / "d").mkdir()
    assert "there already" in refused("new", "comparison", str(tmp_path / "d"))
    assert not any((tmp_path / name).exists() for name in "abc")


def test_a_new_comparison_in_a_currency_without_defaults(tmp_path):
    run("new", "comparison", str(tmp_path / "shop"), "--currency", "CHF")
    shop = load(tmp_path / "shop")
    assert shop.currency == "CHF" and shop.tariff.demand_price_cur_per_kw == 0
    assert any(item.key == "demand_price_cur_per_kw" and "state your own" in item.source for item in shop.assumptions)


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_a_new_comparison_asks_on_a_terminal_and_asks_again_after_a_wrong_answer(tmp_path):
    import pty

    answers = {b"Name of the shop": b"Corner Shop", b"Gross wage": b"31.5", b"Its bends": b"3"}
    wrong = {b"Drive of the electric": b"steam"}
    process, terminal = pty.fork()
    if process == 0:
        command = [sys.executable, "-m", "xlfab", "new", "comparison", str(tmp_path / "shop")]
        os.execv(sys.executable, command)
    said = b""
    while True:
        try:
            piece = os.read(terminal, 4096)
        except OSError:  # the other end is closed
            break
        said += piece
        line = said.rsplit(b"\n", 1)[-1]
        if line.endswith(b": ") and b"]" in line:
            asked = next((one for one in wrong if line.startswith(one)), None)
            known = next((answers[one] for one in answers if line.startswith(one)), b"")
            os.write(terminal, (wrong.pop(asked) if asked else known) + b"\n")
    assert os.waitpid(process, 0)[1] == 0, said.decode()
    assert said.count(b"Drive of the electric") == 2 and b"must be one of" in said
    shop = load(tmp_path / "shop")
    assert (shop.title, shop.workplace.wage_cur_per_h, len(shop.bends["part"])) == ("Corner Shop", 31.5, 3)
