"""The matrix function x host: the worst difference, and where it lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from xlfab.core.registry import Function
from xlfab.hosts.conformance.agreement_limits import limit_of
from xlfab.hosts.conformance.cases import TOLERANCE, Case, Results, case
from xlfab.hosts.conformance.engines import ENGINES, Columns, xlwings


@dataclass(frozen=True)
class Matrix:
    """The cases and what each host gave for them."""

    cases: list[Case]
    columns: dict[str, list[Results | None]]

    def worst(self, host: str, index: int) -> float | None:
        """Worst difference of a function in a host; infinite where one has a result and the other none."""
        apart = self.apart(host, index)
        return None if apart is None else float(apart.max())

    def apart(self, host: str, index: int) -> Results | None:
        """The difference at each point of a function in a host."""
        got = self.columns[host][index]
        return None if got is None else self.cases[index].apart(got)

    def failures(self) -> list[str]:
        """One sentence for each function and host that differs by more than it may, with its worst point."""
        found = []
        for host in self.columns:
            for index, one in enumerate(self.cases):
                apart = self.apart(host, index)
                if apart is not None and (self.counted(host, index, apart) > self._allowed(host, index)).any():
                    found.append(self._failure(host, index, one))
        return found

    def _allowed(self, host: str, index: int) -> float:
        limit = limit_of(self.cases[index].function.spec.name, host)
        return limit.tolerance if limit else TOLERANCE

    def counted(self, host: str, index: int, apart: Results) -> Results:
        """The differences, without those of results too small to mean anything."""
        limit = limit_of(self.cases[index].function.spec.name, host)
        got = self.columns[host][index]
        if limit is None or got is None:
            return apart
        left_out = (np.abs(got) < limit.negligible) & (np.abs(self.cases[index].expected) < limit.negligible)
        return np.where(left_out, 0.0, apart)

    def _failure(self, host: str, index: int, one: Case) -> str:
        got = self.columns[host][index]
        assert got is not None
        apart = self.apart(host, index)
        assert apart is not None
        at = int(np.argmax(apart))
        many = int((apart > self._allowed(host, index)).sum())
        return (
            f"{host}: {one.function.spec.name}{one.points[at]} gives {got[at]!r}, Python {one.expected[at]!r}"
            f" ({many} of {len(apart)} points differ)"
        )


def matrix(
    functions: Iterable[Function],
    count: int = 320,
    engines: Sequence[Callable[[Sequence[Case]], Columns]] = ENGINES,
) -> Matrix:
    """Run every function at its points in every host; LibreOffice and the other programs work side by side."""
    cases = [case(function, count) for function in functions]
    columns: Columns = {}
    with ThreadPoolExecutor(2) as pool:
        for found in pool.map(lambda engine: engine(cases), [one for one in engines if one is not xlwings]):
            columns.update(found)
    if xlwings in engines:  # alone, for it replaces modules while it runs
        columns.update(xlwings(cases))
    return Matrix(cases, columns)


def table(found: Matrix) -> str:
    """The matrix as a Markdown table."""
    hosts = list(found.columns)
    lines = [
        "| function | points | with a result | " + " | ".join(hosts) + " |",
        "| --- | ---: | ---: | " + " | ".join("---:" for _ in hosts) + " |",
    ]
    for index, one in enumerate(found.cases):
        shares = [len(one.points), int(np.isfinite(one.expected).sum())]
        cells = [_shown(found, host, index) for host in hosts]
        lines.append("| " + " | ".join([one.function.spec.cell_name, *map(str, shares), *cells]) + " |")
    return "\n".join(lines) + "\n"


def _shown(found: Matrix, host: str, index: int) -> str:
    apart = found.apart(host, index)
    if apart is None:
        return "none"
    worst = float(found.counted(host, index, apart).max())
    return "0" if worst == 0 else ("**differs**" if np.isinf(worst) else f"{worst:.0e}")
