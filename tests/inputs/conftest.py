"""A small good scenario, and copies of it with one thing broken."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from xlfab.core.errors import ScenarioError
from xlfab.inputs.scenario import load

GOOD = Path(__file__).parent / "good"


@pytest.fixture
def broken(tmp_path):
    """Break a copy of the good scenario in one place; give back the message with which it is refused."""

    def refuse(file: str, *changes: str | bytes) -> str:
        """`changes` are pairs of what stands in the good file and what is put in its place; an empty one is the whole file."""
        shutil.copytree(GOOD, tmp_path, dirs_exist_ok=True)
        raw = (GOOD / file).read_bytes()
        texts = [item.encode() if isinstance(item, str) else item for item in changes]
        for old, new in zip(texts[::2], texts[1::2], strict=True):
            assert old in raw, f"the good file has no {old!r}"
            raw = raw.replace(old, new, 1) if old else new
        (tmp_path / file).write_bytes(raw)
        with pytest.raises(ScenarioError) as refused:
            load(tmp_path)
        return str(refused.value)

    return refuse
