"""CSV files: text cells by line and column, then whole columns of checked numbers.

Columns are separated by commas, with a decimal point; or by semicolons, with a decimal comma or a decimal point (one of them
in a file). UTF-8. A header may carry another unit of the same kind (`blank_length_in`).
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from xlfab.core.arguments import ARGUMENTS, Argument
from xlfab.core.arrays import bad_elements
from xlfab.core.errors import InputError, ScenarioError
from xlfab.core.numbers import Unreadable, decimal_number
from xlfab.core.reading import csv_rows, read_utf8
from xlfab.core.units import factor, split_name
from xlfab.inputs.faults import SHOWN, Report
from xlfab.inputs.stated_values import allowed, resolve_key, shown
from xlfab.inputs.unusual import UnusualValue, unusual_lines

Numbers = NDArray[np.float64]
Columns = dict[str, NDArray[Any]]

_DATE = re.compile(r"\d{1,4}[-./]\d{1,2}([-./]\d{1,4})?|\d{1,2}[-. ]?[A-Za-z]{3,9}([-. ]\d{2,4})?")


@dataclass(frozen=True)
class Table:
    """Text cells of a CSV file: the index is the line in the file. `written` is the unit of each header."""

    cells: pd.DataFrame
    written: dict[str, str]
    decimal_comma: bool
    report: Report
    numbers_read: list[tuple[str, Any, Numbers]] = field(
        default_factory=list
    )  # name, lines, values of each column read

    def fault(self, lines: Iterable[Any], column: str, say: Callable[[int], str]) -> None:
        """Book a fault in each of these lines of a column; only as many as are shown get words, for words take time."""
        for number, line in enumerate(lines):
            text = f"{shown(self.text(line, column))} {say(line)}" if number < SHOWN else ""
            self.report(f"line {line}, column {self._heading(column)}", text)

    def _heading(self, column: str) -> str:
        """The column's name as the file writes it, in its own unit."""
        written = self.written.get(column)
        return f"{split_name(column)[0]}_{written}" if written else column

    def text(self, line: int, column: str) -> str:
        """The text of one cell."""
        return str(self.cells.at[line, column])

    def numbers(self, column: str, name: str, rows: NDArray[np.bool_] | None = None) -> Numbers:
        """A column as numbers in the unit of a vocabulary name, inside its bounds; `rows` picks the lines to read."""
        cells = self.cells[column] if rows is None else self.cells.loc[rows, column]
        argument = ARGUMENTS[name]
        values = by_text(cells, self._number).astype(np.float64) * factor(self.written[column], argument.unit.suffix)
        self.fault(cells.index[_unfit(values, argument)], column, lambda line: self._why(line, column, name))
        self.numbers_read.append((name, cells.index, values))
        return values

    def unusual(self, file: str, currency: str, units: str) -> list[UnusualValue]:
        """The columns read so far that hold values outside their usual range."""
        return [
            found
            for name, lines, values in self.numbers_read
            for found in unusual_lines(file, name, values, lines, currency, units)
        ]

    def filled(self, name: str, default: str, rows: NDArray[np.bool_] | None = None) -> Numbers:
        """A column that may be missing or have empty cells: the default counts there (0 or 1, so that its unit is no matter)."""
        self.written.setdefault(name, ARGUMENTS[name].unit.suffix)
        picked = slice(None) if rows is None else rows
        self.cells.loc[picked, name] = self.cells.loc[picked, name].replace("", default)
        return self.numbers(name, name, rows)

    def _number(self, text: str) -> float:
        try:
            return decimal_number(text, "," if self.decimal_comma else ".", grouped=False)
        except Unreadable:
            return float(np.nan)

    def _why(self, line: int, column: str, name: str) -> str:
        text, written, own = self.text(line, column), self.written[column], ARGUMENTS[name].unit
        number = self._number(text)
        if np.isnan(number):
            return f"is not a number{_hint(text, self.decimal_comma)}; allowed: {allowed(name)}"
        converted = f"({number * factor(written, own.suffix):.6g} {own.label}) " if written != own.suffix else ""
        return f"{converted}must be {allowed(name)}"


