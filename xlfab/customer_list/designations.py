"""Equal and comparable designations of sheet grades, by open standards: EN numbers and names, AISI/SAE, ASTM, UNS, JIS, former names.

Two designations of one grade are the same sheet. A comparable grade of another standard, a former grade, or an alloy whose temper the
list does not state is only offered: the user confirms it, and it is noted beside each part. Nothing is inferred from a name's look.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

LONGEST_NAME = 80  # characters of a material's name
SAME_NAME, SAME_GRADE, COMPARABLE, OPEN_NAME = "same name", "same grade", "comparable", "open"
_BODIES = re.compile(r"^(?:aisi|sae|astm|uns|jis|din|w\.? ?-?nr\.?|wst\.?|en(?! ?aw))[ :-]*", re.IGNORECASE)
# the number of a standard beside the name of a grade: EN 10130 DC01, S235JR EN 10025-2, ASTM A240 Type 304, JIS G3141 SPCC
_STANDARD = re.compile(
    r"\b(?:(?:din[ -]*)?en[ -]*[0-9]{3,5}(?:-[0-9])?|astm[ -]*a240(?:/a240m)?|a240(?:/a240m)?|astm[ -]*b209|jis[ -]*[gh][ -]*[0-9]{4})"
    r"(?:[ -]*(?:type|tp|gr\.?))?(?=[ :,-]|$)[ :,-]*", re.IGNORECASE
)  # fmt: skip
_PLAIN_WORDS = re.compile(
    r"^al(?:uminium|uminum)?[ -]*(?=[0-9]{4})|[ -]+(?:steel|sheet|plate|blech|stahl)$", re.IGNORECASE
)
# as delivered, surface and finish: they change no grade
_AS_DELIVERED = re.compile(
    r"(?: ?\+ ?(?:ar|n|m|a|cr|at|z[0-9]{0,3}(?:-?[a-z-]*)?))+$|[ -]+[ab][ -]?[mbgr](?:-?o)?$|[ -]+(?:2b|2d|2r|2e|ba|iiid|iiic)$", re.IGNORECASE
)  # fmt: skip
_TEMPER = re.compile(r"[ /-]+(h[0-9]{1,3}|t[0-9]{1,4}|o|f)$", re.IGNORECASE)
_THICKNESS = re.compile(
    r"^(?P<name>.*?\S)[ ,;x×-]*\b(?:t ?= ?)?(?P<size>[0-9]+(?:[.,][0-9]+)? ?mm|[0-9./]+ ?(?:ga|gauge)\b)\.?$", re.IGNORECASE
)  # fmt: skip


@dataclass(frozen=True)
class Designation:
    """What a customer's name of a material means among the known ones: the known name or "", how sure, and why."""

    material: str
    how: str
    why: str = ""


@dataclass(frozen=True)
class _Grade:
    name: str
    comparable: tuple[str, ...]
    why: str


def plain(name: str) -> str:
    """A name without case, space and dividing marks, so that "5754-H111" is "5754 h111".

    >>> plain("EN AW-5754 H111"), plain("X5CrNi18-10"), plain("AISI 304")
    ('5754h111', 'x5crni1810', '304')
    """
    short = _BODIES.sub("", " ".join(name.split()))
    short = re.sub(r"^(?:en[ -]?)?aw[ -]*", "", short, flags=re.IGNORECASE)
    return re.sub(r"[\s_/.,-]", "", short.casefold())


@cache
def _grades() -> dict[str, _Grade]:
    """Every designation, as `plain` leaves it, with its grade."""
    text = files("xlfab").joinpath("customer_list/designations.csv").read_text(encoding="utf-8")
    found: dict[str, _Grade] = {}
    for row in csv.DictReader(text.splitlines()):
        others = tuple(filter(None, row["comparable"].split("|")))
        grade = _Grade(row["grade"], others, f"{row['basis']}: {row['source']}")
        found |= {plain(name): grade for name in row["names"].split("|")}
    return found


