"""The command line: what it writes and prints, and that every refusal is one message with exit code 2 and no traceback."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import openpyxl
import pytest

from xlfab import __version__
from xlfab.cli import main
from xlfab.inputs.bundled import bundled, bundled_names


@dataclass
class Done:
    """How a command ended."""

    code: int
    out: str
    error: str


class Xlfab:
    """Runs the command line in an empty folder, in this process."""

    def __init__(self, patch: pytest.MonkeyPatch, capture: pytest.CaptureFixture[str]) -> None:
        self.patch, self.capture = patch, capture

    def __call__(self, *arguments: object) -> Done:
        self.patch.setattr(sys, "argv", ["xlfab", *map(str, arguments)])
        code = 0
        try:
            main()
        except SystemExit as stop:
            code = int(stop.code or 0)
        shown = self.capture.readouterr()
        return Done(code, shown.out, shown.err)


@pytest.fixture
def xlfab(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Xlfab:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "200")
    return Xlfab(monkeypatch, capsys)


def refused(done: Done, *words: str) -> None:
    """The command ended as a refusal must: code 2, nothing printed, one line that names what was wrong."""
    assert (done.code, done.out) == (2, "")
    assert done.error.startswith("xlfab: ") and done.error.count("\n") == 1
    for word in words:
        assert word in done.error


def test_demo_builds_a_workbook_of_each_bundled_shop(xlfab: Xlfab) -> None:
    done = xlfab("demo")
    assert (done.code, done.error) == (0, "")
    for name in bundled_names():
        book = openpyxl.load_workbook(Path("xlfab_demo") / f"{name}.xlsx", read_only=True)
        assert {"Summary", "Desk", "Inputs", "Uncertainty", "Checks"} <= set(book.sheetnames)
    for word in ("Simple payback", "Electricity a year", "Cost of a part", "not a safety assessment"):
        assert done.out.count(word) >= len(bundled_names())


def test_show_prints_the_same_figures_as_build(xlfab: Xlfab) -> None:
    shown = xlfab("show", "demo_shop_us")
    built = xlfab("build", "demo_shop_us", "-o", "new/shop.xlsx")
    assert shown.code == built.code == 0
    assert built.out.startswith(shown.out.rstrip()) and Path("new/shop.xlsx").exists()


def test_a_folder_of_ones_own(xlfab: Xlfab, tmp_path: Path) -> None:
    for file in bundled("demo_shop_us").iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    assert xlfab("show", tmp_path).out == xlfab("show", "demo_shop_us").out


def test_a_file_is_replaced_only_when_asked(xlfab: Xlfab) -> None:
    target = Path("shop.xlsx")
    target.write_bytes(b"somebody's own")
    refused(xlfab("build", "demo_shop_us", "-o", target), "shop.xlsx", "--overwrite")
    assert target.read_bytes() == b"somebody's own"
    assert xlfab("build", "demo_shop_us", "-o", target, "--overwrite").code == 0
    assert openpyxl.load_workbook(target, read_only=True).sheetnames[0] == "Summary"


def test_demo_writes_nothing_if_one_of_its_files_is_there(xlfab: Xlfab) -> None:
    taken = Path("out") / f"{bundled_names()[-1]}.xlsx"
    taken.parent.mkdir()
    taken.write_bytes(b"")
    refused(xlfab("demo", "-o", "out"), taken.name, "--overwrite")
    assert list(Path("out").iterdir()) == [taken]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("show", "no_such_shop"), ("no_such_shop", "scenario.toml")),
        (("show", "."), ("scenario.toml",)),
        (("build", "demo_shop_us", "-o", "shop.txt"), ("shop.txt", ".xlsx")),
        (("build", "demo_shop_us", "-o", "shop.xlsx", "--paper", "A9"), ("A9", "A4", "Letter")),
        (("build", "demo_shop_us", "-o", "shop.xlsx", "--flavour", "sweet"), ("sweet", "portable")),
        (("build", "demo_shop_us", "-o", "/dev/null/shop.xlsx"), ("/dev/null",)),
        (("quote", "demo_shop_us", "-o", "quote.ods"), ("quote.ods", ".xlsx")),
        (("quote", "demo_shop_us", "-o", "quote.xlsx", "--option", "Neither"), ("Neither", "New electric")),
        (("new", "quote", "-o", "quote.xlsx", "--units", "cubits"), ("cubits", "metric", "us")),
        (("new", "quote", "-o", "quote.xlsx", "--drive", "steam"), ("steam", "hydraulic")),
        (("pdf", "missing.xlsx", "-o", "page.pdf"), ("missing.xlsx",)),
        (("pdf", "missing.xlsx", "-o", "page.xlsx"), ("page.xlsx", ".pdf")),
    ],
)
def test_a_refusal_says_what_is_wrong_and_writes_nothing(
    xlfab: Xlfab, arguments: tuple[str, ...], words: tuple[str, ...]
) -> None:
    refused(xlfab(*arguments), *words)
    assert not list(Path().iterdir())


def test_a_broken_scenario_names_file_and_place(xlfab: Xlfab, tmp_path: Path) -> None:
    for file in bundled("demo_shop_us").iterdir():
        (tmp_path / file.name).write_bytes(file.read_bytes())
    parts = (tmp_path / "parts.csv").read_text(encoding="utf-8").splitlines()
    assert ",304," in "".join(parts)
    parts = [line.replace(",304,", ",Unobtainium,") for line in parts]
    (tmp_path / "parts.csv").write_text("\n".join(parts), encoding="utf-8")
    done = xlfab("show", tmp_path)
    assert done.code == 2 and "Traceback" not in done.error
    assert "parts.csv" in done.error and "Unobtainium" in done.error


@pytest.mark.parametrize("arguments", [("show",), ("build", "demo_shop_us"), ("frobnicate",), ("show", "--loud", ".")])
def test_a_wrong_call_is_explained(xlfab: Xlfab, arguments: tuple[str, ...]) -> None:
    done = xlfab(*arguments)
    assert done.code == 2 and "Traceback" not in done.error and "Usage" in done.error


def test_a_quote_from_a_scenario_and_a_blank_one(xlfab: Xlfab) -> None:
    filled = xlfab("quote", "demo_shop_us", "-o", "filled.xlsx", "--spare", 2)
    assert filled.code == 0 and "USD" in filled.out
    assert xlfab("new", "quote", "-o", "blank.xlsx", "--spare", 2).code == 0
    refused(xlfab("new", "quote", "-o", "blank.xlsx"), "blank.xlsx", "--overwrite")


def test_plain_letters_are_enough_for_a_terminal() -> None:
    environment = {**os.environ, "PYTHONIOENCODING": "ascii", "COLUMNS": "200"}
    command = [sys.executable, "-m", "xlfab", "show", "demo_shop_us"]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=True)
    assert "Simple payback" in done.stdout and done.stdout.isascii()


def test_version_and_help(xlfab: Xlfab) -> None:
    assert xlfab("--version").out.strip() == f"xlfab {__version__}"
    assert "demo" in xlfab("--help").out
