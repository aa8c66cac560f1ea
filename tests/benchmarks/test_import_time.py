"""How long it takes to import xlfab and its catalogue, beside numpy alone; run with `pytest tests/benchmarks --benchmark-only`."""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys

ROUNDS = 15
IMPORTS = {
    "numpy": "import numpy",
    "xlfab": "import xlfab",
    "catalogue": "from xlfab.catalogue import FUNCTIONS",
}


def _seconds(code: str, compiled: str) -> float:
    """Processor seconds of a fresh interpreter, which finds all modules compiled."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = compiled
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], check=True, env=environment)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_import_beside_numpy(benchmark, capsys, tmp_path):
    compiled = str(tmp_path)
    _, *rounds = [{name: _seconds(code, compiled) for name, code in IMPORTS.items()} for _ in range(ROUNDS + 1)]
    benchmark.pedantic(_seconds, args=(IMPORTS["catalogue"], compiled), rounds=1)
    with capsys.disabled():
        print(f"\nImport in a fresh interpreter, median of {ROUNDS} rounds:")
        for name in IMPORTS:
            spent = statistics.median(each[name] for each in rounds)
            ratio = statistics.median(each[name] / each["numpy"] for each in rounds)
            benchmark.extra_info[name] = f"{spent:.3f} s, {ratio:.2f} x numpy"
            print(f"  {IMPORTS[name]}: {benchmark.extra_info[name]}")
