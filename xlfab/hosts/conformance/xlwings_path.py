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
    """Stands for an Excel range: has raw values as COM hands them over (tuple of rows, or one value)."""

    def __init__(self, raw: Any) -> None:
        self.raw = raw


@contextmanager
def stubbed() -> Iterator[tuple[Any, Any]]:
    """Yield (xlwings.udfs, xlfab.hosts.excel), imported as on Windows."""
    saved = dict(sys.modules)
    names = ("xlwings", "xlfab.hosts.excel", "pythoncom", "pywintypes", "win32com")
    for name in [
        key
        for key in sys.modules
        if key.split(".")[0] in ("xlwings", "pythoncom", "pywintypes", "win32com") or key in names
    ]:
        del sys.modules[name]
    platform = sys.platform
    try:
        client: Any = types.ModuleType("win32com.client")
        client.VARIANT, client.Dispatch = Variant, lambda item, **_: item
        parent: Any = types.ModuleType("win32com")
        parent.client = client
        com: Any = types.ModuleType("pythoncom")
        com.VT_ERROR, com.CoInitialize = VT_ERROR, lambda: None
        types_module: Any = types.ModuleType("pywintypes")
        types_module.com_error = type("com_error", (Exception,), {})
        types_module.TimeType = dt.datetime
        sys.modules.update(
            {"win32com": parent, "win32com.client": client, "pythoncom": com, "pywintypes": types_module}
        )
        xlwings: Any = importlib.import_module("xlwings")
        udfs: Any = importlib.import_module("xlwings.udfs")

        windows: Any = types.ModuleType("xlwings._xlwindows")
        windows.is_range_instance = lambda item: isinstance(item, CellRange)
        windows.Range = lambda xl: xl
        windows.BOOK_CALLER = None
        sys.modules["xlwings._xlwindows"] = windows
        xlwings._xlwindows = windows
        # what xlwings' package does on Windows: the decorators are those of udfs
        xlwings.func, xlwings.arg, xlwings.ret = udfs.xlfunc, udfs.xlarg, udfs.xlret
        server: Any = types.ModuleType("xlwings.com_server")
        server.loop = None
        sys.modules["xlwings.com_server"] = server
        engine = xlwings.main.Engine(
            impl=types.SimpleNamespace(name="excel", type="desktop", prepare_xl_data_element=_prepared)
        )
        xlwings.engines.add(engine)
        udfs.Range = lambda impl: _as_xlwings_range(impl, engine)
        yield udfs, importlib.import_module("xlfab.hosts.excel")
    finally:
        sys.platform = platform
        for key in list(sys.modules):
            if key not in saved:
                del sys.modules[key]
        sys.modules.update(saved)


def _as_xlwings_range(cells: CellRange, engine: Any) -> Any:
    """The little of an xlwings range that argument conversion uses."""
    app = types.SimpleNamespace(engine=engine)
    sheet = types.SimpleNamespace(book=types.SimpleNamespace(app=app))
    return types.SimpleNamespace(
        raw_value=cells.raw, impl=types.SimpleNamespace(max_cells_per_read=None), sheet=sheet, address="$A$1"
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
