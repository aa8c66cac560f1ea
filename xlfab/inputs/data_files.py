"""The tables in `data/`: defaults and choices that are rows and not code."""

from __future__ import annotations

import csv
from importlib.resources import files


def data_rows(name: str) -> list[dict[str, str]]:
    """The lines of one of the tables, by heading."""
    text = files("xlfab.inputs").joinpath("data", f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))
