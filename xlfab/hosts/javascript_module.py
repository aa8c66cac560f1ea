"""The whole catalogue as one JavaScript module, `fab.js`: no dependencies, for a browser, node and spreadsheets' script functions.

A function of single numbers is printed from its trace. One of whole ranges goes through its cells in plain Python already: that
text, as the Calc add-in takes it, is put into JavaScript word for word.
"""

from __future__ import annotations

import ast
import json
from collections.abc import Iterable
from importlib.resources import files

from xlfab import __version__
from xlfab.core.errors import HostError
from xlfab.core.registry import Function, FunctionSpec
from xlfab.core.units import unit_label
from xlfab.hosts.range_python import bounds, plain_python
from xlfab.trace.javascript import javascript_function, number_text

_OPERATORS: dict[type[ast.AST], str] = {
    ast.Add: "+",
    ast.Sub: "-",
    ast.Mult: "*",
    ast.Div: "/",
    ast.Pow: "**",
    ast.BitAnd: "&&",
    ast.BitOr: "||",
    ast.Lt: "<",
    ast.LtE: "<=",
    ast.Gt: ">",
    ast.GtE: ">=",
    ast.Eq: "===",
    ast.NotEq: "!==",
    ast.USub: "-",
    ast.Invert: "!",
}
_NUMPY = {
    "where": "where",
    "maximum": "Math.max",
    "minimum": "Math.min",
    "abs": "Math.abs",
    "max": "Math.max",
    "sqrt": "Math.sqrt",
    "exp": "Math.exp",
    "log": "ln",
    "isfinite": "isNumber",
}
_BUILT_IN = {"max": "Math.max", "min": "Math.min", "abs": "Math.abs", "ordered": "inOrder"}


def module(functions: Iterable[Function]) -> str:
    """The text of the module: every function under its own name, and `FUNCTIONS` by cell name with texts and units."""
    listed = list(functions)
    runtime = files("xlfab.hosts").joinpath("javascript/runtime.js").read_text(encoding="utf-8")
    head = f"// The functions of xlfab {__version__}. Generated: change the library and write this file anew.\n"
    single = [one for one in listed if not one.spec.is_range]
    ranges = [one for one in listed if one.spec.is_range]
    texts = [head, runtime, *(javascript_function(one) for one in single), *_range_texts(ranges)]
    exported = [_exported(one) for one in listed]
    table = [f"  {one.spec.cell_name}: {{ call: {_public(one.spec)}, ...{_about(one.spec)} }}," for one in listed]
    return "\n".join([*texts, *exported, "export const FUNCTIONS = {", *table, "};", ""])


def _public(spec: FunctionSpec) -> str:
    return f"fab_{spec.name}"


def _exported(one: Function) -> str:
    """The checked function with its types for editors, under its own name."""
    spec = one.spec
    lines = [f"/**\n * {_comment(spec.summary)}"]
    for item in spec.arguments:
        kind = "number[]" if item.is_range else "number"
        lines.append(
            f" * @param {{{kind}}} {item.name} {_comment(item.description)} [{unit_label(item.unit.suffix)}]; allowed {item.allowed}"
        )
    lines.append(f" * @returns {{number}} [{unit_label(spec.unit.suffix)}]; NaN where there is no result\n */")
    if spec.is_range:
        checks = ", ".join(_bounds(row) for row in map(bounds, spec.arguments))
        made = f"whole(bare_{spec.name}, [{checks}])"
    else:
        made = f"single({spec.name})"
    return "\n".join([*lines, f"const {_public(spec)} = {made};", f"export {{ {_public(spec)} as {spec.name} }};", ""])


def _bounds(row: tuple[bool, float, float, bool, bool]) -> str:
    as_list, low, high, low_open, high_open = row
    return f"[{json.dumps(as_list)}, {number_text(low)}, {number_text(high)}, {json.dumps(low_open)}, {json.dumps(high_open)}]"


def _comment(text: str) -> str:
    return text.replace("*/", "* /")


def _about(spec: FunctionSpec) -> str:
    return json.dumps(
        {
            "summary": spec.summary,
            "unit": unit_label(spec.unit.suffix),
            "group": spec.group,
            "range": spec.is_range,
            "arguments": [
                {"name": item.name, "text": item.description, "allowed": item.allowed, "range": item.is_range}
                for item in spec.arguments
            ],
        },
        ensure_ascii=False,
    )


