"""Loading a shop of 100,000 steps, beside pandas reading the same two files without looking at what is in them."""

from __future__ import annotations

import csv
import shutil

import pandas as pd
import pytest

from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

STEPS = 100_000


@pytest.fixture(scope="module")
def large(tmp_path_factory):
    """The demo shop many times over, every length its own."""
    folder = tmp_path_factory.mktemp("large")
    shutil.copytree(bundled("demo_shop"), folder, dirs_exist_ok=True)
    rows = {file: list(csv.reader((folder / file).open(encoding="utf-8"))) for file in ("parts.csv", "steps.csv")}
    times = STEPS // (len(rows["steps.csv"]) - 1) + 1
    for file, (header, *body) in rows.items():
        with (folder / file).open("w", encoding="utf-8", newline="") as out:
            writer = csv.writer(out)
            writer.writerow(header)
            for copy in range(times):
                for row in body:
                    length = [f"{float(row[3]) + copy / 1000:.3f}"]
                    writer.writerow(
                        [f"{row[0]}-{copy}", *row[1:3], *(length if file == "steps.csv" else row[3:4]), *row[4:]]
                    )
    return folder


@pytest.mark.benchmark(group="load 100,000 steps")
def test_load(benchmark, large):
    shop = benchmark.pedantic(load, (large,), rounds=3)
    assert len(shop.bends["part"]) + len(shop.cuts["part"]) >= STEPS


@pytest.mark.benchmark(group="load 100,000 steps")
def test_pandas_without_checks(benchmark, large):
    benchmark.pedantic(lambda: [pd.read_csv(large / file) for file in ("parts.csv", "steps.csv")], rounds=3)
