"""Files from strangers: size, zip and XML are checked before any reader opens them, and nothing outside the file is followed.

Hostile or unlucky files are refused with a reason: zip bombs, encrypted entries, entity declarations, a cell in the far corner of
the sheet. The limits are far above any list of parts; they are named here once.
"""

from __future__ import annotations

import csv
import io
import re
import zipfile
from pathlib import Path
from typing import IO, Any

from xlfab.core.errors import ScenarioError

FILE_BYTES = 20_000_000
ENTRIES = 200
UNPACKED_BYTES = 200_000_000
PACKING_RATIO = 100  # of entries above a megabyte; real sheets pack 5 to 40 times
ROWS, COLUMNS, CELLS = 50_000, 1_000, 1_000_000
_XML_HEAD = 1024
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")


def column_number(letters: str) -> int:
    """The number of a column.

    >>> column_number("A"), column_number("XFD")
    (1, 16384)
    """
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def check_size(path: Path, limit: int = FILE_BYTES) -> None:
    """Refuse a file that is missing, no plain file, empty or too large."""
    if not path.is_file():
        raise ScenarioError(f"{path}: there is no such file")
    size = path.stat().st_size
    if not 0 < size <= limit:
        raise ScenarioError(f"{path}: {size} bytes; allowed is a file of 1 to {limit} bytes")


def check_workbook(path: Path) -> None:
    """Refuse a workbook that is no sound .xlsx or .xlsm file, or one that would unpack to far more than it should."""
    check_size(path)
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        raise ScenarioError(f"{path}: not an .xlsx file; save it as .xlsx and try again")
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
            _check_entries(path, entries)
            for entry in entries:
                if not entry.filename.lower().endswith((".xml", ".rels", ".vml")):
                    continue
                with archive.open(entry) as part:
                    head = part.read(_XML_HEAD).replace(b"\0", b"")  # so that UTF-16 reads like any other
                _check_head(path, entry.filename, head)
                if b"worksheet" in head and entry.filename.endswith(".xml"):  # a sheet may lie in any folder
                    with archive.open(entry) as part:
                        _check_sheet(path, entry.filename, part)
    except (zipfile.BadZipFile, zipfile.LargeZipFile, NotImplementedError, EOFError, OSError) as error:
        raise ScenarioError(f"{path}: not a sound .xlsx file ({error})") from error


def _check_entries(path: Path, entries: list[zipfile.ZipInfo]) -> None:
    if len(entries) > ENTRIES:
        raise ScenarioError(f"{path}: {len(entries)} parts inside; allowed are {ENTRIES}")
    total = sum(entry.file_size for entry in entries)
    if total > UNPACKED_BYTES:
        raise ScenarioError(f"{path}: it would unpack to {total} bytes; allowed are {UNPACKED_BYTES}")
    if len({entry.filename for entry in entries}) != len(entries):
        raise ScenarioError(f"{path}: a part stands in it twice")
    for entry in entries:
        name = entry.filename
        if entry.flag_bits & 1:
            raise ScenarioError(f"{path}: it is encrypted; save it without a password and try again")
        if name.startswith(("/", "\\")) or ".." in name.replace("\\", "/").split("/") or ":" in name:
            raise ScenarioError(f"{path}: the part '{name}' points outside the file")
        if entry.file_size > 1_000_000 and entry.file_size > PACKING_RATIO * max(entry.compress_size, 1):
            raise ScenarioError(f"{path}: the part '{name}' is packed more than {PACKING_RATIO} times")


def _check_head(path: Path, name: str, head: bytes) -> None:
    if b"<!DOCTYPE" in head.upper() or b"<!ENTITY" in head.upper():
        raise ScenarioError(f"{path}: the part '{name}' declares XML entities; no spreadsheet program writes that")


def _check_sheet(path: Path, name: str, part: IO[bytes]) -> None:
    """Bound rows, columns, cells and merged areas before a reader lays them out in memory."""
    from defusedxml.ElementTree import iterparse

    cells = 0
    try:
        for _, element in iterparse(part, events=("end",), forbid_dtd=True):
            tag = element.tag.rsplit("}", 1)[-1]
            if tag == "c":
                cells += 1
                _check_place(path, name, element.get("r"))
            elif tag == "row":
                if int(element.get("r") or 0) > ROWS:
                    raise ScenarioError(f"{path}: {name} has a row {element.get('r')}; allowed are {ROWS} rows")
                element.clear()
            elif tag == "mergeCell":
                cells += _area(path, name, element.get("ref") or "")
            if cells > CELLS:
                raise ScenarioError(f"{path}: {name} has more than {CELLS} cells")
    except ScenarioError:
        raise
    except Exception as error:  # the parser's own errors differ by version
        raise ScenarioError(f"{path}: {name} is not sound XML ({error})") from error


def _check_place(path: Path, name: str, reference: str | None) -> tuple[int, int]:
    match = _CELL.fullmatch(reference or "A1")
    row, column = (int(match[2]), column_number(match[1])) if match else (ROWS + 1, 0)
    if row > ROWS or column > COLUMNS:
        raise ScenarioError(f"{path}: {name} has a cell {reference}; allowed are {ROWS} rows and {COLUMNS} columns")
    return row, column


def _area(path: Path, name: str, reference: str) -> int:
    first, _, last = reference.partition(":")
    (top, left), (bottom, right) = (_check_place(path, name, corner) for corner in (first, last or first))
    return (bottom - top + 1) * (right - left + 1)


def open_workbook(path: Path, formulas: bool = False) -> Any:
    """A checked workbook as openpyxl reads it: values (or formulas), no link to another file followed, no macro kept."""
    check_workbook(path)
    import openpyxl

    try:
        book = openpyxl.load_workbook(path, data_only=not formulas, keep_links=False, keep_vba=False)
    except Exception as error:  # openpyxl raises whatever a broken part makes it raise
        raise ScenarioError(f"{path}: it cannot be read as a workbook ({type(error).__name__}: {error})") from error
    if not book.worksheets:
        raise ScenarioError(f"{path}: it cannot be read as a workbook (there is no sheet in it)")
    return book


def read_text(path: Path, limit: int = FILE_BYTES) -> str:
    """A text file: UTF-8 (with or without mark), UTF-16 with mark, else Windows-1252; zero bytes are refused."""
    check_size(path, limit)
    data = path.read_bytes()
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16")
    if b"\0" in data:
        raise ScenarioError(f"{path}: it holds zero bytes, so it is no text file")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def read_csv(path: Path) -> list[list[str]]:
    """The rows of a CSV file; the separator (, ; tab |) is the one that gives the most rows of one width."""
    text = read_text(path)
    csv.field_size_limit(FILE_BYTES)
    best: list[list[str]] = []
    best_score = -1
    for separator in (";", "\t", ",", "|"):
        try:
            rows = list(csv.reader(io.StringIO(text), delimiter=separator))
        except csv.Error as error:
            raise ScenarioError(f"{path}: not a sound CSV file ({error})") from error
        widths = [len(row) for row in rows if len(row) > 1]
        score = max((widths.count(width) for width in set(widths)), default=0)
        if score > best_score:
            best, best_score = rows, score
    if len(best) > ROWS or any(len(row) > COLUMNS for row in best):
        raise ScenarioError(f"{path}: allowed are {ROWS} rows and {COLUMNS} columns")
    return best
