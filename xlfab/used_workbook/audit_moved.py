"""Rows and columns put in or deleted, sheets renamed or gone: one finding for each, with its cause."""

from __future__ import annotations

from collections.abc import Iterator

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.moved import Moved
from xlfab.used_workbook.open_used import Used, cell_name


def moved_findings(used: Used) -> Iterator[Finding]:
    """What stands elsewhere than built."""
    for name in used.known.sheets:
        if not used.has(name):
            yield Finding("moved", name, "", "the sheet is missing")
            continue
        if used.sheets[name].name != name:
            yield Finding("moved", name, "", f"the sheet was renamed to '{used.sheets[name].name}'")
        yield from _sheet(used, name, used.moved[name])


def _sheet(used: Used, name: str, moved: Moved) -> Iterator[Finding]:
    lists: dict[int, tuple[int, int]] = {}
    for (row, at), more in moved.grown.items():
        lists.setdefault(row, (at, more))
    left = [(row, more) for row, (_, more) in sorted(lists.items())]
    for row, (at, more) in sorted(lists.items()):
        count = next(item.count for item in used.known.columns if (item.sheet, item.row, item.at) == (name, row, at))
        what = _rows(more, "put into", "deleted from")
        advice = "what stands in it is not counted on other sheets" if more > 0 else "sums and lists elsewhere lost it"
        text = f"{what} the list that starts here ({count + more} rows where {count} were built): {advice}"
        yield Finding("moved", name, cell_name(moved.row(row), moved.column(at)), text)
    before = 0
    for row, offset in moved.rows:
        change, before = offset - before, offset
        known = next((item for item in left if item[1] == change and item[0] < row), None)
        if known:  # the list above is named already
            left.remove(known)
        else:
            yield Finding("moved", name, f"A{row + offset + 1}", f"{_rows(change, 'put in', 'deleted')} above this row")
    before = 0
    for column, offset in moved.columns:
        change, before = offset - before, offset
        words = "column was" if abs(change) == 1 else "columns were"
        text = f"{abs(change)} {words} {'put in' if change > 0 else 'deleted'} to the left of this column"
        yield Finding("moved", name, cell_name(0, column + offset), text)


def _rows(change: int, more: str, fewer: str) -> str:
    words = "row was" if abs(change) == 1 else "rows were"
    return f"{abs(change)} {words} {more if change > 0 else fewer}"
