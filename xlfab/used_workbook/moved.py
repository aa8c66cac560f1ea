"""Where things stand now: rows and columns that somebody put in or deleted, and sheets that got another name.

Known from the texts that were built: headings and labels are looked for in their order. A list that is the last thing on its
sheet is measured by the rules for typing that lie on it, or by its formulas.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from dataclasses import dataclass, field
from difflib import SequenceMatcher

from xlfab.used_workbook.sheet_part import SheetPart, covers
from xlfab.workbook.build_record import short_text
from xlfab.workbook.record_schema import ColumnRecord

Texts = list[tuple[int, int, float | str]]
_IN_PLACE = 0.97  # of the texts: then nothing has moved
_ALIKE = 0.6  # of the texts of a sheet that got another name


@dataclass
class Moved:
    """By how much rows and columns of a sheet stand elsewhere than built; 0 everywhere where nobody moved anything."""

    rows: list[tuple[int, int]] = field(default_factory=list)  # from this built row on: offset
    columns: list[tuple[int, int]] = field(default_factory=list)
    grown: dict[tuple[int, int], int] = field(
        default_factory=dict
    )  # (first row, column) of a list -> rows more or fewer

    def row(self, built: int) -> int:
        """Where a built row stands now."""
        return built + _offset(self.rows, built)

    def column(self, built: int) -> int:
        """Where a built column stands now."""
        return built + _offset(self.columns, built)

    @property
    def any(self) -> bool:
        """True if anything moved."""
        return bool(self.row_offsets != (0, 0) or self.column_offsets != (0, 0))

    @property
    def row_offsets(self) -> tuple[int, int]:
        """The least and the greatest offset of a row."""
        steps = [0, *(offset for _, offset in self.rows), *self.grown.values()]
        steps += [_offset(self.rows, place[0]) + more for place, more in self.grown.items()]
        return min(steps), max(steps)

    @property
    def column_offsets(self) -> tuple[int, int]:
        """The least and the greatest offset of a column."""
        steps = [0, *(offset for _, offset in self.columns)]
        return min(steps), max(steps)


def _offset(steps: list[tuple[int, int]], built: int) -> int:
    at = bisect_right(steps, built, key=lambda step: step[0])
    return steps[at - 1][1] if at else 0


def moved_texts(texts: Texts, sheet: SheetPart) -> Moved:
    """What the texts of a sheet say."""
    built = [(row, at, text) for row, at, text in texts if isinstance(text, str)]
    if not built or sum(_found(sheet, row, at) == text for row, at, text in built) >= _IN_PLACE * len(built):
        return Moved()
    known = {text for _, _, text in built}
    now = [
        (row, at, text)
        for (row, at), cell in sorted(sheet.cells.items())
        if cell.formula is None and isinstance(cell.value, str) and (text := short_text(cell.value)) in known
    ]
    return _aligned(_lines(built), _lines(now))


def _found(sheet: SheetPart, row: int, at: int) -> str:
    cell = sheet.cells.get((row, at))
    return short_text(cell.value) if cell is not None and isinstance(cell.value, str) else ""


Line = tuple[int, tuple[int, ...], tuple[str, ...]]  # row, columns, texts


def _lines(places: list[tuple[int, int, str]]) -> list[Line]:
    rows: dict[int, list[tuple[int, str]]] = {}
    for row, at, text in places:
        rows.setdefault(row, []).append((at, text))
    return [(row, *zip(*sorted(found), strict=True)) for row, found in sorted(rows.items())]  # type: ignore[misc]


def _aligned(built: list[Line], now: list[Line]) -> Moved:
    match = SequenceMatcher(None, [line[2] for line in built], [line[2] for line in now], autojunk=False)
    rows: list[tuple[int, int]] = []
    votes: dict[int, Counter[int]] = {}
    for first, second, size in match.get_matching_blocks():
        for one, two in zip(built[first : first + size], now[second : second + size], strict=True):
            rows.append((one[0], two[0] - one[0]))
            for at, place in zip(one[1], two[1], strict=True):
                votes.setdefault(at, Counter())[place - at] += 1
    columns = [(at, found.most_common(1)[0][0]) for at, found in sorted(votes.items())]
    return Moved(_steps(rows), _steps(columns))


def _steps(places: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The places from which on the offset is another one."""
    steps: list[tuple[int, int]] = []
    for place, offset in places:
        if offset != (steps[-1][1] if steps else 0):
            steps.append((place, offset))
    return steps


def grown(columns: list[ColumnRecord], texts: Texts, sheet: SheetPart, moved: Moved) -> dict[tuple[int, int], int]:
    """By how many rows each list of a sheet is longer or shorter than built."""
    found: dict[tuple[int, int], int] = {}
    blocks: dict[int, list[ColumnRecord]] = {}
    for item in columns:
        if item.listed and item.count > 1:
            blocks.setdefault(item.row, []).append(item)
    starts = sorted({*(item.row for item in columns), *(text[0] for text in texts)})
    for row, members in blocks.items():
        below = bisect_right(starts, row + members[0].count - 1)
        end = moved.row(starts[below]) if below < len(starts) else moved.row(row) + 2 * members[0].count + 50
        lengths = [length for item in members if (length := _length(item, sheet, moved, end)) is not None]
        more = Counter(lengths).most_common(1)[0][0] - members[0].count if lengths else 0
        if more:
            found |= {(row, item.at): more for item in members}
    return found


def _length(item: ColumnRecord, sheet: SheetPart, moved: Moved, end: int) -> int | None:
    """The rows of a list now, as far as one of its columns tells; what stands below it begins at `end`."""
    row, at = moved.row(item.row), moved.column(item.at)
    if item.formula:
        held = [line for line in range(row, end) if (line, at) in sheet.cells and sheet.cells[line, at].formula]
        return held[-1] - row + 1 if held else None
    for rule in sheet.rules:
        for area in rule.areas:
            if item.stated and covers(area, row, at) and area[0] == row and area[2] > row:
                return min(area[2], end - 1) - row + 1
    return None


def other_name(texts: Texts, sheets: list[SheetPart]) -> str:
    """The name that a sheet has now, known by its texts; empty where none is like it."""
    wanted = {text for _, _, text in texts if isinstance(text, str)}
    best, score = "", 0.0
    for sheet in sheets:
        held = {short_text(cell.value) for cell in sheet.cells.values() if isinstance(cell.value, str)}
        alike = len(wanted & held) / max(len(wanted), 1)
        if alike > max(score, _ALIKE):
            best, score = sheet.name, alike
    return best
