"""What a workbook was built as, kept inside it: where every column stands, its formula or allowed range, and the version.

It lies on a very hidden sheet as JSON in pieces, with a checksum over it: enough to notice a change, no proof against a forger.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
from typing import TYPE_CHECKING, Any

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import ScenarioError
from xlfab.tables.table import Column, Ref, Table
from xlfab.workbook.grid import Place, fill

if TYPE_CHECKING:
    from xlfab.workbook.book import Book

SHEET = "xlfab"
FORM = 1  # of the record; raised when its keys change
_PIECE = 30_000  # characters; a cell holds 32,767


def collect(book: Book) -> dict[str, Any]:
    """Everything that an audit and a reading back need to know of a planned workbook."""
    from xlfab import __version__

    columns, cells = [], []
    for sheet in book.sheets:
        kept = [item for item in sheet.columns if item[1].rule.stated or item[1].rule.follows]  # an input or a formula
        for place in kept:
            known = _column(book, *place, place[2].row in sheet.list_rows)
            if heading := sheet.headings.get((id(place[0]), place[1].name)):
                known["heading"] = heading
            columns.append(known)
        for row, offset, item, _ in sheet.refs:
            cells.append([sheet.name, row, offset, sheet.reference(item)])
    names = {name: fill(book.grid.place(item).cell(""), 0) for name, item in book.names}
    return {
        "form": FORM,
        "version": __version__,
        "kind": book.kind,
        "flavour": book.flavour,
        "system": book.grid.system,
        "currency": book.currency,
        "sheets": [sheet.name for sheet in book.sheets],
        "folded": {
            sheet.name: [sorted(sheet.folded_rows), sorted(sheet.folded_columns)]
            for sheet in book.sheets
            if sheet.folded_rows or sheet.folded_columns
        },
        "names": names,
        "columns": columns,
        "cells": cells,
        "record": book.record,
    }


def _column(book: Book, table: Table, column: Column, place: Place, listed: bool) -> dict[str, Any]:
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
        "list": listed,
        "scale": scale,
        "text": unit is None,
    }
    key = table.rows.key
    if key is not None:
        known["key"] = [key.table.name, key.column]
    if not column.rule.stated:
        known["formula"] = book.grid.formula(table, column)
        if column.stated_in is not None:
            known["stated_in"] = [column.stated_in.table.name, column.stated_in.column]
        return known
    known["spare"] = column.spare
    if column.choices:
        known["choices"] = _choices(column)
    elif (column.like or column.name) in ARGUMENTS and unit is not None:
        item = ARGUMENTS[column.like or column.name]
        known["range"] = [item.low, item.high, item.low_open, item.high_open, item.kind]
        known["allowed"] = item.allowed
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
    text = json.dumps(known, separators=(",", ":"))
    sheet = file.add_worksheet(SHEET)
    sheet.very_hidden()
    sheet.write_string(0, 0, "What this workbook was built as; xlfab audit and xlfab read use it. Do not change.")
    sheet.write_string(1, 0, checksum(text))
    for number, start in enumerate(range(0, len(text), _PIECE)):
        sheet.write_string(2 + number, 0, text[start : start + _PIECE])


def checksum(text: str) -> str:
    """The checksum of a record."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read(path: Any, book: Any) -> tuple[dict[str, Any], bool]:
    """The record of an opened workbook, and whether its checksum holds."""
    if SHEET not in book.sheetnames:
        raise ScenarioError(
            f"{path}: it holds no record of how it was built; only workbooks built by xlfab can be audited or read"
        )
    rows = [row[0] for row in book[SHEET].iter_rows(values_only=True)]
    text = "".join(str(piece) for piece in rows[2:] if piece is not None)
    try:
        known = json.loads(text)
        form, version = known["form"], known["version"]
    except (ValueError, KeyError, TypeError) as error:
        raise ScenarioError(f"{path}: the record of how it was built is damaged ({error})") from error
    if form != FORM:
        raise ScenarioError(f"{path}: it was built by xlfab {version}, whose record this version cannot read")
    return known, checksum(text) == rows[1]
