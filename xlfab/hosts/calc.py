"""Putting the add-in into LibreOffice, checking it, and taking it out again, told in plain words."""

from __future__ import annotations

import os
import re
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from xlfab import __version__
from xlfab.core.errors import HostError
from xlfab.hosts import calc_package, office_programs

_AGAIN = "Close LibreOffice everywhere (also the quick starter) and start it again, then type =FAB_ABOUT() into a cell."
_NEEDED = (25, 2)  # the first LibreOffice that binds an add-in's plain names in an .xlsx


def _for_all_users() -> bool:
    # LibreOffice lets the system's administrator install for everybody only
    return os.name != "nt" and os.geteuid() == 0


def _unopkg(action: str, what: str | Path = "", *options: str) -> str:
    shared = ["--shared"] if _for_all_users() else []
    return office_programs.run([office_programs.needed("unopkg"), action, *shared, *options, *([what] if what else [])])


def _installed() -> str | None:
    """The version that LibreOffice knows, or None."""
    try:
        words = _unopkg("list", calc_package.IDENTIFIER)
    except HostError as error:
        if "There is no such extension" in str(error) or calc_package.IDENTIFIER in str(error):
            return None
        raise
    found = [line.split(":", 1)[1].strip() for line in words.splitlines() if line.strip().startswith("Version:")]
    return found[0] if found else None


def _say_if_old(tell: Callable[[str], None]) -> None:
    """Older versions know add-in functions in their own files only."""
    found = re.search(r"(\d+)\.(\d+)", office_programs.run([office_programs.needed("soffice"), "--version"]))
    if found and (int(found[1]), int(found[2])) < _NEEDED:
        old, least = (".".join(map(str, pair)) for pair in (found.groups(), _NEEDED))
        tell(
            f"This is LibreOffice {old}: it calls the functions in .ods files; in .xlsx files they need {least} or later."
        )


def _take_out() -> None:
    with suppress(HostError):
        _unopkg("remove", calc_package.IDENTIFIER)


def install(tell: Callable[[str], None] = print) -> None:
    """Build the add-in and hand it to LibreOffice; one that is there already is replaced."""
    with tempfile.TemporaryDirectory() as folder:
        package = calc_package.build(Path(folder, calc_package.FILE_NAME))
        try:
            _unopkg("add", package, "--force")
        except HostError:
            _take_out()  # LibreOffice would list what it took half
            raise
    if _installed() != __version__:
        raise HostError("LibreOffice took the add-in but does not list it; close LibreOffice and try again")
    whom = "all users of this computer" if _for_all_users() else "you"
    tell(
        f"The add-in xlfab {__version__} is installed in LibreOffice for {whom}. It needs no Python but LibreOffice's own."
    )
    tell(_AGAIN)
    _say_if_old(tell)


def check(tell: Callable[[str], None] = print) -> bool:
    """Say whether the add-in is installed, and whether it is of this version."""
    found = _installed()
    if found is None:
        tell("The add-in is not installed in LibreOffice. Run 'xlfab calc install'.")
        return False
    if found != __version__:
        tell(f"The add-in is installed, but as version {found}; this is {__version__}. Run 'xlfab calc install'.")
        return False
    tell(f"The add-in xlfab {found} is installed in LibreOffice. In Calc, =FAB_ABOUT() shows the version.")
    _say_if_old(tell)
    return True


def remove(tell: Callable[[str], None] = print) -> bool:
    """Take the add-in out of LibreOffice."""
    if _installed() is None:
        tell("Nothing to remove: the add-in is not installed in LibreOffice.")
        return False
    _unopkg("remove", calc_package.IDENTIFIER)
    tell(
        "The add-in was removed from LibreOffice. Workbooks that call its functions show #NAME? when they recalculate."
    )
    return True
