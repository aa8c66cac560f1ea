"""Names and texts that every host accepts, made from the registry; `check` finds the ones that a host would refuse."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from xlfab.core.errors import HostError
from xlfab.core.registry import Function, FunctionSpec
from xlfab.core.search_words import words_of
from xlfab.core.units import unit_label

TEXT_LIMIT = 255  # Excel cuts descriptions of functions and arguments here
ABOUT = "FAB_ABOUT"
ABOUT_TEXT = "Version of xlfab that answers in this workbook."
_CELL = re.compile(r"^[A-Za-z]{1,3}[0-9]+$")
_R1C1 = re.compile(r"^[Rr]?[0-9]*[Cc]?[0-9]*$")
_PLAIN = re.compile(r"^[A-Za-z][A-Za-z0-9_]*$")
# VBA takes no keyword as an argument's name, in capitals or not
_VBA_WORDS = (
    "and as binary boolean byref byte byval call case close const currency date dim do double each else elseif empty end enum"
    " eqv erase error event exit false for friend function get global gosub goto if imp implements in input integer is let len"
    " lib like line local lock long loop lset me mid mod name new next not nothing null object on open option optional or output"
    " paramarray preserve print private property public put raiseevent random read redim rem resume return rset seek select set"
    " single static step stop string sub then time to true type typeof unlock until variant wend while width with withevents"
    " write xor caller"
)


def method_name(spec: FunctionSpec) -> str:
    """The name inside the Calc add-in: its interface takes no underscore.

    >>> from xlfab.catalogue import FUNCTIONS
    >>> method_name(FUNCTIONS["axis_move_time_s"].spec)
    'axisMoveTimeS'
    """
    first, *rest = spec.name.split("_")
    return first + "".join(word.capitalize() for word in rest)


def description(spec: FunctionSpec) -> str:
    """One line for a function wizard: what it is, the unit of the result, and other words for it as far as there is room."""
    text = _fitting(f"{spec.summary} Result in {unit_label(spec.unit.suffix)}.", spec.summary)
    also = ""
    for word in words_of(spec.name):
        longer = f"{also}, {word}" if also else f" Also: {word}"
        if len(text) + len(longer) + 1 > TEXT_LIMIT:
            break
        also = longer
    return text + also + ("." if also else "")


def argument_texts(spec: FunctionSpec) -> list[tuple[str, str]]:
    """(name, help) of each argument: what it is, unit and allowed range."""
    return [
        (item.name, _fitting(f"{item.description}; allowed {item.allowed}.", item.description))
        for item in spec.arguments
    ]


def _fitting(text: str, shorter: str) -> str:
    return text if len(text) <= TEXT_LIMIT else shorter[:TEXT_LIMIT]


def name_fault(name: str) -> str:
    """Why a name is no function or argument name in every host, or nothing.

    >>> name_fault("t1"), name_fault("r"), name_fault("thickness_mm")
    ('looks like a cell', 'shorter than three characters', '')
    """
    if not _PLAIN.match(name):
        return "holds more than letters, digits and _"
    if _CELL.match(name):
        return "looks like a cell"
    if len(name) < 3:
        return "shorter than three characters"
    if _R1C1.match(name):
        return "looks like a row or column"
    return "is a word of VBA" if name.lower() in _VBA_WORDS.split() else ""


def faults(functions: Iterable[Function]) -> list[str]:
    """Every name or text that some host would refuse, in words."""
    found = []
    specs = [function.spec for function in functions]
    for kind, names in (
        ("cell name", [spec.cell_name.lower() for spec in specs] + [ABOUT.lower()]),
        ("method name", [method_name(spec).lower() for spec in specs]),
    ):
        found += [f"{kind} {name} stands {many} times" for name, many in Counter(names).items() if many > 1]
    for spec in specs:
        for name in (spec.cell_name, *(item.name for item in spec.arguments)):
            fault = name_fault(name)
            if fault:
                found.append(f"{spec.name}: {name} {fault}")
        for text in (description(spec), *(text for _, text in argument_texts(spec))):
            if not text or len(text) > TEXT_LIMIT:
                found.append(f"{spec.name}: a description is missing or passes {TEXT_LIMIT} characters")
    return found


def check(functions: Iterable[Function]) -> None:
    """HostError with every name or text that some host would refuse."""
    found = faults(functions)
    if found:
        raise HostError("; ".join(found))
