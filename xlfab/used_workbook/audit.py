"""A used workbook compared with what was built: what was overwritten, changed, broken, hidden, or is out of its range."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab import __version__
from xlfab.used_workbook.audit_inputs import input_findings
from xlfab.used_workbook.findings import Finding, grouped
from xlfab.used_workbook.open_used import Used, cell_name, is_formula, normal, skeleton
from xlfab.workbook.build_record import SHEET
from xlfab.workbook.grid import fill


@dataclass(frozen=True)
class Report:
    """What an audit found, and how much it looked at."""

    findings: list[Finding]
    formulas: int
    inputs: int


def audit(path: Path) -> Report:
    """Compare a used workbook with the record inside it."""
    used = Used.open(path)
    found = list(_record(used))
    formulas = inputs = 0
    for item in used.known["columns"]:
        if not used.has(item["sheet"]):
            continue
        shift = used.shift(item)
        if shift:
            rows = "inserted" if shift > 0 else "deleted"
            text = f"'{item['label']}' stands {abs(shift)} rows from where it was built: rows were {rows} above it"
            found.append(Finding("broken range", item["sheet"], cell_name(item["row"] + shift, item["at"]), text))
        if "formula" in item:
            formulas += item["count"]
            found += _formulas(used, item, shift)
        else:
            inputs += item["count"]
            found += input_findings(used, item)
    for sheet, row, column, formula in used.known["cells"]:
        formulas += 1
        if used.has(sheet):
            found += _one(used, sheet, row, column, formula)
    found += _names(used)
    found += _hidden(used)
    return Report(grouped(found), formulas, inputs)


def _record(used: Used) -> Iterator[Finding]:
    """The record itself: is it whole, of this version, and are its sheets there."""
    if not used.sound:
        yield Finding(
            "record",
            SHEET,
            "A2",
            "the record of how the workbook was built was changed: nothing below can be relied on",
        )
    built = used.known["version"]
    if built != __version__:
        yield Finding("version", SHEET, "A1", f"built by xlfab {built}; this is xlfab {__version__}")
    for name in used.known["sheets"]:
        if not used.has(name):
            yield Finding("broken range", name, "", "the sheet is missing or was renamed")


def _formulas(used: Used, item: dict[str, Any], shift: int) -> Iterator[Finding]:
    for number in range(item["count"]):
        expected = "=" + fill(item["formula"], number + shift)
        yield from _one(used, item["sheet"], item["row"] + shift + number, item["at"], expected)


def _one(used: Used, sheet: str, row: int, column: int, expected: str) -> Iterator[Finding]:
    raw = used.raw(sheet, row, column)
    if raw == expected:
        return
    place = cell_name(row, column)
    if not is_formula(raw):
        word = "deleted" if raw is None or raw == "" else f"overwritten by {raw!r}"
        yield Finding("overwritten", sheet, place, f"its formula was {word}")
    elif normal(raw) != normal(expected):
        broken = "#REF!" in raw or skeleton(raw) == skeleton(expected)
        what = "a range in its formula is broken or changed" if broken else "its formula was changed"
        kind = "broken range" if broken else "changed formula"
        yield Finding(kind, sheet, place, f"{what}: {_short(raw)} instead of {_short(expected)}")


def _short(formula: str) -> str:
    return formula if len(formula) <= 90 else formula[:87] + "..."


def _names(used: Used) -> Iterator[Finding]:
    for name, place in used.known["names"].items():
        found = used.book.defined_names.get(name)
        if found is None:
            yield Finding("broken range", "", name, f"the name is gone; it stood for {place}")
        elif normal(found.value) != normal(place):
            yield Finding("broken range", "", name, f"the name stands for {found.value} instead of {place}")


def _hidden(used: Used) -> Iterator[Finding]:
    for name in used.known["sheets"]:
        if not used.has(name):
            continue
        sheet = used.book[name]
        if sheet.sheet_state != "visible":
            yield Finding("hidden", name, "", "the sheet is hidden")
        rows, columns = used.known.get("folded", {}).get(name, ([], []))  # as built: not hidden by anybody
        for row, data in sheet.row_dimensions.items():
            if row - 1 not in rows and (data.hidden or data.height == 0):
                yield Finding("hidden", name, f"A{row}", f"row {row} is hidden")
        for letters, data in sheet.column_dimensions.items():
            if data.min - 1 not in columns and (data.hidden or data.width == 0):
                yield Finding("hidden", name, f"{letters}1", f"column {letters} is hidden")
