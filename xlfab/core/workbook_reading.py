"""The one reader of workbooks from outside: every part is read as a stream with budgets before a library lays it out in memory.

What a part is called does not matter: whatever is XML is looked at from its first element on. Refused with a reason: zip bombs,
damaged or encrypted entries, document types and entities, a cell in the far corner, merged or linked areas of millions of cells,
more cells, shared texts or letters than any list of parts has. Nothing outside the file is followed.
"""

from __future__ import annotations

import re
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any
from xml.parsers import expat

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import COLUMNS, ROWS, check_size

ENTRIES = 400
UNPACKED_BYTES = 200_000_000
PACKING_RATIO = 100  # of entries above a megabyte; real sheets pack 5 to 40 times
CELLS, SHARED_TEXTS, ELEMENTS = 500_000, 300_000, 3_000_000  # of a whole workbook
AREA = 1_000_000  # rows times columns of one sheet
OTHER_ELEMENTS = 200_000  # of one part that is neither sheet nor shared texts: styles, comments, drawings
NESTING, CELL_LETTERS, NUMBER_LETTERS, FORMULA_LETTERS = 60, 32_767, 60, 8_192
SHARED_FORMULA_LETTERS = 4_000_000  # letters of shared formulas, counted for each cell that repeats one
_PIECE = 1 << 16
_CELL = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]{1,7})")
_AREAS = {"mergeCell": "ref", "hyperlink": "ref"}  # a reader visits every cell of these


def column_number(letters: str) -> int:
    """The number of a column.

    >>> column_number("A"), column_number("XFD")
    (1, 16384)
    """
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number


def open_workbook(path: Path, formulas: bool = False, rich_text: bool = False) -> Any:
    """A checked workbook as openpyxl reads it: values (or formulas), no link to another file followed, no macro kept.

    `rich_text` keeps the looks of parts of a text, such as struck-through letters.
    """
    check_workbook(path)
    import openpyxl

    try:
        book = openpyxl.load_workbook(
            path, data_only=not formulas, keep_links=False, keep_vba=False, rich_text=rich_text
        )
    except Exception as error:  # openpyxl raises whatever a broken part makes it raise
        raise ScenarioError(
            f"{path}: it cannot be read as a workbook ({type(error).__name__}: {_short(error)})"
        ) from error
    if not book.worksheets:
        raise ScenarioError(f"{path}: it cannot be read as a workbook (there is no sheet in it)")
    return book


def check_workbook(path: Path) -> None:
    """Refuse a workbook that is no sound .xlsx or .xlsm file, or that a reader would need too much time or memory for."""
    check_size(path)
    if path.suffix.lower() not in (".xlsx", ".xlsm"):
        raise ScenarioError(f"{path}: not an .xlsx file; save it as .xlsx and try again")
    try:
        with zipfile.ZipFile(path) as archive:
            entries = archive.infolist()
            _check_entries(path, entries)
            count = _Count()
            for entry in entries:
                with archive.open(entry) as part:
                    _check_part(path, entry.filename, part, count)
    except ScenarioError:
        raise
    except Exception as error:  # a damaged file makes zipfile and zlib raise errors of many kinds
        raise ScenarioError(f"{path}: not a sound .xlsx file ({_short(error)})") from error


def _short(error: Exception) -> str:
    return str(error)[:200] or type(error).__name__


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


@dataclass
class _Count:
    """What has been met in the whole workbook so far."""

    cells: int = 0
    shared_texts: int = 0
    elements: int = 0
    shared_letters: int = 0


class _Refused(Exception):
    """Why a part is refused; the message gets the names of file and part where it is caught."""


def _check_part(path: Path, name: str, part: IO[bytes], count: _Count) -> None:
    first = part.read(_PIECE)
    if not _is_xml(first):
        while part.read(_PIECE):  # to the end, so that damage shows now
            pass
        return
    scan = _Scan(count)
    try:
        piece = first
        while piece:
            scan.parser.Parse(piece, False)
            piece = part.read(_PIECE)
        scan.parser.Parse(b"", True)
    except _Refused as error:
        raise ScenarioError(f"{path}: the part '{name}' {error}") from None
    except (expat.ExpatError, ValueError, LookupError) as error:
        raise ScenarioError(f"{path}: {name} is not sound XML ({_short(error)})") from error


def _is_xml(head: bytes) -> bool:
    """True if a part begins like XML in any coding; pictures and other binary parts do not."""
    plain = head.removeprefix(b"\xef\xbb\xbf").replace(b"\0", b"").lstrip(b"\xff\xfe \t\r\n")
    return plain.startswith(b"<")


