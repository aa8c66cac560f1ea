"""Lists of a used workbook: rows below their end, and values that stand in another row than built because a part was sorted."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.open_used import Used, cell_name, filled
from xlfab.workbook.record_schema import ColumnRecord

_FEW = 3  # values in other rows than built: fewer may be honest
_BELOW = 25  # rows below a list in which somebody may type on
STEP = "step_count"  # with the part's name, what a row of a list of steps is known by


def list_findings(used: Used, columns: Iterable[ColumnRecord]) -> Iterator[Finding]:
    """Everything wrong with the rows of lists."""
    lists: dict[str, list[ColumnRecord]] = {}
    for item in columns:
        if item.stated and item.listed and item.count > 1:
            lists.setdefault(item.table, []).append(item)
    for members in lists.values():
        names = [item for item in members if item.text]
        if names:
            yield from _mixed_up(used, members, names[0])
            yield from _below(used, members, names[0])


def _below(used: Used, members: list[ColumnRecord], name: ColumnRecord) -> Iterator[Finding]:
    """Rows typed below the end of a list: no formula knows them."""
    sheet = used.sheets[name.sheet]
    row, at = used.at(name, used.count(name))
    moved = used.moved[name.sheet]
    built = [moved.row(item.row) for item in used.known.columns if item.sheet == name.sheet]
    built += [moved.row(text[0]) for text in used.known.texts.get(name.sheet, [])]
    end = min((line for line in built if line >= row), default=row + _BELOW)
    for line in range(row, min(end, row + _BELOW)):
        typed = [column for column in (used.at(item, 0)[1] for item in members) if filled(sheet.raw(line, column))]
        if at in typed or len(typed) > 1:
            words = f"{_said(sheet.raw(line, typed[0]))} stands below the end of the list: it is not counted"
            yield Finding("list", name.sheet, cell_name(line, at if at in typed else typed[0]), words)


def _said(value: Any) -> str:
    return repr(value) if isinstance(value, str) else f"{value:.12g}" if isinstance(value, float) else str(value)


def _mixed_up(used: Used, members: list[ColumnRecord], name: ColumnRecord) -> Iterator[Finding]:
    known_by = [name, *(item for item in members if item.column == STEP)]
    then = _table(members, [item.built for item in members])
    now = _table(members, [[_read(used, item, number) for number in used.rows(item)] for item in members])
    before = _by_name(then, [item.column for item in known_by])
    after = _by_name(now, [item.column for item in known_by])
    both = [row for row in after if row in before]
    moved = [
        item for item in members if _exchanged([(before[row][item.column], after[row][item.column]) for row in both])
    ]
    if not moved and not _only_rows_differ(then, now):
        return
    few = ", ".join(item.label for item in moved[:3]) + (" and others" if len(moved) > 3 else "")
    what = f"the values of {few}" if moved else "the values of some columns"
    words = f"{what} stand in other rows than built: was a part of the list sorted without the rest?"
    yield Finding("list", name.sheet, used.where(name, 0), words)


def _table(members: list[ColumnRecord], columns: list[list[Any]]) -> list[dict[str, Any]]:
    rows = min(map(len, columns), default=0)
    return [{item.column: column[row] for item, column in zip(members, columns, strict=True)} for row in range(rows)]


def _read(used: Used, item: ColumnRecord, number: int) -> Any:
    value = used.value_of(item, number)
    return value.strip() if isinstance(value, str) else value


def _by_name(rows: list[dict[str, Any]], names: list[str]) -> dict[tuple[str, ...], dict[str, Any]]:
    """Rows by what they are known by; those that share it with another are left out."""
    keys = [tuple(str(row[name]).casefold() for name in names) for row in rows]
    count = Counter(keys)
    return {key: row for key, row in zip(keys, rows, strict=True) if count[key] == 1}


def _exchanged(pairs: list[tuple[Any, Any]]) -> bool:
    """True if several rows differ, but hold the same values among them."""
    differing = [(one, other) for one, other in pairs if one != other]
    if len(differing) < _FEW:
        return False
    one, other = Counter(pair[0] for pair in differing), Counter(pair[1] for pair in differing)
    return sum((one - other).values()) <= len(differing) // 4


def _only_rows_differ(then: list[dict[str, Any]], now: list[dict[str, Any]]) -> bool:
    """True if every column holds the values that it held, but several rows hold other values together."""
    if len(then) != len(now) or not then:
        return False
    for column in then[0]:
        if Counter(row[column] for row in then) != Counter(row[column] for row in now):
            return False
    rows = Counter(tuple(row.values()) for row in then)
    return sum((rows - Counter(tuple(row.values()) for row in now)).values()) >= _FEW
