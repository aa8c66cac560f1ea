"""The cells of a workbook as its reader sees them: number formats, hidden and struck-through places, formulas without a value."""

from __future__ import annotations

import datetime
import math
import re
import warnings
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.workbook_reading import open_workbook
from xlfab.customer_list.cell_grid import Cell, Number, Odd, Sheet, plain_cell
from xlfab.customer_list.quantity import unit_of

_QUOTED = re.compile(r'"([^"]*)"|\\(.)')
_LOOK = re.compile(r"\[[^\]]*\]|_.|\*.")  # colours and conditions, and room left for a character
_FRACTION = re.compile(r"#? ?\?+/(\?+)")
_STRUCK = "struck through; it may not hold any more"


def workbook_sheets(path: Path) -> list[Sheet]:
    """Every sheet of cells, the hidden ones marked."""
    with warnings.catch_warnings():  # of validations and print areas that a list's reader has no use for
        warnings.simplefilter("ignore")
        values, formulas = open_workbook(path), open_workbook(path, formulas=True, rich_text=True)
    names = [name for name in values.sheetnames if hasattr(values[name], "merged_cells")]
    try:
        return [_sheet(values[name], formulas[name]) for name in names]
    except Exception as error:  # openpyxl looks up styles late, and raises whatever a broken part makes it raise
        raise ScenarioError(
            f"{path}: its cells cannot be read ({type(error).__name__}); open and save it in a spreadsheet program"
        ) from error


def _sheet(values: Any, formulas: Any) -> Sheet:
    rows: list[list[Cell]] = []
    struck: set[int] = set()
    for number, (row, formula_row) in enumerate(zip(values.iter_rows(), formulas.iter_rows(), strict=True)):
        filled = [cell for cell in row if cell.value is not None]
        if filled and all(_is_struck(cell) for cell in filled):
            struck.add(number)
        rows.append(
            [_cell(cell, formula, number not in struck) for cell, formula in zip(row, formula_row, strict=True)]
        )
    for area in values.merged_cells.ranges:
        first = rows[area.min_row - 1][area.min_col - 1]
        if isinstance(first, Number) and area.max_row > area.min_row:
            first = replace(first, spread=True)
        for number in range(area.min_row - 1, min(area.max_row, len(rows))):
            for column in range(area.min_col - 1, min(area.max_col, len(rows[number]))):
                rows[number][column] = first
    looks = values.row_dimensions.items()
    hidden_rows = frozenset(number - 1 for number, look in looks if look.hidden or look.height == 0)
    hidden = values.sheet_state != "visible"
    return Sheet(values.title, rows, hidden, hidden_rows, _hidden_columns(values), frozenset(struck))


def _hidden_columns(values: Any) -> frozenset[int]:
    found = [look for look in values.column_dimensions.values() if look.hidden or look.width == 0]
    return frozenset(column - 1 for look in found for column in range(look.min, min(look.max, values.max_column) + 1))


def _is_struck(cell: Any) -> bool:
    return bool(cell.has_style and cell.font.strike)


def _is_struck_in_part(text: Any) -> bool:
    """True for a text of which some letters are struck through."""
    runs = text if isinstance(text, list) else []
    return any(getattr(getattr(run, "font", None), "strike", False) for run in runs)


def _cell(cell: Any, formula: Any, look_for_strike: bool) -> Cell:
    value = cell.value
    if value is None or (value == "" and cell.data_type == "str"):
        if isinstance(formula.value, str) and formula.value.startswith("="):
            return Odd(
                formula.value, "a formula whose value is not stored; open and save the list in a spreadsheet program"
            )
        return None
    if look_for_strike and (_is_struck(cell) or _is_struck_in_part(formula.value)):
        return Odd(str(value), _STRUCK)
    if isinstance(value, bool):
        return str(value)
    if isinstance(value, (int, float)):
        return number_cell(float(value), cell.number_format or "General")
    if isinstance(value, (datetime.datetime, datetime.date, datetime.time, datetime.timedelta)):
        return Odd(str(value), "a date; a fraction or a part number may have been turned into it")
    if cell.data_type == "e":
        return Odd(str(value), "an error value")
    return plain_cell(str(value))


def number_cell(value: float, look: str) -> Number | Odd:
    """A number under a number format: the text shown, the unit that the format adds, and whether the text is rounded.

    >>> number_cell(12, "0000").shown, number_cell(1.1, "0.00").shown, number_cell(0.125, '0.000" in"').unit
    ('0012', '1.10', 'in')
    >>> number_cell(2.4, "0").rounded, number_cell(1250, "#,##0").shown
    (True, '1250')
    """
    plain = f"{value:.12g}"
    if not math.isfinite(value):
        return Odd(plain, "not a finite number")
    first = _LOOK.sub("", look.split(";")[0])
    unit = " ".join(mark for pair in _QUOTED.findall(first) for mark in pair if unit_of(mark)).strip()
    bare = _QUOTED.sub("", first).strip()
    if not first.strip() and look.strip():
        return Odd(plain, f"its number format '{look}' shows nothing")
    if re.search(r"[eE][+-]", bare):
        return Odd(plain, f"shown as {value:.2E}; a part number may have been turned into a number")
    if bare.endswith("%"):
        return Number(value * 100, f"{value * 100:.12g} %", "%")
    text = _shown(value, bare)
    return Number(value, text or plain, unit_of(unit) or "", text is not None and float(Fraction(text)) != value)


def _shown(value: float, look: str) -> str | None:
    """The text that a format of digits shows, without thousands; None for any other format."""
    fraction = _FRACTION.fullmatch(look)
    if fraction:
        return str(Fraction(value).limit_denominator(10 ** len(fraction[1]) - 1))
    digits = re.fullmatch(r"(?:[#0],)?([#0]+)(?:\.(0*)(#*))?", look)
    if digits is None or abs(value) >= 1e15:
        return None
    whole, fixed, more = digits[1], digits[2] or "", digits[3] or ""
    text = f"{value:.{len(fixed) + len(more)}f}"
    if more:
        end = text.index(".") + (len(fixed) + 1 if fixed else 0)
        text = (text[:end] + text[end:].rstrip("0")).rstrip(".")
    least = whole.count("0") + (len(fixed) + 1 if fixed else 0)
    return "-" * (value < 0) + text.lstrip("-").zfill(least)
