"""The inputs of a used workbook: empty where a figure is needed, no number, outside the allowed range, a name not in its list."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.open_used import Used, cell_name, filled

_ERROR = re.compile(r"#(N/A|REF!|VALUE!|DIV/0!|NUM!|NAME\?|NULL!|SPILL!|CALC!)")


def input_findings(used: Used, item: dict[str, Any]) -> Iterator[Finding]:
    """Everything wrong with one column of inputs."""
    sheet, at, shift = item["sheet"], item["at"], used.shift(item)
    rows = set(used.rows(item))
    is_key = item.get("key") == [item["table"], item["column"]]
    seen: dict[str, int] = {}
    for number in range(item["count"]):
        row = item["row"] + shift + number
        value = used.value(sheet, row, at)
        if value is None and used.raw(sheet, row, at) is not None:
            continue  # the user's own formula, whose value no program has stored yet
        if number not in rows:
            if not is_key and filled(value) and not _untouched(value, item):
                yield Finding(
                    "input",
                    sheet,
                    cell_name(row, at),
                    f"{_said(value)} stands in a row without a name: it is not counted",
                )
            continue
        problem = _problem(used, item, value, number)
        if is_key and not problem and item["count"] > 1 and _is_name(item):
            folded = str(value).strip().casefold()
            if folded in seen:
                problem = f"{_said(value)} stands twice (also in row {seen[folded] + 1})"
            seen.setdefault(folded, row)
        if problem:
            yield Finding("input", sheet, cell_name(row, at), problem)


def _is_name(item: dict[str, Any]) -> bool:
    """True if the key of a list names its rows; the lists of steps and bought-in pieces name parts, several rows each."""
    return item["text"] and "choices" not in item


def _untouched(value: Any, item: dict[str, Any]) -> bool:
    spare = item.get("spare")
    return isinstance(spare, (int, float)) and isinstance(value, (int, float)) and value * item["scale"] == spare


def _said(value: Any) -> str:
    return repr(value) if isinstance(value, str) else f"{value:.12g}" if isinstance(value, (int, float)) else str(value)


def _problem(used: Used, item: dict[str, Any], value: Any, number: int) -> str:
    if isinstance(value, str) and _ERROR.fullmatch(value):
        return f"{value} stands where a value is wanted"
    if "choices" in item:
        return _not_chosen(used, item, value)
    if item["text"]:
        return ""
    if not filled(value):
        return "" if number >= item["used"] and "key" not in item else "empty: a number is wanted"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return f"{_said(value)} is no number"
    return _out_of_range(item, float(value))


def _out_of_range(item: dict[str, Any], shown: float) -> str:
    if "range" not in item:
        return ""
    low, high, low_open, high_open, kind = item["range"]
    value = shown * item["scale"]
    close = 1e-9 * max(abs(low), abs(high)) if item["scale"] != 1 else 0.0  # units may round at the very bound
    below = value < low - close or (low_open and value == low)
    above = value > high + close or (high_open and value == high)
    whole = kind in ("whole", "switch") and value != int(value)
    return f"{shown:.12g} is not allowed: {item['allowed']}" if below or above or whole else ""


def _not_chosen(used: Used, item: dict[str, Any], value: Any) -> str:
    choices = item["choices"]
    if isinstance(choices, dict):
        source = used.columns.get((choices["table"], choices["column"]))
        if source is None or not used.has(source["sheet"]):
            return ""
        known = used.names(source)
    else:
        known = {str(name).casefold() for name in choices}
    if not filled(value):
        return "empty: one of the list is wanted"
    return "" if str(value).strip().casefold() in known else f"{_said(value)} is none of the list"
