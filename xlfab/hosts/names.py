"""The library as LAMBDA names: a workbook that carries them needs no add-in in Excel 365.

Define each (name, definition) with XlsxWriter's `define_name(name, "=" + definition)`, and write each call of one with
`write_dynamic_array_formula`: a name may return an array, so Excel wants its calls stored that way.
"""

from __future__ import annotations

from collections.abc import Iterable

from xlfab.catalogue import CATALOGUE
from xlfab.errors import FormulaError
from xlfab.formula import lambda_name
from xlfab.registry import Function


def definitions(functions: Iterable[Function] = CATALOGUE) -> list[tuple[str, str]]:
    """(name, definition) of every function that can be written as a LAMBDA name, as files store it.

    >>> definitions()[0][0]
    'FAB_BLANK_MASS_KG'
    """
    pairs = []
    for function in functions:
        try:
            pairs.append((function.spec.cell_name, lambda_name(function)))
        except FormulaError:
            if not function.spec.is_range or function.spec.native is not None:
                raise
    return pairs
