"""The customer's copy: built anew without what is the seller's, held against the seller's file; refused where something is left."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import leak_probes
import openpyxl
import pytest
from leak_probes import PROBES, built_once, outcome
from office import differences, formulas, installed, recalculate, values
from tiny_shop import COST, NOTE, SELLER, built
from workbook_file import WorkbookFile

from xlfab.comparison.comparison_workbook import build_comparison
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load
from xlfab.used_workbook import share as share_module
from xlfab.used_workbook.leaks import Private, _is
from xlfab.used_workbook.share import share

# of the probes (run leak_probes.py for all of them), one of each kind
SAMPLE = (
    "cost in words on the summary",
    "formula to the seller's sheet",
    "more on the seller's own sheet",
    "cost rounded in an input",
    "half of the note in a description",
    "own sheet veryHidden",
    "seller_sheet_renamed",
    "comment of a name",
    "alt_text_of_a_chart",
    "external link",
)


@pytest.fixture(scope="module")
def sold(tmp_path_factory) -> Path:
    """A comparison workbook with a seller's sheet."""
    return built(tmp_path_factory.mktemp("sold"), "comparison", seller=True)


@pytest.fixture
def quick(monkeypatch) -> None:
    """Copies of the same inputs share their calculation."""
    monkeypatch.setattr(share_module, "_built", share_module._built)
    built_once(share_module)


def everything(path: Path) -> str:
    """All parts of a file as one text."""
    with zipfile.ZipFile(path) as file:
        return "\n".join(file.read(name).decode("utf-8", errors="replace") for name in file.namelist())


def test_the_sellers_file_holds_the_private_values(sold):
    text = everything(sold)
    assert all(item in text for item in (str(COST), NOTE, "Seller"))


def test_a_copy_holds_none_of_them_and_keeps_every_other_sheet_formula_and_value(sold, tmp_path):
    before = sold.read_bytes()
    made = share(sold, tmp_path / "copy.xlsx")
    text = everything(tmp_path / "copy.xlsx")
    assert {COST, NOTE} <= {item.value for item in made.private} and made.agreeing > 3000
    for item in (str(COST), "91,350", "98437.25", "Ilse", 'name="Seller"', "PRIVATE", "Built by xlfab"):
        assert item not in text
    assert sold.read_bytes() == before
    for read in (formulas, values):
        kept = {cell: item for cell, item in read(sold).items() if cell[0] != "Seller"}
        assert read(tmp_path / "copy.xlsx") == kept
    book = openpyxl.load_workbook(tmp_path / "copy.xlsx")
    assert "Seller" not in book.sheetnames and "xlfab" not in book.sheetnames and "Case" in book.defined_names


@pytest.mark.parametrize("name", SAMPLE)
def test_nothing_leaks_however_it_got_into_the_file(quick, sold, tmp_path, name):
    file = WorkbookFile(sold)
    PROBES[name](file)
    assert outcome(share_module.share, file.save(tmp_path / "probe.xlsx"), tmp_path / "copy.xlsx") in (
        "clean",
        "refused",
    )


def test_there_are_at_least_fifty_probes_and_a_leak_is_seen(tmp_path, sold):
    assert len(PROBES) >= 50
    assert outcome(shutil.copyfile, sold, tmp_path / "copy.xlsx").startswith("LEAKED")
    assert leak_probes.SECRETS


@pytest.mark.parametrize(
    "words", ["91,350.75", "91.350,75", "91 350.75", "91351", "91,400", "91 k", "91.4 thousand", "9.135075E+04"]
)
def test_a_figure_is_known_in_every_way_of_writing(words):
    private = Private("Seller", "C7", COST)
    assert _is(private, f"they pay {words} for it", False)
    assert not _is(private, "they pay 1" + words.replace("E+04", "E+05") + " for it", False)


def test_a_share_is_known_as_a_percentage():
    assert _is(Private("Seller", "C9", 0.1619197, True), "a margin of 16.2 %", False)
    assert not _is(Private("Seller", "C9", 0.1619197, True), "16 of 20 parts", False)


def test_results_that_are_not_those_of_the_inputs_are_refused(sold, tmp_path):
    file = WorkbookFile(sold)
    file.type("purchase", "study_years", 0, 11)
    with pytest.raises(ScenarioError, match="results are not those of its inputs"):
        share(file.save(tmp_path / "typed.xlsx"), tmp_path / "copy.xlsx")
    assert not (tmp_path / "copy.xlsx").exists()


def test_a_quote_is_not_shared(tmp_path):
    with pytest.raises(ScenarioError, match="xlfab pdf"):
        share(built(tmp_path, "quote"), tmp_path / "copy.xlsx")


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
@pytest.mark.parametrize("name", bundled_names())
def test_every_shops_copy_is_clean_and_live(name, tmp_path):
    """All that the seller typed or that follows from it, in every part of the file; then every formula, recalculated."""
    folder = tmp_path / "shop"
    shutil.copytree(bundled(name), folder)
    with (folder / "scenario.toml").open("a", encoding="utf-8") as file:
        file.write(SELLER.replace("Electric brake", load(folder).press_brakes[-1].name))
    build_comparison(load(folder), tmp_path / "sold.xlsx")
    found = {item for (sheet, _), item in values(tmp_path / "sold.xlsx").items() if sheet == "Seller"}
    kept = {item for (sheet, _), item in values(tmp_path / "sold.xlsx").items() if sheet != "Seller"}
    private = found - kept
    assert {COST, NOTE} <= private and len(private) >= 4  # the margins follow from the cost
    share(tmp_path / "sold.xlsx", tmp_path / "copy.xlsx")
    text = everything(tmp_path / "copy.xlsx")
    for item in private:
        if isinstance(item, str):
            assert len(item) < 12 or item not in text
        elif abs(item) >= 1000:
            assert f"{item:.6f}".rstrip("0").rstrip(".") not in text and f"{item:,.2f}" not in text
    assert not any(word in text for word in ('name="Seller"', "Built by xlfab"))
    cells = formulas(tmp_path / "copy.xlsx")
    again = values(recalculate(tmp_path / "copy.xlsx", tmp_path / "out"))
    assert len(cells) > 5000 and differences(values(tmp_path / "copy.xlsx"), again, cells) == []


def test_an_existing_copy_is_not_overwritten(sold, tmp_path):
    (tmp_path / "copy.xlsx").write_bytes(b"mine")
    with pytest.raises(ScenarioError, match="there already"):
        share(sold, tmp_path / "copy.xlsx")
    assert (tmp_path / "copy.xlsx").read_bytes() == b"mine"
