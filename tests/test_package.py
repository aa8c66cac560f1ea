"""The package as it is given away: a wheel that runs in an empty folder, and a source archive that makes the same wheel."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from pathlib import Path

import pytest

import xlfab
from xlfab.inputs.bundled import bundled_names

ROOT = Path(__file__).resolve().parents[1]


def built(kind: str, source: Path, target: Path) -> Path:
    """Build a wheel or a source archive."""
    command = [sys.executable, "-m", "hatchling", "build", "--target", kind, "--directory", str(target)]
    subprocess.run(command, cwd=source, check=True, capture_output=True)
    (made,) = target.iterdir()
    return made


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return built("wheel", ROOT, tmp_path_factory.mktemp("wheel"))


def contents(wheel: Path) -> set[str]:
    """The files of the package in a wheel."""
    return {name for name in zipfile.ZipFile(wheel).namelist() if name.startswith("xlfab/")}


def test_the_wheel_holds_code_tables_and_scenarios(wheel: Path) -> None:
    found = contents(wheel)
    for folder, inside in (("xlfab", "xlfab"), ("scenarios", "xlfab/scenarios")):
        wanted = {
            f"{inside}/{path.relative_to(ROOT / folder).as_posix()}"
            for path in (ROOT / folder).rglob("*")
            if path.suffix in (".py", ".csv", ".toml")
        }
        assert wanted <= found


def test_the_wheel_runs_in_an_empty_folder(wheel: Path, tmp_path: Path) -> None:
    site, empty = tmp_path / "site", tmp_path / "empty"
    empty.mkdir()
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(site)
    environment = {**os.environ, "PYTHONPATH": str(site)}

    def python(*arguments: str) -> str:
        done = subprocess.run(
            [sys.executable, *arguments], cwd=empty, env=environment, capture_output=True, text=True, check=True
        )
        return done.stdout

    assert python("-c", "import xlfab; print(xlfab.__file__)").startswith(str(site))
    assert "Simple payback" in python("-m", "xlfab", "demo")
    made = sorted(path.stem for path in (empty / "xlfab_demo").iterdir())
    assert made == bundled_names() and "demo_shop" in made


def test_the_source_archive_makes_the_same_wheel(wheel: Path, tmp_path: Path) -> None:
    with tarfile.open(built("sdist", ROOT, tmp_path / "sdist")) as archive:
        archive.extractall(tmp_path / "source", filter="data")
    (source,) = (tmp_path / "source").iterdir()
    assert {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "tests"} <= {
        one.name for one in source.iterdir()
    }
    assert contents(built("wheel", source, tmp_path / "again")) == contents(wheel)


def test_the_version_stands_in_two_places_and_is_the_same() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["version"] == xlfab.__version__
    assert set(project["license-files"]) <= {path.name for path in ROOT.iterdir()}
