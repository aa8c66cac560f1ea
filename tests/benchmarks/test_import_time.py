"""How long it takes to import xlfab and its catalogue, beside numpy alone; run with `pytest tests/benchmarks --benchmark-only`."""

from __future__ import annotations

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


def _seconds(code: str) -> float:
    """Processor seconds of a fresh interpreter."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", code], check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def test_import_beside_numpy(benchmark, capsys):
    rounds = [{name: _seconds(code) for name, code in IMPORTS.items()} for _ in range(ROUNDS)]
    benchmark.pedantic(_seconds, args=(IMPORTS["catalogue"],), rounds=1)
    with capsys.disabled():
        print(f"\nImport in a fresh interpreter, median of {ROUNDS} rounds:")
        for name in IMPORTS:
            spent = statistics.median(each[name] for each in rounds)
            ratio = statistics.median(each[name] / each["numpy"] for each in rounds)
            benchmark.extra_info[name] = f"{spent:.3f} s, {ratio:.2f} x numpy"
            print(f"  {IMPORTS[name]}: {benchmark.extra_info[name]}")
