"""Names and texts that every host accepts; the function reference is current and its examples are the ones that run."""

from __future__ import annotations

from pathlib import Path

import ironcalc
import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

import xlfab
from xlfab import reference
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.errors import HostError, InputError
from xlfab.hosts import naming
from xlfab.trace.lambda_name import lambda_names
from xlfab.trace.spreadsheet import LIMIT, cell_formula


def test_every_name_and_text_is_legal_in_every_host() -> None:
    assert naming.faults(CATALOGUE) == []


@pytest.mark.parametrize(
    "name",
    ["t1", "L2", "XFD99", "OPT2", "r", "c", "R1C1", "rc", "ab", "next", "Type", "end", "a.b", "1st", "lar ge", ""],
)
def test_names_that_some_host_would_refuse(name: str) -> None:
    assert naming.name_fault(name)


def test_a_name_that_stands_twice_is_found() -> None:
    one = FUNCTIONS["axis_move_time_s"]
    with pytest.raises(HostError, match="fab_axis_move_time_s stands 2 times"):
        naming.check([one, one])


@given(st.sampled_from(CATALOGUE))
def test_wizard_texts_fit(function) -> None:
    assert len(naming.description(function.spec)) <= naming.TEXT_LIMIT
    for name, text in naming.argument_texts(function.spec):
        assert name.replace("_", "").isalnum() and 10 < len(text) <= naming.TEXT_LIMIT


def test_every_function_has_a_lambda_name_and_plain_form_inside_the_length_limit() -> None:
    found = dict(lambda_names(CATALOGUE))
    assert set(found) == {one.spec.cell_name for one in CATALOGUE}
    assert all(text.startswith("_xlfn.LAMBDA(_xlpm.") and len(text) < LIMIT for text in found.values())
    for one in CATALOGUE:
        references = [f"Quantity!$XY{place}" for place in range(1001, 1001 + len(one.spec.arguments))]
        for form in ("plain", "let", "call"):
            assert 0 < len(cell_formula(one, references, form)) < LIMIT, one.spec.name


def test_the_function_reference_is_current() -> None:
    page = Path(xlfab.__file__).with_name("FUNCTIONS.md").read_text(encoding="utf-8")
    assert page == reference.document(), "run: xlfab functions --write"


@pytest.mark.parametrize("function", CATALOGUE, ids=lambda one: one.spec.name)
def test_every_function_has_a_page_with_a_worked_example(function) -> None:
    holds, example = reference.section(function)
    assert holds
    assert f"{function.spec.name}(" in example and "\n" in example
    text = reference.page(function)
    assert all(f"| `{item.name}` |" in text for item in function.spec.arguments)
    assert reference.unit_of(function) in text


def test_rows_for_a_sheet() -> None:
    rows = reference.rows()
    assert len(rows) == len(CATALOGUE)
    assert all(len(row) == len(reference.ROW_HEADINGS) and all(row) for row in rows)


def test_a_function_is_found_by_cell_name_and_a_wrong_one_gets_the_nearest() -> None:
    assert reference.find("FAB_Axis_Move_Time_s") is FUNCTIONS["axis_move_time_s"]
    with pytest.raises(InputError, match="axis_move_time_s"):
        reference.find("axis_move_time")


def test_every_example_typed_into_a_cell_shows_what_the_reference_says(tmp_path: Path) -> None:
    """By an engine that knows LAMBDA names and nothing of the library's Python; each example on a sheet of its own."""
    examples = [reference.cell_example(one) for one in CATALOGUE]
    with xlsxwriter.Workbook(str(tmp_path / "examples.xlsx")) as book:
        for name, definition in lambda_names(CATALOGUE):
            book.define_name(name, "=" + definition)
        for one in examples:
            sheet = book.add_worksheet()
            for place, values in one.ranges.items():
                sheet.write_column(place.split(":")[0], values)
            sheet.write_dynamic_array_formula("E1", "=" + one.call, None, -1)
    engine = ironcalc.load_from_xlsx(str(tmp_path / "examples.xlsx"))
    engine.evaluate()
    for number, one in enumerate(examples):
        assert engine.get_cell_value(number, 1, 5) == pytest.approx(float(one.shown), rel=1e-9, abs=1e-12), one.call
