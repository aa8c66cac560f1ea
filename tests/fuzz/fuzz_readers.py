"""Damaged files of every reader here: each is read or refused with one message; never a traceback, never slow, never large.

`python tests/fuzz/fuzz_readers.py 1000 1` makes 1,000 mutants for each reader from seed 1, prints what was found, and keeps each find in
`finds/`, which the suite reads again. Customers' lists and mappings have their own script, `tests/customer_list/fuzz_lists.py`.
"""

from __future__ import annotations

import random
import re
import resource
import shutil
import sys
import tempfile
import time
import traceback
import zipfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import openpyxl

from xlfab.actuals.finished_lots import biases, read_actuals
from xlfab.core.errors import XlfabError
from xlfab.core.workbook_reading import open_workbook
from xlfab.cycle_time.stopwatch import fit_file
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote

HERE = Path(__file__).parent
GOOD = HERE.parent / "inputs" / "good"
SLOW_S, LONGEST_MESSAGE = 10.0, 20_000
QUOTE = b"""[quote]
margin_share = 0.2
break_1_count = 5
[texts]
customer = "Corner Shop"
[[work_centre]]
name = "Deburring"
machine_price_cur = 9000
"""
STOPWATCH = b"blank_length_mm,blank_width_mm,blank_mass_kg,observed_time_s,rating_share\n" + b"".join(
    f"{300 + 70 * n},{200 + 31 * (n % 5)},{0.5 + n * 0.7 % 3:.1f},{5 + 0.9 * n + (n % 3) * 0.4:.1f},1.05\n".encode()
    for n in range(12)
)
ACTUALS = b"lot;operation;estimated_min;actual_min\n" + b"".join(
    f"L{n};{('shear', 'press brake', 'set-up')[n % 3]};{10 + n},5;{11 + n * 1.1:.1f}\n".replace(".", ",").encode()
    for n in range(30)
)
PIECES = [
    b"", b"0", b"-1", b"1e999", b"9" * 400, b"1_5", b"50-", b"1.2.3", b"1,234", b"nan", b"inf", b'"', b"'", b"[", b"]", b"[" * 3000, b"{", b"}", b"(" * 3000,
    b"\n", b"\r", b"\0", b"\x0b", b"\x1b[31m", b"\xff", b"\xff\xfe", b"\xef\xbb\xbf", b",", b";", b"\t", b"=", b".", b"a." * 5000, b"x" * 30000, b"1" * 16000,
    b"true", b"[]", b"{}", b"5", b"'text'", b"[1]", b"[[quote]]", b"[texts]", b"=1+1", b"[/x]", "±½٣".encode(), b"1979-05-27", b"0x10", b"\\u000b", b"# ",
    b"<!DOCTYPE a [<!ENTITY b \"c\">]>", b"<c r=\"XFD1048576\"/>", b"<row r=\"999999999\"/>", b"<v>1</v>", b"&b;", b"&#11;", b"A1:XFD1048576",
]  # fmt: skip


@dataclass(frozen=True)
class Reader:
    """A reader: the good bytes of its files, and how a folder of them is read. One file is damaged at a time."""

    name: str
    good: dict[str, bytes]
    read: Callable[[Path], object]


def _workbook() -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        book = openpyxl.Workbook()
        for row in range(1, 12):
            for column in range(1, 6):
                book.active.cell(row, column, f"P-{row}" if column == 1 else row * column / 4)
        book.active["F2"] = "=SUM(B2:E2)"
        book.active.merge_cells("A12:C12")
        book.active["G1"].hyperlink = "https://example.org"
        book.save(Path(folder) / "list.xlsx")
        return (Path(folder) / "list.xlsx").read_bytes()


def _scenario_and_quote(folder: Path) -> object:
    return load_quote(folder, load(folder))


def readers() -> list[Reader]:
    """Every reader with its good files."""
    scenario = {file.name: file.read_bytes() for file in sorted(GOOD.iterdir()) if file.is_file()}
    return [
        Reader("scenario", scenario, load),
        Reader("quote", {**scenario, "quote.toml": QUOTE}, _scenario_and_quote),
        Reader("stopwatch", {"readings.csv": STOPWATCH}, lambda folder: fit_file(folder / "readings.csv")),
        Reader("actuals", {"lots.csv": ACTUALS}, lambda folder: biases(read_actuals(folder / "lots.csv"))),
        Reader("workbook", {"list.xlsx": _workbook()}, lambda folder: [list(sheet.values) for sheet in open_workbook(folder / "list.xlsx").worksheets]),
    ]  # fmt: skip


