"""The one reader of text, CSV and TOML: budgets are checked before anything else looks at the content.

Bytes, lines, length of a line and of a cell, nesting and parts of a key are bounded here once, far above any list of parts or any
shop. Whatever is refused is refused with file, line and reason. Numbers are read by `core.numbers`, workbooks by
`core.workbook_reading`.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.writing import CONTROLS, note_input, plain_text

FILE_BYTES = 20_000_000
ROWS, COLUMNS = 50_000, 1_000
LINE_LETTERS, CELL_LETTERS, CELL_LINES = 100_000, 4_000, 50
TOML_BYTES, TOML_LINE_LETTERS = 2_000_000, 20_000
KEY_PARTS, NESTING, TOML_VALUES, TEXT_LETTERS = 12, 8, 200_000, 10_000
SEPARATORS = (";", "\t", ",", "|")
_PART = r"""(?:[\w-]+|"[^"\n]*"|'[^'\n]*')"""
# tomllib's memory grows with the square of a dotted key's parts
_LONG_KEY = re.compile(rf"(?<![\w-]){_PART}(?:[ \t]*\.[ \t]*{_PART}){{{KEY_PARTS},}}[ \t]*[=\]]")


def check_size(path: Path, limit: int = FILE_BYTES) -> None:
    """Refuse a file that is missing, no plain file, empty or too large."""
    if not path.is_file():
        raise ScenarioError(f"{path.name}: there is no such file in '{path.parent}'")
    note_input(path)
    size = path.stat().st_size
    if not 0 < size <= limit:
        raise ScenarioError(f"{path}: {size} bytes; allowed is a file of 1 to {limit} bytes")


def read_bytes(path: Path, limit: int = FILE_BYTES) -> bytes:
    """The bytes of a file that is not too large; ScenarioError where it cannot be read."""
    try:
        check_size(path, limit)
        with path.open("rb") as file:
            return file.read(limit)
    except OSError as error:
        raise ScenarioError(f"{path}: cannot be read: {error.strerror or error}") from error


def read_text(path: Path, limit: int = FILE_BYTES, line_letters: int = LINE_LETTERS) -> str:
    """A text from outside: UTF-8 (with or without mark), UTF-16 with mark, else Windows-1252; zero bytes are refused.

    Control characters, which some programs put in for a line break within a cell, become spaces.
    """
    data = read_bytes(path, limit)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        text = data.decode("utf-16", errors="replace")
    elif b"\0" in data:
        raise ScenarioError(f"{path}: it holds zero bytes, so it is no text file")
    else:
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            text = data.decode("cp1252", errors="replace")
    _check_lines(path, text, line_letters)
    return CONTROLS.sub(" ", text)


def read_utf8(path: Path, limit: int = FILE_BYTES, line_letters: int = LINE_LETTERS) -> str:
    """A text that belongs to a scenario: UTF-8 only, so that no letter of a name is guessed; refusals name the line."""
    raw = read_bytes(path, limit) if not path.is_file() or path.stat().st_size else b""
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise ScenarioError(f"{path.name}: is written in UTF-16; save it as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise ScenarioError(
            f"{path.name}, line {line}: byte {raw[error.start]:#04x} is not UTF-8; save it as UTF-8"
        ) from error
    found = re.search("\0", text) or CONTROLS.search(text)
    if found:
        line = text.count("\n", 0, found.start()) + 1
        what = "zero byte; this is no text file" if found[0] == "\0" else "control character; type the text again"
        raise ScenarioError(f"{path.name}, line {line}: holds a {what}")
    _check_lines(path, text, line_letters)
    return text


def _check_lines(path: Path, text: str, letters: int) -> None:
    start, line = 0, 1
    while len(text) - start > letters:
        end = text.rfind("\n", start, start + letters + 1)
        if end < 0:
            raise ScenarioError(
                f"{path.name}, line {line}: longer than {letters} characters; no list needs such a line"
            )
        line += text.count("\n", start, end + 1)
        start = end + 1


# --- CSV --------------------------------------------------------------------------------------------------------------


