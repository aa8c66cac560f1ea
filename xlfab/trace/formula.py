"""Printing an expression: plain formula, LET formula, LAMBDA name, or standard-library Python.

LET and LAMBDA are stored in files with `_xlfn.` and each of their local names with `_xlpm.`; both prefixes can be left out
for reading by people.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

import numpy as np

from xlfab.core.errors import FormulaError
from xlfab.core.registry import Function
from xlfab.trace.expression import Expression, ref, traced

LIMIT = 8192  # characters in a formula or in the definition of a name

_CALLS = {
    "sqrt": "SQRT",
    "abs": "ABS",
    "exp": "EXP",
    "log": "LN",
    "log10": "LOG10",
    "sin": "SIN",
    "cos": "COS",
    "tan": "TAN",
    "arctan": "ATAN",
    "arcsin": "ASIN",
    "arccos": "ACOS",
    "radians": "RADIANS",
    "degrees": "DEGREES",
    "floor": "INT",
    "isnumber": "ISNUMBER",
}
_PYTHON = {
    "sqrt": "_sqrt",
    "abs": "abs",
    "exp": "_exp",
    "log": "_log",
    "log10": "_log10",
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
_INFIX = {"&", "+", "-", "*", "/", "^", "<", "<=", ">", ">=", "=", "<>"}
_LEAVES = {"ref", "number", "text"}
# how tightly an operation binds in a spreadsheet; a term of lower rank is put in brackets
_RANK = {"<": 1, "<=": 1, ">": 1, ">=": 1, "=": 1, "<>": 1, "&": 1.5, "+": 2, "-": 2, "*": 3, "/": 3}


def _literal(value: float) -> str:
    if np.isnan(value):
        return "#NUM!"
    small = 1e-15 < abs(value) < 1e-4  # written out, as programs do when they save
    text = np.format_float_positional(value, trim="0") if small else repr(float(value))
    text = text.replace("e", "E").replace("E+", "E")
    return text[:-2] if text.endswith(".0") else text


def _cell(node: Expression, names: dict[Expression, str]) -> str:
    """Print one node for a spreadsheet; nodes that have a local name are printed as that name."""
    if node in names:
        return names[node]
    if node.op == "ref":
        return str(node.terms[0])
    if node.op == "number":
        return _literal(node.terms[0])
    if node.op == "text":
        return '"' + node.terms[0].replace('"', '""') + '"'
    if node.op == "if":
        return "IF(" + ",".join(_cell(term, names) for term in node.terms) + ")"
    if node.op == "neg":
        # in a cell, unary minus binds before ^, in Python after it: so always in brackets
        return f"(-{_operand(node.terms[0], names, 4, True)})"
    if node.op == "^":
        base, power = (_operand(term, names, 5, True) for term in node.terms)
        return f"{base}^{power}"
    if node.op in _INFIX:
        rank = _RANK[node.op]
        left = _operand(node.terms[0], names, rank, False)
        right = _operand(node.terms[1], names, rank, True)
        return f"{left}{node.op}{right}"
    if node.op == "log2":
        return f"LOG({_cell(node.terms[0], names)},2)"
    if node.op == "fixed":
        return f"FIXED({_cell(node.terms[0], names)},{_cell(node.terms[1], names)})"
    return f"{_CALLS[node.op]}({_cell(node.terms[0], names)})"


def _operand(node: Expression, names: dict[Expression, str], rank: float, strict: bool) -> str:
    """A term of an infix operation, in brackets where it binds less (or, on the right side, equally) tightly."""
    text = _cell(node, names)
    if node in names or node.op in ("ref", "text"):
        return text
    if node.op == "number":
        return f"({text})" if text.startswith("-") else text
    if node.op in _RANK:
        own = _RANK[node.op]
        return f"({text})" if own < rank or (strict and own == rank) or own == 1 else text
    return f"({text})" if node.op == "^" and rank >= 5 else text


def recurring(root: Expression) -> list[Expression]:
    """The nodes that are used more than once and are worth a name, inner ones first."""
    uses: Counter[Expression] = Counter()
    order: list[Expression] = []
    stack: list[tuple[Expression, bool]] = [(root, False)]
    seen: set[Expression] = set()
    while stack:
        node, done = stack.pop()
        if done:
            order.append(node)
            continue
        if node in seen:
            continue
        seen.add(node)
        stack.append((node, True))
        for term in node.terms:
            if isinstance(term, Expression):
                uses[term] += 1
                stack.append((term, False))
    return [node for node in order if uses[node] > 1 and node.op not in _LEAVES]


def plain(root: Expression) -> str:
    """The expression with no local names: works in every spreadsheet. FormulaError past the length limit."""
    if _plain_length(root) > LIMIT:
        raise FormulaError(f"the plain formula would pass {LIMIT} characters")
    return _cell(root, {})


def _plain_length(root: Expression) -> int:
    """A lower bound of the plain length, found without writing it out (it can grow exponentially)."""
    sizes: dict[Expression, int] = {}

    def size(node: Expression) -> int:
        if node not in sizes:
            inner = [size(term) for term in node.terms if isinstance(term, Expression)]
            sizes[node] = sum(inner) + max(1, len(inner) - 1) if inner else len(str(node.terms[0]))
        return sizes[node]

    return size(root)


def _parts(root: Expression, prefix: str, reserved: set[str]) -> tuple[list[tuple[str, str]], str]:
    names: dict[Expression, str] = {}
    bindings: list[tuple[str, str]] = []
    for node in recurring(root):
        text = _cell(node, names)
        name = f"{prefix}term_{len(bindings) + 1}"
        if name in reserved:
            raise FormulaError(f"local name {name} is taken")
        bindings.append((name, text))
        names[node] = name
    return bindings, _cell(root, names)


def let(root: Expression, stored: bool = True) -> str:
    """The expression with each recurring term named once. `stored` writes the prefixes that files need."""
    bindings, body = _parts(root, "_xlpm." if stored else "", set())
    if not bindings:
        return body
    text = ("_xlfn.LET(" if stored else "LET(") + ",".join(f"{name},{value}" for name, value in bindings) + f",{body})"
    return text


def shortest(root: Expression) -> str:
    """Plain where no term recurs or LET would not be shorter, else LET."""
    with_names = let(root)
    if not with_names.startswith("_xlfn.LET") or _plain_length(root) > LIMIT:
        return with_names
    without = _cell(root, {})
    return without if len(without) <= len(with_names) else with_names


def cell_formula(function: Function, references: list[str], form: str = "let") -> str:
    """A registered function applied to cell references: form 'plain', 'let' (whichever is shorter) or 'call'.

    >>> from xlfab.catalogue import FUNCTIONS
    >>> cell_formula(FUNCTIONS["axis_move_time_s"], ["A1", "B1", "C1", "D1"], "call")
    'FAB_AXIS_MOVE_TIME_S(A1,B1,C1,D1)'
    """
    if form == "call":
        text = f"{function.spec.cell_name}({','.join(references)})"
    elif function.spec.is_range:
        text = native_formula(function, references)
    else:
        root = traced(function, [ref(item) for item in references])
        try:
            text = plain(root) if form == "plain" else shortest(root)
        except FormulaError as error:
            raise FormulaError(f"{function.spec.name}: {error}") from error
    if len(text) >= LIMIT:
        raise FormulaError(f"{function.spec.name}: the formula would pass {LIMIT} characters")
    return text


def native_formula(function: Function, references: list[str]) -> str:
    """A range function in a spreadsheet's own functions; a blank, text or a value outside its range gives an error value."""
    spec = function.spec
    if spec.native is None:
        raise FormulaError(f"{spec.name} has no form in a spreadsheet's own functions")
    conditions: list[str] = []
    for text, item in zip(references, spec.arguments, strict=True):
        least, most = (f"MIN({text})", f"MAX({text})") if item.is_range else (text, text)
        conditions.append(f"(COUNT({text})=ROWS({text})*COLUMNS({text}))" if item.is_range else f"ISNUMBER({text})")
        conditions.append(f"({least}{'>' if item.low_open else '>='}{_literal(item.low)})")
        conditions.append(f"({most}{'<' if item.high_open else '<='}{_literal(item.high)})")
    return f"IF({'*'.join(conditions)},{spec.native(*references)},#NUM!)"


