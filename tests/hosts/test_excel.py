"""The Excel add-in without Excel: xlwings' own decorators, argument conversion, call path and VBA writer, COM modules stubbed."""

from __future__ import annotations

import datetime as dt
import math
import re
import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from xlfab import __version__
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.errors import HostError
from xlfab.hosts import excel_install
from xlfab.hosts.conformance.xlwings_path import CellRange, call, is_error, stubbed, vba

MOVE = "FAB_AXIS_MOVE_TIME_S"


@pytest.fixture(scope="module")
def host() -> Any:
    with stubbed() as pair:
        yield pair


def test_scalars_come_back_as_python_gives_them(host: Any) -> None:
    assert call(host[0], MOVE, 500.0, 500.0, 2500.0, 25000.0) == FUNCTIONS["axis_move_time_s"](500, 500, 2500, 25000)
    assert call(host[0], MOVE, CellRange(500.0), CellRange(500.0), 2500.0, 25000.0) == 1.3


def test_ranges_spill_and_broadcast_as_numpy_does(host: Any) -> None:
    column = CellRange(((100.0,), (200.0,), (4000.0,)))
    row = CellRange(((300.0, 600.0),))
    found = call(host[0], MOVE, column, row, 2000.0, 20000.0)
    expected = FUNCTIONS["axis_move_time_s"](
        np.array([[100.0], [200.0], [4000.0]]), np.array([[300.0, 600.0]]), 2000, 20000
    )
    np.testing.assert_array_equal(np.array(found, dtype=float), expected)
    assert call(host[0], MOVE, row, 500.0, 2000.0, 20000.0) == [
        FUNCTIONS["axis_move_time_s"](d, 500, 2000, 20000) for d in (300.0, 600.0)
    ]


@pytest.mark.parametrize(
    "bad",
    [
        None,
        "",
        "12",
        "text",
        True,
        dt.datetime(2026, 1, 1),
        -2146826281,
        -2146826246,
        -5.0,
        1e9,
        float("nan"),
        CellRange(None),
        CellRange("x"),
    ],
    ids=lambda bad: type(bad).__name__,  # the same in every process that the tests are spread over
)
def test_what_is_no_number_in_range_becomes_an_error_value(host: Any, bad: Any) -> None:
    assert is_error(call(host[0], MOVE, bad, 500.0, 2500.0, 25000.0))


def test_one_bad_cell_of_a_range_spoils_only_its_own_result(host: Any) -> None:
    found = call(
        host[0], MOVE, CellRange(((100.0,), (None,), ("x",), (-2146826281,), (200.0,))), 500.0, 2000.0, 20000.0
    )
    assert [is_error(row[0]) for row in found] == [False, True, True, True, False]


def test_cells_with_a_currency_format_count_with_all_their_digits(host: Any) -> None:
    """COM makes a Decimal of four digits of them (pywin32's behaviour, from memory)."""
    price = "FAB_LABOUR_RATE_CUR_PER_H"
    one = call(host[0], price, CellRange(Decimal("20.1235"), 20.12345678), 0.4)
    assert one == FUNCTIONS["labour_rate_cur_per_h"](20.12345678, 0.4)
    raw, bare = ((Decimal("20.1235"),), (None,), (30.0,)), ((20.12345678,), (None,), (30.0,))
    found = call(host[0], price, CellRange(raw, bare), 0.4)
    assert found[0][0] == one and is_error(found[1][0]) and found[2][0] == 42.0
    assert call(host[0], price, Decimal("20.5"), 0.4) == pytest.approx(28.7, rel=1e-15)


@pytest.mark.parametrize(
    "bad", [None, "", "x", True, dt.datetime(2026, 1, 1), -2146826281], ids=lambda bad: type(bad).__name__
)
def test_one_bad_cell_among_flows_leaves_no_result(host: Any, bad: Any) -> None:
    assert is_error(call(host[0], "FAB_SIMPLE_PAYBACK_YEARS", CellRange(((-1000.0, 400.0, bad, 900.0),))))


def test_a_missing_argument_becomes_an_error_value(host: Any) -> None:
    missing = -2147352572  # what COM sends for it
    assert is_error(call(host[0], MOVE, 500.0, 500.0, 2500.0, missing))


def test_ranges_that_do_not_fit_together_give_an_error_value(host: Any) -> None:
    assert is_error(call(host[0], MOVE, CellRange(((1.0, 2.0),)), CellRange(((1.0, 2.0, 3.0),)), 2000.0, 20000.0))


def test_range_functions_take_rows_and_columns(host: Any) -> None:
    flows = (-40000.0, 5000.0, 8000.0, 12000.0, 30000.0)
    expected = FUNCTIONS["net_present_value_now_cur"](0.08, list(flows))
    for cells in (CellRange((flows,)), CellRange(tuple((item,) for item in flows))):
        assert call(host[0], "FAB_NET_PRESENT_VALUE_NOW_CUR", 0.08, cells) == pytest.approx(expected, rel=1e-15)
    assert is_error(call(host[0], "FAB_INTERNAL_RATE_SHARE", CellRange(((1.0, 2.0, 3.0),))))


def test_about_shows_the_version(host: Any) -> None:
    assert call(host[0], "FAB_ABOUT") == f"xlfab {__version__}"


def test_every_function_is_exposed_with_help_that_excel_takes(host: Any) -> None:
    for item in CATALOGUE:
        made = getattr(host[1], item.spec.cell_name).__xlfunc__
        assert [one["name"] for one in made["args"]] == [one.name for one in item.spec.arguments]
        assert 10 < len(made["ret"]["doc"]) <= 255
        assert made["category"].startswith("xlfab")
        for one, argument in zip(made["args"], item.spec.arguments, strict=True):
            assert 10 < len(one["doc"]) <= 255
            assert argument.description.split(",")[0][:40] in one["doc"]


