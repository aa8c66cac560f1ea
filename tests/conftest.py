"""Fixtures and paths shared by the tests."""

from __future__ import annotations

import sys
from pathlib import Path

from hypothesis import settings

# no test measures time, and a run on another machine finds what this one finds
settings.register_profile("xlfab", deadline=None, derandomize=True)
settings.load_profile("xlfab")

sys.path.insert(0, str(Path(__file__).parent))
