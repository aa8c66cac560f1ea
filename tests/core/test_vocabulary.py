"""The tables of names, sources and defaults: nothing unused, nothing unknown, nothing out of its own range."""

from __future__ import annotations

import ast
import csv
import math
import re
from pathlib import Path

import pytest

from xlfab.catalogue import CATALOGUE
from xlfab.core.arguments import ARGUMENTS, Argument
from xlfab.core.sources import BASES, SOURCES
from xlfab.core.units import UNITS, split_name

PACKAGE = Path(__file__).resolve().parents[2] / "xlfab"
DATA = sorted(PACKAGE.glob("*/data/*.csv"))
_WORD = re.compile(r"[a-z][a-z0-9_]*")


def words_used() -> set[str]:
    """Every identifier and every word of a text in the code, and every cell of the tables of defaults."""
    found: set[str] = set()
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.arg):
                found.add(node.arg)
            elif isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name):
                found.add(node.target.id)
            elif isinstance(node, ast.FunctionDef):
                found.add(node.name)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str) and len(node.value) < 100:
                found.add(node.value)
            elif isinstance(node, ast.JoinedStr):
                found |= filled(node)
    for path in DATA:
        rows = list(csv.reader(path.read_text(encoding="utf-8").splitlines()))
        found |= {cell for row in rows for cell in row if _WORD.fullmatch(cell)}
    return found


def filled(node: ast.JoinedStr) -> set[str]:
    """The names of the vocabulary that a text with gaps can become: f"gauge_{axis}_mm" is gauge_x_mm among others."""
    parts = [re.escape(str(one.value)) if isinstance(one, ast.Constant) else "[a-z0-9]+" for one in node.values]
    if sum(len(str(one.value)) for one in node.values if isinstance(one, ast.Constant)) < 6:
        return set()
    pattern = re.compile("".join(parts))
    return {name for name in ARGUMENTS if pattern.fullmatch(name)}


def test_every_name_is_used() -> None:
    assert not sorted(set(ARGUMENTS) - words_used())


@pytest.mark.parametrize("item", ARGUMENTS.values(), ids=lambda one: one.name)
def test_a_name_is_complete(item: Argument) -> None:
    assert item.unit.suffix in UNITS
    assert item.label.strip() == item.label and 1 <= len(item.label) <= 40
    # a spreadsheet takes at most 255 characters as the description of an argument
    assert 3 <= len(item.description) <= 255
    assert math.isfinite(item.low) and math.isfinite(item.high) and item.low < item.high
    assert item.kind in ("", "whole", "switch", "range")
    if item.kind == "switch":
        assert (item.low, item.high) == (0, 1)
    if item.usual:
        assert item.low <= item.usual[0] <= item.usual[1] <= item.high


def test_every_source_is_used() -> None:
    cited = {key for one in CATALOGUE for key in one.spec.sources}
    cited |= {row["source"] for path in DATA for row in rows_of(path) if "source" in row}
    cited |= {
        node.value
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    assert not sorted(set(SOURCES) - cited)


def test_a_source_says_what_it_is_worth() -> None:
    for one in SOURCES.values():
        assert one.basis in BASES
        assert len(one.citation) > 10, one.key
        if one.basis == "common practice":
            assert "common practice, no source" in (one.citation + one.note).lower(), one.key


def rows_of(path: Path) -> list[dict[str, str]]:
    """The rows of a table of defaults."""
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("path", DATA, ids=lambda one: one.stem)
def test_defaults_say_on_what_they_rest(path: Path) -> None:
    for number, row in enumerate(rows_of(path), 2):
        place = f"{path.name}, line {number}"
        assert None not in row and None not in row.values(), f"{place}: a comma too many or too few"
        assert row["basis"] in BASES, f"{place}: basis '{row['basis']}'"
        assert row["source"], f"{place}: no source"
        if "key" not in row:
            continue
        value, low, high = (float(row[name]) for name in ("value", "low", "high"))
        assert low <= value <= high, place
        assert split_name(row["key"])
        if row["key"] in ARGUMENTS:
            assert ARGUMENTS[row["key"]].accepts(low, high), place


@pytest.mark.parametrize("path", DATA, ids=lambda one: one.stem)
def test_every_table_of_defaults_is_read(path: Path) -> None:
    code = "".join(one.read_text(encoding="utf-8") for one in PACKAGE.rglob("*.py"))
    assert f'"{path.stem}"' in code or path.name in code
