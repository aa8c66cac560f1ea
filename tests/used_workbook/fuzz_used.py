"""Damaged used workbooks: parts changed at random, also inside the record with its checksum made right. Never anything but one message.

Run `python tests/used_workbook/fuzz_used.py 500 1` for 500 of them from the seed 1; a few run in the suite.
"""

from __future__ import annotations

import json
import random
import re
import zipfile
from pathlib import Path
from typing import Any

from xlfab.core.errors import XlfabError
from xlfab.used_workbook.audit import audit
from xlfab.used_workbook.read_back import read_inputs
from xlfab.used_workbook.scenario_texts import folder_texts
from xlfab.workbook import build_record


def damaged(parts: dict[str, bytes], rng: random.Random) -> dict[str, bytes]:
    """A copy of the parts with a few bytes, elements or figures changed."""
    made = dict(parts)
    for _ in range(rng.randint(1, 4)):
        name = rng.choice([name for name in made if name.endswith((".xml", ".rels"))])
        data = bytearray(made[name])
        if not data:
            continue
        at = rng.randrange(len(data))
        kind = rng.randrange(5)
        if kind == 0:
            data[at] = rng.randrange(256)
        elif kind == 1:
            del data[at : at + rng.randint(1, 40)]
        elif kind == 2:
            found = [item.span() for item in re.finditer(rb'"[^"]{1,12}"', bytes(data))]
            if found:
                start, end = rng.choice(found)
                data[start:end] = rng.choice([b'""', b'"-1"', b'"x"', b'"999999999"', b'"1e400"', b'"A0"'])
        elif kind == 3:
            del made[name]
            continue
        else:
            data[at:at] = data[max(0, at - 30) : at]
        made[name] = bytes(data)
    return made


def forged(text: str, rng: random.Random) -> str:
    """The record with some value of another type or size."""
    record = json.loads(text)
    holder: Any = record
    for _ in range(rng.randint(0, 5)):
        inner = list(holder.values()) if isinstance(holder, dict) else list(holder)
        inner = [item for item in inner if isinstance(item, (dict, list)) and item]
        if not inner:
            break
        holder = rng.choice(inner)
    key = rng.choice(list(holder)) if isinstance(holder, dict) else rng.randrange(len(holder))
    holder[key] = rng.choice([None, -1, 1e308, "", "x", [], {}, True, 99999999, "=1", [[]]])
    return json.dumps(record, separators=(",", ":"))


def tried(path: Path) -> str:
    """What became of a file: taken, refused, or the name of an error that nobody caught."""
    try:
        audit(path)
        read = read_inputs(path)
        read.used.parts.guarded(folder_texts, read)
    except XlfabError:
        return "refused"
    except Exception as error:
        return f"TRACEBACK {type(error).__name__}: {error}"
    return "taken"


def run(source: Path, folder: Path, count: int, seed: int) -> dict[str, int]:
    """How many of each outcome."""
    with zipfile.ZipFile(source) as file:
        parts = {item.filename: file.read(item) for item in file.infolist()}
    shared = parts["xl/sharedStrings.xml"].decode("utf-8")
    pieces = [item for item in re.findall(r"<t[^>]*>([^<]*)</t>", shared) if len(item) > 20_000 or item.startswith("{")]
    whole = "".join(pieces).replace("&quot;", '"').replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
    outcomes: dict[str, int] = {}
    for number in range(count):
        rng = random.Random(f"{seed}-{number}")
        made = damaged(parts, rng) if number % 3 else dict(parts)
        if number % 3 == 0:
            made["xl/sharedStrings.xml"] = _with_record(shared, pieces, whole, forged(whole, rng)).encode("utf-8")
        path = folder / "damaged.xlsx"
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
            for name, data in made.items():
                file.writestr(name, data)
        said = tried(path)
        outcomes[said] = outcomes.get(said, 0) + 1
    return outcomes


def _with_record(shared: str, pieces: list[str], whole: str, text: str) -> str:
    """The shared texts with another record and its checksum."""
    made = shared.replace(build_record.checksum(whole), build_record.checksum(text))
    escaped = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    size = -(-len(escaped) // len(pieces))
    for number, piece in enumerate(pieces):
        made = made.replace(f">{piece}<", f">{escaped[number * size : (number + 1) * size]}<", 1)
    return made


if __name__ == "__main__":
    import sys
    import tempfile

    from tiny_shop import built

    place = Path(tempfile.mkdtemp())
    print(run(built(place, "quote"), place, int(sys.argv[1]), int(sys.argv[2])))
