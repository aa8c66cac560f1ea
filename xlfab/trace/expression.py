"""Symbolic cells: a calculation is run on them once, and what it did is kept as an expression.

Expressions are interned: the same operation on the same terms is the same object, so that a recurring term is
found by its structure and not by which Python variable held it.
"""

from __future__ import annotations

import weakref
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
from numpy.lib.mixins import NDArrayOperatorsMixin

from xlfab.core.errors import FormulaError
from xlfab.core.registry import Function
from xlfab.trace.folding import as_ratio, folded

_INTERNED: weakref.WeakValueDictionary[tuple[Any, ...], Expression] = weakref.WeakValueDictionary()

# numpy's name of an operation -> ours; what is missing here cannot be written as a formula
_UFUNCS = {
    "add": "+",
    "subtract": "-",
    "multiply": "*",
    "divide": "/",
    "power": "^",
    "float_power": "^",
    "negative": "neg",
    "less": "<",
    "less_equal": "<=",
    "greater": ">",
    "greater_equal": ">=",
    "equal": "=",
    "not_equal": "<>",
    "sqrt": "sqrt",
    "absolute": "abs",
    "exp": "exp",
    "log": "log",
    "log10": "log10",
    "log2": "log2",
    "sin": "sin",
    "cos": "cos",
    "tan": "tan",
    "arctan": "arctan",
    "arcsin": "arcsin",
    "arccos": "arccos",
    "radians": "radians",
    "deg2rad": "radians",
    "degrees": "degrees",
    "rad2deg": "degrees",
    "floor": "floor",
    "isfinite": "isnumber",
    "minimum": "min",
    "maximum": "max",
}


class Expression(NDArrayOperatorsMixin):
    """A node: an operation and its terms. Leaves are `ref` (a cell or local name) and `number`."""

    __slots__ = ("__weakref__", "op", "terms")
    op: str
    terms: tuple[Any, ...]

    def __new__(cls, op: str, *terms: Any) -> Expression:
        key = (op, *(id(term) if isinstance(term, Expression) else repr(term) for term in terms))
        found = _INTERNED.get(key)
        if found is None:
            found = object.__new__(cls)
            found.op, found.terms = op, terms
            _INTERNED[key] = found
        return found

    __hash__ = object.__hash__

    def __repr__(self) -> str:
        return f"{self.op}({', '.join(map(repr, self.terms))})"

    def __bool__(self) -> bool:
        raise FormulaError("a formula cannot branch on a cell's value in Python: use np.where")

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **options: Any) -> Any:
        if method != "__call__" or options:
            raise FormulaError(f"numpy.{ufunc.__name__}.{method} cannot be written as a formula")
        name = ufunc.__name__
        terms = [as_expression(item) for item in inputs]
        if name in _UFUNCS:
            return operation(_UFUNCS[name], *terms)
        if name == "square":
            return operation("*", terms[0], terms[0])
        if name == "cbrt":
            return operation("^", terms[0], number(1 / 3))
        if name == "reciprocal":
            return operation("/", number(1.0), terms[0])
        if name == "ceil":
            return operation("neg", operation("floor", operation("neg", terms[0])))
        # a product or sum of conditions stays element-wise in array cells; AND and OR would collapse a range
        if name in ("bitwise_and", "logical_and"):
            return operation("*", *terms)
        if name in ("bitwise_or", "logical_or"):
            return operation(">", operation("+", *terms), number(0.0))
        if name in ("invert", "logical_not"):
            return operation("=", terms[0], number(0.0))
        raise FormulaError(f"numpy.{name} cannot be written as a formula")

    def __array_function__(self, func: Callable[..., Any], types: Any, args: Any, kwargs: Any) -> Any:
        if func is np.where and len(args) == 3 and not kwargs:
            return choose(*(as_expression(item) for item in args))
        raise FormulaError(f"numpy.{func.__name__} cannot be written as a formula")


def operation(op: str, *terms: Expression) -> Expression:
    """An operation on terms, or what it comes to where that is known already."""
    found = folded(op, terms)
    if found is None:
        return Expression(op, *terms)
    return found if isinstance(found, Expression) else number(found)


