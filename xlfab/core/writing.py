"""Files that xlfab writes: whole or not at all, and text that a spreadsheet would take for a formula made harmless."""

from __future__ import annotations

import csv
import io
import os
import shutil
import tempfile
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from xlfab.core.errors import ScenarioError

# CWE-1236 and OWASP name = + - @ tab and carriage return; NUL is ASVS 1.2.10; the last four are their full-width forms
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")


def safe_text(text: str) -> str:
    """A text for a CSV field: with an apostrophe before it where a spreadsheet would read it as a formula.

    >>> safe_text("=1+1"), safe_text("-bracket"), safe_text("plate")
    ("'=1+1", "'-bracket", 'plate')
    """
    return "'" + text if text.startswith(_STARTS) else text


def plain_text(text: str) -> str:
    """The text as it was before `safe_text`.

    >>> plain_text("'=1+1"), plain_text("'quoted'")
    ('=1+1', "'quoted'")
    """
    return text[1:] if text.startswith("'") and text[1:].startswith(_STARTS) else text


@contextmanager
def whole_file(path: Path, replace: bool = False) -> Iterator[Path]:
    """A place to write to; what was written there becomes `path` in one step when the block ends without an error."""
    if path.exists() and not replace:
        raise ScenarioError(f"{path} is there already; give another name or remove it")
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=".writing-", suffix=path.suffix, dir=path.parent)
    os.close(handle)
    place = Path(name)
    try:
        yield place
        mask = os.umask(0)  # a temporary file is private; the result gets the rights of any other new file
        os.umask(mask)
        place.chmod(0o666 & ~mask)
        os.replace(place, path)
    finally:
        place.unlink(missing_ok=True)


@contextmanager
def whole_folder(path: Path) -> Iterator[Path]:
    """A folder to write into; it becomes `path`, which must not exist, when the block ends without an error."""
    if path.exists():
        raise ScenarioError(f"{path} is there already; give another name or remove it")
    path.parent.mkdir(parents=True, exist_ok=True)
    place = Path(tempfile.mkdtemp(prefix=".writing-", dir=path.parent))
    try:
        yield place
        place.chmod(0o755)
        os.replace(place, path)
    finally:
        shutil.rmtree(place, ignore_errors=True)


@contextmanager
def whole_copy(source: Path, path: Path) -> Iterator[Path]:
    """A copy of a folder's files to change; it becomes `path` when the block ends without an error."""
    with whole_folder(path) as place:
        for item in sorted(source.iterdir()):
            if item.is_file():
                shutil.copyfile(item, place / item.name)
        yield place


def csv_text(header: Sequence[str], rows: Iterable[Sequence[str | float | int | None]]) -> str:
    """Rows as CSV: texts made safe, numbers left alone, None as an empty field."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([_field(value) for value in row])
    return out.getvalue()


def _field(value: str | float | int | None) -> str:
    if value is None:
        return ""
    return safe_text(value) if isinstance(value, str) else format(value, ".12g")
