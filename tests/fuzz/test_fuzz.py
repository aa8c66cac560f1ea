"""A short run of the fuzz script from a fixed seed, and every find that was ever made, read again."""

from __future__ import annotations

from pathlib import Path

import pytest
from fuzz_readers import HERE, Reader, readers, run, verdict

READERS = {reader.name: reader for reader in readers()}
FINDS = sorted(folder for folder in (HERE / "finds").glob("*") if folder.is_dir())


@pytest.mark.parametrize("reader", READERS.values(), ids=READERS)
def test_damaged_files_are_read_or_refused(reader: Reader) -> None:
    counts, finds = run(reader, 60, seed=20)
    assert finds == [] and counts["read"] + counts["refused"] == 60
    assert counts["refused"] > 10


@pytest.mark.parametrize("folder", FINDS, ids=lambda folder: folder.name)
def test_finds_stay_mended(folder: Path) -> None:
    reader = READERS[folder.name.split("-")[0]]
    files = {**reader.good, **{file.name: file.read_bytes() for file in folder.iterdir()}}
    result, where = verdict(reader, files)
    assert result in ("read", "refused"), where
