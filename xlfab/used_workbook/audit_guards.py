"""What guards a workbook against slips: protection of sheets, locks of cells, rules for typing. Are they still there?"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.open_used import Used
from xlfab.used_workbook.sheet_part import Rule, SheetPart, covers
from xlfab.workbook.record_schema import ColumnRecord

_NUMBERS = ("decimal", "whole", "list")


def guard_findings(used: Used, columns: Iterable[ColumnRecord]) -> Iterator[Finding]:
    """Protection, locks and rules that were taken off."""
    named: set[str] = set()
    for name in used.known.protected:
        if used.has(name) and not used.sheets[name].protected:
            words = "the protection of the sheet was taken off: a formula can be overwritten by a slip"
            yield Finding("unprotected", name, "", words)
    for item in columns:
        if item.formula:
            yield from _locks(used, item)
        elif item.stated and (item.choices is not None or item.bounds is not None):
            if used.sheets[item.sheet].rules:
                yield from _rules(used, item)
            elif item.sheet not in named:
                named.add(item.sheet)
                yield Finding("unprotected", item.sheet, "", "the rules for what may be typed were taken off the sheet")


def _locks(used: Used, item: ColumnRecord) -> Iterator[Finding]:
    open_looks = {number for number, look in enumerate(used.parts.looks) if not look.locked}
    for number in range(used.count(item)):
        cell = used.cell(item, number)
        if cell is not None and cell.formula is not None and cell.look in open_looks:
            words = "the lock of the formula was taken off"
            yield Finding("unprotected", item.sheet, used.where(item, number), words)


def _rules(used: Used, item: ColumnRecord) -> Iterator[Finding]:
    sheet = used.sheets[item.sheet]
    bare = [number for number in range(used.count(item)) if _rule(sheet, *used.at(item, number)) is None]
    if bare:
        place = used.where(item, bare[0])
        place += "" if len(bare) == 1 else f":{used.where(item, bare[-1])}"
        words = "the rule for what may be typed was taken off"
        yield Finding("unprotected", item.sheet, place, words)
        return
    rule = _rule(sheet, *used.at(item, 0)) if used.count(item) else None
    if rule is not None and item.choices is None and item.bounds is not None and rule.kind != "list":
        wanted = [bound / item.scale for bound in item.bounds[:2]]
        if not all(_near(limit, bound) for limit, bound in zip(rule.limits, wanted, strict=True)):
            words = f"the rule for what may be typed was changed; allowed: {item.allowed}"
            yield Finding("unprotected", item.sheet, used.where(item, 0), words)


def _rule(sheet: SheetPart, row: int, column: int) -> Rule | None:
    """The rule on a cell that checks numbers or names."""
    for rule in sheet.rules:
        if rule.kind in _NUMBERS and any(covers(area, row, column) for area in rule.areas):
            return rule
    return None


def _near(text: str, bound: float) -> bool:
    try:
        return abs(float(text) - bound) <= 1e-6 * max(abs(bound), 1e-9)
    except ValueError:
        return False
