"""One workbook with all points of all functions: a point a row, its arguments from column A, each form in a column of its own."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import FormulaError
from xlfab.core.registry import Function
from xlfab.hosts.conformance.cases import STALE, Case, Results, as_result, cells_of, references_of

Form = Callable[[Function, list[str]], str]  # a function and its references -> the formula
_MARK = "§{}§"  # stands for an argument's reference while a formula is printed once for all rows
_GAP = 2  # free columns between the widest point and the first form


def first_column(cases: Sequence[Case]) -> int:
    """The column of the first form."""
    return max(case.width for case in cases) + _GAP


def write(
    path: Path,
    cases: Sequence[Case],
    forms: Sequence[Form],
    names: Sequence[tuple[str, str]] = (),
    dynamic: bool = False,
) -> None:
    """Write the workbook, every stored result a false one. A form that a function does not have leaves its cell blank."""
    import xlsxwriter
    from xlsxwriter.worksheet import Worksheet

    class AsItIs(Worksheet):  # type: ignore[misc]  # XlsxWriter has no type hints
        """Formulas carry their file prefixes already: looking for them again costs most of the time."""

        def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
            return formula.removeprefix("=")

    with xlsxwriter.Workbook(str(path), {"strings_to_formulas": False, "strings_to_numbers": False}) as book:
        sheet = book.add_worksheet("Points", AsItIs)
        # all 15 digits in one format: else LibreOffice exports some results as money or per cent
        shown = book.add_format({"num_format": "0.00000000000000E+00"})
        for name, definition in names:
            book.define_name(name, "=" + definition)
        put: Callable[..., Any] = sheet.write_dynamic_array_formula if dynamic else sheet.write_formula
        row, first = 0, first_column(cases)
        for case in cases:
            templates = [_template(form, case.function) for form in forms]
            for point in case.points:
                for column, value in enumerate(cells_of(point)):
                    sheet.write(row, column, value)
                texts = references_of(point, row)
                for number, template in enumerate(templates):
                    if template:
                        place = (row, first + number)
                        put(*((*place, *place) if dynamic else place), "=" + _filled(template, texts), shown, STALE)
                row += 1


def _template(form: Form, function: Function) -> str:
    try:
        return form(function, [_MARK.format(place) for place in range(len(function.spec.arguments))])
    except FormulaError:
        return ""


def _filled(template: str, texts: list[str]) -> str:
    for place, text in enumerate(texts):
        template = template.replace(_MARK.format(place), text)
    return template


def read_csv(path: Path, cases: Sequence[Case], forms: int) -> list[list[Results | None]]:
    """The results of each form, by case; None where a function does not have the form."""
    with path.open(encoding="utf-8", newline="") as stream:
        first = first_column(cases)
        rows = [row[first:] for row in csv.reader(stream)]
    return [_split([_at(row, number) for row in rows], cases) for number in range(forms)]


def _at(row: list[str], number: int) -> str:
    return row[number] if number < len(row) else ""


def _split(column: list[Any], cases: Sequence[Case]) -> list[Results | None]:
    results: list[Results | None] = []
    start = 0
    for case in cases:
        part = column[start : start + len(case.points)]
        start += len(case.points)
        results.append(np.array([as_result(value) for value in part]) if any(v != "" for v in part) else None)
    return results
