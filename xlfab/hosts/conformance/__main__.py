"""`python -m xlfab.hosts.conformance [NAME ...]`: the matrix of the named functions, or of all of them."""

from __future__ import annotations

import sys

from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.hosts.conformance.matrix import matrix, table


def main(names: list[str]) -> int:
    """Print the matrix and each difference above the tolerance; 1 if there is one."""
    unknown = [name for name in names if name not in FUNCTIONS]
    if unknown:
        print(f"no function {', '.join(unknown)}; known: {', '.join(FUNCTIONS)}")
        return 2
    found = matrix([FUNCTIONS[name] for name in names] if names else CATALOGUE)
    print(table(found))
    failures = found.failures()
    print("\n".join(failures) or "all hosts agree")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
