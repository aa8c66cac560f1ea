"""Collecting what is wrong with a scenario, so that one message lists it all."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from itertools import islice

from xlfab.core.errors import ScenarioError

SHOWN = 20
_COMPARED = 2000  # names that a misspelt one is compared with: more would take seconds and help nobody

# Takes a place (a key, a line and column) and what is wrong there.
Report = Callable[[str, str], None]


class Faults:
    """Faults of one scenario: file, place, and what is wrong with what is allowed."""

    def __init__(self) -> None:
        self.lines: list[str] = []

    def report(self, file: str, record: str = "") -> Report:
        """A function that takes a place and a text and books a fault in this file and record."""

        def book(place: str, text: str) -> None:
            self.lines.append(f"{', '.join(part for part in (file, record, place) if part)}: {text}")

        return book

    def raise_if_any(self) -> None:
        """Raise one ScenarioError with the first faults, and how many more there are."""
        if not self.lines:
            return
        shown = self.lines[:SHOWN]
        if len(self.lines) > SHOWN:
            shown.append(f"and {len(self.lines) - SHOWN} more")
        head = f"{len(self.lines)} faults:\n  " if len(self.lines) > 1 else ""
        raise ScenarioError(head + "\n  ".join(shown))


def nearest(word: str, known: Iterable[str], what: str = "known") -> str:
    """The nearest known words for a misspelt one, else all of them while they are few.

    >>> nearest("aproach_speed_mm_s", ["approach_speed_mm_s", "opening_mm"])
    'nearest known: approach_speed_mm_s'
    """
    names = list(islice(known, _COMPARED))
    folded = {name.casefold(): name for name in names}
    near = [folded[item] for item in difflib.get_close_matches(word.casefold(), folded, n=2, cutoff=0.6)]
    if near:
        return f"nearest {what}: {', '.join(near)}"
    return f"{what}: {', '.join(names[:30])}{' ...' if len(names) > 30 else ''}" if names else f"{what}: none"
