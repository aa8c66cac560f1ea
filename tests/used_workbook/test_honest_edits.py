"""What honest users do in LibreOffice, saved as they save: no false alarm, and every input is read back and agrees.

A sample of the edits in `honest_edits.py`; run that file for all of them.
"""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest
from honest_edits import PYTHON, comparison_edits, quote_edits, saved
from tiny_shop import built
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.hosts import office_programs
from xlfab.used_workbook.audit import audit


def _has_uno() -> bool:
    return Path(PYTHON).exists() and subprocess.run([PYTHON, "-c", "import uno"], capture_output=True).returncode == 0


pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(
        office_programs.find("soffice") is None or not _has_uno(), reason="LibreOffice or its `uno` is missing"
    ),
]
SAMPLE = {
    "quote": ("wage", "new part", "extra bend without a number", "parts sorted", "own formula in an input", "row of a part deleted", "column put in"),
    "comparison": ("comparison: energy_price_cur_per_kwh", "comparison: bends sorted", "two desk rows"),
}  # fmt: skip

# formulas of other sheets point at the row that is gone: the workbook's own results are error values, and reading back says so
BREAKS_RESULTS = ("row of a part deleted",)


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Path, int]]:
    folder = tmp_path_factory.mktemp("honest")
    books = {kind: built(folder, kind) for kind in SAMPLE}
    edits = {"quote": quote_edits(books["quote"]), "comparison": comparison_edits(books["comparison"])}
    assert sum(len(one.made) for one in edits.values()) >= 60
    paths = saved(edits, books, folder, [name for names in SAMPLE.values() for name in names])
    wanted = {name: number for one in edits.values() for name, (_, number) in one.made.items()}
    return {name: (path, wanted[name]) for name, path in paths.items()}


@pytest.mark.parametrize("name", [name for names in SAMPLE.values() for name in names])
def test_an_honest_edit_raises_no_alarm_and_is_read_back(
    name: str, files: dict[str, tuple[Path, int]], tmp_path: Path
) -> None:
    path, number = files[name]
    found = audit(path).findings
    assert len(found) == number and all(item.kind == "moved" for item in found)
    result = CliRunner().invoke(app, ["read", str(path), "--to", str(tmp_path / "shop")])
    if name in BREAKS_RESULTS:
        assert result.exit_code == 1 and "#REF!" in result.output, "the workbook's own broken results are named"
        return
    assert result.exit_code == 0, result.output
