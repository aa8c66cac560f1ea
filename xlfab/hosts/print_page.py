"""LibreOffice, when present: one sheet of a workbook as PDF, and nothing else of it."""

from __future__ import annotations

import re
import shutil
import tempfile
import zipfile
from pathlib import Path

from xlfab.core.errors import HostError, ScenarioError
from xlfab.core.workbook_reading import open_workbook
from xlfab.core.writing import whole_file
from xlfab.hosts import office_programs

QUOTE = "Quote"
_SHEET = re.compile(r"<sheet [^>]*>")
_STATE = re.compile(r' state="[A-Za-z]*"')


def customer_pdf(file: Path, output: Path, replace: bool, page: str = QUOTE, pages: str = "") -> None:
    """Print one sheet alone, with the results that are stored in the file; `pages` ("1", "1-2") prints some of its pages."""
    if office_programs.find("soffice") is None:
        raise HostError(
            f"LibreOffice was not found: install it, or print the sheet {page} from your spreadsheet program"
        )
    with office_programs.profile(recalculate=False) as user, tempfile.TemporaryDirectory() as place:
        single = Path(place, "quote.xlsx")
        _page_alone(file, single, page)
        printed = office_programs.convert(single, _target(pages), Path(place), user)
        with whole_file(output, replace) as target:
            shutil.copyfile(printed, target)


def _target(pages: str) -> str:
    """What LibreOffice is told to write: a PDF of all pages, or of some."""
    if not pages:
        return "pdf"
    return 'pdf:calc_pdf_Export:{"PageRange":{"type":"string","value":"' + pages + '"}}'


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
