"""The library as Python on its own standard library, for the Calc add-in.

A function of single cells is printed from its trace. The text of a function of whole ranges goes through its cells one by one in
plain Python already: it is copied, with what it calls.
"""

from __future__ import annotations

from collections.abc import Iterable

from xlfab import __version__
from xlfab.core.registry import Function
from xlfab.hosts.naming import method_name
from xlfab.hosts.range_python import bare, bounds, plain_python
from xlfab.trace.standard_python import standard_python

# what printed functions call
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
_HEAD = f'''"""The functions of xlfab for LibreOffice. Generated: change the library and build the add-in anew."""
import math

from fab_runtime import Arrays as np
from fab_runtime import {", ".join(_HELPERS)}

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
            plain_python(function, texts)
            checks = ", ".join(str(bounds(item)) for item in spec.arguments)
            whole.append(f"    {method_name(spec)!r}: ({bare(spec.name)}, ({checks},)),")
        else:
            texts[spec.name] = standard_python(function)
            single.append(f"    {method_name(spec)!r}: {spec.name},")
    return "\n\n".join([_HEAD, *texts.values(), "\n".join([*single, "}", *whole, "}", ""])])
