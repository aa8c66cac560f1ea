"""What a workbook was built as, kept inside it: where everything stands, each formula, text, format and allowed range, and the version.

It lies on a very hidden sheet as JSON in pieces, with a checksum over it: enough to notice a change, no proof against a forger.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import math
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import ValidationError

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import ScenarioError
from xlfab.tables.table import Column, Ref, Table
from xlfab.workbook.grid import Place, fill
from xlfab.workbook.record_schema import BuildRecord
from xlfab.workbook.style import shown_format
from xlfab.workbook.validation import rounded

if TYPE_CHECKING:
    from xlfab.workbook.book import Book
    from xlfab.workbook.sheet import Sheet

SHEET = "xlfab"
FORM = 2  # of the record; raised when its keys change
_PIECE = 30_000  # characters; a cell holds 32,767
_LONG = 60  # characters; of a longer text the checksum is kept


def collect(book: Book) -> dict[str, Any]:
    """Everything that an audit and a reading back need to know of a planned workbook."""
    from xlfab import __version__

    return {
        "form": FORM,
        "version": __version__,
        "kind": book.kind,
        "flavour": book.flavour,
        "system": book.grid.system,
        "currency": book.currency,
        "paper": book.paper_name,
        "sheets": [sheet.name for sheet in book.sheets],
        "protected": [sheet.name for sheet in book.sheets if not sheet.folded_rows and not sheet.folded_columns],
        "folded": {
            sheet.name: [sorted(sheet.folded_rows), sorted(sheet.folded_columns)]
            for sheet in book.sheets
            if sheet.folded_rows or sheet.folded_columns
        },
        "names": {name: fill(book.grid.place(item).cell(""), 0) for name, item in book.names},
        "columns": [_column(book, sheet, *item) for sheet in book.sheets for item in sheet.columns],
        "cells": [_shown(book, sheet, *item) for sheet in book.sheets for item in sheet.refs],
        "texts": {sheet.name: _texts(book, sheet) for sheet in book.sheets},
        "record": _known(book.record),
    }


def _known(item: Any) -> Any:
    """The same with None for figures that only the user knows."""
    if isinstance(item, dict):
        return {key: _known(value) for key, value in item.items()}
    if isinstance(item, list | tuple):
        return [_known(value) for value in item]
    return None if isinstance(item, float) and not math.isfinite(item) else item


def _shown(book: Book, sheet: Sheet, row: int, offset: int, item: Ref, kind: str) -> dict[str, Any]:
    unit = book.grid.shown(item.table.columns[item.column].unit)[0]
    formula = sheet.reference(item)
    return {"sheet": sheet.name, "row": row, "at": offset, "formula": formula, "format": shown_format(unit, "", kind)}


def _texts(book: Book, sheet: Sheet) -> list[list[Any]]:
    """Headings, labels, units, notes and figures that belong to no table."""
    found: list[list[Any]] = []
    for cell in sheet.cells:
        if isinstance(cell.value, float):
            scale = book.grid.shown(cell.unit)[1]
            found.append([cell.row, cell.column, rounded(cell.value / scale, scale)])
        elif cell.value:
            found.append([cell.row, cell.column, short_text(str(cell.value))])
    return found


def short_text(text: str) -> str:
    """A text as the record keeps it: whole, or as a checksum where it is long."""
    return text if len(text) <= _LONG else "#" + hashlib.sha256(text.encode("utf-8")).hexdigest()[:16]


def _column(book: Book, sheet: Sheet, table: Table, column: Column, place: Place) -> dict[str, Any]:
    unit, scale = book.grid.shown(column.unit)
    known: dict[str, Any] = {
        "table": table.name,
        "column": column.name,
        "label": column.label,
        "sheet": place.sheet,
        "row": place.row,
        "at": place.column,
        "count": place.count,
        "used": table.rows.count,
        "list": place.row in sheet.list_rows,
        "rows": table.rows.name,
        "scale": scale,
        "text": unit is None,
        "format": shown_format(unit, column.zero),
    }
    if heading := sheet.headings.get((id(table), column.name)):
        known["heading"] = heading
    if table.name in book.private:
        known["private"] = True
    key = table.rows.key
    if key is not None:
        known["key"] = [key.table.name, key.column]
    if column.rule.follows:
        known["formula"] = book.grid.formula(table, column)
        if column.stated_in is not None:
            known["stated_in"] = [column.stated_in.table.name, column.stated_in.column]
        return known
    known["built"] = _built(table.value(column.name), scale, column.rule.stated)
    return known | (_input(column, unit) if column.rule.stated else {"fixed": True})


def _built(values: Any, scale: float, stated: bool) -> list[Any]:
    """The values as they are written into the cells."""
    shown: list[Any] = []
    for value in np.asarray(values).reshape(-1).tolist():
        if isinstance(value, str):
            shown.append(value)
        elif value is None or not math.isfinite(value):
            shown.append(None)
        else:
            shown.append(rounded(value / scale, scale) if stated else value / scale)
    return shown


def _input(column: Column, unit: Any) -> dict[str, Any]:
    known: dict[str, Any] = {"spare": column.spare}
    name = column.like or column.name
    if column.choices:
        known["choices"] = _choices(column)
    elif name in ARGUMENTS and unit is not None:
        item = ARGUMENTS[name]
        known["range"] = [item.low, item.high, item.low_open, item.high_open, item.kind]
        known["allowed"] = item.allowed
        if item.usual:
            known["usual"] = list(item.usual)
    return known


def _choices(column: Column) -> Any:
    if isinstance(column.choices, Ref):
        return {"table": column.choices.table.name, "column": column.choices.column}
    return list(column.choices)


def scenario_record(scenario: Any, assumed: Any = (), option: str = "", against: str = "") -> dict[str, Any]:
    """What of a scenario stands in no cell: names, options, and on what each value rests."""
    sections = {key: getattr(scenario, key).model_dump() for key in ("workplace", "tariff", "purchase", "finance")}
    lists = {"press_brake": scenario.press_brakes, "shear": scenario.shears, "option": scenario.options}
    parts = scenario.parts
    return {
        "texts": {key: getattr(scenario, key) for key in ("name", "title", "currency", "units", "note")},
        "sections": sections | {key: [item.model_dump() for item in items] for key, items in lists.items()},
        "assumptions": [dataclasses.asdict(item) for item in [*scenario.assumptions, *assumed]],
        "features": [item.model_dump() for item in scenario.features],
        "sellers": [item.name for item in scenario.sellers],  # what they cost stands on the seller's sheet alone
        "option": option,
        "against": against,
        "yearly": dict(zip(parts["part"].tolist(), parts["yearly_quantity_count"].tolist(), strict=True)),
    }


def write(file: Any, known: dict[str, Any]) -> None:
    """Put the record on its own very hidden sheet."""
    text = json.dumps(known, separators=(",", ":"), allow_nan=False)
    sheet = file.add_worksheet(SHEET)
    sheet.very_hidden()
    sheet.write_string(0, 0, "What this workbook was built as; xlfab audit and xlfab read use it. Do not change.")
    sheet.write_string(1, 0, checksum(text))
    for number, start in enumerate(range(0, len(text), _PIECE)):
        sheet.write_string(2 + number, 0, text[start : start + _PIECE])


def checksum(text: str) -> str:
    """The checksum of a record."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read(path: Any, lines: list[str]) -> tuple[BuildRecord, bool]:
    """The record from the lines of its sheet, and whether its checksum holds."""
    text = "".join(lines[2:])
    try:
        raw = json.loads(text)
        form, version = raw["form"], raw["version"]
    except (ValueError, KeyError, TypeError, RecursionError) as error:
        raise ScenarioError(f"{path}: the record of how it was built is damaged ({str(error)[:80]})") from error
    if form != FORM:
        raise ScenarioError(f"{path}: it was built by xlfab {str(version)[:20]}, whose record this version cannot read")
    try:
        known = BuildRecord.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"]))[:60]
        raise ScenarioError(f"{path}: the record of how it was built is damaged ({place}: {first['msg']})") from error
    return known, checksum(text) == lines[1]
