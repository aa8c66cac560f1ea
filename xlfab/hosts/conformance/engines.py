"""The hosts: each takes the cases and gives the results of each case, or None where a function has no such form there."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path

import numpy as np

from xlfab.formula import cell_formula
from xlfab.hosts import calc_package, office
from xlfab.hosts.conformance.cases import Case, Results, as_result
from xlfab.hosts.conformance.workbook import first_column, read_csv, write
from xlfab.hosts.names import definitions
from xlfab.registry import Function

Columns = dict[str, list[Results | None]]  # host -> results by case


def _plain(function: Function, texts: list[str]) -> str:
    return cell_formula(function, texts, "plain")


def _let(function: Function, texts: list[str]) -> str:
    return cell_formula(function, texts, "let")


def _call(function: Function, texts: list[str]) -> str:
    return cell_formula(function, texts, "call")


def numpy_arrays(cases: Sequence[Case]) -> Columns:
    """All points of a function in one call of arrays; blanks and text can only stand in an array as NaN."""
    return {"numpy": [_array(case) for case in cases]}


def _array(case: Case) -> Results:
    if case.function.spec.is_range:
        return np.array([_row(case, index) for index in range(len(case.points))])
    table = [[v if isinstance(v, float) else np.nan for v in point] for point in case.points]
    return np.asarray(case.function(*np.array(table).T, invalid="nan"), dtype=float)


def _row(case: Case, index: int) -> float:
    """A range function on a stack of two equal rows: what it does with many draws at once."""
    try:
        arrays = [np.array([v, v], dtype=float) for v in case.points[index]]
    except (TypeError, ValueError):
        return float("nan")
    first, second = np.broadcast_to(case.function(*arrays, invalid="nan"), (2,))
    return float(first) if first == second or np.isnan(first) else np.inf


def libreoffice(cases: Sequence[Case]) -> Columns:
    """LibreOffice with LET and plain formulas, and with calls of the Calc add-in."""
    with tempfile.TemporaryDirectory() as folder:
        addin = calc_package.build(Path(folder, "xlfab.oxt"))
        path = Path(folder, "points.xlsx")
        write(path, cases, [_let, _plain, _call])
        with office.profile(addin) as user:
            let, plain, call = read_csv(office.calc_csv(path, Path(folder), user), cases, 3)
    return {"LET in LibreOffice": let, "plain in LibreOffice": plain, "add-in in LibreOffice": call}


def gnumeric(cases: Sequence[Case]) -> Columns:
    """Gnumeric with plain formulas."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "points.xlsx")
        write(path, cases, [_plain])
        return {"plain in Gnumeric": read_csv(office.gnumeric_csv(path, Path(folder)), cases, 1)[0]}


def ironcalc(cases: Sequence[Case]) -> Columns:
    """The ironcalc engine with LAMBDA names."""
    import ironcalc as engine

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "points.xlsx")
        names = definitions([case.function for case in cases])
        write(path, cases, [_call], names, dynamic=True)
        model = engine.load_from_xlsx(str(path), "en", "UTC", "en")
        model.evaluate()
    column = first_column(cases) + 1
    results: list[Results | None] = []
    row = 1
    for case in cases:
        values = [model.get_cell_value(0, row + index, column) for index in range(len(case.points))]
        row += len(case.points)
        known = case.function.spec.cell_name in dict(names)
        results.append(np.array([as_result(value) for value in values]) if known else None)
    return {"LAMBDA in ironcalc": results}


ENGINES: tuple[Callable[[Sequence[Case]], Columns], ...] = (numpy_arrays, libreoffice, gnumeric, ironcalc)
