"""What an audit finds: kind, place, words; neighbours of one kind in a column are one line."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

KINDS = (
    "record",  # of how the workbook was built: damaged, or of another version
    "calculation",  # settings that stop or round the calculation
    "overwritten",
    "changed formula",
    "broken range",
    "moved",  # rows or columns put in or deleted, sheets renamed or gone
    "input",
    "unusual",
    "list",  # rows that do not count, or that were mixed up
    "text",  # labels, units, what lies over the cells
    "display",  # figures that are shown otherwise than they are
    "hidden",
    "unprotected",
)
_CELL = re.compile(r"([A-Z]+)([0-9]+)")


@dataclass(frozen=True)
class Finding:
    """One fault: what kind, on which sheet, in which cells, and what is wrong."""

    kind: str
    sheet: str
    cell: str
    text: str

    def __post_init__(self) -> None:
        assert self.kind in KINDS, self.kind


def grouped(found: Iterable[Finding]) -> list[Finding]:
    """Findings with runs of neighbouring cells of one kind in one column put together; the first one's words are kept."""
    result: list[Finding] = []
    last: tuple[str, str, str, int] | None = None
    for item in found:
        match = _CELL.fullmatch(item.cell)
        place = (item.kind, item.sheet, match[1], int(match[2])) if match else None
        follows = place is not None and last is not None and place[:3] == last[:3] and place[3] == last[3] + 1
        if follows and item.kind not in ("input", "unusual"):
            first = result.pop()
            start = first.cell.partition(":")[0]
            result.append(Finding(item.kind, item.sheet, f"{start}:{item.cell}", first.text))
        else:
            result.append(item)
        last = place
    return result
