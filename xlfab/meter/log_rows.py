"""A logger's file as headings and batches of rows, read as a stream: text in any usual coding, or an .xlsx workbook.

Nothing is held but one batch. A row whose number of fields differs is set aside and counted, never shifted into other columns.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import islice
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import check_size
from xlfab.core.writing import CONTROLS
from xlfab.meter.log_columns import UNITS

LOG_BYTES = 1_500_000_000  # 60 days at 1 s with two columns are 150 MB, with twenty columns about 1 GB
LINE_LETTERS = 20_000
HEAD_ROWS, SAMPLES = 400, 400
BATCH = 100_000
SEPARATORS = (";", "\t", "|", ",")
_NUMBER = re.compile(
    r"[-+−]?[0-9][0-9.,'’\u00a0\u2009\u202f ]{0,30}([eE][+-]?[0-9]{1,3})?\s*(k|M)?(W|Wh|VA|var)?$", re.ASCII
)
_DATED = re.compile(r"[0-9]{1,4}[-./:][0-9]{1,2}[-./:][0-9]")


@dataclass
class Rows:
    """A file's headings, a sample of its rows from all over it, and what was set aside while its rows were read."""

    path: Path
    headings: list[str]
    sample: list[list[Any]]
    first_row: int  # line (or row of the sheet) of the first reading, from 1
    coding: str = ""
    separator: str = ""  # of a text; blank for a workbook
    odd: Counter[int] = field(default_factory=Counter)  # rows set aside, by their number of fields
    odd_line: int = 0

    def columns(self, places: list[int]) -> Iterator[tuple[int, list[tuple[Any, ...]]]]:
        """Batches of the columns at these places, each with the line of its first row."""
        width = len(self.headings)
        line = self.first_row
        stream = self._rows()
        while batch := list(islice(stream, BATCH)):
            sound = [row for row in batch if len(row) == width]
            if len(sound) < len(batch):
                sound = [row for row in _fitted(batch, width) if len(row) == width]
                self._set_aside(batch, width, line)
            if sound:
                whole = list(zip(*sound, strict=True))
                yield line, [whole[place] for place in places]
            line += len(batch)

    def _set_aside(self, batch: list[list[Any]], width: int, line: int) -> None:
        for place, row in enumerate(batch):
            if row and len(row) != width:
                self.odd[len(row)] += 1
                self.odd_line = self.odd_line or line + place

    def _rows(self) -> Iterator[list[Any]]:
        if not self.separator:
            width = len(self.headings)
            for row in islice(sheet_rows(self.path), self.first_row - 1, None):
                yield row + [""] * (width - len(row)) if row else row
            return
        with self.path.open(encoding=self.coding, errors="replace", newline="") as handle:
            for _ in range(self.first_row - 1):
                handle.readline(LINE_LETTERS)
            yield from _parsed(self.path, _lines(self.path, handle), self.separator)


def open_log(path: Path) -> Rows:
    """Find coding, separator, headings and the first reading of a file. ScenarioError where there are none."""
    check_size(path, LOG_BYTES)
    if path.suffix.lower() in (".xlsx", ".xlsm"):
        head = list(islice(sheet_rows(path), HEAD_ROWS))
        first, width = _first(head, path.name)
        sample = [row for row in head[first:] if len(row) == width]
        return Rows(path, _headings(head, first, width, path.name), sample, first + 1)
    coding = text_coding(path)
    with path.open(encoding=coding, errors="replace", newline="") as handle:
        lines = list(islice(_lines(path, handle), HEAD_ROWS))
    separator, head = _separated(path, lines)
    first, width = _first(head, path.name)
    headings = _headings(head, first, width, path.name)
    spread = list(_fitted(_parsed(path, _spread_lines(path, coding), separator), width))
    sample = [row for row in [*_fitted(head[first:], width), *spread] if len(row) == width]
    return Rows(path, headings, sample, first + 1, coding, separator)


# --- text ---------------------------------------------------------------------------------------------------------------


def text_coding(path: Path) -> str:
    """Coding of a text: UTF-8, UTF-16 with or without its mark, else Windows-1252.

    UTF-16 without a mark shows by its zero bytes: digits and separators have one in every pair of bytes, always on one side.
    """
    import codecs

    with path.open("rb") as file:
        head = file.read(4096)
        if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
            return "utf-16"
        even, odd = head[::2].count(0), head[1::2].count(0)
        if max(even, odd) > 0.3 * len(head) / 2:
            if min(even, odd) > 0.02 * len(head):
                raise ScenarioError(f"{path.name}: it holds zero bytes, so it is no text file; export the log as CSV")
            return "utf-16-be" if even > odd else "utf-16-le"
        if even + odd:
            raise ScenarioError(f"{path.name}: it holds zero bytes, so it is no text file; export the log as CSV")
        decoder = codecs.getincrementaldecoder("utf-8")()
        file.seek(0)
        try:
            while piece := file.read(1 << 20):
                decoder.decode(piece)
            decoder.decode(b"", final=True)
        except UnicodeDecodeError:
            return "cp1252"
    return "utf-8-sig"


def _lines(path: Path, handle: Any) -> Iterator[str]:
    """Lines of bounded length."""
    number = 0
    while line := handle.readline(LINE_LETTERS + 1):
        number += 1
        if len(line) > LINE_LETTERS:
            raise ScenarioError(f"{path.name}: a line of more than {LINE_LETTERS} characters; no log has such lines")
        yield line


