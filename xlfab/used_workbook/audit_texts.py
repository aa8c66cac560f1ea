"""Headings, labels, units and other words of a used workbook against those that were built; other currencies; boxes over cells."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.open_used import Used, cell_name
from xlfab.workbook.build_record import short_text
from xlfab.workbook.record_schema import ColumnRecord

# codes of ISO 4217 and signs that people type beside a price
_CURRENCY = re.compile(
    r"(?<![A-Za-z])(?:EUR|USD|GBP|CHF|JPY|CNY|CAD|AUD|SEK|NOK|DKK|PLN|CZK|HUF|RON|TRY|INR|BRL|MXN|KRW|ZAR)(?![A-Za-z])|[€$£¥₹]"
)
_SIGNS = {"€": "EUR", "$": "USD", "£": "GBP", "¥": "JPY", "₹": "INR"}


def text_findings(used: Used, columns: Iterable[ColumnRecord]) -> Iterator[Finding]:
    """Everything wrong with words."""
    for name, texts in used.known.texts.items():
        if used.has(name):
            for row, at, text in texts:
                yield from _text(used, name, row, at, text)
    for item in columns:
        if item.stated and item.text:
            yield from _currency(used, item)
    for name in used.sheets:
        for text in used.parts.text_boxes(used.sheets[name].name):
            if text:
                words = (
                    f"a box lies over the cells and says {_short(text)}: take it away, or see that it hides no figure"
                )
                yield Finding("text", name, "", words)


def _text(used: Used, name: str, row: int, at: int, text: float | str) -> Iterator[Finding]:
    moved = used.moved[name]
    place = moved.row(row), moved.column(at)
    cell = used.sheets[name].cells.get(place)
    now = None if cell is None else cell.value
    if (now is None or now == "") and moved.any:
        return  # gone with its row or column
    if isinstance(text, str):
        same = isinstance(now, str) and short_text(now) == text
    else:
        same = isinstance(now, float) and abs(now - text) <= 1e-9 * max(abs(text), 1e-3)
    if not same:
        was = "" if isinstance(text, str) and text.startswith("#") else f" instead of {_short(text)}"
        words = "was deleted" if now is None else f"was changed: {_short(now)}{was}"
        yield Finding("text", name, cell_name(*place), f"its text {words}")


def _currency(used: Used, item: ColumnRecord) -> Iterator[Finding]:
    own = _SIGNS.get(used.known.currency, used.known.currency)
    for number in used.rows(item):
        value = used.value_of(item, number)
        for found in _CURRENCY.findall(value) if isinstance(value, str) else ():
            if _SIGNS.get(found, found) != own and value not in item.built:
                words = f"{_short(value)} names {found}; every amount of this workbook is in {used.known.currency}"
                yield Finding("text", item.sheet, used.where(item, number), words)
                break


def _short(text: Any) -> str:
    return repr(text) if not isinstance(text, str) or len(text) <= 60 else repr(text[:57] + "...")
