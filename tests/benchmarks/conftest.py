"""Benchmarks are run on their own, with `pytest tests/benchmarks --benchmark-only`; other runs leave them out."""

from __future__ import annotations

import pytest


def pytest_collection_modifyitems(config, items):
    if config.getoption("benchmark_only", False):
        return
    for item in items:
        if "benchmark" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.skip(reason="a benchmark: run with --benchmark-only"))
