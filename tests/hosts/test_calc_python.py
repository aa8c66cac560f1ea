"""What the Calc add-in runs inside LibreOffice, run here: the same text, on the same points, against the library."""

from __future__ import annotations

import subprocess
import sys
import types
import zipfile
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest

from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.errors import HostError
from xlfab.core.registry import function as register
from xlfab.hosts import calc_package, naming
from xlfab.hosts.calc_python import module
from xlfab.hosts.conformance.cases import case

RUNTIME = "pythonpath/fab_runtime.py"
FUNCTIONS_FILE = "pythonpath/fab_functions.py"


@cache
def addin() -> tuple[Any, Any]:
    """The two modules of the add-in, made from the texts in the package."""
    texts = calc_package.contents()
    made = {}
    for name in (RUNTIME, FUNCTIONS_FILE):
        one = types.ModuleType(Path(name).stem)
        sys.modules[one.__name__] = one
        exec(compile(texts[name], name, "exec"), one.__dict__)
        made[name] = one
    return made[RUNTIME], made[FUNCTIONS_FILE]


def called(name: str, *values: Any) -> Any:
    """A function as the component calls it."""
    runtime, functions = addin()
    method = naming.method_name(FUNCTIONS[name].spec)
    if FUNCTIONS[name].spec.is_range:
        return runtime.whole(*functions.WHOLE[method], values)
    return runtime.spread(functions.SINGLE[method], values)


@pytest.mark.parametrize("function", CATALOGUE, ids=lambda one: one.spec.name)
def test_the_printed_function_agrees_with_the_library(function) -> None:
    one = case(function, 60)
    rows = [[(v,) if isinstance(v, tuple) else v for v in point] for point in one.points]
    found = [called(function.spec.name, *row)[0][0] for row in rows]
    assert one.apart(found).max() <= 1e-12


def test_ranges_broadcast_and_one_bad_cell_spoils_only_its_own_result() -> None:
    column = ((100.0,), ("",), ("x",), (4000.0,))
    found = called("axis_move_time_s", column, ((300.0, 600.0),), 2000.0, 20000.0)
    assert np.shape(found) == (4, 2)
    assert [np.isfinite(row).all() for row in found] == [True, False, False, True]
    assert found[3][1] == pytest.approx(FUNCTIONS["axis_move_time_s"](4000, 600, 2000, 20000), rel=1e-15)
    assert np.isnan(called("axis_move_time_s", ((1.0, 2.0),), ((1.0, 2.0, 3.0),), 2000.0, 20000.0)).all()


@pytest.mark.parametrize("bad", [None, "", "text", -5.0, float("nan"), True], ids=str)
def test_what_is_no_number_in_range_has_no_result(bad: Any) -> None:
    assert np.isnan(called("axis_move_time_s", bad, 500.0, 2500.0, 25000.0)[0][0])
    flows = ((-1000.0, 400.0, bad if bad != -5.0 else -1e13, 900.0),)
    assert np.isnan(called("net_present_value_now_cur", 0.1, flows)[0][0])


def test_the_add_in_runs_without_anything_but_pythons_own_library(tmp_path: Path) -> None:
    with zipfile.ZipFile(calc_package.build(tmp_path / "xlfab.oxt")) as package:
        package.extractall(tmp_path)
    code = (
        "import sys; sys.path.insert(0, 'pythonpath'); import fab_functions as f, fab_runtime as r;"
        "print(r.spread(f.SINGLE['axisMoveTimeS'], (500.0, 500.0, 2500.0, 25000.0))[0][0], f.ABOUT, 'numpy' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-I", "-S", "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["1.3", "xlfab", "0.1.0", "False"]


def test_the_package_is_well_formed_and_the_same_each_time(tmp_path: Path) -> None:
    texts = calc_package.contents()
    root = ElementTree.fromstring(texts["CalcAddIns.xcu"])
    shown = [value.text for value in root.iter("value") if value.text and value.text.startswith("FAB_")]
    assert set(shown) == {one.spec.cell_name for one in CATALOGUE} | {naming.ABOUT}
    ElementTree.fromstring(texts["META-INF/manifest.xml"])
    ElementTree.fromstring(texts["description.xml"])
    for one in CATALOGUE:
        arguments = ", ".join(f"[in] any a{place:02d}" for place in range(1, len(one.spec.arguments) + 1))
        assert f"any > > {naming.method_name(one.spec)}({arguments});" in texts["functions.idl"]
    first, second = (calc_package.build(tmp_path / name).read_bytes() for name in ("a.oxt", "b.oxt"))
    assert first == second


def test_a_function_of_ranges_that_needs_numpy_is_refused_when_built() -> None:
    def working_h(cash_flows_cur: Any) -> Any:
        """Not a function of the library."""
        return np.median(cash_flows_cur)

    working_h.__module__ = "xlfab.trial"
    with pytest.raises(HostError, match=r"numpy\.median"):
        module([register("definition")(working_h)])
