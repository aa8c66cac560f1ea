"""The matrix function x host: the worst difference, and where it lies."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from xlfab.hosts.conformance.cases import TOLERANCE, Case, Results, case
from xlfab.hosts.conformance.engines import ENGINES, Columns
from xlfab.registry import Function


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

    def failures(self, tolerance: float = TOLERANCE) -> list[str]:
        """One sentence for each function and host that differs by more than the tolerance, with its worst point."""
        found = []
        for host in self.columns:
            for index, one in enumerate(self.cases):
                worst = self.worst(host, index)
                if worst is not None and not worst <= tolerance:
                    found.append(self._failure(host, index, one))
        return found

    def _failure(self, host: str, index: int, one: Case) -> str:
        got = self.columns[host][index]
        assert got is not None
        apart = self.apart(host, index)
        assert apart is not None
        at = int(np.argmax(apart))
        many = int((apart > TOLERANCE).sum())
        return (
            f"{host}: {one.function.spec.name}{one.points[at]} gives {got[at]!r}, Python {one.expected[at]!r}"
            f" ({many} of {len(apart)} points differ)"
        )


def matrix(
    functions: Iterable[Function],
    count: int = 320,
    engines: Sequence[Callable[[Sequence[Case]], Columns]] = ENGINES,
) -> Matrix:
    """Run every function at its points in every host."""
    cases = [case(function, count) for function in functions]
    columns: Columns = {}
    for engine in engines:
        columns.update(engine(cases))
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
        cells = [_shown(found.worst(host, index)) for host in hosts]
        lines.append("| " + " | ".join([one.function.spec.cell_name, *map(str, shares), *cells]) + " |")
    return "\n".join(lines) + "\n"


def _shown(worst: float | None) -> str:
    if worst is None:
        return "none"
    return "0" if worst == 0 else ("**differs**" if np.isinf(worst) else f"{worst:.0e}")