class _Scan:
    """One XML part as a stream of elements, counted against the budgets."""

    def __init__(self, count: _Count) -> None:
        self.count = count
        self.root = ""
        self.depth = self.own = 0
        self.row = self.column = 0
        self.last_row = self.last_column = 0
        self.text_of = ""  # v, f or t while one is open
        self.letters = 0
        self.number = False
        self.shared: dict[str, int] = {}
        self.shared_key: str | None = None
        self.parser = expat.ParserCreate()
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.StartDoctypeDeclHandler = self._refuse_doctype

    def _refuse_doctype(self, *_: Any) -> None:
        raise _Refused("declares XML entities; no spreadsheet program writes that")

    def _start(self, tag: str, attributes: dict[str, str]) -> None:
        name = tag.rpartition(":")[2]
        self.root = self.root or name
        self.depth += 1
        self.own += 1
        self.count.elements += 1
        if self.root == "sst":
            self.count.shared_texts += name == "si"
        elif self.root == "worksheet":
            self._start_in_sheet(name, attributes)
        if name in ("v", "f", "t"):
            self.text_of, self.letters = name, 0
        self._check_counts()

    def _check_counts(self) -> None:
        bulk = self.root in ("sst", "worksheet")
        for number, limit, what in (
            (self.depth, NESTING, "levels of elements"),
            (self.count.elements, ELEMENTS, "elements"),
            (0 if bulk else self.own, OTHER_ELEMENTS, "elements"),
            (self.count.shared_texts, SHARED_TEXTS, "shared texts"),
            (self.count.cells, CELLS, "cells"),
        ):
            if number > limit:
                raise _Refused(f"has more than {limit} {what}")

    def _start_in_sheet(self, name: str, attributes: dict[str, str]) -> None:
        if name == "c":
            self.count.cells += 1
            self.number = attributes.get("t", "n") == "n"
            self._place_cell(attributes.get("r"))
        elif name == "row":
            self.row = int(attributes.get("r") or self.row + 1)
            self.column = 0  # an empty row may stand anywhere: LibreOffice writes a last one where a row was deleted
        elif name in _AREAS:
            self.count.cells += _area(attributes.get(_AREAS[name], "A1"))
        elif name == "f" and attributes.get("t") == "shared":
            self.shared_key = attributes.get("si", "")
            self.count.shared_letters += self.shared.get(self.shared_key, 0)
            if self.count.shared_letters > SHARED_FORMULA_LETTERS:
                raise _Refused(f"repeats shared formulas of more than {SHARED_FORMULA_LETTERS} letters")

    def _place_cell(self, reference: str | None) -> None:
        """A reader lays out the whole rectangle up to the farthest cell, so its area counts and not the cells alone."""
        row, self.column = _place(reference) if reference else (self.row, self.column + 1)
        if not 0 < max(row, self.row) <= ROWS:
            raise _Refused(f"has a cell in row {max(row, self.row)}; allowed are {ROWS} rows")
        self.last_row, self.last_column = max(self.last_row, row), max(self.last_column, self.column)
        if self.last_row * self.last_column > AREA:
            raise _Refused(
                f"reaches to row {self.last_row} and column {self.last_column}: more than {AREA} places; "
                "delete the cells far from the list and save it again"
            )

    def _text(self, data: str) -> None:
        if not self.text_of:
            return
        self.letters += len(data)
        in_sheet = self.root == "worksheet"
        limit = FORMULA_LETTERS if self.text_of == "f" else CELL_LETTERS
        if in_sheet and self.text_of == "v" and self.number:
            limit = NUMBER_LETTERS
        if self.letters > limit:
            raise _Refused(f"has a cell of more than {limit} letters")

    def _end(self, tag: str) -> None:
        self.depth -= 1
        if self.text_of == "f" and self.shared_key is not None:
            self.shared[self.shared_key] = max(self.letters, self.shared.get(self.shared_key, 0))
            self.shared_key = None
        if tag.rpartition(":")[2] == self.text_of:
            self.text_of = ""


def _place(reference: str) -> tuple[int, int]:
    match = _CELL.fullmatch(reference)
    row, column = (int(match[2]), column_number(match[1])) if match else (ROWS + 1, 0)
    if row > ROWS or column > COLUMNS:
        raise _Refused(f"has a cell {reference[:40]}; allowed are {ROWS} rows and {COLUMNS} columns")
    return row, column


def _area(reference: str) -> int:
    first, _, last = reference.partition(":")
    (top, left), (bottom, right) = _place(first), _place(last or first)
    return (bottom - top + 1) * (right - left + 1)
