"""What a call of the Calc add-in costs in LibreOffice, against the same calculation in Calc's own functions.

`pytest tests/benchmarks/test_calc_overhead.py --benchmark-only` prints, for a workbook of 10,000 results, the processor time of
loading and recalculating it beyond that of the same workbook without formulas. Nothing is asserted about time.
"""

from __future__ import annotations

import resource
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xlsxwriter

from xlfab.catalogue import FUNCTIONS
from xlfab.hosts import calc_package, office_programs
from xlfab.trace.expression import ref, traced
from xlfab.trace.spreadsheet import cell_formula, let

ROWS = 10_000
ROUNDS = 5
MOVE = FUNCTIONS["axis_move_time_s"]
pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(office_programs.find("unopkg") is None, reason="LibreOffice is not installed"),
]


def _text(form: str, references: list[str]) -> str:
    """The move as a formula; LET also where the plain form is as short."""
    if form == "let":
        return let(traced(MOVE, [ref(item) for item in references]))
    return cell_formula(MOVE, references, form)


def _rows(form: str) -> Callable[[Any], None]:
    def put(sheet: Any) -> None:
        for row in range(ROWS):
            references = [f"{column}{row + 1}" for column in "ABCD"]
            sheet.write_formula(row, 5, "=" + _text(form, references), None, -1)

    return put


def _ranges(form: str) -> Callable[[Any], None]:
    references = [f"{column}1:{column}{ROWS}" for column in "ABCD"]
    text = _text(form, references)
    return lambda sheet: sheet.write_array_formula(0, 5, ROWS - 1, 5, f"{{={text}}}", None, -1)


NOTHING = "no formula"
CALL = "a call of the add-in in each row"
FORMS: dict[str, Callable[[Any], None]] = {
    NOTHING: lambda sheet: None,
    "a plain formula in each row": _rows("plain"),
    "a LET formula in each row": _rows("let"),
    CALL: _rows("call"),
    "one plain formula over 10,000 rows": _ranges("plain"),
    "one LET formula over 10,000 rows": _ranges("let"),
    "one call of the add-in over 10,000 rows": _ranges("call"),
}


def _books(folder: Path) -> dict[str, Path]:
    """A workbook of each form on the same moves."""
    paths = {}
    for number, (name, put) in enumerate(FORMS.items()):
        paths[name] = folder / f"form_{number}.xlsx"
        with xlsxwriter.Workbook(str(paths[name])) as book:
            sheet = book.add_worksheet()
            for row in range(ROWS):
                sheet.write_row(row, 0, [1 + row % 3000, 500, 2500, 25000])
            put(sheet)
    return paths


def _results(path: Path) -> np.ndarray:
    return np.array([float(line.split(",")[5]) for line in path.read_text(encoding="utf-8").splitlines()])


def _processor_s() -> float:
    """Processor time of all programs that were started from here and have ended."""
    spent = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent.ru_utime + spent.ru_stime


def test_overhead_of_a_call(benchmark, tmp_path, capsys):
    """Turn and turn about, so that whatever else the machine does falls on all; every form has to give Python's results."""
    books = _books(tmp_path)
    expected = MOVE(1.0 + np.arange(ROWS) % 3000, 500, 2500, 25000)
    spent: dict[str, list[float]] = {name: [] for name in FORMS}
    with office_programs.profile(calc_package.build(tmp_path / calc_package.FILE_NAME)) as user:
        office_programs.calc_csv(books[NOTHING], tmp_path, user)  # the first start of a profile sets it up
        for _ in range(ROUNDS):
            for name, path in books.items():
                start = _processor_s()
                made = office_programs.calc_csv(path, tmp_path, user)
                spent[name].append(_processor_s() - start)
                if name != NOTHING:
                    np.testing.assert_allclose(_results(made), expected, rtol=1e-12)
        benchmark.pedantic(office_programs.calc_csv, args=(books[CALL], tmp_path, user), rounds=1)
    with capsys.disabled():
        print(f"\nA jerk-limited move, {ROWS} results, {ROUNDS} rounds, each form against no formula:")
        for name in list(FORMS)[1:]:
            least, usual = (1e6 * (take(spent[name]) - take(spent[NOTHING])) / ROWS for take in (np.min, np.median))
            benchmark.extra_info[name] = info = (
                f"{least:.0f} us a result by the least times, {usual:.0f} by the medians"
            )
            print(f"  {name}: {info}")
