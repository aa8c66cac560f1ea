"""Part names that spreadsheets take for each other: 1.1 and 1.10, 001 and 1, 1E3 and 1000, names with * ? ~.

SUMIF, COUNTIF and MATCH read such texts as numbers or patterns. Every cell is held against Python, which compares names exactly.
"""

from __future__ import annotations

import dataclasses
import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from office import corrupt, differences, formulas, installed, recalculate, values
from openpyxl.utils import get_column_letter

from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import Scenario, load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import QuoteJob, quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.tables.keys import first_rows
from xlfab.tables.table import Ref
from xlfab.workbook.book import Book

office = pytest.mark.office
NAMES = ("1.1", "1.10", "001", "1", "1E3", "1000", "A*", "AB", "A?", "A~B", "*", 'x"y')
SPARE = {"parts": 3, "cuts": 3, "bends": 3, "work": 3, "bought": 3, "work_centres": 2, "materials": 2}


def renamed(scenario: Scenario) -> Scenario:
    """The shop with its twelve parts named as above."""
    names = dict(zip(scenario.parts["part"], NAMES, strict=True))

    def new(columns: dict[str, Any]) -> dict[str, Any]:
        return columns | {key: _named(columns[key], names) for key in ("part", "family") if key in columns}

    return dataclasses.replace(scenario, parts=new(scenario.parts), bends=new(scenario.bends), cuts=new(scenario.cuts))


def _named(values: Any, names: dict[str, str]) -> Any:
    return np.array([names.get(value, value) for value in values], dtype=object)


def renamed_quote() -> QuoteJob:
    folder = bundled("small_lot_shop")
    scenario = load(folder)
    return quote_job(renamed(scenario), load_quote(folder, scenario), spare=SPARE)


def quote_book(flavour: str) -> Book:
    return plan_quote(renamed_quote(), flavour)


def first_cell(book: Book, column: Ref) -> tuple[str, str]:
    """Sheet and cell of the first row of a column."""
    place = book.grid.place(column)
    return place.sheet, f"{get_column_letter(place.column + 1)}{place.row + 1}"


@office
def test_in_libreoffice_each_name_is_its_own(tmp_path: Path) -> None:
    path = tmp_path / "quote.xlsx"
    quote_book("portable").save(path)
    assert differences(values(path), values(recalculate(path, tmp_path / "out")), formulas(path)) == []


@office
def test_in_gnumeric_each_name_is_its_own(tmp_path: Path) -> None:
    if not installed("ssconvert"):
        pytest.skip("Gnumeric is not installed")
    path, spoiled, out = tmp_path / "quote.xlsx", tmp_path / "spoiled.xlsx", tmp_path / "out.xlsx"
    quote_book("plain").save(path)
    corrupt(path, spoiled)
    subprocess.run(["ssconvert", "--recalc", str(spoiled), str(out)], check=True, capture_output=True, timeout=300)
    found = {
        cell: None if value == "" else value for cell, value in values(out).items()
    }  # an empty text of a spare row
    assert differences(values(path), found, formulas(path)) == []


@office
@pytest.mark.parametrize(("typed", "row"), [("ab", 8), ("a?", 9), ("a~b", 10), (1000, 6), ("A?B", None), ("", None)])
def test_a_name_typed_in_a_step(typed: Any, row: int | None, tmp_path: Path) -> None:
    """Upper and lower case are the same, a number is its text, and a pattern finds nothing."""
    job = renamed_quote()
    book = plan_quote(job, "portable")
    path = tmp_path / "quote.xlsx"
    book.save(path)
    file = openpyxl.load_workbook(path)
    sheet, cell = first_cell(book, job.stated.bends["part"])
    assert file[sheet][cell].value == NAMES[0]
    file[sheet][cell].value = typed or None
    file.save(tmp_path / "typed.xlsx")
    found = values(recalculate(tmp_path / "typed.xlsx", tmp_path / "out"))
    part_row = first_cell(book, job.bend_data.row_of("part", job.stated.parts["part"]))
    assert values(path)[part_row] == 1
    if row or not typed:
        assert found.get(part_row) == row, "a blank step has no row"
    else:
        assert str(found[part_row]).startswith("#")


def test_names_that_differ_in_case_only_are_one_key() -> None:
    assert first_rows(np.array(["Guard", "GUARD", "guard 2"], dtype=object)).tolist() == [0, 0, 2]
