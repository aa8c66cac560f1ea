"""What a heading says: the field that its words name, whether all of its words are understood, its unit, the order of several sizes."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from xlfab.customer_list.quantity import unit_of

LONGEST_HEADING = 120  # characters; a longer text is no heading
OTHER = (
    "item",
    "count_unit",
    "level",
    "mass",
    "price",
    "area",
    "revision",
    "remark",
)  # known, and not taken into the shop
_FILLERS = frozenset(
    [
        "the",
        "of",
        "per",
        "each",
        "pro",
        "je",
        "in",
        "und",
        "and",
        "for",
        "from",
        "de",
        "des",
        "der",
        "die",
        "das",
        "del",
        "la",
        "le",
        "du",
        "di",
        "nach",
        "to",
        "be",
        "make",
        "count",
    ]
)
# what two words mean together, where it is not what one of them means alone
_TOGETHER: dict[frozenset[str], str] = {
    frozenset(key.split("+")): name
    for key, name in {
        "flat+length": "length", "size+length": "length", "flat+size+length": "length", "flat+width": "width", "size+width": "width",
        "flat+size+width": "width", "flat_length": "length", "flat_width": "width", "flat+size": "size", "flat": "size",
        "lot+year": "yearly", "yearly+year": "yearly", "lot+yearly": "yearly", "part+year": "yearly",
        "material+thickness": "thickness", "part+description": "description", "material+description": "material",
        "part+item": "part", "part+lot": "lot", "bends+lot": "bends", "bends+length": "bend_length",
        "bends+bend_angle": "bend_angle", "flanges+length": "flanges", "flat+material": "material", "material+revision": "material",
        "part+revision": "revision", "flat+part": "part", "flat+thickness": "thickness", "price+lot": "price", "mass+lot": "mass",
        "mass+part": "mass", "price+part": "price", "price+size": "price", "mass+flat": "mass", "area+flat": "area", "lot+revision": "revision",
        "lot+remark": "remark", "part+remark": "remark", "area+remark": "remark", "remark+price": "price", "sheet_size+size": "sheet_size", "size+material": "size",
    }.items()
}  # fmt: skip
# one letter names a size only where nothing else in the heading is left to explain
_LETTERS = {"t": "thickness", "s": "thickness", "l": "length", "w": "width", "b": "width"}
_NUMBER_OR_SIZE = ("lot", "batch", "los", "charge")  # alone, it may be the size of a lot or its number
_NUMBERED = frozenset({"part", "description", "material", "bends", "thickness", "remark", "revision", "item"})
_SIZE_ORDER = re.compile(r"[^\W\d_]+(?: ?[x×*] ?[^\W\d_]+){1,2}")


@dataclass(frozen=True)
class Meaning:
    """What one heading says. `sure`: every word is understood; `order`: the sizes of a cell such as 200 x 100 x 2."""

    field: str = ""
    unit: str = ""
    sure: bool = False
    series: str = ""
    order: tuple[str, ...] = ()


@cache
def words() -> dict[str, str]:
    """The words of headings, and the field that each names."""
    text = files("xlfab").joinpath("customer_list/words.csv").read_text(encoding="utf-8")
    return {word: row["field"] for row in csv.DictReader(text.splitlines()) for word in row["words"].split("|")}


@cache
def meaning(text: str) -> Meaning:
    """The field and unit that a heading names.

    >>> meaning("Blank length [mm]"), meaning("Remarks").field, meaning("Menge/Jahr").field
    (Meaning(field='length', unit='mm', sure=True, series='', order=()), 'remark', 'yearly')
    >>> meaning("Leg B (mm)").field, meaning("Leg B (mm)").series, meaning("Length of weld").sure
    ('flanges', 'b', False)
    """
    if len(text) > LONGEST_HEADING:
        return Meaning()
    plain = " ".join(text.lower().replace("_", " ").split())
    unit, bare = _unit(plain)
    order = _order(bare)
    if order:
        return Meaning("size", unit, True, "", order)
    fields, left = _phrases(_tokens(bare))
    fields, left = _with_letters(fields, left)
    name = _together(fields)
    series = left[0] if len(left) == 1 and re.fullmatch(r"[0-9]{1,7}|[a-h]", left[0]) else ""
    sure = bool(name) and bare not in _NUMBER_OR_SIZE and (not left or (name == "flanges" and bool(series)))
    if not name and fields:
        name = fields[-1]  # two fields at once: the last word is asked about
    return Meaning(name, unit, sure, series)


def _unit(plain: str) -> tuple[str, str]:
    """The unit of a heading, and the heading without it."""
    unit = ""

    def take(found: re.Match[str]) -> str:
        nonlocal unit
        inside = found[1].removeprefix("in ").strip() if unit_of(found[1]) is None else found[1]
        if not unit and unit_of(inside) is not None:
            unit = unit_of(inside) or ""
            return " "
        return f" {found[1]} "

    bare = re.sub(r"[(\[]([^)\]\[(]{0,60})[)\]]", take, plain)
    *rest, last = re.split(r"[\s,/:-]+", bare.strip(" .:,;/-")) if bare.strip() else [""]
    if not unit and rest and unit_of(last) and not (unit_of(last) == "count" or last in words()):
        unit = unit_of(last) or ""
        bare = " ".join(rest[:-1] if rest[-1] == "in" and len(rest) > 1 else rest)
    return ("" if unit == "count" else unit), bare


def _order(bare: str) -> tuple[str, ...]:
    """The order of sizes that a heading spells out: L x B x t."""
    found = _SIZE_ORDER.search(bare)
    if found is None:
        return ()
    names = [_LETTERS.get(part) or words().get(part, "") for part in re.split(r" ?[x×*] ?", found[0])]
    rest = _phrases(_tokens(bare.replace(found[0], " ")))
    known = set(names) <= {"length", "width", "thickness"} and len(set(names)) == len(names)
    return tuple(names) if known and not rest[1] and set(rest[0]) <= {"size", "flat"} else ()


def _tokens(bare: str) -> list[str]:
    found: list[str] = []
    for raw in bare.split():
        plain = raw.strip(".:,;-/")
        whole = raw if raw in words() else plain
        found += [whole] if whole in words() else [part for part in re.split(r"[/\-,;:._+&]+", plain) if part]
    return found


def _phrases(tokens: list[str]) -> tuple[list[str], list[str]]:
    """The fields that the tokens name, the longest known phrase first, and the tokens that nobody knows."""
    table = words()
    fields: list[str] = []
    left: list[str] = []
    start = 0
    while start < len(tokens):
        for size in range(min(4, len(tokens) - start), 0, -1):
            name = table.get(" ".join(tokens[start : start + size]))
            if name:
                fields.append(name)
                start += size
                break
        else:
            if tokens[start] not in _FILLERS:
                left.append(tokens[start])
            start += 1
    return fields, left


def _with_letters(fields: list[str], left: list[str]) -> tuple[list[str], list[str]]:
    """A lone letter as the name of a size: by itself, with `blank` or `flat`, or repeating the word beside it: Thickness (t)."""
    if len(left) != 1 or left[0] not in _LETTERS:
        return fields, left
    name = _LETTERS[left[0]]
    if not fields or set(fields) <= {"flat", "size", name} or (name == "thickness" and set(fields) <= {"material"}):
        return [*fields, name], []
    return fields, left


def _together(fields: list[str]) -> str:
    kinds = frozenset(fields)
    if len(kinds) > 1 and fields[-1] == "item":
        kinds -= {"item"}  # the "no" of "Drawing no"; "Lot no" names a lot and is no quantity
        if not kinds <= _NUMBERED:
            return "remark" if kinds <= {"lot", "remark"} else ""
    if len(kinds) > 1 and fields[0] == "item" and kinds != {"item", "part"}:
        kinds -= {"item"}  # the "No. of" of "No. of bends", the "item" of "Item qty"
    return _TOGETHER.get(kinds, next(iter(kinds)) if len(kinds) == 1 else "")
