"""Formulas of a used workbook against those that were built, in whatever spelling a program saved them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from xlfab.used_workbook.file_parts import every
from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.formulas import BROKEN, Area, from_where_they_differ, parsed
from xlfab.used_workbook.open_used import Used, cell_name, same_value
from xlfab.used_workbook.sheet_part import CellContent
from xlfab.workbook.grid import fill
from xlfab.workbook.record_schema import ColumnRecord

_MARK = re.compile(r"§(\d+)§")
_ROW = re.compile(r"(?<=[A-Za-z$])\d+")


def formula_findings(used: Used, columns: Iterable[ColumnRecord]) -> Iterator[Finding]:
    """Everything wrong with formulas, with figures worked out when built, and with named cells."""
    compare = Comparison(used)
    for item in columns:
        if item.formula:
            yield from _column(used, compare, item)
        elif item.fixed:
            yield from _fixed(used, item)
    for cell in used.known.cells:
        if used.has(cell.sheet):
            moved = used.moved[cell.sheet]
            at = moved.row(cell.row), moved.column(cell.at)
            found = used.sheets[cell.sheet].cells.get(at)
            yield from _one(compare, cell.sheet, at, found, cell.formula, cell.formula)
    yield from _names(used, compare)


@dataclass
class Comparison:
    """Compares formulas of one workbook; what has been compared once is known."""

    used: Used
    known: dict[tuple[str, str, str], bool] = field(default_factory=dict)
    built: dict[str, str] = field(default_factory=dict)  # the name of a sheet now -> as built, both in small letters

    def __post_init__(self) -> None:
        self.built = {sheet.name.casefold(): name.casefold() for name, sheet in self.used.sheets.items()}

    def same(self, sheet: str, template: str, found: str, expected: str) -> bool:
        """True if a formula is the expected one, or became what it is by rows and columns that moved."""
        if found == expected:
            return True
        # a column repeats one formula: what is compared in one row need not be compared in the next
        key = sheet, template, _as_template(found, template, expected)
        if key not in self.known:
            self.known[key] = self._same(sheet, found, expected)
        return self.known[key]

    def _same(self, sheet: str, found: str, expected: str) -> bool:
        one, other = parsed(found), parsed(expected)
        pairs = zip(one.areas, other.areas, strict=False)
        return one.words == other.words and all(self._alike(sheet, *pair) for pair in pairs)

    def _alike(self, own: str, found: Area | str, expected: Area | str) -> bool:
        if not isinstance(expected, Area):
            return found == expected
        target = expected.sheet or own.casefold()
        moved = next((self.used.moved[name] for name in self.used.moved if name.casefold() == target), None)
        here = self.used.moved[own]
        if not isinstance(found, Area):  # lost with a row, a column or a sheet, which is named by itself
            return moved is None or moved.row_offsets[0] < 0 or moved.column_offsets[0] < 0 or here.row_offsets[0] < 0
        named = self.built.get(found.sheet, found.sheet) or own.casefold()
        if named != target:
            return False
        # rows of this sheet may have moved against the rows they refer to, either way
        slack = max(map(abs, here.row_offsets)), max(map(abs, here.column_offsets))
        rows, columns = (moved.row_offsets, moved.column_offsets) if moved else ((0, 0), (0, 0))
        return all(
            low - more <= now - then <= high + more
            for now, then, (low, high), more in (
                (found.top, expected.top, rows, slack[0]),
                (found.bottom, expected.bottom, rows, slack[0]),
                (found.left, expected.left, columns, slack[1]),
                (found.right, expected.right, columns, slack[1]),
            )
        )


def _as_template(found: str, template: str, expected: str) -> str:
    """A formula with marks in place of the row numbers that the template fills in."""
    marks = {filled: mark for mark, filled in zip(_MARK.findall(template), _filled(template, expected), strict=False)}
    return _ROW.sub(lambda match: f"§{marks[match[0]]}§" if match[0] in marks else match[0], found)


def _filled(template: str, expected: str) -> list[str]:
    """The row numbers that stand in a formula in place of the marks."""
    first = _MARK.search(template)
    if first is None:
        return []
    start = first.start() + 1  # behind the equals sign
    number = re.match(r"\d+", expected[start:])
    offset = int(number[0]) - int(first[1]) if number else 0
    return [str(int(mark) + offset) for mark in _MARK.findall(template)]


def _column(used: Used, compare: Comparison, item: ColumnRecord) -> Iterator[Finding]:
    sheet, moved = used.sheets[item.sheet], used.moved[item.sheet]
    start, column = moved.row(item.row), moved.column(item.at)
    lines: Iterable[int] = range(start, start + item.count)
    if moved.grown.get((item.row, item.at)):  # those that are left hold formulas, a row put in holds none
        last = start + used.count(item)
        lines = [row for row in range(start, last) if (row, column) in sheet.cells and sheet.cells[row, column].formula]
    for number, row in enumerate(lines):
        expected = "=" + fill(item.formula, number)
        yield from _one(compare, item.sheet, (row, column), sheet.cells.get((row, column)), expected, item.formula)


def _one(
    compare: Comparison, sheet: str, at: tuple[int, int], found: CellContent | None, expected: str, template: str
) -> Iterator[Finding]:
    place = cell_name(*at)
    if found is None or found.formula is None:
        value = None if found is None else found.value
        word = "deleted" if value is None or value == "" else f"overwritten by {_said(value)}"
        yield Finding("overwritten", sheet, place, f"its formula was {word}")
    elif not compare.same(sheet, template, found.formula, expected):
        broken = BROKEN in found.formula or parsed(found.formula).words == parsed(expected).words
        what = "a range in its formula is broken or changed" if broken else "its formula was changed"
        now, then = from_where_they_differ(found.formula, expected)
        yield Finding("broken range" if broken else "changed formula", sheet, place, f"{what}: {now} instead of {then}")


def _said(value: object) -> str:
    return repr(value) if isinstance(value, str) else f"{value:.12g}" if isinstance(value, float) else str(value)


def _fixed(used: Used, item: ColumnRecord) -> Iterator[Finding]:
    """Figures that were worked out when the workbook was built, and follow no input."""
    for number, built in enumerate(item.built[: used.count(item)]):
        now = used.value_of(item, number)
        if built not in ("", None) and not same_value(now, built):  # an empty one may be a place for something else
            words = f"it was worked out when the workbook was built: {_said(now)} instead of {_said(built)}"
            yield Finding("overwritten", item.sheet, used.where(item, number), words)


def _names(used: Used, compare: Comparison) -> Iterator[Finding]:
    found = {item.get("name"): item.text or "" for item in every(used.parts.book, "definedName")}
    for name, place in used.known.names.items():
        if name not in found:
            yield Finding("broken range", "", name, f"the name is gone; it stood for {place}")
            continue
        sheet = next(iter(used.sheets), "")
        if not compare.same(sheet, place, found[name], place):
            yield Finding("broken range", "", name, f"the name stands for {found[name]} instead of {place}")
