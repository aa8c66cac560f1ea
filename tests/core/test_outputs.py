"""Outputs at the edges: full disk, closed output, killed and rival runs, an input as output, texts that look like markup."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from xlfab.core.console import complain, cut, plain, terminal
from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_csv
from xlfab.core.writing import csv_text, inputs_kept, note_input, whole_file, whole_folder

XLFAB = [sys.executable, "-m", "xlfab"]
posix = pytest.mark.skipif(os.name != "posix", reason="signals and limits of POSIX")


def run(command: str, folder: Path, **env: str) -> subprocess.CompletedProcess[str]:
    """A shell line with `xlfab` in it, run in a folder."""
    line = command.replace("xlfab", " ".join(XLFAB), 1)
    set_to = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), **env}
    return subprocess.run(["bash", "-c", line], cwd=folder, env=set_to, capture_output=True, text=True, check=False)


@posix
@pytest.mark.parametrize(
    ("command", "said"),
    [
        ("xlfab functions > /dev/full", "No space left"),
        ("xlfab functions >&-", "output is closed"),
        ("xlfab new comparison /proc/shop --yes --no-build", "cannot be written"),
    ],
)
def test_an_output_that_cannot_be_written_is_one_message(tmp_path: Path, command: str, said: str) -> None:
    done = run(command, tmp_path)
    assert done.returncode == 2 and said in done.stderr, done.stderr
    assert "Traceback" not in done.stderr and done.stderr.strip().count("\n") == 0


@posix
@pytest.mark.parametrize(
    "env",
    [
        {"COLUMNS": "0"},
        {"COLUMNS": "x"},
        {"LANG": "C", "LC_ALL": "C", "PYTHONUTF8": "0"},
        {"TERM": "dumb"},
        {"HOME": "/nowhere"},
    ],
)
def test_a_poor_terminal_is_no_error(tmp_path: Path, env: dict[str, str]) -> None:
    done = run("xlfab functions FAB_INTERNAL_RATE_SHARE", tmp_path, **env)
    assert done.returncode == 0 and "rate" in done.stdout, done.stderr


def test_markup_and_control_characters_are_text(capsys: pytest.CaptureFixture[str]) -> None:
    from rich.table import Table

    table = Table("[bold]name[/bold]", title="[/x] [red]")
    table.add_row("[/x] plate :smile: [bold]")
    terminal().print(table)
    shown = capsys.readouterr().out
    assert all(text in shown for text in ("[/x] [red]", "[bold]name[/bold]", "[/x] plate :smile: [bold]"))
    assert plain("a\x1b]0;b\x07\u202ec") == "a?]0;b??c"


def test_a_long_message_is_cut_with_a_count(capsys: pytest.CaptureFixture[str]) -> None:
    complain("x" * 10_000 + "\x1b")
    said = capsys.readouterr().err
    assert len(said) < 4_100 and "6001 more characters" in said
    assert cut("short") == "short"


def test_nothing_is_written_over_an_input(tmp_path: Path) -> None:
    log = tmp_path / "log.csv"
    log.write_text("a,b\n1,2\n", encoding="utf-8")
    with inputs_kept():
        read_csv(log)
        with pytest.raises(ScenarioError, match="what this command reads"), whole_file(log, replace=True):
            pass
        (tmp_path / "same.csv").symlink_to(log)
        with (
            pytest.raises(ScenarioError, match="what this command reads"),
            whole_file(tmp_path / "same.csv", replace=True),
        ):
            pass
    note_input(log)  # outside of a command nothing is kept
    with whole_file(log, replace=True) as place:
        place.write_text("new", encoding="utf-8")
    assert log.read_text(encoding="utf-8") == "new"


def test_of_rival_runs_the_first_to_end_wins(tmp_path: Path) -> None:
    target = tmp_path / "out.csv"
    with pytest.raises(ScenarioError, match="there already"), whole_file(target) as slow:
        slow.write_text("slow", encoding="utf-8")
        with whole_file(target) as fast:
            fast.write_text("fast", encoding="utf-8")
    assert target.read_text(encoding="utf-8") == "fast"
    assert list(tmp_path.iterdir()) == [target]


@posix
def test_eight_runs_to_one_name(tmp_path: Path) -> None:
    script = (
        "import sys, time; from pathlib import Path; from xlfab.core.writing import whole_file\n"
        "with whole_file(Path('out.txt')) as place:\n"
        "    place.write_text(sys.argv[1]); time.sleep(0.5)\n"
    )
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    runs = [
        subprocess.Popen([sys.executable, "-c", script, str(n)], cwd=tmp_path, env=env, stderr=subprocess.PIPE)
        for n in range(8)
    ]
    ends = [one.communicate() and one.returncode for one in runs]
    assert ends.count(0) == 1 and [item.name for item in tmp_path.iterdir()] == ["out.txt"]
    assert (tmp_path / "out.txt").read_text() == str(ends.index(0))


@posix
@pytest.mark.parametrize("what", ["whole_file", "whole_folder"])
def test_what_a_killed_run_leaves_is_removed_by_the_next(tmp_path: Path, what: str) -> None:
    script = f"import time; from pathlib import Path; from xlfab.core.writing import {what}\nwith {what}(Path('out')):\n    print('in', flush=True); time.sleep(60)\n"
    env = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    process = subprocess.Popen([sys.executable, "-c", script], cwd=tmp_path, env=env, stdout=subprocess.PIPE)
    assert process.stdout is not None and process.stdout.readline() == b"in\n"
    with whole_file(tmp_path / "other.txt") as place:  # a live run is left alone
        place.write_text("x", encoding="utf-8")
    assert len(list(tmp_path.glob(".writing-*"))) == 1
    process.kill()
    process.wait()
    with whole_folder(tmp_path / "shop"):
        pass
    assert sorted(item.name for item in tmp_path.iterdir()) == ["other.txt", "shop"]


def test_old_leftovers_of_another_computer_are_removed(tmp_path: Path) -> None:
    for name, age in (("old", 100_000), ("new", 10)):
        item = tmp_path / f".writing-ffffffff-1-{name}"
        item.write_text("x", encoding="utf-8")
        os.utime(item, (time.time() - age,) * 2)
    with whole_file(tmp_path / "out.txt") as place:
        place.write_text("x", encoding="utf-8")
    assert sorted(item.name for item in tmp_path.iterdir()) == [".writing-ffffffff-1-new", "out.txt"]


def test_csv_holds_no_control_characters_and_reads_back(tmp_path: Path) -> None:
    text = csv_text(["part", "x"], [["-bracket\x0bleft", 0.1 + 0.2], ["=1+1", float("nan")]], digits=17)
    (tmp_path / "list.csv").write_text(text, encoding="utf-8")
    assert read_csv(tmp_path / "list.csv") == [["part", "x"], ["-bracket left", "0.30000000000000004"], ["=1+1", ""]]
