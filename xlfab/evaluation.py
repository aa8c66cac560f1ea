"""The values of columns: what is asked for and what that needs, and nothing else.

Row-wise columns of tables that share their rows are worked out together (`xlfab.row_pass`); totals and the like column by column.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from xlfab.columns import Calc, Count, Largest, Lookup, OverRange, Peak, Ref, Rows, Rule, Running, Total
from xlfab.errors import InputError
from xlfab.keys import counts, places
from xlfab.registry import Function
from xlfab.row_pass import run_pass

# What is worked out together: the step in the order of dependence, the rows (None: each column for itself), the variants.
Group = tuple[int, Rows | None, int]


def fill(wanted: Iterable[Ref]) -> None:
    """Compute columns, and what they need, into their tables."""
    asked = [ref for ref in wanted if ref.column not in ref.table.known]
    plan = _Plan()
    for ref in asked:
        plan.visit(ref)
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
        variants = max((self._variants(item) for item in needs), default=0)
        rows = ref.table.rows if _row_wise(ref, needs) else None
        step = 0
        for item in needs:
            if item in self.group:
                before, *kind = self.group[item]
                together = rows is not None and kind == [rows, variants]
                step = max(step, before if together else before + 1)
        self.group[ref] = step, rows, variants

    def _variants(self, ref: Ref) -> int:
        """How many variants a column has; 0 where it is no batch."""
        if ref in self.group:
            return self.group[ref][2]
        values = ref.table.known[ref.column]
        return values.shape[0] if values.ndim == 2 else 0

    def groups(self) -> list[tuple[Group, list[Ref]]]:
        """The columns of each group, groups and columns in an order in which they can be computed."""
        members: dict[Group, list[Ref]] = {}
        for ref, group in self.group.items():
            members.setdefault(group, []).append(ref)
        return sorted(members.items(), key=lambda item: item[0][0])

    def needed_elsewhere(self) -> set[Ref]:
        """The columns that another group needs."""
        return {
            item for ref, group in self.group.items() for item in _needs(ref) if self.group.get(item, group) != group
        }


def _needs(ref: Ref) -> list[Ref]:
    """The columns that a column is made from."""
    rule = ref.table.columns[ref.column].rule
    if isinstance(rule, Calc | OverRange):
        return [item for item in rule.arguments if isinstance(item, Ref)]
    if isinstance(rule, Lookup):
        return [rule.key, rule.source, Ref(rule.source.table, rule.source_key)]
    if isinstance(rule, Total):
        return [rule.source] if rule.key is None else [rule.source, rule.key, Ref(rule.source.table, rule.source_key)]
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
    column = ref.table.columns[ref.column]
    if column.unit is None:
        return False
    if isinstance(column.rule, Calc):
        return ref.table.rows.count == 1 or any(item.table.rows.count > 1 for item in needs)
    return isinstance(column.rule, Lookup)


# --- whole columns: totals, look-ups of text and the like -----------------------------------------------------------


def _whole(ref: Ref) -> Any:
    """A column that is not worked out row by row."""
    rule: Rule = ref.table.columns[ref.column].rule
    count = ref.table.rows.count
    if isinstance(rule, Calc):
        return _alike(rule, count)
    if isinstance(rule, Lookup):
        return _value(rule.source).take(places(Ref(rule.source.table, rule.source_key), rule.key), axis=-1)
    if isinstance(rule, Count):
        return _count(rule, ref.table.rows)
    if isinstance(rule, Total):
        return _total(rule, count)
    if isinstance(rule, Largest):
        return np.max([np.abs(_value(item)) for item in rule.sources], axis=0)
    if isinstance(rule, Peak):
        values = _value(rule.source)
        if not values.shape[-1]:
            return np.zeros(1)  # as MAX and MIN of no number
        return (values.min if rule.least else values.max)(axis=-1, keepdims=True)
    if isinstance(rule, Running):
        values = ref.table.known[rule.column]
        sums = np.cumsum(values, axis=-1)
        return sums - values if rule.before else sums
    assert isinstance(rule, OverRange)
    arguments = [_range_argument(item) for item in rule.arguments]
    return np.asarray(rule.function(*arguments, invalid="nan")).reshape(*np.shape(arguments[-1])[:-1], 1)


def _value(ref: Ref) -> Any:
    return ref.table.known[ref.column]


def _argument(item: Ref | float) -> Any:
    if not isinstance(item, Ref):
        return np.float64(item)
    return _value(item) if item.table.rows.count else np.float64(np.nan)  # a record that is still to be filled in


def _alike(rule: Calc, count: int) -> Any:
    """A text column, or a number that is the same in every row."""
    options = {"invalid": "nan"} if isinstance(rule.function, Function) else {}
    arguments = [_argument(item) for item in rule.arguments]
    result = np.asarray(rule.function(*arguments, **options))
    shape = (*result.shape[:-1], count)
    return result if result.shape == shape else np.broadcast_to(result, shape)


def _count(rule: Count, rows: Rows) -> Any:
    if rule.source_key.table.rows is rows:  # equal keys among the rows themselves
        return counts(_value(rule.key), _value(rule.source_key))
    return np.bincount(places(rule.key, rule.source_key), minlength=rows.count).astype(np.float64)


def _total(rule: Total, count: int) -> Any:
    values = _value(rule.source)
    if rule.key is None:
        return values.sum(axis=-1, keepdims=True)
    place = places(rule.key, Ref(rule.source.table, rule.source_key))
    if values.ndim == 1:
        return np.bincount(place, weights=values, minlength=count)
    return np.stack([np.bincount(place, weights=row, minlength=count) for row in values])


def _range_argument(item: Ref | float) -> Any:
    if not isinstance(item, Ref):
        return item
    values = _value(item)
    if item.table.rows.count > 1:
        return values
    return values[..., 0] if values.ndim > 1 else float(values[0])
