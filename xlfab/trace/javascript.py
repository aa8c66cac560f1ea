"""An expression printed as JavaScript: a term that recurs is a local constant, and NaN stands where there is no result."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import ClassVar

import numpy as np

from xlfab.core.registry import Function
from xlfab.trace.expression import Expression, ref, traced
from xlfab.trace.target import Target, one_by_one


class JavaScript(Target):
    """What JavaScript has under the same meaning; what gives an infinity where others give an error is a helper of the runtime."""

    name = "JavaScript"
    calls: ClassVar[Mapping[str, str]] = {
        "sqrt": "Math.sqrt",
        "abs": "Math.abs",
        "exp": "Math.exp",
        "log": "ln",
        "log10": "lg",
        "log2": "ld",
        "sin": "Math.sin",
        "cos": "Math.cos",
        "tan": "Math.tan",
        "arctan": "Math.atan",
        "arcsin": "Math.asin",
        "arccos": "Math.acos",
        "radians": "radians",
        "degrees": "degrees",
        "floor": "Math.floor",
        "isnumber": "isNumber",
        "/": "div",
        "^": "pow",
    }
    infix: ClassVar[Mapping[str, str]] = {
        **{sign: sign for sign in ("+", "-", "*", "<", "<=", ">", ">=")},
        "=": "===",
        "<>": "!==",
    }

    def number(self, value: float) -> str:
        return number_text(value)

    def text(self, value: str) -> str:
        return json.dumps(value)

    def choice(self, condition: str, yes: str, no: str) -> str:
        return f"({condition} ? {yes} : {no})"


def number_text(value: float) -> str:
    """A constant as JavaScript reads it back to the same bits; NaN stands for no result.

    >>> number_text(0.1), number_text(3.0), number_text(float("nan"))
    ('0.1', '3', 'NaN')
    """
    return "NaN" if np.isnan(value) else repr(float(value)).removesuffix(".0")


def javascript_body(root: Expression) -> list[str]:
    """The lines of a function's body, the last of which returns the result."""
    bound, body = JavaScript().bindings(one_by_one(root), lambda number: f"term_{number}")
    return [*(f"const {name} = {text};" for name, text in bound), f"return {body};"]


def javascript_function(function: Function) -> str:
    """A registered function of single numbers with the checks of its arguments."""
    arguments = [item.name for item in function.spec.arguments]
    body = "".join(f"  {line}\n" for line in javascript_body(traced(function, [ref(name) for name in arguments])))
    return f"function {function.spec.name}({', '.join(arguments)}) {{\n{body}}}\n"