def mutant(name: str, raw: bytes, chance: random.Random) -> bytes:
    """A damaged copy: of a workbook one part, or its bytes."""
    if name.endswith(".xlsx") and chance.random() < 0.8:
        return _mutant_of_parts(raw, chance)
    for _ in range(chance.randint(1, 4)):
        raw = _changed(raw, chance)
    kind = chance.random()
    if kind < 0.03 and not name.endswith(".xlsx"):
        return raw.decode("utf-8", "replace").encode(chance.choice(["utf-16", "utf-32", "latin-1"]), "replace")[
            : -chance.randint(0, 2) or None
        ]
    return raw[: chance.randrange(len(raw) + 1)] if kind < 0.08 else raw


def _changed(raw: bytes, chance: random.Random) -> bytes:
    at, end = sorted(chance.randrange(len(raw) + 1) for _ in range(2))
    values = [match.span(1) for match in re.finditer(rb"[=,;>]\s*([^\n,;=<>]+)", raw[:200_000])]
    kind = chance.randrange(6)
    if kind == 0 and values:
        at, end = chance.choice(values)
        return raw[:at] + chance.choice(PIECES) + raw[end:]
    if kind == 1:
        return raw[:at] + chance.choice(PIECES) + raw[at:]
    if kind == 2:
        return raw[:at] + raw[min(end, at + 40) :]
    if kind == 3:
        return raw[:at] + raw[at : min(end, at + 200)] * chance.choice([2, 3, 50]) + raw[at:]
    if kind == 4 and raw:
        at = min(at, len(raw) - 1)
        return raw[:at] + bytes([raw[at] ^ 1 << chance.randrange(8)]) + raw[at + 1 :]
    lines = raw.split(b"\n")
    chance.shuffle(lines)
    return b"\n".join(lines) if chance.random() < 0.3 else raw


def _mutant_of_parts(raw: bytes, chance: random.Random) -> bytes:
    with tempfile.SpooledTemporaryFile() as old, tempfile.SpooledTemporaryFile() as new:
        old.write(raw)
        with zipfile.ZipFile(old) as source, zipfile.ZipFile(new, "w", zipfile.ZIP_DEFLATED) as target:
            names = source.namelist()
            chosen = chance.choice([name for name in names if "sheet1" in name] * 3 + names)
            for name in names:
                data = source.read(name)
                if name == chosen:
                    for _ in range(chance.randint(1, 3)):
                        data = _changed(data, chance)
                target.writestr(name, data)
        new.seek(0)
        return new.read()


def verdict(reader: Reader, files: dict[str, bytes]) -> tuple[str, str]:
    """`read` or `refused`, or what went wrong and where."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "shop"
        place.mkdir()
        for name, data in files.items():
            (place / name).write_bytes(data)
        start = time.monotonic()
        try:
            reader.read(place)
            result = ("read", "")
        except XlfabError as error:
            result = ("refused", "") if 0 < len(str(error)) < LONGEST_MESSAGE else ("message", str(error)[:80])
        except Exception:
            result = ("traceback", traceback.format_exc().strip().replace(str(place), "")[-400:])
        seconds = time.monotonic() - start
        return ("slow", f"{seconds:.0f} s") if seconds > SLOW_S and result[0] != "traceback" else result


def run(reader: Reader, count: int, seed: int) -> tuple[Counter[str], list[tuple[str, bytes, str]]]:
    """Counts of verdicts, and each different find with its file."""
    chance = random.Random(f"{reader.name} {seed}")
    counts: Counter[str] = Counter()
    finds: dict[str, tuple[str, bytes, str]] = {}
    own = [name for name in reader.good if reader.name != "quote" or name == "quote.toml"]
    for _ in range(count):
        name = chance.choice(own)
        damaged = mutant(name, reader.good[name], chance)
        result, where = verdict(reader, {**reader.good, name: damaged})
        counts[result] += 1
        if result not in ("read", "refused"):
            finds.setdefault(where[-120:], (name, damaged, f"{result}: {where}"))
    return counts, list(finds.values())


def main() -> None:
    """Fuzz every reader, or those that are named."""
    count, seed = int(sys.argv[1]), int(sys.argv[2])
    for reader in readers():
        if sys.argv[3:] and reader.name not in sys.argv[3:]:
            continue
        start = time.monotonic()
        counts, finds = run(reader, count, seed)
        memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
        print(f"{reader.name}: {dict(counts)}, {time.monotonic() - start:.0f} s, at most {memory} MB", flush=True)
        for number, (name, damaged, what) in enumerate(finds):
            folder = HERE / "finds" / f"{reader.name}-{seed}-{number}"
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir(parents=True)
            (folder / name).write_bytes(damaged)
            print(f"  {folder.name}/{name}: {what}", flush=True)


if __name__ == "__main__":
    main()