def number(value: float) -> Expression:
    """A constant, a long one as the ratio that it is; NaN stands for the spreadsheet error value."""
    ratio = as_ratio(float(value))
    if ratio is not None:
        return Expression("/", *(Expression("number", item) for item in ratio))
    return Expression("number", float(value))


def ref(text: str) -> Expression:
    """A cell reference or a local name, printed as it is."""
    return Expression("ref", text)


def choose(condition: Expression, yes: Expression, no: Expression) -> Expression:
    """The element-wise IF."""
    return operation("if", condition, yes, no)


def as_expression(value: Any) -> Expression:
    """An expression as it is, a number or a text as a constant."""
    if isinstance(value, Expression):
        return value
    return Expression("text", value) if isinstance(value, str) else number(float(value))


def number_or(value: Any, words: Any) -> Any:
    """A number where there is one, else words: for results that people read, never for results that are summed."""
    if isinstance(value, Expression) or isinstance(words, Expression):
        return choose(Expression("isnumber", as_expression(value)), as_expression(value), as_expression(words))
    array = np.asarray(value, dtype=float)
    texts = np.broadcast_to(np.asarray(words, dtype=object), array.shape)
    return np.where(np.isfinite(array), array.astype(object), texts)


def said(value: Any, digits: int = 0) -> Any:
    """A number as words hold it: rounded, with the reader's own signs for thousands and decimals. Digits below 0 round further.

    >>> said(-112504.9, -2), said(2.345, 1)
    ('-112,500', '2.3')
    """
    if isinstance(value, Expression):
        return Expression("fixed", value, number(digits))
    array = np.asarray(value, dtype=float)
    scale = 10.0**digits
    rounded = np.sign(array) * np.floor(np.abs(array) * scale + 0.5) / scale + 0.0
    texts = np.array([f"{item:,.{max(digits, 0)}f}" for item in rounded.reshape(-1)], dtype=object)
    return texts.reshape(array.shape) if array.ndim else texts[0]


def joined(*items: Any) -> Any:
    """Words one after the other: constants, cells with words, and numbers that have been `said`."""
    if any(isinstance(item, Expression) for item in items):
        whole = as_expression(items[0])
        for item in items[1:]:
            whole = Expression("&", whole, as_expression(item))
        return whole
    text: Any = np.asarray(items[0], dtype=object)
    for item in items[1:]:
        text = text + np.asarray(item, dtype=object)
    return text


def trace(formula: Callable[..., Any], terms: list[Expression]) -> Expression:
    """Run a bare formula on symbolic terms."""
    with np.errstate(all="ignore"):
        return as_expression(formula(*terms))


def traced(function: Function, terms: list[Expression], guard: bool = True, sure: Sequence[bool] = ()) -> Expression:
    """A registered function on symbolic terms; with the guard, a blank, text or a value outside its range gives an error value.

    `sure` says which terms are never blank: their range alone decides, a text being above every number.
    """
    if function.spec.is_range:
        raise FormulaError(f"{function.spec.name} takes whole ranges; it is written by its native form")
    body = trace(function.formula, terms)
    if not guard:
        return body
    conditions: list[Expression] = []
    never_blank = sure or [False] * len(terms)
    for term, item, known in zip(terms, function.spec.arguments, never_blank, strict=True):
        if term.op == "number" and item.accepts(term.terms[0], term.terms[0]):
            continue
        # a cell shown in another unit is a product: what must be a number is the cell itself, for a blank times 25.4 is 0
        cell = term.terms[0] if term.op == "*" and term.terms[0].op == "ref" else term
        if not known:
            conditions.append(Expression("isnumber", cell))
        conditions.append(Expression(">" if item.low_open else ">=", term, number(item.low)))
        conditions.append(Expression("<" if item.high_open else "<=", term, number(item.high)))
    if not conditions:
        return body
    condition = conditions[0]
    for item_condition in conditions[1:]:
        condition = operation("*", condition, item_condition)
    return choose(condition, body, number(np.nan))
