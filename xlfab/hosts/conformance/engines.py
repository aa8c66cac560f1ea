"""The hosts: each takes the cases and gives the results of each case, or None where a function has no such form there."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.registry import Function
from xlfab.hosts import calc_package, javascript_module, office_programs
from xlfab.hosts.conformance.cases import Case, Results, as_result
from xlfab.hosts.conformance.point_workbook import first_column, read_csv, write
from xlfab.hosts.conformance.points import reference
from xlfab.trace.lambda_name import lambda_names
from xlfab.trace.spreadsheet import cell_formula

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
        with office_programs.profile(addin) as user:
            let, plain, call = read_csv(office_programs.calc_csv(path, Path(folder), user), cases, 3)
    call = [_blank_is_zero(case, found) for case, found in zip(cases, call, strict=True)]
    return {"LET in LibreOffice": let, "plain in LibreOffice": plain, "add-in in LibreOffice": call}


def _blank_is_zero(case: Case, found: Results | None) -> Results | None:
    """LibreOffice hands a single blank cell to any add-in as 0: where that is what was computed, the add-in refused as it could."""
    if found is None:
        return None
    found = found.copy()
    for index, point in enumerate(case.points):
        if None in point:
            with_zero = reference(case.function, tuple(0.0 if value is None else value for value in point))
            if abs(found[index] - with_zero) <= 1e-12 * abs(with_zero):
                found[index] = np.nan
    return found


def gnumeric(cases: Sequence[Case]) -> Columns:
    """Gnumeric with plain formulas."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "points.xlsx")
        write(path, cases, [_plain])
        return {"plain in Gnumeric": read_csv(office_programs.gnumeric_csv(path, Path(folder)), cases, 1)[0]}


def ironcalc(cases: Sequence[Case]) -> Columns:
    """The ironcalc engine with LAMBDA names."""
    import ironcalc as engine

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "points.xlsx")
        names = lambda_names([case.function for case in cases])
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


def xlwings(cases: Sequence[Case]) -> Columns:
    """xlwings' own call path, from the cells' raw values to what goes back to Excel; only Windows' COM is stubbed."""
    from xlfab.hosts.conformance import xlwings_path

    with xlwings_path.stubbed() as (udfs, _):
        results: list[Results | None] = []
        for case in cases:
            name = case.function.spec.cell_name
            found = [xlwings_path.call(udfs, name, *map(_raw, point)) for point in case.points]
            results.append(np.array([np.nan if xlwings_path.is_error(value) else as_result(value) for value in found]))
    return {"xlwings call path": results}


def _raw(value: Any) -> Any:
    from xlfab.hosts.conformance.xlwings_path import CellRange

    return CellRange((value,) if isinstance(value, tuple) else value)


def javascript(cases: Sequence[Case]) -> Columns:
    """The JavaScript module in node: numbers as numbers, a blank as null, a range as a list."""
    names = [case.function.spec.name for case in cases]
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "fab.mjs").write_text(
            javascript_module.module([case.function for case in cases]), encoding="utf-8"
        )
        Path(folder, "points.json").write_text(json.dumps([case.points for case in cases]), encoding="utf-8")
        Path(folder, "run.mjs").write_text(_NODE.replace("NAMES", json.dumps(names)), encoding="utf-8")
        done = office_programs.run([office_programs.needed("node"), Path(folder, "run.mjs")])
    return {"JavaScript in node": [np.array(found, dtype=float) for found in json.loads(done)]}


# JSON has no NaN: it comes out as null, which numpy reads as NaN; an infinity would be a fault and is sent as a text
_NODE = """
import * as fab from "./fab.mjs";
import { readFileSync } from "node:fs";
const points = JSON.parse(readFileSync(new URL("./points.json", import.meta.url)));
const sent = (x) => (typeof x === "number" && (Number.isFinite(x) || Number.isNaN(x)) ? x : "Infinity");
console.log(JSON.stringify(NAMES.map((name, place) => points[place].map((point) => sent(fab[name](...point))))));
"""

ENGINES: tuple[Callable[[Sequence[Case]], Columns], ...] = (
    libreoffice,
    numpy_arrays,
    gnumeric,
    ironcalc,
    xlwings,
    javascript,
)
