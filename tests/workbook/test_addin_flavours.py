"""Workbooks whose cells call FAB_ functions, in LibreOffice with the Calc add-in: every formula cell, from corrupted stored values."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest
from office import convert, corrupt, differences, formulas, recalculate, values

from xlfab.comparison.comparison_workbook import build_comparison
from xlfab.hosts import calc_package
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.blank_quote import blank_quote, blank_scenario
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import QuoteJob, quote_job
from xlfab.quote.quote_workbook import build_quote, plan_quote
from xlfab.tables.list_rules import Lookup, StepLookup
from xlfab.tables.row_rules import NumberOr, RowRule, Words
from xlfab.tables.rules import Ref, Rule
from xlfab.workbook.grid import Place

pytestmark = pytest.mark.office
CALL = "FAB_"
SPARE = {"parts": 3, "cuts": 3, "bends": 3, "work": 3, "bought": 3, "work_centres": 1, "materials": 1}


@pytest.fixture(scope="module")
def addin(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return calc_package.build(tmp_path_factory.mktemp("addin") / calc_package.FILE_NAME)


def comparison(flavour: str, folder: Path) -> Path:
    path = folder / "comparison.xlsx"
    build_comparison(load(bundled("demo_shop_us")), path, flavour=flavour)
    return path


def demo_quote() -> QuoteJob:
    folder = bundled("demo_shop_us")
    scenario = load(folder)
    return quote_job(scenario, load_quote(folder, scenario), spare=SPARE)


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


@pytest.mark.parametrize("kind", ["filled in", "blank"])
def test_a_quote_is_calculated_by_the_add_in(kind: str, addin: Path, tmp_path: Path) -> None:
    """A blank quote has machine prices that only the user knows: what rests on them has to stay an error value."""
    blank = quote_job(blank_scenario("EUR", "metric"), blank_quote(), spare=SPARE)
    path = tmp_path / "quote.xlsx"
    build_quote(demo_quote() if kind == "filled in" else blank, path, flavour="addin")
    assert differences(values(path), values(recalculate(path, tmp_path / "out", addin)), formulas(path)) == []


def test_without_the_add_in_no_call_has_a_number(tmp_path: Path) -> None:
    """The control: LibreOffice evaluates no LAMBDA name by itself, so the values above are the add-in's."""
    path = tmp_path / "quote.xlsx"
    build_quote(demo_quote(), path, flavour="names")
    found = values(recalculate(path, tmp_path / "out"))
    calls = [cell for cell, text in formulas(path).items() if CALL in text and values_there(found, cell)]
    assert len(calls) > 3000
    assert not [cell for cell in calls if not str(found[cell]).startswith("#")]


def values_there(found: dict[tuple[str, str], Any], cell: tuple[str, str]) -> bool:
    """False for a cell of a spare row, which stays empty."""
    return found.get(cell) not in (None, "")


def cells_of(place: Place) -> list[tuple[str, str]]:
    letters = openpyxl.utils.get_column_letter(place.column + 1)
    return [(place.sheet, f"{letters}{place.row + 1 + index}") for index in range(place.count)]


def reads_a_stated_number(rule: Rule) -> bool:
    """True for a number worked out from what the user states, or looked up among it."""
    if isinstance(rule, Lookup | StepLookup):
        return rule.source.may_be_blank
    numbers = isinstance(rule, RowRule) and not isinstance(rule, Words | NumberOr)
    return numbers and any(isinstance(item, Ref) and item.may_be_blank for item in rule.by_row)


@pytest.mark.parametrize("flavour", ["addin", "portable", "plain"])
def test_no_function_takes_a_blank_input_for_nought(flavour: str, addin: Path, tmp_path: Path) -> None:
    """Every number that the user states is deleted: whatever function or look-up reads one has no result, in every flavour."""
    book = plan_quote(demo_quote(), flavour)
    path, emptied = tmp_path / "quote.xlsx", tmp_path / "emptied.xlsx"
    book.save(path)
    file = openpyxl.load_workbook(path)
    tables = {id(table): table for table in book.grid._kept}
    readers = []
    for (key, name), place in book.grid.places.items():
        if Ref(tables[key], name).may_be_blank:
            for sheet, cell in cells_of(place):
                file[sheet][cell].value = None
        elif reads_a_stated_number(tables[key].columns[name].rule):
            readers += cells_of(place)
    file.save(emptied)
    found = values(convert(emptied, tmp_path / "out", addin=addin if flavour == "addin" else None))
    shown = [cell for cell in readers if values_there(found, cell)]
    assert len(shown) > 1000
    assert not [(cell, found[cell]) for cell in shown if not str(found[cell]).startswith("#")]
