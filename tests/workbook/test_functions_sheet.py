"""The function reference travels in every workbook."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from xlfab.catalogue import CATALOGUE
from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.blank_quote import blank_quote, blank_scenario
from xlfab.quote.quote_job import quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.reference import ROW_HEADINGS, cell_example


@pytest.mark.parametrize("kind", ["comparison", "quote"])
def test_every_function_has_a_line_with_arguments_example_and_source(kind: str, tmp_path: Path) -> None:
    if kind == "comparison":
        plan_comparison(compare(load(bundled("small_lot_shop")))).save(tmp_path / "book.xlsx")
    else:
        plan_quote(quote_job(blank_scenario("EUR", "metric"), blank_quote())).save(tmp_path / "book.xlsx")
    sheet = openpyxl.load_workbook(tmp_path / "book.xlsx", read_only=True)["Functions"]
    lines = [line for line in sheet.iter_rows(values_only=True) if str(line[0]).startswith("FAB_")]
    assert [line[0] for line in lines] == [one.spec.cell_name for one in CATALOGUE]
    for line, one in zip(lines, CATALOGUE, strict=True):
        assert all(line[: len(ROW_HEADINGS)])
        assert all(item.name in line[3] for item in one.spec.arguments)
        assert line[4] == str(cell_example(one))
