"""Figures that are shown otherwise than they are: by number formats, by the colour of their letters, by hidden rows and sheets."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from xlsxwriter.utility import xl_col_to_name

from xlfab.used_workbook.file_parts import Look
from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.open_used import Used, cell_name
from xlfab.used_workbook.sheet_part import SheetPart
from xlfab.workbook.record_schema import ColumnRecord

_LITERAL = re.compile(r'"([^"]*)"|\\(.)|\[\$([^\]-]*)[^\]]*\]|_.|\*.')
_DIGITS = re.compile(r"[0#?]")
_BRACKETS = re.compile(r"\[[^\]]*\]")


def display_findings(used: Used, columns: Iterable[ColumnRecord]) -> Iterator[Finding]:
    """Everything that hides or changes what is shown."""
    for item in columns:
        for number in range(used.count(item)):
            yield from _cell(used, item.sheet, *used.at(item, number), item.format)
    for cell in used.known.cells:
        if used.has(cell.sheet):
            moved = used.moved[cell.sheet]
            yield from _cell(used, cell.sheet, moved.row(cell.row), moved.column(cell.at), cell.format)
    for name, sheet in used.sheets.items():
        yield from _hidden(used, name, sheet)
        yield from _conditions(used, name, sheet)


def _cell(used: Used, sheet: str, row: int, column: int, expected: str) -> Iterator[Finding]:
    cell = used.sheets[sheet].cells.get((row, column))
    if cell is None or cell.look >= len(used.parts.looks):
        return
    words = _misleads(used.parts.looks[cell.look], expected)
    if words:
        yield Finding("display", sheet, cell_name(row, column), words)


@cache
def _misleads(look: Look, expected: str) -> str:
    if look.ink and look.ink == (look.ground or "FFFFFF"):
        return "its letters have the colour of the ground: it cannot be seen"
    return misleading(look.number_format, expected)


def misleading(found: str, expected: str) -> str:
    """What is wrong with a number format against the one that was built; empty where it shows as much.

    >>> misleading("0", "#,##0.00"), misleading("0.000", "#,##0.00")
    ("its format '0' shows 0 decimals in place of 2", '')
    """
    if found == expected:
        return ""
    now, built = _sections(found), _sections(expected)
    if expected == "General":  # words: only what hides them matters
        return (
            f"its format '{found}' hides it"
            if found.replace(" ", "") in (";;;", '""') or (len(now) == 4 and not now[3])
            else ""
        )
    said, known = _words(found), _words(expected)
    if not all(_shows(section) for section in now[:2]) or (len(now) > 2 and not _shows(now[2]) and len(built) < 3):
        return f"its format '{found}' does not show the figure"
    if said - known:
        return f"its format '{found}' puts {', '.join(map(repr, sorted(said - known)))} beside the figure"
    if _scale(found) != _scale(expected):
        return f"its format '{found}' shows it in another scale"
    if len(now) > 1 and "[" not in _bare(now[0]) and not any(sign in _bare(now[1]) for sign in "-("):
        return f"its format '{found}' shows a figure below 0 without its sign"
    decimals, wanted = max(map(_decimals, now)), max(map(_decimals, built))
    if decimals < wanted:
        return f"its format '{found}' shows {decimals} decimals in place of {wanted}"
    return ""


def _sections(code: str) -> list[str]:
    kept = _LITERAL.sub(lambda match: match[0].replace(";", "\0"), code)
    return [section.replace("\0", ";") for section in kept.split(";")]


def _bare(section: str) -> str:
    """A section without its words; a minus sign in quotes stays."""
    return _LITERAL.sub(lambda match: "-" if "-" in (match[1] or match[2] or "") else "", section)


def _shows(section: str) -> bool:
    bare = _BRACKETS.sub("", _bare(section))
    return bool(_DIGITS.search(bare)) or "general" in bare.casefold() or "@" in bare


def _words(code: str) -> set[str]:
    """Letters, digits and signs that a format puts beside figures."""
    found = {(match[1] or match[2] or match[3] or "").strip(" -()+") for match in _LITERAL.finditer(code)}
    return {word for word in found if word.strip()}


def _scale(code: str) -> tuple[int, int]:
    """Per cent signs, and commas that divide by a thousand."""
    first = _BRACKETS.sub("", _bare(_sections(code)[0]))
    tail = re.search(r"[0#?](,+)(?![0#?.])", first)
    return first.count("%"), len(tail[1]) if tail else 0


def _decimals(section: str) -> int:
    bare = _BRACKETS.sub("", _bare(section))
    if "general" in bare.casefold() or "@" in bare or "E" in bare.upper():
        return 99
    return len(_DIGITS.findall(bare.partition(".")[2]))


def _hidden(used: Used, name: str, sheet: SheetPart) -> Iterator[Finding]:
    if sheet.state != "visible":
        yield Finding("hidden", name, "", "the sheet is hidden")
    moved = used.moved[name]
    rows, columns = used.known.folded.get(name, ([], []))  # folded as built: not hidden by anybody
    folded = {moved.row(row) for row in rows}
    for row in sheet.hidden_rows:
        if row not in folded and row <= sheet.last_row:
            yield Finding("hidden", name, f"A{row + 1}", f"row {row + 1} is hidden")
    folded = {moved.column(column) for column in columns}
    widest = max((column for _, column in sheet.cells), default=0)
    for first, last in sheet.hidden_columns:
        for column in range(first, min(last, widest) + 1):
            if column not in folded:
                letters = xl_col_to_name(column)
                yield Finding("hidden", name, f"{letters}1", f"column {letters} is hidden")


def _conditions(used: Used, name: str, sheet: SheetPart) -> Iterator[Finding]:
    """Conditions that hide a figure by its format."""
    for areas, number in sheet.conditions:
        form = used.parts.conditions[number].number_format if number < len(used.parts.conditions) else ""
        if form and areas and not any(_shows(section) for section in _sections(form)):
            words = f"a conditional format '{form}' hides it"
            yield Finding("display", name, cell_name(areas[0][0], areas[0][1]), words)
