"""README.md and DEVELOPERS.md against the program: commands, options, links, folders and names that they speak of exist."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from xlfab.catalogue import CATALOGUE
from xlfab.cli import app, load_command
from xlfab.command_table import COMMANDS as ENTRIES
from xlfab.comparison.compare import compare
from xlfab.inputs.bundled import bundled_names
from xlfab.inputs.scenario import load
from xlfab.workbook.book import FLAVOURS

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DOCUMENTS = [path for path in (*ROOT.glob("*.md"), *ROOT.glob("*/**/*.md")) if ".venv" not in str(path)]
TEMPLATES = sorted(path.parent for path in ROOT.glob("workbook_templates/*/scenario.toml"))


def commands(group: Any, before: str = "xlfab") -> dict[str, Any]:
    """Every command by the words that call it."""
    if not hasattr(group, "commands"):
        return {before: group}
    found: dict[str, Any] = {}
    for name, command in group.commands.items():
        found |= commands(command, f"{before} {name}")
    return found


COMMANDS = {
    words: command
    for entry in ENTRIES
    for words, command in commands(load_command(entry), f"xlfab {entry.name}").items()
}


def usage(words: str, command: Any) -> str:
    """A command with its arguments and the options that it must have, as it is written in the table."""
    for one in command.params:
        if one.param_type_name == "argument":
            words += f" {one.name.upper()}" if one.required else f" [{one.name.upper()}]"
        elif one.required:
            words += f" {min(one.opts, key=len)} {one.name.upper()}"
    return words


def table() -> list[str]:
    """The table of commands as README.md must have it."""
    lines = ["| Command | What it does |", "| --- | --- |"]
    for words, command in COMMANDS.items():
        said = (command.help or "").strip().split("\n\n")[0].replace("\n", " ")
        assert said, f"{words} says nothing of itself"
        lines.append(f"| `{usage(words, command)}` | {said} |")
    return lines


_BETWEEN = re.compile(r"(?<=test_readme.py -->\n).*(?=<!-- end of commands -->)", re.DOTALL)


def with_table(text: str) -> str:
    """README.md with its table of commands as it must be."""
    return _BETWEEN.sub(lambda _: "\n" + "\n".join(table()) + "\n\n", text)


def test_help_lists_every_command_by_person_with_an_example() -> None:
    shown = CliRunner().invoke(app, ["--help"]).output
    for entry in ENTRIES:
        assert re.search(rf"{re.escape(entry.name)} .*{re.escape(entry.help[:20])}", shown), entry.name
        assert entry.panel in shown and hasattr(load_command(entry), "commands") == entry.group
        assert f"Example: {entry.example}" in CliRunner().invoke(app, [entry.name, "--help"]).output.replace("\n", " ")


def test_help_loads_no_command() -> None:
    heavy = "import sys; from xlfab.cli import app; from typer.testing import CliRunner; assert CliRunner().invoke(app, ['--help']).exit_code == 0; "
    heavy += "print([name for name in ('numpy', 'pandas', 'pydantic', 'openpyxl', 'xlsxwriter', 'lxml') if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", heavy], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_the_table_of_commands_is_the_program() -> None:
    assert _BETWEEN.search(README)
    assert with_table(README) == README, "`python tests/test_readme.py` writes it anew"


def calls() -> list[tuple[str, str]]:
    """Every call of the program that a document shows, in a code block or in a line of text."""
    found = []
    for path in DOCUMENTS:
        text = path.read_text(encoding="utf-8")
        pieces = re.findall(r"^    (.*)$", text, re.MULTILINE) + re.findall(r"`([^`\n]+)`", text)
        for piece in pieces:
            found += [(path.name, call) for call in re.findall(r"(?:^|/|\s)(xlfab [a-z][^|&;]*)", piece)]
    return found


@pytest.mark.parametrize(("document", "call"), calls())
def test_a_shown_call_exists(document: str, call: str) -> None:
    words = shlex.split(call, comments=True)
    match = [name for name in COMMANDS if words[: len(name.split())] == name.split()]
    assert match, f"{document}: {call}"
    command = COMMANDS[match[0]]
    known = {option for one in command.params for option in one.opts}
    assert {word for word in words if word.startswith("-")} <= known | {"--help"}, f"{document}: {call}"


@pytest.mark.parametrize("path", DOCUMENTS, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_links_lead_somewhere(path: Path) -> None:
    for link in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8")):
        assert link.startswith("https://") or (path.parent / link).exists(), link


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_named_files_exist(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    named = re.findall(r"`((?:xlfab|tests|scenarios|workbook_templates)/[\w./-]*)`", text)
    assert named
    assert not [one for one in named if not (ROOT / one).exists()]


def test_named_functions_and_flavours_exist() -> None:
    cells = {one.spec.cell_name for one in CATALOGUE}
    for path in DOCUMENTS:
        assert set(re.findall(r"\bFAB_[A-Z0-9_]+\b", path.read_text(encoding="utf-8"))) <= cells | {"FAB_ABOUT"}, path
    shown = re.findall(r"\| `(\w+)` \|$", README.split("## Commands")[0], re.MULTILINE)
    assert sorted(shown) == sorted(FLAVOURS)


def test_readme_is_short() -> None:
    assert README.count("\n") < 200


@pytest.mark.parametrize("folder", TEMPLATES, ids=lambda path: path.name)
def test_a_template_works_as_it_stands(folder: Path) -> None:
    made = compare(load(folder))
    assert made.job.scenario.name == folder.name and folder.name not in bundled_names()
    assert len(made.verdicts) == 1
    unmeasured = {item.basis for item in made.job.scenario.assumptions}
    assert "judgement" in unmeasured and "measured" not in unmeasured


def test_there_is_a_template_in_each_system_of_units() -> None:
    assert {load(folder).units for folder in TEMPLATES} == {"metric", "us"}


def test_the_map_names_every_layer() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    folders = [f"`{path.parent.name}/`" for path in (ROOT / "xlfab").glob("*/__init__.py")]
    files = [f"`{path.stem}`" for path in (ROOT / "xlfab").glob("*.py") if not path.stem.startswith("__")]
    assert not [name for name in folders + files if name not in text]


def test_the_example_of_the_map_is_the_code() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    (example,) = re.findall(r"^```python\n(.*?)^```", text, re.MULTILINE | re.DOTALL)
    assert example in (ROOT / "xlfab" / "cycle_time" / "stroke.py").read_text(encoding="utf-8")


if __name__ == "__main__":
    (ROOT / "README.md").write_text(with_table(README), encoding="utf-8")
