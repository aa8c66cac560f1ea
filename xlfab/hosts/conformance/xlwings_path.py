"""xlwings' own UDF code on any system: only the Windows COM modules are stubbed, so that all but Excel itself is driven."""

from __future__ import annotations

import datetime as dt
import importlib
import io
import sys
import types
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import numpy as np


class Variant:
    """Stands for win32com.client.VARIANT: what pywin32 turns into a typed COM value."""

    def __init__(self, varianttype: int, value: Any) -> None:
        self.varianttype, self.value = varianttype, value


VT_ERROR = 10


class CellRange:
    """Stands for an Excel range: raw values as COM hands them over (tuple of rows, or one value), and the same bare of formats."""

    def __init__(self, raw: Any, bare: Any = None) -> None:
        self.raw, self.bare = raw, bare


@contextmanager
def stubbed() -> Iterator[tuple[Any, Any]]:
    """Yield (xlwings.udfs, xlfab.hosts.excel), imported as on Windows."""
    saved = dict(sys.modules)
    for name in [key for key in sys.modules if key.split(".")[0] in _REPLACED or key == "xlfab.hosts.excel"]:
        del sys.modules[name]
    try:
        sys.modules.update(_com_modules())
        yield _udfs(), importlib.import_module("xlfab.hosts.excel")
    finally:
        for key in list(sys.modules):
            if key not in saved:
                del sys.modules[key]
        sys.modules.update(saved)


_REPLACED = ("xlwings", "pythoncom", "pywintypes", "win32com")


def _com_modules() -> dict[str, Any]:
    """The modules of pywin32 that xlwings imports, with the little of them that it uses."""
    client: Any = types.ModuleType("win32com.client")
    client.VARIANT, client.Dispatch = Variant, lambda item, **_: item
    parent: Any = types.ModuleType("win32com")
    parent.client = client
    com: Any = types.ModuleType("pythoncom")
    com.VT_ERROR, com.CoInitialize = VT_ERROR, lambda: None
    values: Any = types.ModuleType("pywintypes")
    values.com_error, values.TimeType = type("com_error", (Exception,), {}), dt.datetime
    return {"win32com": parent, "win32com.client": client, "pythoncom": com, "pywintypes": values}


def _udfs() -> Any:
    """xlwings' own module of UDFs, set up as its package does it on Windows."""
    xlwings: Any = importlib.import_module("xlwings")
    udfs: Any = importlib.import_module("xlwings.udfs")
    windows: Any = types.ModuleType("xlwings._xlwindows")
    windows.is_range_instance = lambda item: isinstance(item, CellRange)
    windows.Range, windows.BOOK_CALLER = lambda xl: xl, None
    server: Any = types.ModuleType("xlwings.com_server")
    server.loop = None
    sys.modules.update({"xlwings._xlwindows": windows, "xlwings.com_server": server})
    xlwings._xlwindows = windows
    xlwings.func, xlwings.arg, xlwings.ret = udfs.xlfunc, udfs.xlarg, udfs.xlret
    engine = xlwings.main.Engine(
        impl=types.SimpleNamespace(name="excel", type="desktop", prepare_xl_data_element=_prepared)
    )
    xlwings.engines.add(engine)
    udfs.Range = lambda impl: _as_xlwings_range(impl, engine)
    return udfs


def _as_xlwings_range(cells: CellRange, engine: Any) -> Any:
    """The little of an xlwings range that argument conversion uses."""
    app = types.SimpleNamespace(engine=engine)
    sheet = types.SimpleNamespace(book=types.SimpleNamespace(app=app))
    return types.SimpleNamespace(
        raw_value=cells.raw,
        api=types.SimpleNamespace(Value2=cells.bare),
        impl=types.SimpleNamespace(max_cells_per_read=None),
        sheet=sheet,
        address="$A$1",
    )


def _prepared(value: Any, date_format: Any) -> Any:
    """What xlwings does to each result on Windows: a NaN or nothing would become an empty text."""
    if value is None or value != value:
        return ""
    return float(value) if isinstance(value, np.number) else value


def call(udfs: Any, name: str, *arguments: Any) -> Any:
    """Call a UDF on xlwings' own path and unpack its result as its COM server does."""
    result = udfs.call_udf("xlfab.hosts.excel", name, arguments, None, CellRange(None))
    if len(result) == 1 and len(result[0]) == 1:
        return result[0][0]
    return result[0] if len(result) == 1 else result


def is_error(value: Any) -> bool:
    """True for what Excel shows as #NUM!."""
    return isinstance(value, Variant) and value.varianttype == VT_ERROR and value.value == -2146826252


def vba(udfs: Any, excel: Any) -> str:
    """The VBA that xlwings would write into the add-in."""
    text = io.StringIO()
    book = types.SimpleNamespace(Name="xlfab.xlam")
    udfs.generate_vba_wrapper("xlfab.hosts.excel", excel, text, book)
    return text.getvalue()
