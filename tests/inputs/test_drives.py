"""A drive is rows of data: its name, what else it is called, and its defaults. Nothing in the code knows one by name."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from xlfab.inputs import data_files, defaults, drives
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

CODE = Path(data_files.__file__).parents[1]


@pytest.mark.parametrize("section", ["press_brake", "shear"])
def test_every_drive_has_the_same_defaults(section: str) -> None:
    keys = {
        name: {row["key"] for row in data_files.data_rows(section) if row["applies_to"] == name}
        for name in drives.drives()
    }
    assert len(set(map(frozenset, keys.values()))) == 1 and all(keys.values())
    assert {row["applies_to"] for row in data_files.data_rows(section)} - {"all"} == set(keys)


def test_no_spelling_means_two_drives() -> None:
    words = [word.casefold() for drive in drives.drives().values() for word in (drive.name, *drive.also)]
    assert len(words) == len(set(words))
    assert {drive.kind for drive in drives.drives().values()} == {"electric", "hydraulic"}


def test_no_code_knows_a_drive_by_name() -> None:
    names = [drive.name for drive in drives.drives().values() if drive.name != "hydraulic"]
    for file in CODE.rglob("*.py"):
        text = file.read_text(encoding="utf-8")
        assert not [name for name in names if f'"{name}"' in text], file


@pytest.fixture
def linear_motor(monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """A fifth drive, as rows alone: those of the ball screw under another name."""
    name = "electric, linear motor"
    rows = data_files.data_rows

    def with_one_more(table: str) -> list[dict[str, str]]:
        found = rows(table)
        key = "drive" if table == "drives" else "applies_to"
        copies = [{**row, key: name} for row in found if row.get(key) == "electric, ball screw"]
        return found + [{**row, "also": "linear"} if table == "drives" else row for row in copies]

    for module in (drives, defaults):
        monkeypatch.setattr(module, "data_rows", with_one_more)
    drives.drives.cache_clear(), defaults.default_rows.cache_clear()
    yield name
    monkeypatch.undo()
    drives.drives.cache_clear(), defaults.default_rows.cache_clear()


def test_a_new_drive_is_rows_only(tmp_path: Path, linear_motor: str) -> None:
    shutil.copytree(bundled("demo_shop"), tmp_path / "shop")
    file = tmp_path / "shop" / "scenario.toml"
    text = file.read_text(encoding="utf-8")
    before = load(tmp_path / "shop")
    file.write_text(text.replace('drive = "electric, ball screw"', 'drive = "Linear"'), encoding="utf-8")
    after = load(tmp_path / "shop")
    machines = list(zip([*before.press_brakes, *before.shears], [*after.press_brakes, *after.shears], strict=True))
    assert linear_motor in [new.drive for _, new in machines]
    for old, new in machines:
        assert new == old.model_copy(update={"drive": new.drive})


def test_words_of_the_shop_floor_are_understood(tmp_path: Path) -> None:
    assert drives.known_drive("Hybrid") == drives.known_drive("hydraulic servo-drive") == "servo-hydraulic (hybrid)"
    with pytest.raises(
        ValueError, match=r"one of: hydraulic; servo-hydraulic \(hybrid\); electric, ball screw; electric, belt"
    ):
        drives.known_drive("steam")
