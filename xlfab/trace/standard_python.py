"""A registered function as Python on `math` alone, for hosts that have no numpy."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

import numpy as np

from xlfab.core.registry import Function
from xlfab.trace.expression import ref, traced
from xlfab.trace.target import Target, one_by_one


class StandardPython(Target):
    """Helpers (`_div`, `_sqrt`, ...) give NaN where `math` would raise, for a term may stand in a branch not taken."""

    name = "standard Python"
    calls: ClassVar[Mapping[str, str]] = {
        "sqrt": "_sqrt",
        "abs": "abs",
        "exp": "_exp",
        "log": "_log",
        "log10": "_log10",
        "log2": "_log2",
        "sin": "math.sin",
        "cos": "math.cos",
        "tan": "math.tan",
        "arctan": "math.atan",
        "arcsin": "_asin",
        "arccos": "_acos",
        "radians": "math.radians",
        "degrees": "math.degrees",
        "floor": "_floor",
        "isnumber": "_is_number",
        "/": "_div",
        "^": "_pow",
    }
    infix: ClassVar[Mapping[str, str]] = {
        **{sign: sign for sign in ("+", "-", "*", "<", "<=", ">", ">=")},
        "=": "==",
        "<>": "!=",
    }

    def number(self, value: float) -> str:
        return "_nan" if np.isnan(value) else repr(float(value))

    def choice(self, condition: str, yes: str, no: str) -> str:
        return f"({yes} if {condition} else {no})"


def standard_python(function: Function) -> str:
    """The function with local names for recurring terms, and NaN where there is no result."""
    arguments = [item.name for item in function.spec.arguments]
    root = one_by_one(traced(function, [ref(name) for name in arguments]))
    bound, body = StandardPython().bindings(root, lambda number: f"term_{number}")
    lines = [f"def {function.spec.name}({', '.join(arguments)}):"]
    lines += [f"    {name} = {text}" for name, text in bound]
    return "\n".join([*lines, f"    return {body}"]) + "\n"
