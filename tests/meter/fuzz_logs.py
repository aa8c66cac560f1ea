"""Damaged power logs: whatever is done to a file, it is read or refused with a message. python fuzz_logs.py [count] [seed]."""

from __future__ import annotations

import sys
import tempfile
import time
import traceback
import warnings
from collections import Counter
from pathlib import Path

import numpy as np
from log_corpus.case import run
from log_corpus.writing import Style, write

from xlfab.core.errors import XlfabError
from xlfab.meter.log_file import read_log
from xlfab.meter.states import find_states

STYLES = (
    Style(),
    Style(delimiter=";", decimal=",", clock="day first", after=("PF", "S")),
    Style(unit="W", digits=0, thousands=".", delimiter=";", clock="split"),
    Style(phases=(0.34, 0.33, 0.33), digits=4, clock="month first"),
    Style(encoding="utf-16-le", mark=True, delimiter="\t", clock="iso offset"),
    Style(encoding="utf-16-be", delimiter=";", clock="epoch"),
    Style(kind="counter", unit="kWh", digits=6, heading="E [{unit}]", before=("row",)),
    Style(kind="interval", unit="Wh", heading="Interval energy [{unit}]", clock="time only"),
    Style(quoted=True, decimal=",", cell_unit=" kW", heading="Power", clock="elapsed hms"),
    Style(suffix=".xlsx", after=("strokes",)),
)
TOKENS = (
    b"\0", b'"', b"'", b";", b",", b".", b"-", b"\n", b"\r\n", b"1e999", b"NaN", b"inf", b"9" * 400, b"OL", b"\xff\xfe", b"\xe2\x88\x92",
    b"\xc2\xb2", b"0x1F", b"1_5", b"00:99:99", b"99.99.9999", b"2026-13-45 25:61:61", b"-9999", b"[/x]", b"=1+1", b"\x1b[31m", b"W", b"kWh",
    b"\xd9\xa3", b"1.2.3", b" " * 3000, b"-0", b"+5", b"1e308", b"2026-03-16 00:00:01+99:99", b"0001-01-01 00:00:00", b"9999-12-31 23:59:59",
)  # fmt: skip


def damaged(data: bytes, rng: np.random.Generator) -> bytes:
    """One to four damages: bytes changed, cut, doubled, moved, tokens put in, all of one byte replaced."""
    for _ in range(int(rng.integers(1, 5))):
        if not data:
            break
        # half of the damage falls into the head, where the layout is decided
        reach = min(len(data), 400) if rng.random() < 0.5 else len(data)
        at, size = int(rng.integers(0, reach)), int(rng.integers(1, 200))
        kind = int(rng.integers(0, 8))
        if kind == 0:
            data = data[:at] + bytes([int(rng.integers(0, 256))]) + data[at + 1 :]
        elif kind == 1:
            data = data[:at] + data[at + size :]
        elif kind == 2:
            data = data[:at] + data[at : at + size] * int(rng.integers(2, 30)) + data[at + size :]
        elif kind == 3:
            data = data[:at] + TOKENS[int(rng.integers(0, len(TOKENS)))] + data[at:]
        elif kind == 4:
            data = data[: max(at, 1)]
        elif kind == 5:
            token = TOKENS[int(rng.integers(0, len(TOKENS)))]
            data = data[:at] + token + data[at + len(token) :]
        elif kind == 6:
            data = data.replace(bytes([data[at]]), TOKENS[int(rng.integers(0, len(TOKENS)))][:4])
        else:
            other = int(rng.integers(0, len(data)))
            data = data[:at] + data[other : other + size] + data[at:]
    return data


def attempt(path: Path, rng: np.random.Generator) -> str:
    """What came of one file: read, refused, or the traceback."""
    options = ({}, {"unit": "kW"}, {"zone": "Europe/Vienna"}, {"decimal": ","}, {"columns": ("P [kW]",)})
    try:
        find_states(read_log(path, **options[int(rng.integers(0, len(options)))]))
    except XlfabError as error:
        return "refused" if len(str(error)) < 2000 else f"message of {len(str(error))} letters"
    except Exception:
        return traceback.format_exc()
    return "read"


def batch(count: int, seed: int) -> tuple[Counter[str], float]:
    """So many damaged files; how each ended, and the longest time of one."""
    rng = np.random.default_rng(seed)
    ends: Counter[str] = Counter()
    longest = 0.0
    with tempfile.TemporaryDirectory() as name, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        folder = Path(name)
        readings = run("hydraulic", 10.0, hours=1.2)(seed)
        sound = [
            write(folder, f"log{number}", readings, style, seed).read_bytes() for number, style in enumerate(STYLES)
        ]
        for number in range(count):
            style = number % len(STYLES)
            path = folder / f"damaged{STYLES[style].suffix}"
            path.write_bytes(damaged(sound[style], rng))
            start = time.perf_counter()
            ends[attempt(path, rng)] += 1
            longest = max(longest, time.perf_counter() - start)
    return ends, longest


if __name__ == "__main__":
    ends, longest = batch(int(sys.argv[1]) if len(sys.argv) > 1 else 1000, int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    for text, times in ends.most_common():
        print(times, text)
    print(f"longest {longest:.2f} s")
