"""Putting the add-in into Excel on Windows, checking it, and taking it out again, told in plain words.

The add-in is a copy of the empty add-in that comes with xlwings, filled by Excel itself with the wrappers of our functions and
saved into Excel's start folder. This cannot be run elsewhere, so it is kept thin: each step is one call of xlwings or Excel.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from xlfab import __version__
from xlfab.core.errors import HostError

MODULE = "xlfab.hosts.excel"
ADDIN = "xlfab.xlam"
_TEMPLATE = "quickstart_addin.xlam"  # comes with xlwings; BSD
_SETTINGS = "myaddin.conf"  # the name that the template's macros look for
_PYTHON = "Interpreter_Win"
_TRUST = (
    "Excel did not let the functions be written. In Excel: File, Options, Trust Center, Trust Center Settings, Macro Settings: "
    "tick 'Trust access to the VBA project object model', close Excel, run this command again; you can untick it afterwards."
)


def require_windows() -> None:
    """HostError with the reason and the alternatives where there is no Excel with COM."""
    if sys.platform != "win32":
        raise HostError(
            "Excel can call Python functions on Windows only, so there is nothing to install here. "
            "Workbooks of the flavours 'portable' and 'names' need no add-in; for LibreOffice use 'xlfab calc install'."
        )


def _excel() -> Any:
    """An Excel of our own, unseen."""
    import xlwings

    try:
        return xlwings.App(visible=False, add_book=False)
    except Exception as error:
        raise HostError(f"Excel did not start: {error}. Is a desktop Excel installed?") from error


def _start_folder(app: Any) -> Path:
    return Path(app.startup_path)


def install(tell: Callable[[str], None] = print) -> Path:
    """Build the add-in and put it into Excel's start folder; returns where it is."""
    require_windows()
    import xlwings

    app = _excel()
    try:
        target = _start_folder(app) / ADDIN
        with tempfile.TemporaryDirectory() as folder:
            made = Path(folder) / ADDIN
            shutil.copyfile(Path(xlwings.__file__).parent / _TEMPLATE, made)
            book = app.books.open(str(made))
            _write_settings(book)
            _write_functions(book)
            book.save()
            book.close()
            target.parent.mkdir(parents=True, exist_ok=True)
            with _not_while_excel_holds(target):
                shutil.copyfile(made, target)
    finally:
        app.quit()
    tell(f"The add-in was written to {target}; Excel loads it at every start.")
    tell(f"It calls this Python: {sys.executable}. If you move or remove that Python, run this command again.")
    tell("Start Excel and type =FAB_ABOUT() into a cell: it shows the version.")
    return target


@contextmanager
def _not_while_excel_holds(target: Path) -> Iterator[None]:
    """Windows lets nobody change a file that a program has open."""
    try:
        yield
    except PermissionError as error:
        raise HostError(f"{target} is in use: close Excel everywhere and run this command again") from error


def _settings(book: Any) -> Iterator[tuple[int, str, Any]]:
    """Row, name and value of what the add-in's macros look up."""
    sheet = book.sheets[_SETTINGS]
    for row in range(1, 20):
        yield row, sheet.range((row, 1)).value, sheet.range((row, 2)).value


def _write_settings(book: Any) -> None:
    """Tell the add-in which Python to call and where its functions are."""
    sheet = book.sheets["_" + _SETTINGS]
    sheet.name = _SETTINGS
    wanted = {_PYTHON: sys.executable, "UDF Modules": MODULE}
    for row, key, _ in _settings(book):
        if key in wanted:
            sheet.range((row, 2)).value = wanted.pop(key)
    if wanted:
        raise HostError(f"the add-in template of this xlwings lacks the settings {', '.join(wanted)}; update xlwings")


def _write_functions(book: Any) -> None:
    from xlwings.udfs import import_udfs

    try:
        import_udfs(MODULE, book.api)  # type: ignore[no-untyped-call]
    except Exception as error:  # Excel's refusal has no class of its own
        raise HostError(f"{_TRUST} ({error})") from error


def check(tell: Callable[[str], None] = print) -> bool:
    """Say whether the add-in is in place, and whether the Python it calls has this xlfab."""
    require_windows()
    app = _excel()
    try:
        target = _start_folder(app) / ADDIN
        if not target.exists():
            tell(f"The add-in is not installed: {target} is not there. Run 'xlfab excel install'.")
            return False
        book = app.books.open(str(target), read_only=True)
        python = next((str(value) for _, key, value in _settings(book) if key == _PYTHON), "")
        book.close()
    finally:
        app.quit()
    found = _version_of(python)
    if found != __version__:
        what = f"has xlfab {found}" if found else "does not answer with an xlfab"
        tell(f"The add-in is in place, but the Python it calls, {python}, {what}. Run 'xlfab excel install'.")
        return False
    tell(f"The add-in is in place: {target}. It calls {python}. In Excel, =FAB_ABOUT() shows the version, {found}.")
    return True


def _version_of(python: str) -> str:
    """The version of xlfab that a Python has; nothing where there is none."""
    try:
        asked = [python, "-c", "import xlfab; print(xlfab.__version__)"]
        return subprocess.run(asked, capture_output=True, text=True, timeout=60, check=True).stdout.strip()
    except (OSError, subprocess.SubprocessError):
        return ""


def remove(tell: Callable[[str], None] = print) -> bool:
    """Take the add-in out of Excel's start folder."""
    require_windows()
    app = _excel()
    try:
        target = _start_folder(app) / ADDIN
    finally:
        app.quit()
    if not target.exists():
        tell("Nothing to remove: the add-in is not installed.")
        return False
    with _not_while_excel_holds(target):
        target.unlink()
    tell(f"The add-in was removed: {target} is gone. Workbooks that call its functions keep their last values.")
    return True
