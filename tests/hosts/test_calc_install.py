"""Installing, checking and removing the Calc add-in with LibreOffice's own tool, in a profile of its own."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from xlfab import __version__
from xlfab.core.errors import HostError
from xlfab.hosts import calc, calc_package, office_programs


@pytest.fixture
def private(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """`unopkg` works in a fresh profile instead of the user's own."""
    with office_programs.profile() as user:
        office_programs.hand_over(user)

        def unopkg(action: str, what: str | Path = "", *options: str) -> str:
            if isinstance(what, Path):
                what = Path(shutil.copy(what, user))
                office_programs.hand_over(user)
            command = [office_programs.needed("unopkg"), action, f"-env:UserInstallation={user.as_uri()}", *options]
            return office_programs.run([*command, what] if what else command, owner=user)

        monkeypatch.setattr(calc, "_unopkg", unopkg)
        yield


@pytest.mark.office
@pytest.mark.skipif(office_programs.find("unopkg") is None, reason="LibreOffice is not installed")
def test_install_check_and_remove_say_what_they_did(private: None, monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []
    assert not calc.check(said.append) and "not installed" in said[-1]
    assert not calc.remove(said.append) and "Nothing to remove" in said[-1]
    calc.install(said.append)
    assert f"xlfab {__version__} is installed" in said[-2] and "FAB_ABOUT" in said[-1]
    assert calc.check(said.append) and __version__ in said[-1]
    calc.install(said.append)  # over one that is there
    monkeypatch.setattr(calc, "__version__", "9.9")
    assert not calc.check(said.append) and f"version {__version__}; this is 9.9" in said[-1]
    assert calc.remove(said.append) and "was removed" in said[-1]
    assert not calc.check(said.append)


@pytest.mark.parametrize("administrator", [True, False])
def test_what_libreoffice_refuses_is_taken_out_again(administrator: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[list[str]] = []

    def refuse(command: list[Any]) -> str:
        asked.append([str(word) for word in command[1:]])
        if command[1] == "add":
            raise HostError("unopkg failed (exit 1): no room")
        return ""

    monkeypatch.setattr(calc, "_for_all_users", lambda: administrator)
    monkeypatch.setattr(office_programs, "needed", lambda program: program)
    monkeypatch.setattr(office_programs, "run", refuse)
    with pytest.raises(HostError, match="no room"):
        calc.install(lambda _: None)
    assert [words[0] for words in asked] == ["add", "remove"]
    assert all(("--shared" in words) == administrator for words in asked)


@pytest.mark.parametrize(("words", "said"), [("LibreOffice 7.4.7.2 40(Build:2)", 2), ("LibreOffice 25.2.3.2 520", 1)])
def test_an_old_libreoffice_is_said(words: str, said: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(calc, "_installed", lambda: __version__)
    monkeypatch.setattr(office_programs, "needed", lambda program: program)
    monkeypatch.setattr(office_programs, "run", lambda command: words)
    lines: list[str] = []
    assert calc.check(lines.append) and len(lines) == said
    assert said == 1 or ("7.4" in lines[1] and "25.2 or later" in lines[1])


def test_programs_do_not_see_our_python(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A LibreOffice that uses the system's Python takes the first on PATH: one of an environment breaks every Python add-in."""
    if os.name == "nt":
        pytest.skip("on Windows LibreOffice brings its own")
    (tmp_path / "python3").touch()
    monkeypatch.setenv("PATH", os.pathsep.join([str(tmp_path), "/usr/bin", "/elsewhere"]))
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    monkeypatch.setenv("VIRTUAL_ENV", str(tmp_path))
    said = office_programs.run([sys.executable, "-c", "import os; print(dict(os.environ))"])
    assert str(tmp_path) not in said and "/usr/bin:/elsewhere" in said


def test_without_libreoffice_the_message_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(office_programs, "find", lambda program: None)
    for step in (calc.install, calc.check, calc.remove):
        with pytest.raises(HostError, match="install LibreOffice"):
            step(lambda _: None)


def test_what_is_there_is_not_overwritten(tmp_path: Path) -> None:
    path = calc_package.build(tmp_path / "xlfab.oxt")
    with pytest.raises(ValueError, match="is there already"):
        calc_package.build(path)
