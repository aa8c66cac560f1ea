"""The function reference, from the registry alone: as a page, as rows of a sheet, and for the terminal."""

from __future__ import annotations

import ast
import difflib
import inspect
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.errors import InputError
from xlfab.core.registry import Function
from xlfab.core.search_words import topics, words_of
from xlfab.core.sources import source
from xlfab.core.units import unit_label

ROW_HEADINGS = ("Function", "Result", "What it gives", "Arguments", "Worked example", "Sources")
_TITLES = {
    "process": "What the sheet needs",
    "cycle_time": "Cycle time",
    "energy": "Energy",
    "cost": "Cost and price",
    "investment": "The purchase",
}
_HEAD = """# Functions

Generated from the functions themselves by `xlfab functions --write`; do not edit. Each is called the same way in Python, in Excel and in
LibreOffice. A blank, a text or a value outside the allowed range gives an error value in a cell (#NUM!) and a message in Python. One
exception is LibreOffice's own: a single blank cell that is typed as an argument reaches every add-in as 0.
Every example is executed as a test.
"""


def unit_of(function: Function) -> str:
    """The unit of the result, as people read it."""
    return unit_label(function.spec.unit.suffix)


def call_text(function: Function) -> str:
    """How the function is called in a cell.

    >>> call_text(FUNCTIONS["axis_move_time_s"])[:40]
    'FAB_AXIS_MOVE_TIME_S(distance_mm, speed_'
    """
    return f"{function.spec.cell_name}({', '.join(item.name for item in function.spec.arguments)})"


def rows(functions: Iterable[Function] = CATALOGUE, currency: str = "currency") -> list[tuple[str, ...]]:
    """One row a function for a sheet, in the order of ROW_HEADINGS."""
    return [
        (
            one.spec.cell_name,
            unit_label(one.spec.unit.suffix, currency),
            one.spec.summary,
            ", ".join(f"{item.name} [{unit_label(item.unit.suffix, currency)}]" for item in one.spec.arguments),
            str(cell_example(one)),
            "; ".join(source(key).citation for key in one.spec.sources),
        )
        for one in functions
    ]


def section(function: Function) -> tuple[str, str]:
    """What the docstring says under Holds, and its worked example."""
    text = inspect.cleandoc(function.__doc__ or "")
    holds = next((line for line in text.splitlines() if line.startswith("Holds:")), "")
    start = text.find(">>>")
    return holds.removeprefix("Holds:").strip(), text[start:].strip() if start >= 0 else ""


@dataclass(frozen=True)
class CellExample:
    """A worked example in cells: what is typed, which ranges hold what, and what the cell shows."""

    call: str
    ranges: dict[str, list[float]]
    shown: str

    def __str__(self) -> str:
        given = " and ".join(f"{', '.join(map(str, values))} in {place}" for place, values in self.ranges.items())
        return f"{self.call} = {self.shown}" + (f", with {given}" if given else "")


def cell_example(function: Function) -> CellExample:
    """The first call of the worked example, as it is typed into a cell.

    >>> str(cell_example(FUNCTIONS["simple_payback_years"]))
    'FAB_SIMPLE_PAYBACK_YEARS(A1:A4) = 2.5, with -1000, 400, 400, 400 in A1:A4'
    """
    code = section(function)[1].splitlines()[0].removeprefix(">>>").strip()
    calls = (node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call))
    first = next(node for node in calls if ast.unparse(node.func) == function.spec.name)
    values = [ast.literal_eval(item) for item in first.args]
    typed: list[str] = []
    ranges: dict[str, list[float]] = {}
    for value in values:
        if isinstance(value, list):
            letter = "ABC"[len(ranges)]
            typed.append(f"{letter}1:{letter}{len(value)}")
            ranges[typed[-1]] = value
        else:
            typed.append(str(value))
    return CellExample(f"{function.spec.cell_name}({','.join(typed)})", ranges, f"{float(function(*values)):.10g}")


