"""`xlfab doctor`: what is installed, which spreadsheet programs are there, and what to do about what is missing."""

from __future__ import annotations

import json
import os
import platform
import shutil
import subprocess
import sys
import tempfile
from dataclasses import asdict, dataclass
from importlib.metadata import PackageNotFoundError, requires, version
from importlib.util import find_spec
from pathlib import Path
from typing import Annotated, Any

import typer

from xlfab.core.console import say

NEEDED = "xlfab"
FONTS = ("DejaVu Sans", "Liberation Sans", "Carlito", "Arial", "Calibri")
# what an extra brings: its package, and the command that needs it
EXTRAS = {"meter": (("matplotlib",), "the picture of xlfab meter")}
_OLDEST_LET = (24, 8)  # LibreOffice since when LET is understood


@dataclass(frozen=True)
class Finding:
    """One line: what was looked at, whether it is right, what was found, and what to do."""

    what: str
    good: bool
    found: str
    remedy: str = ""


def findings() -> list[Finding]:
    """Everything that was looked at."""
    return [_python(), *_packages(), *_extras(), _office(), _gnumeric(), _excel(), _fonts(), _folder(), _terminal()]


def _python() -> Finding:
    from xlfab import __version__

    return Finding(
        "xlfab", True, f"{__version__} on Python {platform.python_version()}, {platform.platform(terse=True)}"
    )


def _packages() -> list[Finding]:
    missing, found = [], []
    for line in requires(NEEDED) or []:
        name = line.split(";")[0].split("[")[0].strip().split(" ")[0].rstrip("<>=!~0123456789.,")
        if "extra ==" in line or ("win32" in line and sys.platform != "win32"):
            continue
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            missing.append(name)
    if missing:
        return [Finding("packages", False, f"missing: {', '.join(missing)}", "pip install --force-reinstall xlfab")]
    return [Finding("packages", True, ", ".join(found))]


def _extras() -> list[Finding]:
    lines = []
    for extra, (modules, command) in EXTRAS.items():
        absent = [name for name in modules if find_spec(name) is None]
        remedy = f'only for {command}: pip install "xlfab[{extra}]"' if absent else ""
        lines.append(
            Finding(f"extra {extra}", not absent, f"missing: {', '.join(absent)}" if absent else "there", remedy)
        )
    return lines


def _version_of(program: str) -> str:
    try:
        done = subprocess.run([program, "--version"], capture_output=True, text=True, timeout=60, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return (done.stdout or done.stderr).strip().split("\n")[0][:80]


def _office() -> Finding:
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        return Finding(
            "LibreOffice",
            False,
            "not found",
            "needed to print pages (xlfab pdf, xlfab page): install LibreOffice 24.8 or later",
        )
    said = _version_of(program)
    numbers = [
        int(part) for word in said.split() if word[:1].isdigit() for part in word.split(".")[:2] if part.isdigit()
    ]
    good = tuple(numbers[:2]) >= _OLDEST_LET
    remedy = "" if good else "older than 24.8: it does not know LET; build with --flavour plain, or install a later one"
    return Finding("LibreOffice", good, f"{said or 'version unknown'} at {program}", remedy)


def _gnumeric() -> Finding:
    program = shutil.which("ssconvert")
    return Finding("Gnumeric", True, f"{_version_of(program)}" if program else "not found (not needed)")


def _excel() -> Finding:
    if sys.platform != "win32":
        return Finding("Excel", True, "its add-in is for Windows; workbooks without an add-in work in every Excel")
    there = find_spec("xlwings") is not None
    return Finding(
        "Excel",
        there,
        "xlwings is there" if there else "xlwings is missing",
        "" if there else "pip install xlwings, then: xlfab excel install",
    )


def _fonts() -> Finding:
    lister = shutil.which("fc-list")
    if lister is None:
        return Finding("fonts", True, "not looked at: no fc-list on this system")
    try:
        listed = subprocess.run([lister, ":", "family"], capture_output=True, text=True, timeout=60, check=False).stdout
    except (OSError, subprocess.TimeoutExpired):
        listed = ""
    found = [name for name in FONTS if name in listed]
    remedy = "" if found else "pages print in whatever font is there: install Liberation or DejaVu fonts"
    return Finding("fonts", bool(found), ", ".join(found) or "none of the usual ones", remedy)


def _folder() -> Finding:
    try:
        with tempfile.TemporaryFile(dir=Path.cwd()):
            pass
    except OSError as error:
        return Finding(
            "this folder", False, f"cannot be written to: {error.strerror}", "change to a folder of your own"
        )
    free = shutil.disk_usage(Path.cwd()).free
    good = free > 200_000_000
    return Finding(
        "this folder",
        good,
        f"{free / 1e9:.1f} GB free",
        "" if good else "make room: a workbook needs up to 100 MB while it is built",
    )


def _terminal() -> Finding:
    coding = (getattr(sys.stdout, "encoding", "") or "unknown").lower()
    good = coding.replace("-", "") == "utf8"
    return Finding(
        "terminal",
        True,
        f"{coding}, {os.environ.get('TERM', 'no TERM')}",
        "" if good else "signs such as ± are printed as +/-; set LANG=C.UTF-8 to see them",
    )


def doctor(
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings as JSON, for other programs.")] = False,
) -> None:
    """Look at the installation, the spreadsheet programs and the fonts; say what to do about what is missing."""
    found = findings()
    if as_json:
        print(json.dumps([asdict(item) for item in found], indent=2, ensure_ascii=False))
        return
    for item in found:
        say(f"{'ok     ' if item.good else 'look at'} {item.what}: {item.found}", soft_wrap=True)
        if item.remedy:
            say(f"        -> {item.remedy}", soft_wrap=True)


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command()(doctor)
