"""A registered function as a LAMBDA name: a workbook that carries it needs no add-in in Excel 365."""

from __future__ import annotations

from collections.abc import Iterable

from xlfab.core.registry import Function
from xlfab.trace.expression import ref, traced
from xlfab.trace.spreadsheet import inside_limit, let, native_formula
from xlfab.trace.target import one_by_one


def lambda_name(function: Function, stored: bool = True) -> str:
    """The definition of a LAMBDA name with the function's own argument names; `stored` writes the prefixes that files need."""
    prefix, head = ("_xlpm.", "_xlfn.") if stored else ("", "")
    names = [prefix + item.name for item in function.spec.arguments]
    if function.spec.is_range:
        body = native_formula(function, names)
    else:
        body = let(one_by_one(traced(function, [ref(name) for name in names])), stored)
    return inside_limit(function.spec.name, f"{head}LAMBDA({','.join(names)},{body})")


def lambda_names(functions: Iterable[Function]) -> list[tuple[str, str]]:
    """(name, definition) of every function, as files store it.

    Each call of such a name must be written as a dynamic array, for a name may return one. A range function without a native form
    has no LAMBDA.
    """
    return [
        (one.spec.cell_name, lambda_name(one))
        for one in functions
        if not one.spec.is_range or one.spec.native is not None
    ]
