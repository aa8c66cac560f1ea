"""LibreOffice and Gnumeric, driven for tests: forced recalculation of files whose cached values were corrupted first."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
import zipfile
from pathlib import Path
from typing import Any

import openpyxl

# LibreOffice keeps cached values of an .xlsx unless its profile says 0 = always recalculate
_PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""
RECORD = "xlfab"  # the hidden sheet on which a workbook keeps how it was built; it differs between flavours
_FORMULA = re.compile(r"(<c [^>]*?)( t=\"[a-z]+\")?(>)(<f[^>]*>[^<]*</f>)<v>[^<]*</v>")


def corrupt(source: Path, target: Path) -> int:
    """Copy a workbook with every cached value of a formula replaced by a wrong number; returns how many."""
    count = 0
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item.filename)
            if item.filename.startswith("xl/worksheets/sheet"):
                text, found = _FORMULA.subn(r"\1\3\4<v>-98765.4321</v>", data.decode("utf-8"))
                count += found
                data = text.encode("utf-8")
            new.writestr(item, data)
    return count


def profile(folder: Path) -> str:
    """A fresh LibreOffice profile that always recalculates."""
    user = folder / "profile" / "user"
    user.mkdir(parents=True, exist_ok=True)
    (user / "registrymodifications.xcu").write_text(_PROFILE, encoding="utf-8")
    return f"-env:UserInstallation={(folder / 'profile').as_uri()}"


def convert(source: Path, folder: Path, to: str = "xlsx") -> Path:
    """Convert a file with headless LibreOffice, everything recalculated."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        subprocess.run(
            ["soffice", profile(Path(place)), "--headless", "--convert-to", to, "--outdir", str(folder), str(source)],
            check=True,
            capture_output=True,
            timeout=300,
        )
    result = folder / f"{source.stem}.{to}"
    assert result.exists(), f"LibreOffice wrote no {result.name}"
    return result


def recalculate(source: Path, folder: Path) -> Path:
    """Corrupt a workbook's cached values and let LibreOffice calculate them anew."""
    folder.mkdir(parents=True, exist_ok=True)
    spoiled = folder / f"spoiled_{source.name}"
    assert corrupt(source, spoiled) > 0
    return convert(spoiled, folder / "recalculated")


def values(path: Path) -> dict[tuple[str, str], Any]:
    """Every value of a workbook by sheet and cell."""
    book = openpyxl.load_workbook(path, data_only=True)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        if sheet.title != RECORD
        for line in sheet.iter_rows()
        for cell in line
        if cell.value is not None
    }


def formulas(path: Path) -> dict[tuple[str, str], str]:
    """Every formula of a workbook by sheet and cell."""
    book = openpyxl.load_workbook(path)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        for line in sheet.iter_rows()
        for cell in line
        if cell.data_type == "f"
    }


def differences(
    expected: dict[tuple[str, str], Any], found: dict[tuple[str, str], Any], cells: Any, relative: float = 1e-9
) -> list[str]:
    """Cells that differ, in words: numbers by more than a relative tolerance, anything else at all."""
    wrong = []
    for cell in cells:
        one, other = expected.get(cell), found.get(cell)
        numbers = isinstance(one, (int, float)) and isinstance(other, (int, float))
        if numbers and abs(one - other) <= relative * max(abs(one), abs(other), 1e-3):
            continue
        if not numbers and one == other:
            continue
        wrong.append(f"{cell[0]}!{cell[1]}: {one!r} expected, {other!r} found")
    return wrong


def pages(source: Path, folder: Path, resolution: int = 80) -> list[Path]:
    """Print a workbook to PDF and turn each page into a picture."""
    printed = convert(source, folder, "pdf")
    subprocess.run(["pdftoppm", "-r", str(resolution), "-png", str(printed), str(folder / "page")], check=True)
    return sorted(folder.glob("page*.png"))


def installed(*programs: str) -> bool:
    """True if every program is on the path."""
    return all(shutil.which(program) for program in programs)
