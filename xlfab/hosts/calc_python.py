"""The library as Python on its own standard library, for the Calc add-in.

A function of single cells is printed from its trace. The text of a function of whole ranges goes through its cells one by one in
plain Python already: it is copied, with what it calls.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
import types
from collections.abc import Iterable
from typing import Any

from xlfab import __version__
from xlfab.core.arguments import Argument
from xlfab.core.errors import HostError
from xlfab.core.registry import Function
from xlfab.hosts.calc_runtime import Arrays
from xlfab.hosts.naming import method_name
from xlfab.trace.formula import standard_python

# what printed functions call, and what the runtime offers under the same name as the library
_HELPERS = (
    "_acos",
    "_asin",
    "_div",
    "_exp",
    "_floor",
    "_is_number",
    "_log",
    "_log10",
    "_log2",
    "_nan",
    "_pow",
    "_sqrt",
)
_OFFERED = ("rate_of_return",)
_BUILT_IN = ("cells", "ordered")
_HEAD = f'''"""The functions of xlfab for LibreOffice. Generated: change the library and build the add-in anew."""
import math

from fab_runtime import Arrays as np
from fab_runtime import {", ".join(_HELPERS + _OFFERED)}

ABOUT = {f"xlfab {__version__}"!r}
cells = list
ordered = sorted
'''


def module(functions: Iterable[Function]) -> str:
    """The whole module: every function, and the two tables by which the component finds them."""
    texts: dict[str, str] = {}
    single, whole = ["SINGLE = {"], ["WHOLE = {"]
    for function in functions:
        spec = function.spec
        if spec.is_range:
            _copy(function, texts)
            bounds = ", ".join(str(_bounds(item)) for item in spec.arguments)
            whole.append(f"    {method_name(spec)!r}: ({_bare(spec.name)}, ({bounds},)),")
        else:
            texts[spec.name] = standard_python(function)
            single.append(f"    {method_name(spec)!r}: {spec.name},")
    return "\n\n".join([_HEAD, *texts.values(), "\n".join([*single, "}", *whole, "}", ""])])


def _bounds(item: Argument) -> tuple[Any, ...]:
    return (item.is_range, item.low, item.high, item.low_open, item.high_open)


def _bare(name: str) -> str:
    # a printed function checks its arguments, a copied one does not: so they are kept apart
    return f"_bare_{name}"


def _copy(function: Any, texts: dict[str, str]) -> None:
    """Add the text of a function, and of what it calls, to the texts."""
    formula = function.formula if isinstance(function, Function) else function
    name = _bare(formula.__name__)
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
        if isinstance(value, (Function, types.FunctionType)) and used.id not in _OFFERED + _BUILT_IN:
            _copy(value, texts)
            used.id = _bare(value.formula.__name__ if isinstance(value, Function) else value.__name__)
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
