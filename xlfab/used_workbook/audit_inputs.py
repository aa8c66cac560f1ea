"""The inputs of a used workbook: empty where a figure is needed, no number, out of range, unusual, a name not in its list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.formulas import outside
from xlfab.used_workbook.open_used import Used, filled
from xlfab.workbook.record_schema import Choices, ColumnRecord

_ERROR = re.compile(r"#(N/A|REF!|VALUE!|DIV/0!|NUM!|NAME\?|NULL!|SPILL!|CALC!)")
_TIMES = 10  # a price this many times what was built, or its part, is a slip of the point more often than meant
_ANY_SIZE = ("price_step_cur", "minimum_order_cur")  # terms that may be changed to anything


def input_findings(used: Used, item: ColumnRecord) -> Iterator[Finding]:
    """Everything wrong with one column of inputs."""
    rows = set(used.rows(item))
    is_key = item.key == item.place
    seen: dict[str, int] = {}
    for number in range(used.count(item)):
        cell = used.cell(item, number)
        value = None if cell is None else cell.value
        if cell is not None and cell.formula is not None and (value is None or outside(cell.formula)):
            if outside(cell.formula):
                yield Finding(
                    "input", item.sheet, used.where(item, number), "its value comes from another file: type it"
                )
            continue  # the user's own formula, whose value no program has stored yet
        if number not in rows:
            if not is_key and filled(value) and not _untouched(value, item):
                words = f"{said(value)} stands in a row without a name: it is not counted"
                yield Finding("input", item.sheet, used.where(item, number), words)
            continue
        problem = _problem(used, item, value, number)
        if is_key and not problem and item.count > 1 and item.text and item.choices is None:
            folded = str(value).strip().casefold()
            if folded in seen:
                problem = f"{said(value)} stands twice (also in {used.where(item, seen[folded])})"
            seen.setdefault(folded, number)
        if problem:
            yield Finding("input", item.sheet, used.where(item, number), problem)
        elif words := _unusual(item, value, number):
            yield Finding("unusual", item.sheet, used.where(item, number), words)


def _untouched(value: Any, item: ColumnRecord) -> bool:
    return isinstance(item.spare, float) and isinstance(value, float) and value * item.scale == item.spare


def said(value: Any) -> str:
    """A value in a message."""
    return repr(value) if isinstance(value, str) else f"{value:.12g}" if isinstance(value, float) else str(value)


def _problem(used: Used, item: ColumnRecord, value: Any, number: int) -> str:
    if isinstance(value, str) and _ERROR.fullmatch(value):
        return f"{value} stands where a value is wanted"
    if (item.choices is not None or item.key == item.place) and isinstance(value, str) and value != value.strip():
        return f"{said(value)} has a space at its {'end' if value == value.lstrip() else 'start'}: it is taken for another name"
    if item.choices is not None:
        return _not_chosen(used, item, value)
    if item.text:
        return ""
    if not filled(value):
        return "" if number >= item.used and item.key is None else "empty: a number is wanted"
    if not isinstance(value, float):
        return f"{said(value)} is no number"
    return _out_of_range(item, value)


def _out_of_range(item: ColumnRecord, shown: float) -> str:
    if item.bounds is None:
        return ""
    low, high, low_open, high_open, kind = item.bounds
    value = shown * item.scale
    close = 1e-9 * max(abs(low), abs(high)) if item.scale != 1 else 0.0  # units may round at the very bound
    below = value < low - close or (low_open and value == low)
    above = value > high + close or (high_open and value == high)
    whole = kind in ("whole", "switch") and value != int(value)
    return f"{shown:.12g} is not allowed: {item.allowed}" if below or above or whole else ""


def _not_chosen(used: Used, item: ColumnRecord, value: Any) -> str:
    if isinstance(item.choices, Choices):
        source = used.columns.get((item.choices.table, item.choices.column))
        if source is None or not used.has(source.sheet):
            return ""
        known = used.names(source)
    else:
        known = {str(name).casefold() for name in item.choices or ()}
    if not filled(value):
        return "empty: one of the list is wanted"
    return "" if str(value).strip().casefold() in known else f"{said(value)} is none of the list"


def _unusual(item: ColumnRecord, value: Any, number: int) -> str:
    """What is out of proportion, and was not so when the workbook was built."""
    if item.text or not isinstance(value, float) or value in item.built or _untouched(value, item):
        return ""
    if item.usual is not None:
        low, high = (bound / item.scale for bound in item.usual)
        unusual = not low - 1e-9 <= value <= high * (1 + 1e-9)
        return f"{value:.12g} is unusual: mostly {low:.6g} to {high:.6g}. Is it right?" if unusual else ""
    before = item.built[number] if number < len(item.built) else None
    money = "_cur" in item.column and item.column not in _ANY_SIZE
    if not money or item.count > 1 or not isinstance(before, float) or before <= 0 or value <= 0:
        return ""
    times = max(value / before, before / value)
    return (
        f"{value:.12g} is far from the {before:.12g} it was built with. Is the point right?" if times >= _TIMES else ""
    )
