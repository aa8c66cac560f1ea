"""How well the check cases see: `python tests/mutation [--sample SHARE] [MODULE ...]` mutates the formulas and runs the cases.

Each mutant is one small fault: another operator, a term left out, a constant 1 % larger, a comparison turned or moved by its edge,
arguments swapped, a guard taken out or set to 0. A mutant that no case sees survives. `equivalent.csv` lists survivors that compute
the same, with the reason. Not a test of the suite: it takes a minute.
"""

from __future__ import annotations

import argparse
import ast
import csv
import fnmatch
import importlib
import math
import random
import sys
import types
from collections import Counter, defaultdict
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from check_cases import CheckCase, check_cases  # noqa: E402
from mutants import GUARD, Mutant, mutants  # noqa: E402

from xlfab.core.registry import Function  # noqa: E402

NATIVE = ("_native_rate", "_native_payback", "_numbers")  # they write spreadsheet text: the hosts check them


def _formula(module: types.ModuleType, name: str) -> bool:
    """A registered function, or a private one that such functions call."""
    return isinstance(getattr(module, name), Function) or (name.startswith("_") and name not in NATIVE)


def seen(mutant: Mutant, module: types.ModuleType, cases: list[CheckCase]) -> bool:
    """Whether a case gives another result while the mutant's code stands in the place of the function's."""
    found = getattr(module, mutant.function)
    formula = getattr(found, "formula", found)
    names: dict[str, types.FunctionType] = {}
    body = ast.Module([mutant.tree], [])
    exec(compile(body, str(module.__file__), "exec"), {}, names)
    right = formula.__code__
    formula.__code__ = names[mutant.function].__code__
    try:
        return any(not case.fits(_result(case)) for case in cases)
    finally:
        formula.__code__ = right


def _result(case: CheckCase) -> float:
    try:
        with np.errstate(all="ignore"):
            return float(case.function(*case.arguments))
    except (ValueError, TypeError, ArithmeticError, IndexError):
        return math.nan


def _equivalent() -> dict[str, str]:
    with (HERE / "equivalent.csv").open(encoding="utf-8", newline="") as stream:
        return {row["mutant"]: row["why"] for row in csv.DictReader(stream)}


def main(words: list[str]) -> int:
    """Run the mutants of the formulas, print the score by kind and each survivor."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sample", type=float, default=1.0, help="share of the mutants that are run, 0 to 1")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("modules", nargs="*", help="such as xlfab.cost.price; all where none is named")
    asked = parser.parse_args(words)
    cases = defaultdict(list)
    for case in check_cases():
        cases[case.function.formula.__module__].append(case)
    chosen, known = random.Random(asked.seed), _equivalent()
    made: Counter[str] = Counter()
    killed: Counter[str] = Counter()
    same: Counter[str] = Counter()
    alive: list[str] = []
    for name in asked.modules or cases:
        module = importlib.import_module(name)
        for mutant in mutants(Path(str(module.__file__)).read_text(encoding="utf-8")):
            if not _formula(module, mutant.function) or chosen.random() >= asked.sample:
                continue
            made[mutant.kind] += 1
            own = sorted(cases[name], key=lambda case: case.function.spec.name != mutant.function)
            if seen(mutant, module, own):
                killed[mutant.kind] += 1
            elif any(fnmatch.fnmatchcase(mutant.text, pattern) for pattern in known):
                same[mutant.kind] += 1
            else:
                alive.append(f"{name.removeprefix('xlfab.')}: {mutant.kind}: {mutant.text}")
    print("\n".join(alive))
    for kind in sorted(made):
        print(f"{kind:24} {made[kind]:5} made {killed[kind]:5} killed {same[kind]:4} equivalent")
    for title, kinds in (("guards", [GUARD]), ("all", list(made))):
        total = sum(made[kind] - same[kind] for kind in kinds)
        print(f"{title}: {sum(killed[kind] for kind in kinds)} of {total} killed")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