def page(function: Function) -> str:
    """The page of one function in Markdown."""
    spec = function.spec
    holds, example = section(function)
    lines = [f"### {spec.cell_name}", "", spec.summary, "", f"`{call_text(function)}`", ""]
    lines += ["| argument | unit | allowed | usual | what it is |", "| --- | --- | --- | --- | --- |"]
    for item in spec.arguments:
        what = f"{item.description} (a range of cells)" if item.is_range else item.description
        lines.append(
            f"| `{item.name}` | {unit_label(item.unit.suffix)} | {item.allowed} | {item.usual_words} | {what} |"
        )
    lines += ["", f"Result in {unit_of(function)}. Holds: {holds}", ""]
    if spec.domain:
        lines += [f"No result: {spec.domain}.", ""]
    lines += ["Sources: " + "; ".join(_cited(key) for key in spec.sources), "", "```python", example, "```", ""]
    lines += [f"In a cell: {cell_example(function)}", ""]
    return "\n".join(lines)


def _cited(key: str) -> str:
    found = source(key)
    return f"{found.citation} ({found.basis})"


def questions(functions: Iterable[Function] = CATALOGUE) -> str:
    """The opening of the reference: what people want to know, and the functions that answer it."""
    known = {one.spec.name: one.spec.cell_name for one in functions}
    lines = ["## I want to know ...", "", "| question | functions |", "| --- | --- |"]
    for topic in topics():
        named = [f"[{known[name]}](#{known[name].lower()})" for name in topic.functions if name in known]
        if named:
            lines.append(f"| {topic.question} | {', '.join(named)} |")
    return "\n".join([*lines, ""])


def document(functions: Iterable[Function] = CATALOGUE) -> str:
    """The whole reference in Markdown."""
    functions = tuple(functions)
    parts = [_HEAD, questions(functions)]
    for group, members in groupby(functions, key=lambda one: one.spec.group):
        parts += [f"## {_TITLES.get(group, group)}\n", *map(page, members)]
    return "\n".join(parts)


def find(name: str) -> Function:
    """A function by its Python or cell name, in capitals or not; InputError with the nearest names."""
    key = _key(name)
    if key not in FUNCTIONS:
        near = [one.spec.name for one in search(name)[:4]] or difflib.get_close_matches(key, FUNCTIONS, n=4, cutoff=0.4)
        raise InputError(f"no function '{name}'" + (f"; near: {', '.join(near)}" if near else ""))
    return FUNCTIONS[key]


def _key(name: str) -> str:
    return name.strip().lower().removeprefix("fab_")


def search(text: str) -> list[Function]:
    """The functions that a word of the trade finds, the best first: by the words of a question, by name, by what it gives.

    >>> [one.spec.name for one in search("tonnage")][:1], [one.spec.name for one in search("IRR")][:1]
    (['air_bend_force_kn'], ['internal_rate_share'])
    """
    wanted = _plain(text)
    if not wanted:
        return []
    asked = [
        name for topic in topics() if any(wanted == _plain(word) for word in topic.words) for name in topic.functions
    ]
    ranks = dict.fromkeys(asked, 0)
    for one in CATALOGUE:
        name = one.spec.name
        if wanted in _plain(name):
            ranks.setdefault(name, 1)
        elif any(wanted in _plain(word) for word in words_of(name)):
            ranks.setdefault(name, 2)
        elif wanted in _plain(one.spec.summary) or any(wanted in _plain(item.label) for item in one.spec.arguments):
            ranks.setdefault(name, 3)
    return [FUNCTIONS[name] for name in sorted(ranks, key=lambda name: ranks[name])]


def nearest_words(text: str) -> list[str]:
    """Words of the questions that look like a text, for a slip of the keyboard.

    >>> nearest_words("tonage")
    ['tonnage']
    """
    words = {word.lower(): word for topic in topics() for word in topic.words}
    return [words[word] for word in difflib.get_close_matches(text.strip().lower(), words, n=4, cutoff=0.7)]


_US_SPELLING = {"labor": "labour", "center": "centre", "gage": "gauge", "meter": "metre", "aluminum": "aluminium"}


def _plain(text: str) -> str:
    """A text as it is compared: small letters, British spelling, without spaces and hyphens."""
    small = text.lower().replace("_", " ").replace("-", " ")
    return "".join(_US_SPELLING.get(word, word) for word in small.split())
