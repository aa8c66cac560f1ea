"""Excel on Windows: every registered calculation as an xlwings UDF, made from the catalogue.

xlwings imports this module by name, writes a VBA wrapper for each function in it, and calls the function with the raw values of
cells. An exception would end as text in the cell and a NaN as an empty text, so results go back as numbers or error values only.
Only the BSD part of xlwings is used.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import xlwings
from xlwings.conversion import ConversionContext, Pipeline, RawValueAccessor

from xlfab import __version__
from xlfab.catalogue import CATALOGUE
from xlfab.core.registry import Function
from xlfab.core.units import unit_label
from xlfab.hosts.cell_values import call_on_cells, holds_currency, with_all_digits

_NUM = -2146826252  # #NUM! as COM spells it: 0x800A0000 + 2036
_LONGEST_TEXT = 255  # longest description that Excel takes


class CellsAccessor(RawValueAccessor):
    """Raw values of cells, amounts of money with all their digits."""

    @classmethod
    def reader(cls, options: Any) -> Pipeline:
        """xlwings' own steps, and ours after them."""
        return super().reader(options).append_stage(_money_with_all_digits)  # type: ignore[no-untyped-call]


def _money_with_all_digits(context: ConversionContext) -> None:
    if context.range is not None and holds_currency(context.value):
        context.value = with_all_digits(context.value, context.range.api.Value2)


CellsAccessor.register("xlfab cells")  # type: ignore[no-untyped-call]


def error_value() -> Any:
    """#NUM! in a form that pywin32 hands to Excel as an error and not as a number."""
    import pythoncom
    from win32com.client import VARIANT

    return VARIANT(pythoncom.VT_ERROR, _NUM)


def help_of_argument(name: str, description: str, unit: str, allowed: str) -> str:
    """The help text of an argument, cut to what Excel takes."""
    return f"{description} [{unit}], {allowed}"[:_LONGEST_TEXT]


def worksheet_function(function: Function) -> Callable[..., Any]:
    """A registered function in the shape that xlwings wants: named as in a cell, positional arguments, raw values in."""
    spec = function.spec
    names = [item.name for item in spec.arguments]

    def call(arguments: tuple[Any, ...]) -> Any:
        rows = call_on_cells(function, arguments)
        return [[item if item == item else error_value() for item in row] for row in rows]

    # xlwings reads the signature, and VBA the argument names: so they are spelled out here
    scope: dict[str, Any] = {"call": call}
    exec(f"def {spec.cell_name}({', '.join(names)}):\n    return call(({', '.join(names)},))", scope)
    made: Callable[..., Any] = scope[spec.cell_name]
    made.__doc__ = f"{spec.summary} [{unit_label(spec.unit.suffix)}]"[:_LONGEST_TEXT]
    made.__module__ = __name__
    for item in spec.arguments:
        text = help_of_argument(item.name, item.description, unit_label(item.unit.suffix), item.allowed)
        made = xlwings.arg(item.name, convert="xlfab cells", doc=text)(made)
    # last, for each of the decorators above sets the category back
    made = xlwings.func(category="xlfab " + spec.group.replace("_", " "))(made)
    return made


@xlwings.func(category="xlfab")
def FAB_ABOUT() -> str:
    """Name and version of the add-in."""
    return f"xlfab {__version__}"


for _function in CATALOGUE:
    globals()[_function.spec.cell_name] = worksheet_function(_function)
