"""Damaged lists and mappings: each is read or refused with one message; never a traceback, never longer than ten seconds.

`python tests/customer_list/fuzz_lists.py 3000 1` makes 3,000 mutants of each kind from seed 1 and prints what was found.
"""

from __future__ import annotations

import io
import random
import re
import sys
import tempfile
import time
import traceback
import zipfile
from collections import Counter
from pathlib import Path

from corpus_count import corpora

from xlfab.core.errors import XlfabError
from xlfab.customer_list import gauges, list_mapping, propose
from xlfab.customer_list.apply_mapping import apply
from xlfab.customer_list.cell_grid import read_sheets
from xlfab.customer_list.checksum import checksum
from xlfab.customer_list.questions import answer, questions
from xlfab.inputs.defaults import default_names

SLOW_S = 10.0
PIECES = [
    "", "0", "-1", "8", "1e999", "9" * 400, "nan", "?", "''", '"', "x" * 5000, "2x90", "99x99", "1/0", "1/2/3", "½", "٣", "\u200b", "[/x]", "=1+1",
    "A", "ZZZZ", "A+B+C", "mm", "in", "gauge", "16 ga", "5'", "5' 6\"", "(((", "[" * 300, "none", "10/50/100", "true", "[]", "{}", ",", ";", "\t", "\n",
    "\r", "\x00", "\x0b", "\ufeff", "Qty", "Length mm", "Total", "1.000", "1,000", "1.2.3", "S235JR 2 mm", "90°", "0.0.0", "50001", "99999999999999999999",
]  # fmt: skip


VALUES = re.compile(rb">([^<>]+)<|=\"([^\"<>]*)\"|= ?\"?([^\"\n\[\]{}]+)\"?$", re.MULTILINE)


def mutant_of_values(raw: bytes, chance: random.Random) -> bytes:
    """One to three values between tags, in attributes or behind an equals sign replaced, so that the file stays well formed."""
    for _ in range(chance.randint(1, 3)):
        spans = [
            next(match.span(group) for group in (1, 2, 3) if match[group] is not None) for match in VALUES.finditer(raw)
        ]
        if spans:
            first, last = chance.choice(spans)
            other = chance.choice(spans)
            piece = raw[slice(*other)] if chance.random() < 0.4 else chance.choice(PIECES).encode()
            if chance.random() < 0.8:
                piece = piece.replace(b'"', b"").replace(b"<", b"").replace(b"\x00", b"")
            raw = raw[:first] + piece + raw[last:]
    return raw


def mutant_of_text(raw: bytes, chance: random.Random) -> bytes:
    """One to four changes: a token, a piece cut out, doubled or moved, a byte flipped, the coding changed."""
    for _ in range(chance.randint(1, 4)):
        kind = chance.randrange(7)
        at = chance.randrange(len(raw) + 1)
        end = min(len(raw), at + chance.randint(1, 30))
        piece = chance.choice(PIECES).encode("utf-8", "surrogatepass")
        if kind == 0:
            raw = raw[:at] + piece + raw[at:]
        elif kind == 1:
            raw = raw[:at] + raw[end:]
        elif kind == 2:
            raw = raw[:end] + raw[at:end] * chance.randint(1, 50) + raw[end:]
        elif kind == 3 and raw:
            raw = raw[:at] + bytes([chance.randrange(256)]) + raw[at + 1 :]
        elif kind == 4:
            spans = [match.span() for match in re.finditer(rb"[^,;\t\n|=\"\[\]]+", raw)] or [(0, 0)]
            first, last = chance.choice(spans)
            raw = raw[:first] + piece + raw[last:]
        elif kind == 5:
            raw = raw.decode("utf-8", "replace").encode(
                chance.choice(["utf-16", "utf-16-le", "cp1252", "utf-8-sig"]), "replace"
            )
        else:
            lines = raw.splitlines(keepends=True)
            chance.shuffle(lines)
            raw = b"".join(lines)
    return raw


