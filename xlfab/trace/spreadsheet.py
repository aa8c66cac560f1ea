"""An expression as a formula: plain, or with LET where terms recur.

LET is stored in files with `_xlfn.` and each of its local names with `_xlpm.`; both prefixes can be left out for reading by people.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import ClassVar

import numpy as np

from xlfab.core.errors import FormulaError
from xlfab.core.registry import Function
from xlfab.trace.expression import Expression, ref, traced
from xlfab.trace.folding import DIGITS
from xlfab.trace.target import Target, inner_first, one_by_one

LIMIT = 8192  # characters in a formula or in the definition of a name, in the language of the program

# characters by which a function's name is longer in German; from memory, of the names that are printed here
_LONGER = {
    "IF": 2,
    "SQRT": 2,
    "RADIANS": 2,
    "INT": 5,
    "ATAN": 2,
    "ASIN": 2,
    "ACOS": 2,
    "SUM": 2,
    "SUMIF": 4,
    "COUNTIF": 3,
    "COUNT": 1,
    "MATCH": 5,
    "IFERROR": 3,
    "SUMPRODUCT": 3,
    "ROW": 2,
    "ROWS": 2,
    "COLUMN": 1,
    "COLUMNS": 1,
    "OFFSET": 7,
    "NPV": 2,
    "IRR": 1,
    "PERCENTILE": 2,
}
_NAME = re.compile(r"([A-Z][A-Z0-9]*)\(")

# how tightly an operation binds; a term of lower rank is put in brackets
_RANK = {"<": 1, "<=": 1, ">": 1, ">=": 1, "=": 1, "<>": 1, "&": 1.5, "+": 2, "-": 2, "*": 3, "/": 3}


class Spreadsheet(Target):
    """A spreadsheet's own functions, with no brackets that are not needed."""

    name = "a spreadsheet"
    calls: ClassVar[Mapping[str, str]] = {
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
        "fixed": "FIXED",
        "min": "MIN",
        "max": "MAX",
    }
    infix: ClassVar[Mapping[str, str]] = {sign: sign for sign in (*_RANK, "^")}

    def number(self, value: float) -> str:
        if np.isnan(value):
            return "#NUM!"
        value = float(f"{value:.{DIGITS}g}")
        small = 1e-15 < abs(value) < 1e-4  # written out, as programs do when they save
        text = np.format_float_positional(value, trim="0") if small else repr(value)
        text = text.replace("e", "E").replace("E+", "E")
        return text.removesuffix(".0")

    def text(self, value: str) -> str:
        return '"' + value.replace('"', '""') + '"'

    def operation(self, node: Expression, names: Mapping[Expression, str]) -> str:
        if node.op == "neg":
            # in a cell, unary minus binds before ^, in Python after it: so always in brackets
            return f"(-{self._operand(node.terms[0], names, 4, True)})"
        if node.op == "^":
            base, power = (self._operand(term, names, 5, True) for term in node.terms)
            return f"{base}^{power}"
        if node.op in self.infix:
            rank = _RANK[node.op]
            left = self._operand(node.terms[0], names, rank, False)
            right = self._operand(node.terms[1], names, rank, True)
            return f"{left}{node.op}{right}"
        terms = ",".join(self.write(term, names) for term in node.terms)
        if node.op == "log2":
            return f"LOG({terms},2)"
        return f"{'IF' if node.op == 'if' else self.calls[node.op]}({terms})"

    def _operand(self, node: Expression, names: Mapping[Expression, str], rank: float, strict: bool) -> str:
        """A term of an infix operation, in brackets where it binds less (or, on the right side, equally) tightly."""
        text = self.write(node, names)
        if node in names or node.op in ("ref", "text"):
            return text
        if node.op == "number":
            return f"({text})" if text.startswith("-") else text
        if node.op in _RANK:
            own = _RANK[node.op]
            return f"({text})" if own < rank or (strict and own == rank) or own == 1 else text
        return f"({text})" if node.op == "^" and rank >= 5 else text


_CELLS = Spreadsheet()