def test_the_vba_has_a_function_for_every_function(host: Any) -> None:
    text = vba(*host)
    heads = re.findall(r"^Function (FAB_\w+)\(([^)]*)\)", text.replace(" _\n", ""), flags=re.MULTILINE)
    found = {name: [item.strip() for item in arguments.split(",")] if arguments else [] for name, arguments in heads}
    assert set(found) == {item.spec.cell_name for item in CATALOGUE} | {"FAB_ABOUT"}
    for item in CATALOGUE:
        assert found[item.spec.cell_name] == [one.name for one in item.spec.arguments]
        names = [one.lower() for one in found[item.spec.cell_name]]
        assert len(set(names)) == len(names), "VBA does not tell capitals from small letters"
    assert max(map(len, text.splitlines())) <= 1024


@pytest.mark.skipif(sys.platform == "win32", reason="the refusal is for other systems")
@pytest.mark.parametrize("step", ["install", "check", "remove"])
def test_other_systems_are_told_why_not(step: str) -> None:
    with pytest.raises(HostError, match="Windows only"):
        getattr(excel_install, step)()


class _FakeExcel:
    """Records what the installer asks Excel to do."""

    def __init__(self, folder: Path) -> None:
        self.startup_path = str(folder)
        self.opened: list[str] = []
        self.cells = {(1, 1): "Interpreter_Win", (2, 1): "UDF Modules"}
        self.sheet_name = "_myaddin.conf"
        self.books = self
        self.sheets = self
        self.api = object()
        self.done: list[str] = []

    def open(self, path: str, read_only: bool = False) -> Any:
        self.opened.append(path)
        return self

    def __getitem__(self, name: str) -> Any:
        assert name == self.sheet_name
        return self

    @property
    def name(self) -> str:
        return self.sheet_name

    @name.setter
    def name(self, value: str) -> None:
        self.sheet_name = value

    def range(self, place: tuple[int, int]) -> Any:
        excel = self

        class Cell:
            @property
            def value(self) -> Any:
                return excel.cells.get(place)

            @value.setter
            def value(self, value: Any) -> None:
                excel.cells[place] = value

        return Cell()

    def save(self) -> None:
        self.done.append("save")

    def close(self) -> None:
        self.done.append("close")

    def quit(self) -> None:
        self.done.append("quit")


def test_install_check_and_remove_say_what_they_did(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fake = _FakeExcel(tmp_path / "XLSTART")
    imported: list[Any] = []
    monkeypatch.setattr(excel_install, "require_windows", lambda: None)
    monkeypatch.setattr(excel_install, "_excel", lambda: fake)
    with stubbed() as (udfs, _):
        udfs.import_udfs = lambda module, book: imported.append((module, book))
        said: list[str] = []
        target = excel_install.install(said.append)
    assert target.read_bytes()[:2] == b"PK"
    assert imported == [("xlfab.hosts.excel", fake.api)]
    assert fake.cells[(1, 2)] == sys.executable and fake.cells[(2, 2)] == "xlfab.hosts.excel"
    assert fake.sheet_name == "myaddin.conf" and fake.done == ["save", "close", "quit"]
    assert str(target) in said[0] and "FAB_ABOUT" in said[-1]
    assert excel_install.check(said.append) and "in place" in said[-1] and sys.executable in said[-1]
    fake.cells[(1, 2)] = str(tmp_path / "python.exe")
    assert not excel_install.check(said.append) and "does not answer" in said[-1]
    assert excel_install.remove(said.append) and not target.exists()
    assert not excel_install.check(said.append) and "not installed" in said[-1]
    assert not excel_install.remove(said.append)


def test_a_refusal_by_excel_is_explained(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fake = _FakeExcel(tmp_path)
    monkeypatch.setattr(excel_install, "require_windows", lambda: None)
    monkeypatch.setattr(excel_install, "_excel", lambda: fake)

    def refuse(*_: Any) -> None:
        raise RuntimeError("Programmatic access to Visual Basic Project is not trusted")

    with stubbed() as (udfs, _):
        udfs.import_udfs = refuse
        with pytest.raises(HostError, match="Trust access to the VBA project"):
            excel_install.install(lambda _: None)
    assert fake.done[-1] == "quit"


@pytest.mark.parametrize("step", ["install", "remove"])
def test_an_add_in_that_excel_holds_is_left_and_said(
    step: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake = _FakeExcel(tmp_path)
    (tmp_path / excel_install.ADDIN).write_bytes(b"old")
    monkeypatch.setattr(excel_install, "require_windows", lambda: None)
    monkeypatch.setattr(excel_install, "_excel", lambda: fake)

    def held(*_: Any) -> None:
        raise PermissionError(13, "in use by another process")

    monkeypatch.setattr(Path, "unlink", held)
    with stubbed() as (udfs, _):
        udfs.import_udfs = lambda *_: monkeypatch.setattr(excel_install.shutil, "copyfile", held)
        with pytest.raises(HostError, match="close Excel"):
            getattr(excel_install, step)(lambda _: None)
    assert (tmp_path / excel_install.ADDIN).read_bytes() == b"old"


def test_results_that_are_numbers_are_finite(host: Any) -> None:
    assert math.isfinite(call(host[0], "FAB_AIR_BEND_FORCE_KN", 2.0, 410.0, 1000.0, 16.0))
