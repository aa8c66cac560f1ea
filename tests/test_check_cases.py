"""Every function at points whose results come from outside its own code (`check_cases.csv`), in Python and in every host."""

from __future__ import annotations

import csv
import math
from collections import Counter, defaultdict

import numpy as np
import pytest
from check_cases import KINDS, TABLE, CheckCase, check_cases

from xlfab.catalogue import CATALOGUE
from xlfab.hosts import office_programs
from xlfab.hosts.conformance.agreement_limits import limit_of
from xlfab.hosts.conformance.cases import Case
from xlfab.hosts.conformance.engines import ENGINES

PROGRAMS = all(office_programs.find(program) for program in ("soffice", "unopkg", "ssconvert"))


@pytest.mark.parametrize("case", check_cases(), ids=lambda case: f"{case.line}-{case.function.spec.name}")
def test_a_function_at_a_checked_point(case: CheckCase) -> None:
    if math.isnan(case.value):
        with pytest.raises(ValueError, match=case.function.spec.name):
            case.function(*case.arguments)
    else:
        assert case.fits(case.function(*case.arguments)), case


def test_the_table_is_what_it_says() -> None:
    """A working gives its value, a kind is known, a source is stated, and no line stands twice."""
    cases = check_cases()
    for case in cases:
        assert case.kind in KINDS and len(case.source) > 3, case
        assert len(case.arguments) == len(case.function.spec.arguments), case
        assert not case.working or case.worked() == pytest.approx(case.value, rel=1e-12, abs=1e-12), case
    with TABLE.open(encoding="utf-8", newline="") as stream:
        lines = [(row["function"], row["arguments"]) for row in csv.DictReader(stream)]
    assert [line for line, count in Counter(lines).items() if count > 1] == []


def test_every_function_has_two_points_and_every_domain_a_refusal() -> None:
    by_name: dict[str, list[CheckCase]] = defaultdict(list)
    for case in check_cases():
        by_name[case.function.spec.name].append(case)
    few = [one.spec.name for one in CATALOGUE if sum(math.isfinite(c.value) for c in by_name[one.spec.name]) < 2]
    assert not few, "add two cases to tests/check_cases.csv, with their source"
    guarded = [one.spec.name for one in CATALOGUE if one.spec.domain]
    unseen = [name for name in guarded if not any(math.isnan(case.value) for case in by_name[name])]
    assert not unseen, "add a case without a value to tests/check_cases.csv"


@pytest.mark.office
@pytest.mark.skipif(not PROGRAMS, reason="LibreOffice or Gnumeric is not installed")
def test_every_host_at_the_checked_points() -> None:
    """The same table in LibreOffice, Gnumeric, LAMBDA names, xlwings and whatever prints the catalogue next."""
    by_name: dict[str, list[CheckCase]] = defaultdict(list)
    for case in check_cases():
        by_name[case.function.spec.name].append(case)
    tables = [by_name[one.spec.name] for one in CATALOGUE if one.spec.name in by_name]
    cases = [_as_points(table) for table in tables]
    wrong, hosts = [], 0
    for engine in ENGINES:
        for host, columns in engine(cases).items():
            hosts += 1
            for table, column in zip(tables, columns, strict=True):
                assert column is not None, (host, table[0].function.spec.name)
                wrong += [
                    f"{host}: {case}: {got!r}" for case, got in zip(table, column, strict=True) if _off(case, host, got)
                ]
    assert hosts > len(ENGINES)
    assert not wrong, "\n".join(wrong)


def _as_points(table: list[CheckCase]) -> Case:
    values = np.array([case.value for case in table])
    return Case(table[0].function, [case.arguments for case in table], values, np.zeros(len(table)))


def _off(case: CheckCase, host: str, got: float) -> bool:
    limit = limit_of(case.function.spec.name, host)
    room = case.tolerance + (limit.tolerance if limit else 1e-12) * max(1.0, abs(case.value))
    return math.isnan(got) != math.isnan(case.value) or abs(got - case.value) > room