def without_thickness(text: str) -> tuple[str, str]:
    """A material's name and the thickness that stands behind it, or "".

    >>> without_thickness("S235JR 2 mm"), without_thickness("1.4301"), without_thickness("DC01, t=1,5mm")
    (('S235JR', '2 mm'), ('1.4301', ''), ('DC01', '1,5mm'))
    """
    match = _THICKNESS.fullmatch(text) if len(text) <= 100 else None
    return (match["name"].rstrip(" ,;"), match["size"].strip()) if match else (text, "")


def look_up(text: str, known: tuple[str, ...]) -> Designation:
    """What a customer's name means among the known materials.

    >>> look_up("1.0330", ("DC01", "DC04")).material, look_up("SUS304", ("304",)).how, look_up("stainless", ("304",)).how
    ('DC01', 'comparable', 'open')
    """
    if len(text) > LONGEST_NAME:
        return Designation("", OPEN_NAME)
    names = {plain(name): name for name in known}
    if plain(text) in names:
        return Designation(names[plain(text)], SAME_NAME)
    found = [_one(part, names) for part in _parts(text)]
    agreed = {item.material for item in found}
    if "" not in agreed and _compare(agreed):
        return Designation(
            found[0].material, COMPARABLE, f"the list names {' and '.join(sorted(agreed))}, which are comparable"
        )
    if len(agreed) != 1:
        return Designation("", OPEN_NAME)  # two grades in one text, or a word that nobody knows beside one
    return next((item for item in found if item.how == COMPARABLE), found[0])


def _compare(materials: set[str]) -> bool:
    """True for two materials that are comparable grades of two standards."""
    if len(materials) != 2:
        return False
    first, second = (_grades().get(plain(name)) for name in materials)
    return first is not None and second is not None and first.name in second.comparable


def _parts(text: str) -> list[str]:
    """The designations of a text such as "1.4301 / X5CrNi18-10" or "1.4301 (304)"."""
    parts = [part.strip(" ()") for part in re.split(r" ?/ ?(?![Aa][0-9]+[Mm])| ?[()] ?|; ?|, ", text)]
    return [part for part in parts if part] or [text]


def _one(text: str, names: dict[str, str]) -> Designation:
    bare = _AS_DELIVERED.sub("", _PLAIN_WORDS.sub("", _STANDARD.sub("", text).strip(" -,"))).strip()
    if plain(bare) in names:
        return Designation(
            names[plain(bare)],
            SAME_GRADE,
            "the number of a standard, delivery or surface beside a grade change nothing",
        )
    temper = _TEMPER.search(bare)
    grade = _grades().get(plain(text)) or _grades().get(plain(bare))
    if grade is None and temper:
        grade = _grades().get(plain(bare[: temper.start()]))
        wanted = plain(f"{grade.name} {temper[1]}") if grade else ""
        return Designation(names[wanted], SAME_GRADE, grade.why) if grade and wanted in names else _open(grade)
    if grade and plain(grade.name) in names:
        return Designation(names[plain(grade.name)], SAME_GRADE, grade.why)
    if grade:
        tempers = [name for name in names.values() if _without_temper(name) == plain(grade.name)]
        if len(tempers) == 1:
            return Designation(tempers[0], COMPARABLE, f"the list states no temper; {grade.why}")
    for other in _compared_with(plain(bare), grade):
        if plain(other.name) in names:
            return Designation(names[plain(other.name)], COMPARABLE, f"comparable, not the same; {other.why}")
    return _open(grade)


def _compared_with(short: str, grade: _Grade | None) -> list[_Grade]:
    """The grades that a grade is compared with, and those that name this designation as comparable or former."""
    own = [_grades()[plain(name)] for name in grade.comparable if plain(name) in _grades()] if grade else []
    naming = [item for item in _grades().values() if short in map(plain, item.comparable)]
    return list(dict.fromkeys([*own, *naming]))


def _without_temper(name: str) -> str:
    return plain(_TEMPER.sub("", name))


def _open(grade: _Grade | None) -> Designation:
    return Designation(
        "", OPEN_NAME, f"it is {grade.name} ({grade.why}), for which nothing is known here" if grade else ""
    )