def csv_rows(path: Path, text: str, separator: str, strict: bool = False) -> Iterator[tuple[int, list[str]]]:
    """The rows of a CSV text with the line on which each begins; the apostrophe that protects a text is taken off.

    Errors: ScenarioError for too many rows or columns, a cell that is too long, a quotation mark that is never closed; with
    `strict` for text after a closing quotation mark too.
    """
    csv.field_size_limit(FILE_BYTES)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=strict)
    before = count = 0
    try:
        for row in reader:
            line, before, count = before + 1, reader.line_num, count + 1
            if count > ROWS or len(row) > COLUMNS:
                raise ScenarioError(f"{path.name}, line {line}: allowed are {ROWS} rows and {COLUMNS} columns")
            if before - line > CELL_LINES:
                raise ScenarioError(
                    f"{path.name}, line {line}: not a sound CSV file: a quotation mark is opened and not closed"
                )
            if any(len(cell) > CELL_LETTERS for cell in row):
                raise ScenarioError(f"{path.name}, line {line}: a cell is longer than {CELL_LETTERS} characters")
            yield line, [plain_text(cell) for cell in row]
    except csv.Error as error:
        raise ScenarioError(f"{path.name}, line {before + 1}: cannot be read as CSV: {error}") from error


def best_separator(text: str) -> str:
    """The separator of a CSV text (, ; tab |): the one that gives the most rows of one width among the first 1,000."""
    head = io.StringIO(text, newline="").readlines(1_000_000)[:1000]
    best, best_score = SEPARATORS[0], -1
    for separator in SEPARATORS:
        widths: dict[int, int] = {}
        csv.field_size_limit(FILE_BYTES)
        for row in csv.reader(head, delimiter=separator):
            if len(row) > 1:
                widths[len(row)] = widths.get(len(row), 0) + 1
        score = max(widths.values(), default=0)
        if score > best_score:
            best, best_score = separator, score
    return best


def numbered_csv(path: Path) -> list[tuple[int, list[str]]]:
    """The rows of a CSV file from outside, each with its line in the file; the separator is found."""
    text = read_text(path)
    return list(csv_rows(path, text, best_separator(text)))


def read_csv(path: Path) -> list[list[str]]:
    """The rows of a CSV file from outside; the separator is found."""
    return [row for _, row in numbered_csv(path)]


# --- TOML -------------------------------------------------------------------------------------------------------------


def read_toml(path: Path) -> dict[str, Any]:
    """A TOML file as plain values; keys, nesting, texts and the count of values are bounded. A missing key is the caller's matter."""
    return _parsed(path, read_utf8(path, TOML_BYTES, TOML_LINE_LETTERS))


def toml_document(path: Path) -> Any:
    """A TOML file as a document that keeps its comments when it is changed and written again; checked as by `read_toml`."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    text = read_utf8(path, TOML_BYTES, TOML_LINE_LETTERS)
    _parsed(path, text)
    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise ScenarioError(f"{path.name}: is not valid TOML: {error}") from error


def _parsed(path: Path, text: str) -> dict[str, Any]:
    import tomllib

    found = _LONG_KEY.search(text)
    if found:
        line = text.count("\n", 0, found.start()) + 1
        raise ScenarioError(f"{path.name}, line {line}: a key of more than {KEY_PARTS} parts; write single words")
    try:
        data = tomllib.loads(text)
        _check_values(path, data)
    except RecursionError as error:
        raise ScenarioError(f"{path.name}: tables or lists are nested too deep") from error
    except ScenarioError:
        raise
    except ValueError as error:  # TOMLDecodeError, and what Python says of a number with thousands of digits
        raise ScenarioError(f"{path.name}: is not valid TOML: {str(error)[:300]}") from error
    return data


def _check_values(path: Path, data: dict[str, Any]) -> None:
    """Bound nesting, count, keys and texts; a text must not hold control characters."""
    count = 0
    waiting: list[tuple[str, Any, int]] = [("", data, 0)]
    while waiting:
        place, value, depth = waiting.pop()
        count += 1
        if depth > NESTING:
            raise ScenarioError(f"{path.name}: tables or lists are nested too deep")
        if count > TOML_VALUES:
            raise ScenarioError(f"{path.name}: holds more than {TOML_VALUES} values")
        if isinstance(value, dict):
            waiting += [(f"{place}.{key}"[-100:].lstrip("."), item, depth + 1) for key, item in value.items()]
            waiting += [("a key", key, depth) for key in value]
        elif isinstance(value, list):
            waiting += [(place, item, depth + 1) for item in value]
        elif isinstance(value, str) and (len(value) > TEXT_LETTERS or CONTROLS.search(value)):
            what = (
                f"is longer than {TEXT_LETTERS} characters"
                if len(value) > TEXT_LETTERS
                else "holds a control character"
            )
            raise ScenarioError(f"{path.name}: {CONTROLS.sub('?', place)}: the text {what}")
