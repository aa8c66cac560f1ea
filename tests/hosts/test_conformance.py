"""Every function in every host at the same points. The whole table is in xlfab/hosts/README.md; here fewer points, all hosts."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import xlfab
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.hosts import office_programs
from xlfab.hosts.conformance.agreement_limits import LIMITS, limit_of
from xlfab.hosts.conformance.cases import TOLERANCE, WRONG, as_result, case
from xlfab.hosts.conformance.engines import ENGINES
from xlfab.hosts.conformance.matrix import Matrix, matrix
from xlfab.hosts.conformance.points import points

PROGRAMS = all(office_programs.find(program) for program in ("soffice", "unopkg", "ssconvert", "node"))


@pytest.mark.office
@pytest.mark.skipif(not PROGRAMS, reason="LibreOffice or Gnumeric is not installed")
def test_all_functions_agree_in_all_hosts() -> None:
    found = matrix(CATALOGUE, count=40)
    assert len(found.columns) == len(ENGINES) + 2, "LibreOffice gives three columns"
    assert all(got is not None for column in found.columns.values() for got in column), "a host lacks a function"
    assert not found.failures()


@pytest.mark.parametrize("function", CATALOGUE, ids=lambda one: one.spec.name)
def test_points_cover_results_edges_and_refusals(function) -> None:
    chosen = points(function)
    assert len(chosen) >= 300
    assert chosen == points(function), "the same in every run"
    one = case(function, 60)
    assert np.isfinite(one.expected).mean() >= 0.3
    for place, item in enumerate(function.spec.arguments):
        values = [point[place][-1] if item.is_range else point[place] for point in chosen]
        numbers = [value for value in values if isinstance(value, (int, float))]
        assert {item.low, item.high} <= set(numbers) and min(numbers) < item.low and max(numbers) > item.high
        assert None in values and "text" in values


def test_a_wrong_result_would_be_seen() -> None:
    one = case(FUNCTIONS["axis_move_time_s"], 40)
    place = int(np.flatnonzero(one.expected > 0)[0])
    for wrong in (one.expected[place] * (1 + 1e-11), np.nan, WRONG, 0.0):
        got = one.expected.copy()
        got[place] = wrong
        found = Matrix([one], {"trial": [got]})
        assert found.failures() and found.worst("trial", 0) > 1e-12
    outside = int(np.flatnonzero(np.isnan(one.expected))[0])
    got = one.expected.copy()
    got[outside] = 0.0
    assert Matrix([one], {"trial": [got]}).failures(), "a number where there is no result"
    assert not Matrix([one], {"trial": [one.expected]}).failures()


@pytest.mark.parametrize("value", ["", None, True, "text", "-987654.25", float("inf")])
def test_what_is_neither_number_nor_error_value_is_wrong(value) -> None:
    assert as_result(value) == WRONG


def test_the_readme_has_the_figures_of_every_function_in_every_host() -> None:
    """Every row, no empty cell, 300 points or more; what is worse than it may be is named below the table."""
    text = Path(xlfab.__file__).parent.joinpath("hosts/README.md").read_text(encoding="utf-8")
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in text.splitlines() if line.startswith("| ")]
    heads = next(row for row in rows if row[0] == "function")
    assert len(heads) == 3 + 8, "eight hosts beside the scalar call"
    figures = {row[0]: row[1:] for row in rows if row[0].startswith("FAB_")}
    missing = {one.spec.cell_name for one in CATALOGUE} ^ set(figures)
    assert not missing, "run: python -m xlfab.hosts.conformance --write NAME"
    for one in CATALOGUE:
        points, _, *worst = figures[one.spec.cell_name]
        assert int(points) >= 300
        for host, figure in zip(heads[3:], worst, strict=True):
            limit = limit_of(one.spec.name, host)
            assert float(figure) <= (limit.tolerance if limit else TOLERANCE), (one.spec.name, host)
    assert all(f"- `{one.function}`" in text and one.reason in text for one in LIMITS)