def _range_texts(functions: Iterable[Function]) -> list[str]:
    texts: dict[str, str] = {}
    for one in functions:
        plain_python(one, texts)
    return [_top(ast.parse(text).body[0]) for text in texts.values()]


def _top(node: ast.stmt) -> str:
    """A function, or a constant that functions use."""
    return ("const " if isinstance(node, ast.Assign) else "") + _statement(node, "", set())


def _statement(node: ast.stmt, indent: str, known: set[str]) -> str:
    """One statement of plain Python; `known` are the local names that are declared already."""
    if isinstance(node, ast.FunctionDef):
        names = [item.arg for item in node.args.args]
        inner = set(names)
        body = "".join(_statement(one, indent + "  ", inner) for one in node.body)
        declared = sorted(inner - set(names))
        local = f"{indent}  let {', '.join(declared)};\n" if declared else ""
        return f"{indent}function {node.name.removeprefix('_')}({', '.join(names)}) {{\n{local}{body}{indent}}}\n"
    if isinstance(node, ast.Assign):
        target = node.targets[0]
        known |= {name.id for name in ast.walk(target) if isinstance(name, ast.Name)}
        return f"{indent}{_value(target)} = {_value(node.value)};\n"
    if isinstance(node, ast.Return) and node.value is not None:
        return f"{indent}return {_value(node.value)};\n"
    if isinstance(node, ast.For):
        body = "".join(_statement(one, indent + "  ", known) for one in node.body)
        return f"{indent}for (const {_value(node.target)} of {_value(node.iter)}) {{\n{body}{indent}}}\n"
    if isinstance(node, ast.If) and not node.orelse:
        body = "".join(_statement(one, indent + "  ", known) for one in node.body)
        return f"{indent}if ({_value(node.test)}) {{\n{body}{indent}}}\n"
    if isinstance(node, ast.Break):
        return f"{indent}break;\n"
    raise HostError(f"JavaScript: {ast.unparse(node)} is not written yet; see xlfab/hosts/javascript_module.py")


def _value(node: ast.expr) -> str:
    """One expression of plain Python."""
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)):
        return number_text(float(node.value))
    if isinstance(node, ast.Name):
        return node.id.removeprefix("_")
    if isinstance(node, ast.Tuple):
        return f"[{', '.join(map(_value, node.elts))}]"
    if isinstance(node, ast.BinOp):
        return f"({_value(node.left)} {_OPERATORS[type(node.op)]} {_value(node.right)})"
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        return f"({_value(node.left)} {_OPERATORS[type(node.ops[0])]} {_value(node.comparators[0])})"
    if isinstance(node, ast.UnaryOp):
        return f"({_OPERATORS[type(node.op)]}{_value(node.operand)})"
    if isinstance(node, ast.IfExp):
        return f"({_value(node.test)} ? {_value(node.body)} : {_value(node.orelse)})"
    if isinstance(node, ast.Subscript):
        return _part(node)
    if isinstance(node, ast.ListComp):
        one = node.generators[0]
        return f"{_value(one.iter)}.map(({_value(one.target)}) => {_value(node.elt)})"
    if isinstance(node, ast.Attribute) and node.attr == "nan":
        return "NaN"
    if isinstance(node, ast.Call):
        return _call(node)
    raise HostError(f"JavaScript: {ast.unparse(node)} is not written yet; see xlfab/hosts/javascript_module.py")


def _part(node: ast.Subscript) -> str:
    if isinstance(node.slice, ast.Slice):
        ends = [_value(end) for end in (node.slice.lower or ast.Constant(0), node.slice.upper) if end is not None]
        return f"{_value(node.value)}.slice({', '.join(ends)})"
    return f"{_value(node.value)}[{_value(node.slice)}]"


def _call(node: ast.Call) -> str:
    terms = [_value(item) for item in node.args]
    if isinstance(node.func, ast.Attribute):
        return f"{_NUMPY[node.func.attr]}({', '.join(terms)})"
    name = node.func.id if isinstance(node.func, ast.Name) else ""
    if name == "cells":
        return terms[0]
    if name == "len":
        return f"{terms[0]}.length"
    if name == "range":
        return f"Array.from({{ length: {terms[0]} }}, (_, place) => place)"
    if name == "enumerate":
        return f"[...{terms[0]}.entries()]"
    if name == "zip":
        return f"{terms[0]}.map((one, place) => [one, {', '.join(f'{term}[place]' for term in terms[1:])}])"
    return f"{_BUILT_IN.get(name, name.removeprefix('_'))}({', '.join(terms)})"
