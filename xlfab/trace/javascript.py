"""An expression printed as JavaScript: a term that recurs is a local constant, and NaN stands where there is no result."""

from __future__ import annotations

import json

import numpy as np

from xlfab.core.registry import Function
from xlfab.trace.expression import Expression, ref, traced
from xlfab.trace.formula import recurring

# what JavaScript has under the same meaning; what gives an infinity where others give an error is a helper of the runtime
_CALLS = {
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
_INFIX = {"=": "===", "<>": "!=="}
_EITHER = ("+", "-", "*", "<", "<=", ">", ">=")


def number_text(value: float) -> str:
    """A constant as JavaScript reads it back to the same bits; NaN stands for no result.

    >>> number_text(0.1), number_text(3.0), number_text(float("nan"))
    ('0.1', '3', 'NaN')
    """
    if np.isnan(value):
        return "NaN"
    text = repr(float(value))
    return text.removesuffix(".0")


def javascript_term(node: Expression, names: dict[Expression, str]) -> str:
    """One node; nodes that have a local name are printed as that name."""
    if node in names:
        return names[node]
    if node.op == "ref":
        return str(node.terms[0])
    if node.op == "number":
        return number_text(node.terms[0])
    if node.op == "text":
        return json.dumps(node.terms[0])
    terms = [javascript_term(term, names) for term in node.terms]
    if node.op == "if":
        return f"({terms[0]} ? {terms[1]} : {terms[2]})"
    if node.op == "neg":
        return f"(-{terms[0]})"
    if node.op in _CALLS:
        return f"{_CALLS[node.op]}({', '.join(terms)})"
    if node.op in _EITHER or node.op in _INFIX:
        return f"({terms[0]} {_INFIX.get(node.op, node.op)} {terms[1]})"
    raise ValueError(f"{node.op} has no form in JavaScript")


def javascript_body(root: Expression) -> list[str]:
    """The lines of a function's body, the last of which returns the result."""
    names: dict[Expression, str] = {}
    lines = []
    for node in recurring(root):
        text = javascript_term(node, names)
        name = f"term_{len(names) + 1}"
        lines.append(f"const {name} = {text};")
        names[node] = name
    return [*lines, f"return {javascript_term(root, names)};"]


def javascript_function(function: Function) -> str:
    """A registered function of single numbers with the checks of its arguments."""
    arguments = [item.name for item in function.spec.arguments]
    root = traced(function, [ref(name) for name in arguments])
    body = "".join(f"  {line}\n" for line in javascript_body(root))
    return f"function {function.spec.name}({', '.join(arguments)}) {{\n{body}}}\n"
