"""The check cases of `check_cases.csv`: each function at points whose results come from outside its own code.

A case has the arguments (a range of cells in square brackets), the value (nothing where there must be no result), a tolerance
(empty: to twelve digits), where the value comes from (kind and source), and, where the value was worked out by hand, the working.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from xlfab.catalogue import FUNCTIONS
from xlfab.core.registry import Function

KINDS = ("published", "textbook", "standard", "derived", "library", "memory")
TABLE = Path(__file__).with_name("check_cases.csv")
USUAL_TOLERANCE = 1e-12  # relative, where the table states none
_WORDS = {name: getattr(math, name) for name in ("sin", "cos", "tan", "atan", "sqrt", "exp", "log", "pi", "fsum")}


@dataclass(frozen=True)
class CheckCase:
    """One line of the table."""

    line: int
    function: Function
    arguments: tuple[Any, ...]
    value: float
    tolerance: float
    kind: str
    source: str
    working: str

    def __str__(self) -> str:
        return f"check_cases.csv, line {self.line}: {self.function.spec.name}{self.arguments}"

    def fits(self, found: float) -> bool:
        """Whether a result is the value within the tolerance, or missing where there must be none."""
        if math.isnan(self.value):
            return math.isnan(found)
        return abs(found - self.value) <= self.tolerance

    def worked(self) -> float:
        """The value by its working, which is plain arithmetic."""
        return float(eval(self.working, {"__builtins__": {"range": range}, **_WORDS}))


def _arguments(text: str) -> tuple[Any, ...]:
    return tuple(
        tuple(map(float, word[1:-1].split(","))) if word.startswith("[") else float(word) for word in text.split()
    )


@cache
def check_cases() -> tuple[CheckCase, ...]:
    """Every case of the table."""
    found = []
    with TABLE.open(encoding="utf-8", newline="") as stream:
        for line, row in enumerate(csv.DictReader(stream), 2):
            value = float(row["value"]) if row["value"] else math.nan
            tolerance = float(row["tolerance"]) if row["tolerance"] else USUAL_TOLERANCE * max(1.0, abs(value))
            about = (row["kind"], row["source"], row["working"])
            function = FUNCTIONS[row["function"]]
            found.append(CheckCase(line, function, _arguments(row["arguments"]), value, tolerance, *about))
    return tuple(found)
