"""What an input cell accepts: the bounds of the vocabulary, in the unit that is shown, with a plain message."""

from __future__ import annotations

from typing import Any

from xlfab.core.arguments import ARGUMENTS, Argument
from xlfab.core.errors import FormulaError
from xlfab.core.units import unit_label
from xlfab.tables.table import Column, Ref
from xlfab.workbook.grid import Grid, Place


def validate(sheet: Any, grid: Grid, place: Place, column: Column, currency: str) -> None:
    """Put the rule of an input column on its cells; a column that is not in the vocabulary and has no choices takes anything."""
    argument = ARGUMENTS.get(column.like or column.name)
    rule: dict[str, Any]
    if column.choices:
        source = column.choices
        listed = "=" + grid.place(source).range(place.sheet) if isinstance(source, Ref) else list(source)
        rule = {"validate": "list", "source": listed, "error_message": "Choose one of the list."}
    elif argument is None or column.unit is None:
        return
    elif column.unit.suffix == "switch":
        rule = {"validate": "list", "source": ["0", "1"], "error_message": f"{argument.description}."[:255]}
    else:
        rule = _between(grid, argument, column, currency)
    rule["error_title"] = column.label[:32]
    last = place.row + place.count - 1
    if sheet.data_validation(place.row, place.column, last, place.column, rule) not in (0, None):
        raise FormulaError(f"{place.sheet}: no data validation for {column.name}")


def _between(grid: Grid, argument: Argument, column: Column, currency: str) -> dict[str, Any]:
    unit, scale = grid.shown(column.unit)
    assert unit is not None
    shown = "%" if unit.suffix == "share" else unit_label(unit.suffix, currency)
    low = f"{'above' if argument.low_open else 'at least'} {argument.low / scale:g}"
    high = f"{'below' if argument.high_open else 'at most'} {argument.high / scale:g}"
    text = f"{argument.label}: {low}, {high} {shown}. {argument.description}."[:255]
    return {
        "validate": "decimal",
        "criteria": "between",
        "minimum": argument.low / scale,
        "maximum": argument.high / scale,
        "input_title": argument.label[:32],
        "input_message": text,
        "error_message": text,
    }


def rounded(value: float, scale: float) -> float:
    """An input in another unit without the noise of conversion, where that gives back the same number."""
    if scale == 1.0:
        return value
    short = float(f"{value:.12g}")
    return short if short * scale == value * scale else value
