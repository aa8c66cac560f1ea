"""The demo scenarios that travel with the package: found in a checkout and in an installed wheel."""

from __future__ import annotations

from pathlib import Path

from xlfab.core.errors import ScenarioError
from xlfab.inputs.faults import nearest

_PACKAGE = Path(__file__).resolve().parents[1]


def _home() -> Path:
    """The folder of scenarios: inside the installed package, else beside the package in a checkout."""
    inside = _PACKAGE / "scenarios"
    return inside if inside.is_dir() else _PACKAGE.parent / "scenarios"


def bundled_names() -> list[str]:
    """The names of the scenarios that travel with the package."""
    return sorted(item.parent.name for item in _home().glob("*/scenario.toml"))


def bundled(name: str) -> Path:
    """The folder of a scenario that travels with the package; ScenarioError where there is none of that name."""
    if name not in bundled_names():
        raise ScenarioError(f"'{name}' is no bundled scenario; {nearest(name, bundled_names())}")
    return _home() / name
