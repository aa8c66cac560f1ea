"""Workbooks that were spoiled on purpose: every sabotage is found at its place, and one that moves rows is one finding."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sabotages import ALONE, COMPARISON, QUOTE, Place, covers
from tiny_shop import built
from workbook_file import WorkbookFile

from xlfab.used_workbook.audit import audit

GROUPS = {"quote": QUOTE, "comparison": COMPARISON}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("sabotages")


def spoiled(path: Path, kind: str) -> Iterator[tuple[WorkbookFile, dict[str, Place]]]:
    """Files with many sabotages each, no two of them in one cell."""
    names = [name for name in GROUPS[kind] if name not in ALONE]
    while names:
        file, done = WorkbookFile(path), {}
        for name in names:
            where = GROUPS[kind][name](WorkbookFile(path))
            if where not in done.values():
                done[name] = GROUPS[kind][name](file)
        names = [name for name in names if name not in done]
        yield file, done


def test_there_are_at_least_sixty() -> None:
    assert len(QUOTE) + len(COMPARISON) >= 60


@pytest.mark.parametrize("kind", GROUPS)
def test_every_sabotage_is_found_among_the_others(kind: str, folder: Path) -> None:
    for file, done in spoiled(built(folder, kind), kind):
        found = audit(file.save(folder / "spoiled.xlsx")).findings
        assert [name for name, where in done.items() if not any(covers(item, where) for item in found)] == []


@pytest.mark.parametrize("name", ALONE)
def test_a_sabotage_of_a_whole_list_or_sheet_is_one_finding(name: str, folder: Path) -> None:
    kind = next(kind for kind, group in GROUPS.items() if name in group)
    file = WorkbookFile(built(folder, kind))
    where = GROUPS[kind][name](file)
    found = audit(file.save(folder / "spoiled.xlsx")).findings
    assert any(covers(item, where) for item in found)
    assert len(found) == 1 or ALONE[name]
