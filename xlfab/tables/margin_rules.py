"""Rules for margins: is a result there, how many margins fail, and which is worst."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.tables.row_rules import RowRule

NO_RESULT = -1000.0  # below every margin


@dataclass(frozen=True)
class Unknown(RowRule):
    """1 where any of several figures has no result."""

    def apply(self, *values: Any) -> Any:
        known: Any = np.isfinite(values[0])
        for value in values[1:]:
            known = known & np.isfinite(value)
        return np.where(known, 0.0, 1.0)


@dataclass(frozen=True)
class Failing(RowRule):
    """How many margins are below 0; 1 where the first argument says that one has no result."""

    def apply(self, *values: Any) -> Any:
        unknown, *margins = values
        found: Any = 0.0
        for margin in margins:
            found = found + np.where(margin >= 0, 0.0, 1.0)
        return np.where(unknown > 0, 1.0, found)


@dataclass(frozen=True)
class Worst(RowRule):
    """The least margin over what it is compared with, 0 where none is short; far below all where there is no result.

    The first argument says so; then come a margin and what is needed, and so on.
    """

    def apply(self, *values: Any) -> Any:
        unknown, *pairs = values
        worst: Any = 0.0
        for margin, needed in zip(pairs[::2], pairs[1::2], strict=True):
            worst = np.minimum(worst, margin / needed)
        return np.where(unknown > 0, NO_RESULT, worst)
