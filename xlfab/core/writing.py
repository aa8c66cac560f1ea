"""Files that xlfab writes: whole or not at all, and text that a spreadsheet would take for a formula made harmless."""

from __future__ import annotations

import csv
import errno
import io
import os
import platform
import re
import shutil
import tempfile
import time
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from xlfab.core.errors import ScenarioError, XlfabError

# CWE-1236 and OWASP name = + - @ tab and carriage return; NUL is ASVS 1.2.10; the last four are their full-width forms
_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")

# what no text of a cell holds: such characters end a line unseen, steer a terminal, or break a workbook's XML
CONTROLS = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x84\x86-\x9f]")
_MARK, _DAY = ".writing-", 86_400


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


_inputs: set[Path] | None = None  # what a command has read so far; None outside of a command


@contextmanager
def inputs_kept() -> Iterator[None]:
    """While this lasts nothing is written over a file that was read: the whole run of a command."""
    global _inputs
    before, _inputs = _inputs, set()
    try:
        yield
    finally:
        _inputs = before


def note_input(path: Path) -> None:
    """Say that a file is being read."""
    if _inputs is not None:
        _inputs.add(path.resolve())


def refuse_input(path: Path) -> None:
    """Refuse to write over a file that this command reads."""
    if _inputs is not None and path.resolve() in _inputs:
        raise ScenarioError(f"{path} is what this command reads: give another name for what it writes")


@contextmanager
def whole_file(path: Path, replace: bool = False) -> Iterator[Path]:
    """A place to write to; what was written there becomes `path` in one step when the block ends without an error.

    Without `replace` a file that is there stays, also one that another run has written in the meantime.
    """
    refuse_input(path)
    if path.exists() and not replace:
        raise ScenarioError(f"{path} is there already; give another name or remove it")
    with _named(path):
        place = _beside(path, folder=False)
        try:
            yield place
            mask = os.umask(0)  # a temporary file is private; the result gets the rights of any other new file
            os.umask(mask)
            place.chmod(0o666 & ~mask)
            if replace:
                os.replace(place, path)
            else:
                _put(place, path)
        finally:
            place.unlink(missing_ok=True)


@contextmanager
def whole_folder(path: Path) -> Iterator[Path]:
    """A folder to write into; it becomes `path`, which must not exist, when the block ends without an error."""
    if path.exists():
        raise ScenarioError(f"{path} is there already; give another name or remove it")
    with _named(path):
        place = _beside(path, folder=True)
        try:
            yield place
            place.chmod(0o755)
            if path.exists():
                raise FileExistsError
            os.rename(place, path)  # refused where another run has written a folder in the meantime
        finally:
            shutil.rmtree(place, ignore_errors=True)


@contextmanager
def _named(path: Path) -> Iterator[None]:
    """Turn what the system says while writing (full disk, no right to write) into one message that names the file."""
    try:
        yield
    except XlfabError:
        raise
    except Exception as error:
        found = next((item for item in (error, *error.args) if isinstance(item, OSError)), None)
        if found is None:
            raise
        if isinstance(found, FileExistsError) or found.errno == errno.ENOTEMPTY:
            raise ScenarioError(f"{path} is there already; give another name or remove it") from error
        raise ScenarioError(f"{path}: cannot be written: {found.strerror or found}") from error


def _beside(path: Path, folder: bool) -> Path:
    """A new temporary file or folder beside the target; what a killed run has left there is removed first."""
    path.parent.mkdir(parents=True, exist_ok=True)
    _remove_leftovers(path.parent)
    prefix = f"{_MARK}{_host()}-{os.getpid()}-"
    if folder:
        return Path(tempfile.mkdtemp(prefix=prefix, dir=path.parent))
    handle, name = tempfile.mkstemp(prefix=prefix, suffix=path.suffix, dir=path.parent)
    os.close(handle)
    return Path(name)


def _put(place: Path, path: Path) -> None:
    """Give a finished file its name, unless the name has been taken in the meantime."""
    try:
        os.link(place, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without hard links
        os.close(os.open(path, os.O_CREAT | os.O_EXCL))
        os.replace(place, path)


def _host() -> str:
    return f"{zlib.crc32(platform.node().encode()):08x}"


def _remove_leftovers(folder: Path) -> None:
    """Remove temporary files of runs that are no more; those of another computer, or of unknown state, after a day."""
    for item in folder.glob(f"{_MARK}*"):
        host, _, rest = item.name.removeprefix(_MARK).partition("-")
        number = rest.partition("-")[0]
        own = host == _host() and number.isdigit() and os.name == "posix"
        try:
            old = time.time() - item.stat().st_mtime > _DAY
            if (own and _ended(int(number))) or old:
                shutil.rmtree(item) if item.is_dir() else item.unlink()
        except OSError:  # somebody else was faster, or it is not ours to remove
            continue


def _ended(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False


@contextmanager
def whole_copy(source: Path, path: Path) -> Iterator[Path]:
    """A copy of a folder's files to change; it becomes `path` when the block ends without an error."""
    with whole_folder(path) as place:
        for item in sorted(source.iterdir()):
            if item.is_file():
                shutil.copyfile(item, place / item.name)
        yield place


def csv_text(header: Sequence[str], rows: Iterable[Sequence[str | float | int | None]], digits: int = 12) -> str:
    """Rows as CSV: texts made safe, numbers with so many digits (17: each reads back the same), None and NaN as empty fields."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([_field(value, digits) for value in row])
    return out.getvalue()


def _field(value: str | float | int | None, digits: int) -> str:
    if value is None or value != value:
        return ""
    if isinstance(value, str):
        return safe_text(CONTROLS.sub(" ", value))
    return repr(float(value)) if digits > 15 else format(value, f".{digits}g")
