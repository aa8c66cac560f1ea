"""Fixtures and paths shared by the tests."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import settings

# no test measures time, and a run on another machine finds what this one finds
settings.register_profile("xlfab", deadline=None, derandomize=True)
settings.load_profile("xlfab")

sys.path.insert(0, str(Path(__file__).parent))


def pytest_collection_modifyitems(config, items):
    """Benchmarks are run on their own, with `pytest tests/benchmarks --benchmark-only`; other runs leave them out."""
    if config.getoption("benchmark_only", False):
        return
    for item in items:
        if "benchmark" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.skip(reason="a benchmark: run with --benchmark-only"))
