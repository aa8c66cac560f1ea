"""The library as Python on its own standard library, for the Calc add-in: printed from the trace, or copied where it is plain already."""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Iterable
from typing import Any

from xlfab import __version__
from xlfab.errors import HostError
from xlfab.formula import standard_python
from xlfab.hosts.naming import method_name
from xlfab.registry import Function

_HEAD = '''"""The functions of xlfab for LibreOffice. Generated: change the library and build the add-in anew."""
import math

import fab_runtime
from fab_runtime import {names}

ABOUT = {about!r}
context = None

'''
_HELPERS = (
    "_acos _asin _div _exp _floor _is_number _log _log10 _log2 _nan _pow _sqrt".split()
)  # what printed functions call


def module(functions: Iterable[Function]) -> str:
    """The whole module: every function, and the two tables by which the component finds them."""
    single, whole, parts = [], [], []
    for function in functions:
        spec = function.spec
        if spec.is_range:
            continue
        parts.append(standard_python(function))
        single.append(f"    {method_name(spec)!r}: {spec.name},")
    head = _HEAD.format(names=", ".join(_HELPERS), about=f"xlfab {__version__}")
    tables = "SINGLE = {\n" + "\n".join(single) + "\n}\nWHOLE = {\n" + "\n".join(whole) + "\n}\n"
    return head + "\n\n".join(parts) + "\n\n" + tables
