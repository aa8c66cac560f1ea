"""The cells of one block of rows while they are worked out, and what a step of that work looks like."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from xlfab.core.arrays import span

Block = tuple[slice, slice]  # variants, rows
ALL: Block = (slice(None), slice(None))


class Cells:
    """A value for each slot of a block, and its span once somebody asks for it."""

    def __init__(self, slots: int) -> None:
        self.values: list[Any] = [None] * slots
        self.spans: list[Any] = [None] * slots

    def span(self, slot: int) -> tuple[float, float]:
        """Least and greatest value of a slot."""
        if self.spans[slot] is None:
            self.spans[slot] = span(self.values[slot])
        found: tuple[float, float] = self.spans[slot]
        return found


Step = Callable[[Cells, Block], Any]
