"""Row-wise columns over the same rows, worked out together block by block.

What lies between stays in the processor's cache and is then forgotten; columns are kept whole only where somebody needs them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from xlfab.tables.cells import Block, Cells, Step
from xlfab.tables.rules import Ref, Rows, Term
from xlfab.tables.sums import Sums

BLOCK = 32768  # elements worked on at once


def run_pass(rows: Rows, variants: int, refs: list[Ref], kept: set[Ref]) -> None:
    """Compute columns and totals into their tables. What fits into one block is kept whole, for it costs nothing."""
    shape = (variants, rows.count) if variants else (rows.count,)
    fits = max(variants, 1) * rows.count <= BLOCK
    columns = [ref for ref in refs if ref.rule.adds_up is None]
    whole = [ref for ref in columns if fits or ref in kept]
    memory = np.empty((len(whole), *shape))  # in one piece: the system hands out large pieces faster
    takers: dict[Ref, tuple[Ref, _Whole | Sums]] = {
        ref: (ref, _Whole(part)) for ref, part in zip(whole, memory, strict=True)
    }
    for ref in refs:
        if ref.rule.adds_up is not None:
            takers[ref] = ref.rule.adds_up, ref.rule.sums(ref, variants)
    recipe = _Recipe(columns, [source for source, _ in takers.values()], variants > 0)
    for block in _blocks(*shape):
        found = recipe.run(block)
        for source, taker in takers.values():
            taker.take(block, found[source])
    for ref, (_, taker) in takers.items():
        ref.table.known[ref.column] = taker.result


class _Whole:
    """A column that is kept."""

    def __init__(self, memory: Any) -> None:
        self.result = memory

    def take(self, block: Block, values: Any) -> None:
        """Store a block of the column; where that is all of it, as it is: words in place of a number, say."""
        if values.shape == self.result.shape:
            self.result = values
        else:
            self.result[block[-self.result.ndim :]] = values


def _blocks(*shape: int) -> Iterator[Block]:
    """Slices of variants and rows, few enough to stay in the cache: whole variants where rows are few."""
    variants, count = shape if len(shape) == 2 else (1, *shape)
    many = max(1, BLOCK // max(count, 1))
    for first in range(0, variants, many):
        for start in range(0, count, BLOCK):
            yield slice(first, min(first + many, variants)), slice(start, min(start + BLOCK, count))


class _Recipe:
    """How each slot of a block is filled, in order, and from when on nobody needs it any more."""

    def __init__(self, columns: list[Ref], results: list[Ref], batch: bool) -> None:
        self.slots: dict[Term, int] = {}
        self.steps: list[Step] = []
        self.last: list[int] = []  # the last step that needs each slot
        self.batch = batch
        for ref in columns:
            self._take_in(ref)
        self.results = {ref: self._slot(ref) for ref in results}
        for slot in self.results.values():
            self.last[slot] = -1
        self.spent = [[slot for slot, last in enumerate(self.last) if last == step] for step in range(len(self.steps))]

    def run(self, block: Block) -> dict[Ref, Any]:
        """The results for one block."""
        cells = Cells(len(self.steps))
        for slot, step in enumerate(self.steps):
            cells.values[slot] = step(cells, block)
            for done in self.spent[slot]:
                cells.values[done] = None  # its memory is taken by the next, still in the cache
        size = tuple(part.stop - part.start for part in (block if self.batch else block[1:]))
        return {ref: np.broadcast_to(cells.values[slot], size) for ref, slot in self.results.items()}

    def _take_in(self, ref: Ref) -> None:
        slots = [self._slot(item) for item in ref.rule.by_row]
        self._add(ref, ref.rule.step(slots, len(self.steps)), slots)

    def _slot(self, item: Term) -> int:
        if item not in self.slots:
            self._add(item, _given(item), [])
        return self.slots[item]

    def _add(self, item: Term, step: Step, needs: Sequence[int]) -> None:
        self.slots[item] = len(self.steps)
        for slot in needs:
            self.last[slot] = len(self.steps)
        self.last.append(len(self.steps))
        self.steps.append(step)


def _given(item: Term) -> Step:
    """A number, or the block's share of a column that is known."""
    if not isinstance(item, Ref) or not item.table.rows.count:  # a record that is still to be filled in has no number
        number = np.float64(np.nan if isinstance(item, Ref) else item)
        return lambda cells, block: number
    array = item.known
    if array.shape[-1] == 1 or array.strides[-1] == 0:  # the same in every row
        first = array[..., :1]
        if array.ndim == 2:
            return lambda cells, block: first[block[0]]
        alike = first[0] if array.dtype == np.float64 else first
        return lambda cells, block: alike
    if array.ndim == 2:
        return lambda cells, block: array[block]
    return lambda cells, block: array[block[1]]
