"""LibreOffice and Gnumeric, driven for tests: forced recalculation of files whose cached values were corrupted first."""

from __future__ import annotations

import re
import shutil
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import openpyxl

from xlfab.hosts import office_programs

RECORD = "xlfab"  # the hidden sheet on which a workbook keeps how it was built; it differs between flavours
WRONG = -98765.4321
_FORMULA = re.compile(r"(<c [^>]*?)( t=\"[a-z]+\")?(>)(<f[^>]*>[^<]*</f>)(?:<v>[^<]*</v>|<v ?/>)")
_ODS_CELL = re.compile(r"<table:table-cell [^>]*table:formula=[^>]*>")
_ODS_RESULT = re.compile(r' (?:office|calcext):(?:value-type|value|string-value|boolean-value|date-value)="[^"]*"')


def corrupt(source: Path, target: Path) -> int:
    """Copy an .xlsx or .ods with every cached value of a formula replaced by a wrong number; returns how many."""
    count = 0
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item.filename)
            if item.filename.startswith("xl/worksheets/sheet"):
                text, found = _FORMULA.subn(rf"\1\3\4<v>{WRONG}</v>", data.decode("utf-8"))
            elif item.filename == "content.xml":
                text, found = _ODS_CELL.subn(_spoiled_ods_cell, data.decode("utf-8"))
            else:
                new.writestr(item, data)
                continue
            count += found
            new.writestr(item, text)
    return count


def _spoiled_ods_cell(match: re.Match[str]) -> str:
    bare = _ODS_RESULT.sub("", match[0]).removesuffix("/>").removesuffix(">")
    return f'{bare} office:value-type="float" office:value="{WRONG}"{"/>" if match[0].endswith("/>") else ">"}'


def convert(source: Path, folder: Path, to: str = "xlsx", addin: Path | None = None) -> Path:
    """Convert a file with headless LibreOffice, everything recalculated, if wanted with an add-in installed."""
    folder.mkdir(parents=True, exist_ok=True)
    with office_programs.profile(addin) as user:
        return office_programs.convert(source, to, folder, user)


def recalculate(source: Path, folder: Path, addin: Path | None = None) -> Path:
    """Corrupt a workbook's cached values and let LibreOffice calculate them anew."""
    folder.mkdir(parents=True, exist_ok=True)
    spoiled = folder / f"spoiled_{source.name}"
    assert corrupt(source, spoiled) > 0
    return convert(spoiled, folder / "recalculated", addin=addin)


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
        (sheet.title, cell.coordinate): getattr(cell.value, "text", cell.value)
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
