"""What a call of the Calc add-in costs in LibreOffice, against the same calculation in Calc's own functions.

Processor time of loading and recalculating a workbook, less that of the same workbook without the formulas.
"""

from __future__ import annotations

import resource
from collections.abc import Callable
from pathlib import Path

import pytest
import xlsxwriter

from xlfab.catalogue import FUNCTIONS
from xlfab.formula import cell_formula
from xlfab.hosts import calc_package, office

ROWS = 10_000
MOVE = FUNCTIONS["axis_move_time_s"]
pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(office.find("unopkg") is None, reason="LibreOffice is not installed"),
]


def _rows(form: str) -> Callable[[object], None]:
    def put(sheet) -> None:
        for row in range(ROWS):
            references = [f"{column}{row + 1}" for column in "ABCD"]
            sheet.write_formula(row, 5, "=" + cell_formula(MOVE, references, form), None, -1)

    return put


def _ranges(form: str) -> Callable[[object], None]:
    references = [f"{column}1:{column}{ROWS}" for column in "ABCD"]
    text = cell_formula(MOVE, references, form)
    return lambda sheet: sheet.write_array_formula(0, 5, ROWS - 1, 5, f"{{={text}}}", None, -1)


FORMS: dict[str, Callable[[object], None]] = {
    "nothing": lambda sheet: None,
    "a formula a row, LET": _rows("let"),
    "a formula a row, plain": _rows("plain"),
    "a call a row": _rows("call"),
    "one LET formula over the range": _ranges("let"),
    "one call over the range": _ranges("call"),
}


def _spent(path: Path, user: Path, folder: Path) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    office.calc_csv(path, folder, user)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_overhead_of_a_call(tmp_path: Path) -> None:
    """Prints microseconds of processor time a result, the better of two runs; checks only that something was measured."""
    addin = calc_package.build(tmp_path / "xlfab.oxt")
    spent: dict[str, float] = {}
    with office.profile(addin) as user:
        for number, (name, put) in enumerate(FORMS.items()):
            path = tmp_path / f"form_{number}.xlsx"
            with xlsxwriter.Workbook(str(path)) as book:
                sheet = book.add_worksheet()
                for row in range(ROWS):
                    sheet.write_row(row, 0, [1 + row % 3000, 500, 2500, 25000])
                put(sheet)
            spent[name] = min(_spent(path, user, tmp_path) for _ in range(2))
    for name, seconds in spent.items():
        print(f"{name}: {1e6 * (seconds - spent['nothing']) / ROWS:.1f} us a result ({seconds:.2f} s)")
    assert spent["a call a row"] > spent["nothing"]