def mutant_of_workbook(raw: bytes, chance: random.Random) -> bytes:
    """A change within one of the parts, packed anew; now and then the packed bytes themselves."""
    if chance.random() < 0.05:
        return mutant_of_text(raw, chance)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        names = [name for name in old.namelist() if name.endswith(".xml")]
        likely = [name for name in names if "sheet" in name or "shared" in name or "styles" in name]
        chosen = chance.choice(likely if chance.random() < 0.8 else names)
        for name in old.namelist():
            data = old.read(name)
            change = mutant_of_values if chance.random() < 0.85 else mutant_of_text
            new.writestr(name, change(data, chance) if name == chosen else data)
    return out.getvalue()


def run(path: Path, chance: random.Random, mapping: Path | None = None) -> str:
    """Read a list from end to end, with random answers; "read" or "refused"."""
    known = tuple(default_names("material"))
    try:
        sheets = read_sheets(path)
        used = list_mapping.load(mapping) if mapping else propose.propose(sheets)
        for _ in range(60):
            todo = questions(used, sheets, known, tuple(gauges.table()))
            needed = [item for item in todo if item.needed]
            if not needed or mapping:
                break
            answer(used, needed[0], chance.choice(needed[0].choices))
        result = apply(sheets, used)
        checksum(result)
        list_mapping.as_toml(used)
    except XlfabError as error:
        assert len(str(error)) < 4000, f"a message of {len(str(error))} characters"
        return "refused"
    return "read"


def seeds(folder: Path) -> tuple[list[bytes], list[bytes], list[tuple[Path, bytes]]]:
    """Sound lists as text and as workbooks, and lists with their saved mapping."""
    texts, books, mapped = [], [], []
    for number, case in enumerate(case for cases in corpora().values() for case in cases):
        path = folder / f"seed{number}{case.suffix}"
        case.make(path)
        (books if case.suffix == ".xlsx" else texts).append(path.read_bytes())
        try:
            sheets = read_sheets(path)
            used = propose.propose(sheets)
            known, tables = tuple(default_names("material")), tuple(gauges.table())
            while needed := [item for item in questions(used, sheets, known, tables) if item.needed]:
                answer(used, needed[0], needed[0].choices[0])
        except XlfabError:
            continue
        if used.sheets:
            mapped.append((path, list_mapping.as_toml(used).encode()))
    return texts, books, mapped


def fuzz(count: int, seed: int, keep: Path | None = None) -> tuple[Counter[str], list[str]]:
    """`count` mutants of each kind; what came of them, and every traceback or long run."""
    found: Counter[str] = Counter()
    faults: list[str] = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        texts, books, mapped = seeds(folder)
        for number in range(3 * count):
            chance = random.Random(seed * 1_000_003 + number)
            kind = ("text", "workbook", "mapping")[number % 3]
            path, mapping = folder / f"mutant{'.xlsx' if kind == 'workbook' else '.csv'}", None
            if kind == "mapping":
                path, raw = chance.choice(mapped)
                mapping = folder / "mapping.toml"
                mapping.write_bytes((mutant_of_values if chance.random() < 0.8 else mutant_of_text)(raw, chance))
            else:
                make = mutant_of_text if kind == "text" else mutant_of_workbook
                path.write_bytes(make(chance.choice(texts if kind == "text" else books), chance))
            start = time.monotonic()
            try:
                word = run(path, chance, mapping)
            except Exception:
                word = "traceback"
                faults.append(f"{kind} {number}: {traceback.format_exc()[-1200:]}")
            if time.monotonic() - start > SLOW_S:
                word = "slow"
                faults.append(f"{kind} {number}: {time.monotonic() - start:.1f} s")
            if word in ("traceback", "slow") and keep:
                target = mapping or path
                (keep / f"{kind}_{number}{target.suffix}").write_bytes(target.read_bytes())
            found[f"{kind} {word}"] += 1
    return found, faults


if __name__ == "__main__":
    counts, problems = fuzz(int(sys.argv[1]), int(sys.argv[2]), Path(sys.argv[3]) if len(sys.argv) > 3 else None)
    print("\n\n".join(problems))
    print(dict(sorted(counts.items())))