def by_text(cells: pd.Series[str], of: Callable[[str], Any]) -> NDArray[Any]:
    """What a function makes of each cell, called once for each different text."""
    codes, texts = pd.factorize(cells)
    return np.array([of(str(text)) for text in texts])[codes]


def _unfit(values: Numbers, argument: Argument) -> NDArray[np.bool_]:
    bad = bad_elements(values, argument) | ~np.isfinite(values)
    if argument.kind in ("whole", "switch"):
        bad |= values != np.floor(values)
    return bad


def _hint(text: str, decimal_comma: bool) -> str:
    if not text:
        return " (the cell is empty)"
    if text.startswith("#"):
        return " (a spreadsheet's error value)"
    if decimal_comma and "." in text:
        return " (this file has decimal commas: no point)"
    if _DATE.fullmatch(text):
        return " (it looks like a date)"
    if "," in text:
        return " (write a decimal point, or separate the columns by semicolons)"
    return ""


def read_table(path: Path, known: Iterable[str], optional: Iterable[str], report: Report) -> Table | None:
    """Read a CSV file whose header must be the known columns; None where that cannot be done."""
    names = list(known)
    text = read_utf8(path)
    header_line = text.lstrip("\r\n").split("\n", 1)[0]
    delimiter = ";" if header_line.count(";") > header_line.count(",") else ","
    split = _split(path, text, delimiter, report)
    if split is None:
        return None
    lines, rows = split
    if not rows:
        report("", f"is empty; the first line must hold the column names: {', '.join(names)}")
        return None
    if len(rows[0]) == 1:
        report(
            f"line {lines[0]}",
            f"{shown(rows[0][0])} is one column; separate columns by commas or semicolons: {', '.join(names)}",
        )
        return None
    written = _header(rows[0], names, set(optional), f"line {lines[0]}", report)
    good = [i for i in range(1, len(rows)) if _fits(rows[i], len(rows[0]), lines[i], report)]
    if written is None or len(good) < len(rows) - 1:
        return None
    if not good:
        report("", "has a header and no rows")
        return None
    cells = pd.DataFrame([rows[i] for i in good], index=[lines[i] for i in good], columns=list(written), dtype=object)
    for name in names:
        if name not in written:
            cells[name] = ""
    comma = delimiter == ";" and any(
        cells[name].str.contains(",", regex=False).any() for name in written if written[name]
    )
    return Table(cells, written, comma, report)


def _split(path: Path, text: str, delimiter: str, report: Report) -> tuple[list[int], list[list[str]]] | None:
    lines, rows = [], []
    try:
        for line, row in csv_rows(path, text, delimiter, strict=True):
            cells = [cell.strip() for cell in row]
            if any(cells):
                lines.append(line)
                rows.append(cells)
    except ScenarioError as error:
        report("", str(error).removeprefix(path.name).lstrip(", :"))
        return None
    return lines, rows


def _header(
    header: list[str], names: list[str], optional: set[str], place: str, report: Report
) -> dict[str, str] | None:
    """The names of the columns in their order and the unit each is written in."""
    written: dict[str, str] = {}
    good = True
    for column in header:
        try:
            name, suffix = resolve_key(column, names, "known column")
            if name in written:
                raise InputError("says the same as another column: keep one of them")
            written[name] = suffix
        except InputError as error:
            report(f"{place}, column {shown(column)}", str(error))
            good = False
    missing = [name for name in names if name not in written and name not in optional]
    if missing and good:
        report(place, f"column {', '.join(missing)} is missing; found: {', '.join(header)}")
    return written if good and not missing else None


def _fits(row: list[str], width: int, line: int, report: Report) -> bool:
    if len(row) == width:
        return True
    hint = "; write a decimal point, put quotes around a text with commas" if len(row) > width else ""
    report(f"line {line}", f"has {len(row)} cells and the header has {width}: {shown(','.join(row))}{hint}")
    return False
