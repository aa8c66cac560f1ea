"""Totals of a column, over all rows or by key, added up from blocks of rows."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.tables.cells import Block


class Sums:
    """What a total has come to so far: a number for each row of its table, in a batch for each variant.

    `place` is the row of the result to which each row of the column belongs; None adds up all rows. `where` marks the rows that count.
    """

    def __init__(self, place: Any, count: int, variants: int, where: Any = None) -> None:
        self.result = np.zeros((variants, count) if variants else count)
        self.place = place
        self.where = where

    def take(self, block: Block, values: Any) -> None:
        """Add a block of the column."""
        result = self.result[block[0]] if values.ndim == 2 else self.result
        if self.where is not None:
            values = np.where(self.where[block if self.where.ndim == 2 else block[1]], values, 0.0)
        if self.place is None:
            result += values.sum(axis=-1, keepdims=True)
            return
        place = self.place[block[1]]
        if not len(place):
            return
        low, high = place.min(), place.max() + 1
        result[..., low:high] += _by_place(place - low, values, high - low)


def _by_place(place: Any, values: Any, count: int) -> Any:
    if values.ndim == 1:
        return np.bincount(place, values, count)
    variants = len(values)
    apart = place + count * np.arange(variants)[:, np.newaxis]
    return np.bincount(apart.reshape(-1), values.reshape(-1), count * variants).reshape(variants, count)
