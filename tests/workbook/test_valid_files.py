"""Every kind of workbook that the program writes is a valid file by the schemas and rules of ECMA-376 (openxml-audit)."""

from __future__ import annotations

import sys
import zipfile
from pathlib import Path
from typing import Any

import pytest
from openxml_audit import OpenXmlValidator
from typer.testing import CliRunner

from xlfab.cli import app

sys.path.append(str(Path(__file__).parents[1] / "used_workbook"))
from tiny_shop import built


def faults(path: Path) -> list[str]:
    """What the validator says against a file."""
    return [str(item)[:200] for item in OpenXmlValidator().validate(str(path)).errors]


def run(*arguments: Any) -> None:
    result = CliRunner().invoke(app, [str(item) for item in arguments])
    assert result.exit_code == 0, (result.output, result.exception)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("valid")


@pytest.mark.parametrize(
    ("kind", "flavour"), [("quote", "portable"), ("comparison", "portable"), ("quote", "names"), ("quote", "addin")]
)
def test_a_built_workbook_is_valid(kind: str, flavour: str, folder: Path) -> None:
    assert faults(built(folder, kind, flavour)) == []


def test_a_blank_quote_is_valid(folder: Path) -> None:
    run("new", "quote", "-o", folder / "blank.xlsx", "--spare", 3)
    assert faults(folder / "blank.xlsx") == []


def test_a_customers_copy_is_valid(folder: Path) -> None:
    run("share", built(folder, "comparison", seller=True), "-o", folder / "copy.xlsx")
    assert faults(folder / "copy.xlsx") == []


def test_a_workbook_of_actual_times_is_valid(folder: Path) -> None:
    (folder / "lots.csv").write_text(LOTS, encoding="utf-8")
    run("actuals", folder / "lots.csv", "-o", folder / "actuals.xlsx")
    assert faults(folder / "actuals.xlsx") == []


def test_a_damaged_file_is_not(folder: Path) -> None:
    """The control: one element in the wrong place, one cell that points to no text."""
    with zipfile.ZipFile(built(folder, "quote")) as old, zipfile.ZipFile(folder / "bad.xlsx", "w") as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "xl/worksheets/sheet1.xml":
                data = data.replace(b"<sheetData>", b"<sheetData><sheetView/>", 1)
            new.writestr(name, data)
    assert faults(folder / "bad.xlsx") != []


LOTS = "lot,operation,estimated_min,actual_min\n" + "".join(f"{n},press brake,10,{9 + n}\n" for n in range(1, 8))