def _spread_lines(path: Path, coding: str) -> Iterator[str]:
    """Single lines from places spread evenly over the whole file: what decides the date's order may stand late in it."""
    import io

    size = path.stat().st_size
    wide = 2 if coding.startswith("utf-16") else 1
    plain = {"utf-8-sig": "utf-8", "utf-16": _byte_order(path)}.get(coding, coding)
    with path.open("rb") as file:
        for number in range(1, SAMPLES):
            file.seek(size * number // SAMPLES // wide * wide)
            text = io.StringIO(file.read(2000 * wide).decode(plain, errors="replace"), newline=None)
            text.readline()
            line = text.readline()
            if line.endswith("\n"):
                yield line


def _byte_order(path: Path) -> str:
    with path.open("rb") as file:
        return "utf-16-le" if file.read(2) == b"\xff\xfe" else "utf-16-be"


def _parsed(path: Path, lines: Iterable[str], separator: str) -> Iterator[list[str]]:
    """Fields of each line. A quotation mark that is never closed would swallow the rows after it, so it is refused."""
    reader = csv.reader(lines, delimiter=separator, skipinitialspace=True)
    before = 0
    try:
        for row in reader:
            if reader.line_num - before > 20:
                raise ScenarioError(f"{path.name}: a quotation mark opens near line {before + 1} and is not closed")
            before = reader.line_num
            yield row
    except csv.Error as error:
        raise ScenarioError(f"{path.name}, line {reader.line_num}: cannot be read as a table ({error})") from error


def _fitted(rows: Iterable[list[str]], width: int) -> Iterator[list[str]]:
    """Rows without the blank field that a separator at the end of a line makes."""
    for row in rows:
        if len(row) == width + 1 and not row[-1].strip():
            row.pop()
        yield row


def _separated(path: Path, lines: list[str]) -> tuple[str, list[list[str]]]:
    """The separator that gives the most lines of readings, and the fields of each line."""
    best: tuple[int, str, list[list[str]]] = (0, "", [])
    for separator in SEPARATORS:
        rows = list(_parsed(path, lines, separator))
        widths = Counter(len(row) for row in rows if is_reading(row))
        count = max(widths.values(), default=0)
        if count > best[0]:
            best = (count, separator, rows)
    if not best[0]:
        raise ScenarioError(
            f"{path.name}: no rows of a time and numbers were found; allowed separators are ; tab | and ,"
        )
    return best[1], best[2]


# --- a workbook -----------------------------------------------------------------------------------------------------------


def sheet_rows(path: Path) -> Iterator[list[Any]]:
    """Rows of the first sheet that has any, as a stream: numbers as they are, dates as text."""
    from xlfab.meter.log_workbook import stream_rows

    return stream_rows(path)


# --- headings and the first reading --------------------------------------------------------------------------------------


def is_reading(row: list[Any]) -> bool:
    """True if a row has a number or a date in its first three fields and a number after its first."""
    parts = [str(part).strip() for part in row]
    dated = any(_NUMBER.match(part) or _DATED.match(part) for part in parts[:3])
    return len(parts) > 1 and dated and any(_NUMBER.match(part) for part in parts[1:])


def _first(rows: list[list[Any]], file: str) -> tuple[int, int]:
    """Place of the first reading, and how many fields the readings have."""
    widths = Counter(len(row) for row in rows if is_reading(row))
    if not widths:
        raise ScenarioError(
            f"{file}: no rows of a time and numbers were found; the file needs a time and a power in each row"
        )
    width = widths.most_common(1)[0][0]
    reads = [len(row) == width and is_reading(row) for row in rows]
    headed = [
        n for n in range(1, len(rows)) if reads[n] and _words_alone(rows[n - 1]) and np.mean(reads[n : n + 20]) > 0.7
    ]
    # a line before the headings can look like a reading; what follows it then does not
    steady = [n for n in range(len(rows)) if reads[n] and all(reads[n : n + 4])]
    return (headed or steady or [reads.index(True)])[0], width


def _words_alone(row: list[Any]) -> bool:
    """True if a row has several fields and none of them is a number or a date: headings."""
    parts = [str(part).strip() for part in row]
    return sum(map(bool, parts)) > 1 and not any(_NUMBER.match(part) or _DATED.match(part) for part in parts)


def _headings(rows: list[list[Any]], first: int, width: int, file: str) -> list[str]:
    """The line above the first reading; with the one above that where it holds units alone."""
    above = [[str(part).strip() for part in row] for row in rows[max(0, first - 2) : first]]
    if above and len(above[-1]) == width + 1 and not above[-1][-1]:
        above[-1].pop()
    if not above or len(above[-1]) != width:
        if above and len(above[-1]) > 1:
            raise ScenarioError(
                f"{file}: the headings have {len(above[-1])} fields and the rows {width}; is a comma both separator and decimal "
                "sign? Export with semicolons or tabs between the columns"
            )
        if width != 2:
            raise ScenarioError(f"{file}: the columns have no headings; add a line with a name and a unit for each")
        return ["time", "power"]
    units_alone = len(above) == 2 and len(above[0]) == width and _units_alone(above[1])
    parts = zip(*above, strict=True) if units_alone else [(part,) for part in above[-1]]
    return [CONTROLS.sub("?", " ".join(part for part in names if part).strip()[:200]) for names in parts]


def _units_alone(row: list[str]) -> bool:
    known = [part for part in row if part.strip("[]() ").lower() in UNITS]
    return bool(known) and all(len(part) <= 6 for part in row)
