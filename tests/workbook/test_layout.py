"""What a reader meets: few sheets, an index with links, a way back, folds that print nothing, defaults that mark what differs."""

from __future__ import annotations

import zipfile
from pathlib import Path

import openpyxl
import pytest

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.comparison.loan_and_tax import is_stated
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.workbook.book import Book
from xlfab.workbook.input_lines import KNOWN, where_read

MOST_COMPARISON, MOST_QUOTE = 18, 14


def comparison(name: str) -> Book:
    return plan_comparison(compare(load(bundled(name))))


def quote(name: str) -> Book:
    shop = load(bundled(name))
    return plan_quote(quote_job(shop, load_quote(bundled(name), shop)))


@pytest.fixture(scope="module")
def books() -> dict[str, Book]:
    return {"comparison": comparison("small_lot_shop"), "quote": quote("demo_shop_us")}


@pytest.mark.parametrize("kind", ["comparison", "quote"])
def test_the_index_leads_to_every_sheet_and_back(kind: str, books: dict[str, Book], tmp_path: Path) -> None:
    book = books[kind]
    assert len(book.sheets) <= {"comparison": MOST_COMPARISON, "quote": MOST_QUOTE}[kind]
    book.save(tmp_path / "book.xlsx")
    file = openpyxl.load_workbook(tmp_path / "book.xlsx")
    first = file.worksheets[0]
    named = {link.location.split("!")[0].strip("'") for row in first.iter_rows() for c in row if (link := c.hyperlink)}
    visible = [sheet.title for sheet in file.worksheets if sheet.sheet_state == "visible"]
    assert named == set(visible[1:])
    for name in visible[1:]:
        back = file[name]["A2"].hyperlink
        assert back is not None and back.location.split("!")[0].strip("'") == first.title
    colours = {sheet.sheet_properties.tabColor.rgb for sheet in file.worksheets if sheet.sheet_state == "visible"}
    assert len(colours) == 5


def test_the_largest_comparison_has_no_more_sheets_than_allowed() -> None:
    book = comparison("demo_shop")
    names = [sheet.name for sheet in book.sheets]
    assert len(names) <= MOST_COMPARISON and "Cut lists" in names
    assert names[:3] == ["Summary", "Desk", "Inputs"]


@pytest.mark.parametrize("name", bundled_names())
def test_what_was_not_stated_makes_no_sheet_and_no_input(name: str, books: dict[str, Book]) -> None:
    """No bundled shop states a loan, a lease or a tax rate: nothing of them can be typed, so that nothing typed is without effect."""
    shop = load(bundled(name))
    assert not is_stated(shop)
    book = books["comparison"] if name == "small_lot_shop" else comparison(name)
    placed = {column.name for sheet in book.sheets for _, column, _ in sheet.columns}
    assert not placed & {"loan_share", "tax_rate_share", "lease_payment_cur_per_year", "net_flow_cur", "table_share"}
    assert ("Cut lists" in [sheet.name for sheet in book.sheets]) == bool((shop.parts["sheet_length_mm"] > 0).any())


def test_a_cell_that_differs_from_its_default_is_marked(books: dict[str, Book], tmp_path: Path) -> None:
    books["comparison"].save(tmp_path / "book.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "book.xlsx")["Inputs"]
    marked = {cell for where in sheet.conditional_formatting for cell in str(where.sqref).split()}
    rows = [row for row in sheet.iter_rows() if row[0].value in ("Wage", "Employer's burden", "Scrap")]
    assert rows and all(row[2].coordinate in marked for row in rows)
    assert all(isinstance(row[3].value, (int, float)) for row in rows)


def test_every_input_that_stands_open_says_where_it_is_read_off() -> None:
    texts = {"name", "shear", "press_brake"}
    keys = {key for section, keys in KNOWN.items() if section != "quote" for key in keys} - texts
    assert [key for key in sorted(keys) if not where_read(key)] == []


def test_no_print_is_set_smaller_than_eight_points(books: dict[str, Book], tmp_path: Path) -> None:
    """Cells have 9 pt; a fixed scale stays at 90 % or more, and no style or chart asks for less than 8 pt."""
    for kind, book in books.items():
        book.save(tmp_path / f"{kind}.xlsx")
        with zipfile.ZipFile(tmp_path / f"{kind}.xlsx") as parts:
            styles = openpyxl.load_workbook(tmp_path / f"{kind}.xlsx")
            assert min(font.sz for font in styles._fonts) >= 9
            for name in parts.namelist():
                text = parts.read(name).decode("utf-8", "ignore") if name.startswith("xl/charts/chart") else ""
                sizes = [int(piece.split('"')[0]) for piece in text.split(' sz="')[1:]]
                assert all(size >= 900 for size in sizes), name
        for sheet in styles.worksheets:
            assert (sheet.page_setup.scale or 100) >= 90
