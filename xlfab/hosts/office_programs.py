"""LibreOffice and Gnumeric as programs: where they are, and a recalculation that is sure to have happened."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from xlfab.core.errors import HostError

_PLACES = {
    "soffice": (
        "libreoffice",
        "/Applications/LibreOffice.app/Contents/MacOS/soffice",
        r"C:\Program Files\LibreOffice\program\soffice.com",
        r"C:\Program Files (x86)\LibreOffice\program\soffice.com",
    ),
    "unopkg": (
        "/Applications/LibreOffice.app/Contents/MacOS/unopkg",
        r"C:\Program Files\LibreOffice\program\unopkg.com",
        r"C:\Program Files (x86)\LibreOffice\program\unopkg.com",
    ),
    "ssconvert": (),
    "node": ("nodejs",),
}
_NAMES = {"soffice": "LibreOffice", "unopkg": "LibreOffice", "ssconvert": "Gnumeric", "node": "Node.js"}
_NOBODY = 65534  # the user with the fewest rights, on every Unix
# without these two settings a file's stored results are shown as they are, and nothing is recalculated
_RECALCULATE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="ODFRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


def find(program: str) -> str | None:
    """The path of `soffice`, `unopkg`, `ssconvert` or `node`: from the search path, else where its installer puts it."""
    return next(filter(None, map(shutil.which, (program, *_PLACES[program]))), None)


def needed(program: str) -> str:
    """The path of a program, or a HostError that says what to install."""
    found = find(program)
    if found is None:
        raise HostError(f"{program} was not found: install {_NAMES[program]}, or add its program folder to PATH")
    return found


def run(command: Sequence[str | Path], timeout_s: float = 600, owner: Path | None = None) -> str:
    """Run a program to its end; HostError with its own words where it fails. Returns what it wrote."""
    try:
        done = subprocess.run(
            [str(item) for item in command],
            capture_output=True,
            text=True,
            errors="replace",
            timeout=timeout_s,
            check=False,
            **as_owner(owner),
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise HostError(f"{Path(command[0]).name} did not run to its end: {error}") from error
    if done.returncode:
        words = (done.stderr.strip() or done.stdout.strip())[-800:]
        raise HostError(f"{Path(command[0]).name} failed (exit {done.returncode}): {words}")
    return done.stdout + done.stderr


@contextmanager
def profile(addin: Path | None = None, recalculate: bool = True) -> Iterator[Path]:
    """A fresh LibreOffice user profile, if wanted with an add-in; gone afterwards. It recalculates every file that it loads, or
    shows stored results as they are.
    """
    with tempfile.TemporaryDirectory(prefix="xlfab_lo_") as folder:
        user = Path(folder, "user")
        user.mkdir()
        if recalculate:
            user.joinpath("registrymodifications.xcu").write_text(_RECALCULATE, encoding="utf-8")
        if addin is not None:
            _add(addin, Path(folder))
        yield Path(folder)


def _add(addin: Path, folder: Path) -> None:
    """Add an add-in to a profile. LibreOffice refuses that to root, so the profile is given to nobody, who uses it from then on."""
    copy = shutil.copy(addin, folder)
    hand_over(folder)
    run([needed("unopkg"), "add", f"-env:UserInstallation={folder.as_uri()}", copy], owner=folder)


def hand_over(folder: Path) -> None:
    """Where this runs as root, give a folder to nobody; else leave it."""
    if os.name == "nt" or os.geteuid() != 0:
        return
    for place in (folder, *folder.rglob("*")):
        os.chown(place, _NOBODY, _NOBODY, follow_symlinks=False)


def as_owner(folder: Path | None = None) -> dict[str, Any]:
    """How a program is started: without an environment of ours, and as nobody where a folder was given to nobody."""
    environment = _without_our_python()
    if folder is None or not _is_nobodys(folder):
        return {"env": environment}
    environment["HOME"] = str(folder)
    return {"user": _NOBODY, "group": _NOBODY, "extra_groups": [], "cwd": folder, "env": environment}


def _is_nobodys(folder: Path) -> bool:
    return os.name != "nt" and os.geteuid() == 0 and folder.stat().st_uid == _NOBODY


def _without_our_python() -> dict[str, str]:
    """The environment without traces of a Python that is not the system's: LibreOffice takes its modules from the first on PATH,
    and then no Python add-in can be installed or called.
    """
    kept = {
        name: value for name, value in os.environ.items() if not name.startswith("PYTHON") and name != "VIRTUAL_ENV"
    }
    system = os.defpath.split(os.pathsep)
    folders = os.environ.get("PATH", os.defpath).split(os.pathsep)
    kept["PATH"] = os.pathsep.join(
        one for one in folders if one in system or not os.path.exists(os.path.join(one, "python3"))
    )
    return kept


def convert(source: Path, target: str, folder: Path, user: Path) -> Path:
    """Load a file in LibreOffice (headless, recalculating) and save it in another format into `folder`."""
    profile_at = f"-env:UserInstallation={user.as_uri()}"
    with tempfile.TemporaryDirectory(dir=user) as place:
        made_in = Path(place, "made")
        made_in.mkdir()
        copy = Path(shutil.copy(source, place))
        if _is_nobodys(user):
            hand_over(Path(place))
        words = run(
            [needed("soffice"), profile_at, "--headless", "--convert-to", target, "--outdir", made_in, copy], owner=user
        )
        made = list(made_in.iterdir())
        if len(made) != 1:
            raise HostError(f"LibreOffice could not turn {source.name} into {target.split(':')[0]}: {words[-400:]}")
        return Path(shutil.copy(made[0], folder))


# comma, quotes, UTF-8, from line 1, cell contents as they are stored and not as shown
_CSV = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false"


def calc_csv(source: Path, folder: Path, user: Path) -> Path:
    """The first sheet of a workbook, recalculated by LibreOffice, as comma-separated values (15 digits)."""
    return convert(source, _CSV, folder, user)


def gnumeric_csv(source: Path, folder: Path) -> Path:
    """The first sheet of a workbook, recalculated by Gnumeric, as comma-separated values (full precision)."""
    target = folder / f"{source.stem}_gnumeric.csv"
    run([needed("ssconvert"), "--recalc", "-T", "Gnumeric_stf:stf_assistant", "-O", "format=raw", source, target])
    return target
