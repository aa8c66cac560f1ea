"""LibreOffice, when present: one sheet of a workbook as PDF, and nothing else of it."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
import zipfile
from pathlib import Path

from xlfab.errors import HostError, ScenarioError
from xlfab.reading import open_workbook
from xlfab.writing import whole_file

QUOTE = "Quote"
_WAIT_S = 300
_SHEET = re.compile(r"<sheet [^>]*>")
_STATE = re.compile(r' state="[A-Za-z]*"')


def customer_pdf(file: Path, output: Path, replace: bool, page: str = QUOTE) -> None:
    """Print one sheet alone."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        raise HostError(
            f"LibreOffice is not found: install it, or print the sheet {page} from your spreadsheet program"
        )
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        single = folder / "quote.xlsx"
        _page_alone(file, single, page)
        command = [
            program,
            f"-env:UserInstallation={(folder / 'profile').as_uri()}",
            "--headless",
            "--convert-to",
            "pdf",
        ]
        done = subprocess.run(
            [*command, "--outdir", place, str(single)], capture_output=True, timeout=_WAIT_S, check=False
        )
        printed = folder / "quote.pdf"
        if done.returncode or not printed.exists():
            raise HostError(f"LibreOffice could not print {file}: {done.stderr.decode(errors='replace')[:300]}")
        with whole_file(output, replace) as target:
            shutil.copyfile(printed, target)


def _page_alone(file: Path, target: Path, page: str) -> None:
    """A copy in which every other sheet is hidden: LibreOffice prints what can be seen, pictures and all."""
    names = open_workbook(file).sheetnames
    if page not in names:
        raise ScenarioError(f"{file}: it has no sheet '{page}', which is the page to print")
    with zipfile.ZipFile(file) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for item in old.infolist():
            data = old.read(item)
            if item.filename == "xl/workbook.xml":
                data = _SHEET.sub(lambda match: _hidden(match, page), data.decode("utf-8")).encode("utf-8")
            new.writestr(item, data)


def _hidden(match: re.Match[str], page: str) -> str:
    bare = _STATE.sub("", match[0])
    state = "visible" if f'name="{page}"' in bare else "hidden"
    return bare.replace("<sheet ", f'<sheet state="{state}" ', 1)
