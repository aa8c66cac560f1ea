"""A used workbook compared with what was built: what was overwritten, changed, broken, moved, hidden, shown otherwise, or mixed up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab import __version__
from xlfab.used_workbook.audit_display import display_findings
from xlfab.used_workbook.audit_formulas import formula_findings
from xlfab.used_workbook.audit_guards import guard_findings
from xlfab.used_workbook.audit_inputs import input_findings
from xlfab.used_workbook.audit_lists import list_findings
from xlfab.used_workbook.audit_moved import moved_findings
from xlfab.used_workbook.audit_texts import text_findings
from xlfab.used_workbook.file_parts import every
from xlfab.used_workbook.findings import Finding, grouped
from xlfab.used_workbook.open_used import Used
from xlfab.workbook.build_record import SHEET

# settings of the calculation, with the values that mislead
_CALCULATION = {
    ("calcMode", "manual"): "calculation is set to 'by hand': results may be old. Set it to automatic and save again",
    (
        "fullPrecision",
        "0 false",
    ): "the program calculates with figures cut to what is shown: switch 'precision as shown' off",
    ("iterate", "1 true"): "circular formulas are allowed: switch iteration off",
}


@dataclass(frozen=True)
class Report:
    """What an audit found, and how much it looked at."""

    findings: list[Finding]
    formulas: int
    inputs: int


def audit(path: Path) -> Report:
    """Compare a used workbook with the record inside it."""
    used = Used.open(path)
    return used.parts.guarded(_audited, used)


def _audited(used: Used) -> Report:
    there = [item for item in used.known.columns if used.has(item.sheet)]
    found = [*_record(used), *_calculation(used), *moved_findings(used), *formula_findings(used, there)]
    for item in there:
        if item.stated:
            found += input_findings(used, item)
    for part in (list_findings, text_findings, display_findings, guard_findings):
        found += part(used, there)
    calculated = sum(item.count for item in there if item.formula)
    return Report(grouped(found), calculated + len(used.known.cells), sum(item.count for item in there if item.stated))


def _record(used: Used) -> Iterator[Finding]:
    """The record itself: is it whole, and of this version."""
    if not used.sound:
        text = "the record of how the workbook was built was changed: nothing below can be relied on"
        yield Finding("record", SHEET, "A2", text)
    if used.known.version != __version__:
        yield Finding("record", SHEET, "A1", f"built by xlfab {used.known.version}; this is xlfab {__version__}")


def _calculation(used: Used) -> Iterator[Finding]:
    found: Any = next(every(used.parts.book, "calcPr"), None)
    for (key, values), words in _CALCULATION.items():
        if found is not None and found.get(key) in values.split():
            yield Finding("calculation", "", "", words)
