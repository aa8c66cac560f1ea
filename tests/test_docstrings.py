"""Every published function explains itself, and what it says of units, arguments and sources is true."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import xlfab
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.registry import Function
from xlfab.core.units import unit_label

FOLDERS = ("process", "cycle_time", "energy", "cost", "investment")
SECTIONS = ("Arguments", "Returns", "Holds", "Sources")
_SECTION = re.compile(rf"^({'|'.join(SECTIONS)}):\s*", re.MULTILINE)
_BRACKETED = re.compile(r"([A-Za-z_][A-Za-z0-9_]*) \[([^\]]+)\]")


def sections(function: Function) -> dict[str, str]:
    """The named paragraphs of a docstring, joined to one line each."""
    text = (inspect.getdoc(function.formula) or "").split("\n>>> ", 1)[0]
    pieces = _SECTION.split(text)[1:]
    return {name: " ".join(body.split()) for name, body in zip(pieces[::2], pieces[1::2], strict=True)}


def faults(function: Function) -> list[str]:
    """Everything that is wrong with the docstring of a function."""
    spec, found, wrong = function.spec, sections(function), []
    if not spec.summary.endswith(".") or len(spec.summary) > 120:
        wrong.append(f"first line is no sentence of at most 120 characters: '{spec.summary}'")
    if tuple(found) != SECTIONS:
        return [*wrong, f"sections are {', '.join(found)}; wanted, in this order: {', '.join(SECTIONS)}"]
    stated = _BRACKETED.findall(found["Arguments"])
    wanted = [(item.name, unit_label(item.unit.suffix)) for item in spec.arguments]
    if stated != wanted:
        wrong.append(f"arguments are stated as {stated}, but are {wanted}")
    unit = unit_label(spec.unit.suffix)
    if not found["Returns"].startswith(f"[{unit}]"):
        wrong.append(f"Returns must start with [{unit}]: '{found['Returns']}'")
    if len(found["Holds"]) < 10:
        wrong.append("Holds says nothing")
    keys = tuple(key.strip() for key in found["Sources"].rstrip(".").split(","))
    if keys != spec.sources:
        wrong.append(f"Sources are {keys}, but the decorator has {spec.sources}")
    examples = doctest.DocTestParser().get_examples(inspect.getdoc(function.formula) or "")
    if not any(spec.name + "(" in one.source and one.want for one in examples):
        wrong.append("no worked example that calls it")
    return wrong


@pytest.mark.parametrize("function", CATALOGUE, ids=lambda one: one.spec.name)
def test_docstring(function: Function) -> None:
    wrong = faults(function)
    assert not wrong, f"{function.spec.name}: " + "; ".join(wrong)


def registered() -> dict[str, Function]:
    """Every decorated function of the folders of formulas, found by looking into each module."""
    found = {}
    for folder in FOLDERS:
        package = importlib.import_module(f"xlfab.{folder}")
        for module in pkgutil.iter_modules(package.__path__, f"xlfab.{folder}."):
            for value in vars(importlib.import_module(module.name)).values():
                if isinstance(value, Function) and value.formula.__module__ == module.name:
                    found[value.spec.name] = value
    return found


def test_catalogue_lists_every_registered_function_once() -> None:
    assert len(FUNCTIONS) == len(CATALOGUE)
    assert registered() == FUNCTIONS
    cells = [one.spec.cell_name for one in CATALOGUE]
    assert len(set(cells)) == len(cells)


def test_every_module_says_what_it_holds() -> None:
    silent = [
        module.name
        for module in pkgutil.walk_packages(xlfab.__path__, "xlfab.")
        if not module.name.endswith("__main__") and not importlib.import_module(module.name).__doc__
    ]
    assert not silent
