"""Workbooks in the form in which Excel saves them: no false finding, the inputs read back, the customer's copy valid and without a trace."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest
from excel_form import saved_by_excel
from openxml_audit import OpenXmlValidator
from tiny_shop import built
from workbook_file import MAIN, WorkbookFile

from xlfab.used_workbook.audit import audit
from xlfab.used_workbook.open_used import Used
from xlfab.used_workbook.read_back import read_inputs
from xlfab.used_workbook.share import share


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("excel")


@pytest.mark.parametrize(
    ("kind", "flavour"), [("quote", "portable"), ("quote", "names"), ("quote", "addin"), ("comparison", "portable")]
)
def test_the_form_of_excel_raises_no_false_finding(kind: str, flavour: str, folder: Path) -> None:
    path = built(folder, kind, flavour)
    saved = saved_by_excel(path, folder / "saved.xlsx")
    file = WorkbookFile(saved)
    formulas = [item for name in file.sheet_parts for item in file.sheet(name).iter(f"{MAIN}f")]
    assert any(item.get("t") == "shared" for item in formulas)
    assert flavour != "addin" or sum("[1]!FAB_" in (item.text or "") for item in formulas) > 100
    assert audit(saved).findings == []
    then, now = Used.open(path), Used.open(saved)
    for item in now.known.columns:  # shared formulas and texts in pieces are put together again
        assert [now.value_of(item, n) for n in range(item.count)] == [then.value_of(item, n) for n in range(item.count)]
    assert read_inputs(saved).tables == read_inputs(path).tables


def test_a_change_is_still_found_in_it(folder: Path) -> None:
    file = WorkbookFile(saved_by_excel(built(folder, "quote", "addin"), folder / "saved.xlsx"))
    place = file.place("prices", "price_0_cur", 1)
    file.put(*place, 9.5)
    assert [(one.sheet, one.cell) for one in audit(file.save(folder / "changed.xlsx")).findings] == [place]


def test_a_customers_copy_of_it_is_valid_and_holds_nothing_of_its_user(folder: Path) -> None:
    saved = saved_by_excel(built(folder, "comparison", seller=True), folder / "saved.xlsx")
    share(saved, folder / "copy.xlsx")
    assert OpenXmlValidator().validate(str(folder / "copy.xlsx")).errors == []
    with zipfile.ZipFile(folder / "copy.xlsx") as copy:
        text = "\n".join(copy.read(name).decode("utf-8", errors="replace") for name in copy.namelist())
    assert not any(
        word in text.casefold() for word in ("nadja", "[1]!", "abspath", "example.org", "calcchain", 'name="seller"')
    )
