"""`python -m xlfab.hosts.conformance [--write] [NAME ...]`: the matrix of the named functions, or of all of them."""

from __future__ import annotations

import sys
from importlib.resources import files
from pathlib import Path

from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.hosts.conformance.agreement_limits import LIMITS
from xlfab.hosts.conformance.matrix import Matrix, matrix, table

_START, _END = "<!-- matrix -->", "<!-- end of matrix -->"
README = Path(str(files("xlfab.hosts"))) / "README.md"


def main(arguments: list[str]) -> int:
    """Print the matrix and each difference that may not be; 1 if there is one. With --write, its rows go into the README."""
    names = [name for name in arguments if name != "--write"]
    unknown = [name for name in names if name not in FUNCTIONS]
    if unknown:
        print(f"no function {', '.join(unknown)}; known: {', '.join(FUNCTIONS)}")
        return 2
    found = matrix([FUNCTIONS[name] for name in names] if names else CATALOGUE)
    if "--write" in arguments:
        write(found)
    print(table(found))
    failures = found.failures()
    print("\n".join(failures) or "all hosts agree")
    return 1 if failures else 0


def write(found: Matrix) -> None:
    """Put the rows of the matrix, and where hosts cannot agree, between the two marks of the README; other rows stay."""
    before, rest = README.read_text(encoding="utf-8").split(_START)
    old, after = rest.split(_END)
    head, ruler, *new = table(found).splitlines()
    rows = {_name(line): line for line in (*old.splitlines(), *new) if line.startswith("| FAB_")}
    listed = [rows[one.spec.cell_name] for one in CATALOGUE if one.spec.cell_name in rows]
    notes = [f"- `{one.function}`{f' ({one.host})' if one.host else ''}: {one.reason}." for one in LIMITS]
    middle = [_START, "", head, ruler, *listed, "", "Where 1e-12 does not hold:", "", *notes, "", _END]
    README.write_text(before + "\n".join(middle) + after, encoding="utf-8")


def _name(line: str) -> str:
    return line.split("|")[1].strip()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
