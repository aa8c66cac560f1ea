"""The values of columns: what is asked for and what that needs, and nothing else.

Row-wise columns of tables that share their rows are worked out together (`xlfab.tables.blocks`); totals and the like column by column.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from xlfab.tables.blocks import run_pass
from xlfab.tables.rules import Ref, Rows

# What is worked out together: the step in the order of dependence, the rows (None: each column for itself), the variants.
Group = tuple[int, Rows | None, int]


def fill(wanted: Iterable[Ref]) -> None:
    """Compute columns, and what they need, into their tables."""
    asked = [ref for ref in wanted if ref.column not in ref.table.known]
    plan = _Plan()
    for ref in asked:
        plan.visit(ref)
    plan.postpone()
    kept = plan.needed_elsewhere() | set(asked)
    with np.errstate(all="ignore"):
        for (_, rows, variants), refs in plan.groups():
            if rows is None:
                for ref in refs:
                    ref.table.known[ref.column] = ref.rule.whole(ref)
            else:
                run_pass(rows, variants, refs, kept)


class _Plan:
    """Which columns are to be computed, after what, and which of them together."""

    def __init__(self) -> None:
        self.group: dict[Ref, Group] = {}  # in an order in which each can be computed

    def visit(self, ref: Ref) -> None:
        """Take in a column after all that it needs."""
        if ref.column in ref.table.known or ref in self.group:
            return
        if not ref.table.rows.count:  # a list or record that is still to be filled in
            text = ref.table.columns[ref.column].unit is None
            ref.table.known[ref.column] = np.array([], dtype=object if text else np.float64)
            return
        needs = ref.rule.needs()
        for item in needs:
            self.visit(item)
        rows, variants = self._rows(ref), max((self._variants(item) for item in needs), default=0)
        step = 0
        for item in needs:
            if item in self.group:
                step = max(step, self.group[item][0] + (not self._together(ref, item, rows, variants)))
        self.group[ref] = step, rows, variants

    def postpone(self) -> None:
        """Move columns of passes to the last one that is in time for all that needs them: then less is kept between passes."""
        latest: dict[Ref, int] = {}
        for ref, (step, rows, variants) in reversed(self.group.items()):
            if rows is not None:
                step = latest.get(ref, step)
                self.group[ref] = step, rows, variants
            for item in ref.rule.needs():
                if item in self.group:
                    before = step - (not self._together(ref, item, rows, variants))
                    latest[item] = min(latest.get(item, before), before)

    def _rows(self, ref: Ref) -> Rows | None:
        """The rows in whose pass a column is computed: its own, or those that a total adds up."""
        source = ref.rule.adds_up
        if source is not None:
            return source.table.rows if self._in_rows(source) else None
        return ref.table.rows if ref.rule.row_wise(ref) else None

    def _in_rows(self, item: Ref) -> bool:
        return item in self.group and self.group[item][1] is not None and item.rule.adds_up is None

    def _together(self, ref: Ref, item: Ref, rows: Rows | None, variants: int) -> bool:
        """True if a column takes what it needs row by row from the same pass."""
        return self._in_rows(item) and self.group[item][1:] == (rows, variants) and item in ref.rule.by_row

    def _variants(self, ref: Ref) -> int:
        """How many variants a column has; 0 where it is no batch."""
        if ref in self.group:
            return self.group[ref][2]
        return ref.known.shape[0] if ref.known.ndim == 2 else 0

    def groups(self) -> list[tuple[Group, list[Ref]]]:
        """The columns of each group, groups and columns in an order in which they can be computed."""
        members: dict[Group, list[Ref]] = {}
        for ref, group in self.group.items():
            members.setdefault(group, []).append(ref)
        return sorted(members.items(), key=lambda item: item[0][0])

    def needed_elsewhere(self) -> set[Ref]:
        """The columns that are needed outside their pass, or whole."""
        found: set[Ref] = set()
        for ref, group in self.group.items():
            for item in ref.rule.needs():
                if self.group.get(item) != group or not self._together(ref, item, group[1], group[2]):
                    found.add(item)
        return found
