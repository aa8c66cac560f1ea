"""Functions of whole ranges as plain Python: they go through their cells one by one, so their own text is copied with what it calls.

Hosts without numpy take the text as it is (the Calc add-in) or put it into their own language (JavaScript).
"""

from __future__ import annotations

import ast
import inspect
import textwrap
import types
from typing import Any

from xlfab.core.arguments import Argument
from xlfab.core.errors import HostError
from xlfab.core.registry import Function
from xlfab.hosts.calc_runtime import Arrays

_BUILT_IN = ("cells", "ordered")


def bounds(item: Argument) -> tuple[bool, float, float, bool, bool]:
    """Whether an argument is a range, its lowest and highest value, and whether those two lie outside."""
    return (item.is_range, item.low, item.high, item.low_open, item.high_open)


def bare(name: str) -> str:
    """The name of a copied function: a printed one checks its arguments, a copied one does not, so they are kept apart."""
    return f"_bare_{name}"


def plain_python(function: Any, texts: dict[str, str]) -> None:
    """Add the text of a function, and of what it calls, to the texts."""
    formula = function.formula if isinstance(function, Function) else function
    name = bare(formula.__name__)
    if name in texts:
        return
    node = ast.parse(textwrap.dedent(inspect.getsource(formula))).body[0]
    assert isinstance(node, ast.FunctionDef)
    _strip(node)
    for place in ast.walk(node):
        if isinstance(place, ast.Attribute):
            _check_attribute(place, formula)
    for used in [place for place in ast.walk(node) if isinstance(place, ast.Name)]:
        value = formula.__globals__.get(used.id)
        if isinstance(value, (Function, types.FunctionType)) and used.id not in _BUILT_IN:
            plain_python(value, texts)
            used.id = bare(value.formula.__name__ if isinstance(value, Function) else value.__name__)
        elif isinstance(value, (int, float)):
            texts[used.id] = f"{used.id} = {value!r}"
    node.name = name
    texts[name] = f"{ast.unparse(_Plainer().visit(node))}\n"


def _strip(node: ast.FunctionDef) -> None:
    """Take away what only readers and the registry need: decorators, docstring and types."""
    node.decorator_list, node.returns = [], None
    for argument in node.args.args:
        argument.annotation = None
    if ast.get_docstring(node):
        node.body = node.body[1:]


def _check_attribute(place: ast.Attribute, formula: Any) -> None:
    if isinstance(place.value, ast.Name) and place.value.id == "np" and not hasattr(Arrays, place.attr):
        raise HostError(
            f"{formula.__name__} uses numpy.{place.attr}, which the Calc add-in lacks: go through the range's cells with"
            " xlfab.core.arrays.cells instead, or add it to xlfab/hosts/calc_runtime.py"
        )


class _Plainer(ast.NodeTransformer):
    """`other.formula(...)` becomes a plain call, `name: Any = 0.0` a plain assignment."""

    def visit_AnnAssign(self, node: ast.AnnAssign) -> Any:
        self.generic_visit(node)
        return ast.copy_location(ast.Assign([node.target], node.value or ast.Constant(None)), node)

    def visit_Attribute(self, node: ast.Attribute) -> Any:
        self.generic_visit(node)
        return node.value if node.attr == "formula" else node