def longest(text: str) -> int:
    """How many characters a program shows of a formula where function names are longer, German being the longest that is known.

    The prefixes that files need are not shown.

    >>> longest("IF(A1>0,SQRT(A1),0)") - len("IF(A1>0,SQRT(A1),0)")
    4
    """
    shown = text.replace("_xlfn.", "").replace("_xlpm.", "")
    return len(shown) + sum(_LONGER.get(name, 0) for name in _NAME.findall(shown))


def inside_limit(what: str, text: str) -> str:
    """The formula itself; FormulaError where a program would not take it."""
    if max(len(text), longest(text)) >= LIMIT:
        raise FormulaError(f"{what}: the formula would pass {LIMIT} characters")
    return text


def plain(root: Expression, what: str = "plain") -> str:
    """The expression with no local names: works in every spreadsheet. FormulaError past the length limit names `what` it is for."""
    if _plain_length(root) > LIMIT:
        raise FormulaError(f"{what}: the formula would pass {LIMIT} characters")
    return _CELLS.write(root, {})


def _plain_length(root: Expression) -> int:
    """A lower bound of the plain length, found without writing it out (it can grow exponentially)."""
    sizes: dict[Expression, int] = {}
    for node in inner_first(root):
        inner = [sizes[term] for term in node.terms if isinstance(term, Expression)]
        sizes[node] = sum(inner) + max(1, len(inner) - 1) if inner else len(str(node.terms[0]))
    return sizes[root]


def let(root: Expression, stored: bool = True) -> str:
    """The expression with each recurring term named once. `stored` writes the prefixes that files need."""
    prefix, head = ("_xlpm.", "_xlfn.") if stored else ("", "")
    bound, body = _CELLS.bindings(root, lambda number: f"{prefix}term_{number}")
    if not bound:
        return body
    return f"{head}LET(" + ",".join(f"{name},{value}" for name, value in bound) + f",{body})"


def shortest(root: Expression) -> str:
    """Plain where no term recurs or LET would not be shorter, else LET."""
    with_names = let(root)
    if not with_names.startswith("_xlfn.LET") or _plain_length(root) > LIMIT:
        return with_names
    without = _CELLS.write(root, {})
    return without if len(without) <= len(with_names) else with_names


def cell_formula(function: Function, references: list[str], form: str = "let") -> str:
    """A registered function applied to references: form 'plain', 'let' (whichever is shorter) or 'call'. Ranges may spill.

    >>> from xlfab.catalogue import FUNCTIONS
    >>> cell_formula(FUNCTIONS["axis_move_time_s"], ["A1", "B1", "C1", "D1"], "call")
    'FAB_AXIS_MOVE_TIME_S(A1,B1,C1,D1)'
    """
    name = function.spec.name
    if form == "call":
        return inside_limit(name, f"{function.spec.cell_name}({','.join(references)})")
    if function.spec.is_range:
        return inside_limit(name, native_formula(function, references))
    root = one_by_one(traced(function, [ref(item) for item in references]))
    return inside_limit(name, plain(root, name) if form == "plain" else shortest(root))


def native_formula(function: Function, references: list[str]) -> str:
    """A range function in a spreadsheet's own functions; a blank, text or a value outside its range gives an error value."""
    spec = function.spec
    if spec.native is None:
        raise FormulaError(f"{spec.name} has no form in a spreadsheet's own functions")
    conditions: list[str] = []
    for text, item in zip(references, spec.arguments, strict=True):
        least, most = (f"MIN({text})", f"MAX({text})") if item.is_range else (text, text)
        conditions.append(f"(COUNT({text})=ROWS({text})*COLUMNS({text}))" if item.is_range else f"ISNUMBER({text})")
        conditions.append(f"({least}{'>' if item.low_open else '>='}{_CELLS.number(item.low)})")
        conditions.append(f"({most}{'<' if item.high_open else '<='}{_CELLS.number(item.high)})")
    return f"IF({'*'.join(conditions)},{spec.native(*references)},#NUM!)"