def lambda_name(function: Function, stored: bool = True) -> str:
    """The definition of a LAMBDA name with the function's own argument names."""
    prefix = "_xlpm." if stored else ""
    names = [prefix + item.name for item in function.spec.arguments]
    if function.spec.is_range:
        body = native_formula(function, names)
    else:
        body = let(traced(function, [ref(name) for name in names]), stored)
    text = ("_xlfn.LAMBDA(" if stored else "LAMBDA(") + ",".join(names) + f",{body})"
    if len(text) >= LIMIT:
        raise FormulaError(f"{function.spec.name}: its LAMBDA would pass {LIMIT} characters")
    return text


def lambda_names(functions: Iterable[Function]) -> list[tuple[str, str]]:
    """(name, definition) of every function, as files store it: a workbook that carries them needs no add-in in Excel 365.

    Each call of such a name must be written as a dynamic array, for a name may return one. A range function without a native form
    has no LAMBDA.
    """
    return [
        (one.spec.cell_name, lambda_name(one))
        for one in functions
        if not one.spec.is_range or one.spec.native is not None
    ]


def standard_python(function: Function) -> str:
    """The function as Python on `math` alone: local names for recurring terms, NaN where there is no result.

    The helpers it calls (`_div`, `_sqrt`, ...) give NaN where `math` would raise, for a term may stand in a branch not taken.
    """
    names: dict[Expression, str] = {}
    arguments = [item.name for item in function.spec.arguments]
    root = traced(function, [ref(name) for name in arguments])
    lines = [f"def {function.spec.name}({', '.join(arguments)}):"]
    for node in recurring(root):
        text = _python(node, names)
        name = f"term_{len(names) + 1}"
        lines.append(f"    {name} = {text}")
        names[node] = name
    lines.append(f"    return {_python(root, names)}")
    return "\n".join(lines) + "\n"


def _python(node: Expression, names: dict[Expression, str]) -> str:
    if node in names:
        return names[node]
    if node.op == "ref":
        return str(node.terms[0])
    if node.op == "number":
        return "_nan" if np.isnan(node.terms[0]) else repr(float(node.terms[0]))
    terms = [_python(term, names) for term in node.terms]
    if node.op == "if":
        return f"({terms[1]} if {terms[0]} else {terms[2]})"
    if node.op == "neg":
        return f"(-{terms[0]})"
    if node.op in _PYTHON:
        return f"{_PYTHON[node.op]}({', '.join(terms)})"
    if node.op == "log2":
        return f"_log2({terms[0]})"
    sign = {"=": "==", "<>": "!="}.get(node.op, node.op)
    return f"({terms[0]} {sign} {terms[1]})"
