"""The values of columns: what is asked for and what that needs, and nothing else.

Row-wise columns of tables that share their rows are worked out together (`xlfab.tables.blocks`); totals and the like column by column.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from xlfab.core.errors import InputError
from xlfab.core.registry import Function
from xlfab.tables.blocks import by_row, run_pass
from xlfab.tables.keys import counts, places
from xlfab.tables.rules import AtLeast, Calc, Count, Largest, Lookup, OverRange, Peak, Ref, Rows, Running, Total
from xlfab.tables.sums import ALL, Sums

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
                    ref.table.known[ref.column] = _whole(ref)
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
        needs = _needs(ref)
        for item in needs:
            self.visit(item)
        rows, variants = self._rows(ref, needs), max((self._variants(item) for item in needs), default=0)
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
            for item in _needs(ref):
                if item in self.group:
                    before = step - (not self._together(ref, item, rows, variants))
                    latest[item] = min(latest.get(item, before), before)

    def _rows(self, ref: Ref, needs: list[Ref]) -> Rows | None:
        """The rows in whose pass a column is computed: its own, or those that a total adds up."""
        if isinstance(ref.rule, Total):
            return ref.rule.source.table.rows if self._in_rows(ref.rule.source) else None
        return ref.table.rows if _row_wise(ref, needs) else None

    def _in_rows(self, item: Ref) -> bool:
        return item in self.group and self.group[item][1] is not None and not isinstance(item.rule, Total)

    def _together(self, ref: Ref, item: Ref, rows: Rows | None, variants: int) -> bool:
        """True if a column takes what it needs row by row from the same pass."""
        return self._in_rows(item) and self.group[item][1:] == (rows, variants) and item in by_row(ref.rule)

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
            for item in _needs(ref):
                if self.group.get(item) != group or not self._together(ref, item, group[1], group[2]):
                    found.add(item)
        return found


def _needs(ref: Ref) -> list[Ref]:
    """The columns that a column is made from."""
    rule = ref.rule
    if isinstance(rule, Calc | OverRange):
        return [item for item in rule.arguments if isinstance(item, Ref)]
    if isinstance(rule, Lookup):
        return [rule.key, rule.source, Ref(rule.source.table, rule.source_key)]
    if isinstance(rule, Total):
        where = [] if rule.where is None else [rule.where]
        keys = [] if rule.key is None else [rule.key, Ref(rule.source.table, rule.source_key)]
        return [rule.source, *where, *keys]
    if isinstance(rule, AtLeast):
        return [rule.source, Ref(rule.source.table, rule.by)]
    if isinstance(rule, Count):
        return [rule.key, rule.source_key]
    if isinstance(rule, Largest):
        return list(rule.sources)
    if isinstance(rule, Peak):
        return [rule.source]
    if isinstance(rule, Running):
        return [Ref(ref.table, rule.column)]
    raise InputError(f"{ref.table.name}.{ref.column} is an input without values")


def _row_wise(ref: Ref, needs: list[Ref]) -> bool:
    """True if each row's number depends on its own row alone, and not all rows on the same cells."""
    if ref.table.columns[ref.column].unit is None:
        return False
    if isinstance(ref.rule, Calc):
        return ref.table.rows.count == 1 or any(item.table.rows.count > 1 for item in needs)
    return isinstance(ref.rule, Lookup)


# --- whole columns: totals, look-ups of text and the like -----------------------------------------------------------


def _whole(ref: Ref) -> Any:
    """A column that is not worked out row by row."""
    rule = ref.rule
    count = ref.table.rows.count
    if isinstance(rule, Calc):
        return _alike(rule, count)
    if isinstance(rule, Lookup):
        if rule.key.known is Ref(rule.source.table, rule.source_key).known:
            return rule.source.known
        return rule.source.known.take(places(Ref(rule.source.table, rule.source_key), rule.key), axis=-1)
    if isinstance(rule, Count):
        return _count(rule, ref.table.rows)
    if isinstance(rule, Total):
        return _total(rule, count)
    if isinstance(rule, Largest):
        return np.max([np.abs(item.known) for item in rule.sources], axis=0)
    if isinstance(rule, Peak):
        values = rule.source.known
        if not values.shape[-1]:
            return np.zeros(1)  # as MAX and MIN of no number
        return (values.min if rule.least else values.max)(axis=-1, keepdims=True)
    if isinstance(rule, AtLeast):
        return _at_least(rule)
    if isinstance(rule, Running):
        values = Ref(ref.table, rule.column).known
        sums = np.cumsum(values, axis=-1)
        return sums - values if rule.before else sums
    assert isinstance(rule, OverRange)
    arguments = [_range_argument(item) for item in rule.arguments]
    return np.asarray(rule.function(*arguments, invalid="nan")).reshape(*np.shape(arguments[-1])[:-1], 1)


def _argument(item: Ref | float) -> Any:
    if not isinstance(item, Ref):
        return np.float64(item)
    return item.known if item.table.rows.count else np.float64(np.nan)  # a record that is still to be filled in


def _alike(rule: Calc, count: int) -> Any:
    """A text column, or a number that is the same in every row."""
    options = {"invalid": "nan"} if isinstance(rule.function, Function) else {}
    arguments = [_argument(item) for item in rule.arguments]
    result = np.asarray(rule.function(*arguments, **options))
    shape = (*result.shape[:-1], count)
    return result if result.shape == shape else np.broadcast_to(result, shape)


def _count(rule: Count, rows: Rows) -> Any:
    if rule.source_key.table.rows is rows:  # equal keys among the rows themselves
        return counts(rule.key.known, rule.source_key.known)
    return np.bincount(places(rule.key, rule.source_key), minlength=rows.count).astype(np.float64)


def _at_least(rule: AtLeast) -> Any:
    values, by = rule.source.known, Ref(rule.source.table, rule.by).known
    if not values.shape[-1]:
        return np.array([""], dtype=object) if values.dtype.kind in "OUS" else np.zeros(1)
    place = np.argmin(by, axis=-1)
    if by.ndim == 1:
        return values[..., place : place + 1]
    return np.take_along_axis(np.broadcast_to(values, by.shape), place[:, np.newaxis], axis=-1)


def _total(rule: Total, count: int) -> Any:
    values = rule.source.known
    sums = Sums(rule, count, values.shape[0] if values.ndim == 2 else 0)
    sums.take(ALL, values)
    return sums.result


def _range_argument(item: Ref | float) -> Any:
    if not isinstance(item, Ref):
        return item
    values = item.known
    if item.table.rows.count > 1:
        return values
    return values[..., 0] if values.ndim > 1 else float(values[0])
