"""The customer's copy: nothing of the seller's is left, everything else is as it was; what is left by accident is found."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path

import openpyxl
import pytest
from office import differences, formulas, installed, recalculate, values
from openpyxl.comments import Comment
from openpyxl.workbook.defined_name import DefinedName

from xlfab.comparison.comparison_workbook import build_comparison
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load
from xlfab.used_workbook.leaks import _written
from xlfab.used_workbook.share import share

COST, NOTE = 91350.75, "Floor price 98437.25, ask Ilse before the fair"
SELLER = f'\n[[seller]]\nname = "Electric brake"\ncost_cur = {COST}\nnote = "{NOTE}"\n'


@pytest.fixture(scope="module")
def sold(tmp_path_factory) -> Path:
    """A comparison workbook with a seller's sheet."""
    folder = tmp_path_factory.mktemp("sold") / "shop"
    shutil.copytree(bundled("small_lot_shop"), folder)
    with (folder / "scenario.toml").open("a", encoding="utf-8") as file:
        file.write(SELLER)
    path = folder.parent / "sold.xlsx"
    build_comparison(load(folder), path)
    return path


def everything(path: Path) -> str:
    """All parts of a file as one text."""
    with zipfile.ZipFile(path) as file:
        return "\n".join(file.read(name).decode("utf-8", errors="replace") for name in file.namelist())


def test_the_sellers_file_holds_the_private_values(sold):
    text = everything(sold)
    assert all(item in text for item in (str(COST), NOTE, "Seller"))


def test_a_copy_holds_none_of_them_anywhere(sold, tmp_path):
    before = sold.read_bytes()
    taken = share(sold, tmp_path / "copy.xlsx")
    text = everything(tmp_path / "copy.xlsx")
    assert {COST, NOTE} <= {item.value for item in taken.private}
    for item in (str(COST), "91,350", "98437.25", "Ilse", "Seller", "PRIVATE", "Built by xlfab"):
        assert item not in text
    assert sold.read_bytes() == before


def test_a_copy_keeps_every_other_sheet_formula_and_value(sold, tmp_path):
    share(sold, tmp_path / "copy.xlsx")
    for read in (formulas, values):
        kept = {cell: item for cell, item in read(sold).items() if cell[0] != "Seller"}
        assert read(tmp_path / "copy.xlsx") == kept
    book = openpyxl.load_workbook(tmp_path / "copy.xlsx")
    assert "Seller" not in book.sheetnames and "Case" in book.defined_names
    with zipfile.ZipFile(sold) as old, zipfile.ZipFile(tmp_path / "copy.xlsx") as new:
        charts = [name for name in old.namelist() if name.startswith("xl/charts/chart")]
        assert charts and all(new.read(name) == old.read(name) for name in charts)


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
def test_a_copy_recalculates(sold, tmp_path):
    share(sold, tmp_path / "copy.xlsx")
    again = recalculate(tmp_path / "copy.xlsx", tmp_path)
    cells = formulas(tmp_path / "copy.xlsx")
    assert differences(values(tmp_path / "copy.xlsx"), values(again), cells) == []


def changed(sold: Path, tmp_path: Path, change) -> Path:
    """The seller's file after somebody changed it and saved it with another program."""
    book = openpyxl.load_workbook(sold)
    change(book)
    book.save(tmp_path / "changed.xlsx")
    return tmp_path / "changed.xlsx"


def number_elsewhere(book):
    book["Inputs"]["H2"] = COST


def text_elsewhere(book):
    book["Desk"]["A30"] = f"Remember: {NOTE}"


def formula_to_the_sheet(book):
    book["Inputs"]["H2"] = "=Seller!C6"


def figure_in_a_formula(book):
    book["Inputs"]["H2"] = f"={COST}*1.1"


def figure_in_words(book):
    book["Desk"]["A30"] = "Remember: they pay 91.350,75 for it"


def figure_in_a_name(book):
    book.defined_names["Floor"] = DefinedName("Floor", attr_text="9.135075E+04")


def figure_on_a_hidden_sheet(book):
    book.create_sheet("Notes")["C7"] = COST
    book["Notes"].sheet_state = "veryHidden"


def note_in_a_heading_of_the_page(book):
    book["Summary"].oddHeader.center.text = NOTE


LEFT = [
    number_elsewhere,
    text_elsewhere,
    formula_to_the_sheet,
    figure_in_a_formula,
    figure_in_words,
    figure_in_a_name,
    figure_on_a_hidden_sheet,
    note_in_a_heading_of_the_page,
]


@pytest.mark.parametrize("change", LEFT)
def test_a_private_value_left_elsewhere_is_found_and_nothing_written(sold, tmp_path, change):
    file = changed(sold, tmp_path, change)
    with pytest.raises(ScenarioError, match="no copy was written"):
        share(file, tmp_path / "copy.xlsx")
    assert not (tmp_path / "copy.xlsx").exists()


def test_notes_and_properties_go(sold, tmp_path):
    def change(book):
        book["Inputs"]["A5"].comment = Comment("Discount up to 8 per cent", "Nadja")
        book.properties.creator = "Nadja of the sales office"
        book.properties.description = "Second round"

    file = changed(sold, tmp_path, change)
    share(file, tmp_path / "copy.xlsx")
    text = everything(tmp_path / "copy.xlsx")
    assert not any(item in text for item in ("Nadja", "8 per cent", "Second round"))
    openpyxl.load_workbook(tmp_path / "copy.xlsx")


@pytest.mark.parametrize("value", [91350.75, 98437.0, 0.2346, 1234567.0])
def test_a_figure_is_known_in_every_way_of_writing(value):
    ways = [f"{value:,.4f}", f"{value:.12g}", f"{value:,.4f}".replace(",", " ").replace(".", ","), f"{value:.8E}"]
    for way in ways:
        assert _written(value).search(f"they pay {way} for it"), way
        assert not _written(value).search(f"they pay 1{way} for it") and not _written(value).search(f"{way}5")


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
    assert not any(word in text for word in ("Seller", "Built by xlfab", "docProps/core.xml"))
    with zipfile.ZipFile(tmp_path / "copy.xlsx") as file:
        assert not [part for part in file.namelist() if "core.xml" in part or "comments" in part]
    cells = formulas(tmp_path / "copy.xlsx")
    again = values(recalculate(tmp_path / "copy.xlsx", tmp_path / "out"))
    assert len(cells) > 5000 and differences(values(tmp_path / "copy.xlsx"), again, cells) == []


def test_a_file_without_a_sellers_sheet_is_still_cleaned(tmp_path):
    build_comparison(load(bundled("small_lot_shop")), tmp_path / "plain.xlsx")
    taken = share(tmp_path / "plain.xlsx", tmp_path / "copy.xlsx")
    assert taken.private == []
    assert "Built by xlfab" not in everything(tmp_path / "copy.xlsx")


def test_an_existing_copy_is_not_overwritten(sold, tmp_path):
    (tmp_path / "copy.xlsx").write_bytes(b"mine")
    with pytest.raises(ScenarioError, match="there already"):
        share(sold, tmp_path / "copy.xlsx")
    assert (tmp_path / "copy.xlsx").read_bytes() == b"mine"
