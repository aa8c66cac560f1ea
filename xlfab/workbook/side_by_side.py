"""Tables that share their rows, laid next to each other: each of their columns once for every machine or option."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from xlfab.tables.table import Table
from xlfab.workbook.grid import repeats
from xlfab.workbook.sheet import Stands


def side_by_side(tables: Mapping[str, Table], main: Sequence[str] = ()) -> list[Stands]:
    """Columns of tables by the name that stands over each: machine beside machine, the main columns first, all others folded.

    A column that only repeats another one is left out: formulas refer to the other one.
    """
    names = list(dict.fromkeys(name for table in tables.values() for name in table.columns))
    ordered = [*(name for name in main if name in names), *(name for name in names if name not in main)]
    return [
        Stands(table, name, title, table.columns[name].label, name not in main)
        for name in ordered
        for title, table in tables.items()
        if name in table.columns and (name in main or repeats(table[name]) is None)
    ]


def with_savings(columns: Sequence[Stands], saved: Table | None) -> list[Stands]:
    """Behind the last table's column of each figure, what it saves against the first."""
    if saved is None:
        return list(columns)
    made: list[Stands] = []
    for item, after in zip(columns, [*columns[1:], None], strict=True):
        made.append(item)
        if item.name in saved.columns and not item.fold and (after is None or after.name != item.name):
            made.append(Stands(saved, item.name, "Saved", item.group))
    return made


def savings(first: Table, last: Table, names: Sequence[str]) -> Table | None:
    """What the last of several tables saves against the first; nothing where they are the same one."""
    if first is last:
        return None
    made = Table(f"saved_{last.name}", f"{last.title}: saved", first.rows)
    for name in names:
        made.add(name, _less, first[name], last[name], label=f"{first.columns[name].label}, saved")
    return made


def _less(first: Any, last: Any) -> Any:
    return first - last
