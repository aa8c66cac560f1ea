"""An estimator at the keyboard: formulas typed into Calc with the add-in, the function wizard's texts, the printed sheet."""

from __future__ import annotations

import json
import shutil
import socket
import subprocess
from pathlib import Path
from typing import Any

import pytest
from office import values

from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.hosts import calc_package, naming, office_programs

SESSION = Path(__file__).with_name("calc_session.py")
PYTHON = "/usr/bin/python3"  # Debian's own, for which LibreOffice's `uno` is installed


def _has_uno() -> bool:
    return Path(PYTHON).exists() and subprocess.run([PYTHON, "-c", "import uno"], capture_output=True).returncode == 0


pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(
        office_programs.find("unopkg") is None or not _has_uno(), reason="LibreOffice or its `uno` is missing"
    ),
]
FLOWS = [-40000, 5000, 8000, 12000, 30000]
# what a person would type: words, figures in cells, and a formula on them; with the value or a word for what must come
ROWS: list[tuple[str, list[Any], str, Any]] = [
    ("Blank, kg", [1200, 400, 2, 7850], "FAB_BLANK_MASS_KG(B{0};C{0};D{0};E{0})", 7.536),
    ("Bend force, kN", [2, 410, 1200, 16], "FAB_AIR_BEND_FORCE_KN(B{0};C{0};D{0};E{0})", 1.5 * 410 * 1.2 * 4 / 16),
    ("Shear force, kN", [328, 2, 1200], "FAB_PARALLEL_SHEAR_FORCE_KN(B{0};C{0};D{0})", 328 * 2 * 1.2),
    ("Gauge way, s", [500, 500, 2500, 25000], "FAB_AXIS_MOVE_TIME_S(B{0};C{0};D{0};E{0})", 1.3),
    ("Standard time, s", [100, 0.15], "fab_standard_time_work_allowance_s(B{0};C{0})", 115.0),
    ("Electricity, kWh", [3600, 3600], "FAB_ENERGY_KWH(SUM(B{0}:C{0}))", 2.0),
    ("Money today", [0.08, *FLOWS], "FAB_NET_PRESENT_VALUE_NOW_CUR(B{0};C{0}:G{0})", 3065.2226681795),
    ("Payback, years", FLOWS, "FAB_SIMPLE_PAYBACK_YEARS(B{0}:F{0})", 3.5),
    ("Median reading, s", [12, 10, 11, 15, 13], "FAB_PERCENTILE_TIME_S(B{0}:F{0};50%)", 12.0),
    ("Lot of 10, min", [15, 96, 10], "ROUND(FAB_LOT_TIME_MIN(B{0};C{0};D{0};0);1)", 31.0),
    ("Thickness not filled in", [None, 410, 1200, 16], "FAB_AIR_BEND_FORCE_KN(B{0};C{0};D{0};E{0})", "error"),
    ("Blank among the flows", [-100, None, 120], "FAB_SIMPLE_PAYBACK_YEARS(B{0}:D{0})", "error"),
    ("Speed of 0", [500, 0, 2500, 25000], "FAB_AXIS_MOVE_TIME_S(B{0};C{0};D{0};E{0})", "error"),
    ("Error handed on", [500, "=1/0", 2500, 25000], "FAB_AXIS_MOVE_TIME_S(B{0};C{0};D{0};E{0})", "error"),
    ("Words for a number", [500, "fast", 2500, 25000], "FAB_AXIS_MOVE_TIME_S(B{0};C{0};D{0};E{0})", "error"),
    ("An argument too few", [500, 500], "FAB_AXIS_MOVE_TIME_S(B{0};C{0})", "error"),
]
RESULT = "I"  # the column of the formulas
SPREAD = "K2:K4"  # one formula over a column of figures


def _cells() -> list[tuple[str, str]]:
    """Everything typed: headings, each row's words and figures, its formula."""
    cells = [
        ("A1", "What"),
        ("B1", "Figures"),
        (f"{RESULT}1", "Result"),
        ("J1", "Formula"),
        ("K1", "Gauge way of B3:B5, s"),
    ]
    for row, (words, figures, formula, _) in enumerate(ROWS, 2):
        cells.append((f"A{row}", words))
        typed = [(f"{chr(66 + place)}{row}", str(one)) for place, one in enumerate(figures) if one is not None]
        cells += [*typed, (f"{RESULT}{row}", "=" + formula.format(row)), (f"J{row}", f"=FORMULA({RESULT}{row})")]
    return [*cells, (SPREAD, "=FAB_AXIS_MOVE_TIME_S(B3:B5;500;2500;25000)")]


def _held(task: dict[str, Any], user: Path) -> Any:
    """One session with a LibreOffice of its own, which ends with it."""
    command = [office_programs.needed("soffice"), f"-env:UserInstallation={user.as_uri()}", "--headless", "--norestore"]
    accept = f"--accept=socket,host=localhost,port={task['port']};urp"
    with subprocess.Popen([*command, accept], **office_programs.as_owner(user)) as running:
        try:
            asked = [PYTHON, str(SESSION)]
            environment = office_programs.as_owner()["env"]
            done = subprocess.run(
                asked, input=json.dumps(task), env=environment, capture_output=True, text=True, timeout=300
            )
            assert done.returncode == 0, done.stderr
            running.wait(60)
        finally:
            running.terminate()
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def session(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """What the cells and the wizard showed, and the files that were saved."""
    folder = tmp_path_factory.mktemp("typed")
    with socket.create_server(("localhost", 0)) as free:
        port = free.getsockname()[1]
    with office_programs.profile(calc_package.build(folder / calc_package.FILE_NAME)) as user:
        files = {"typed.ods": "calc8", "typed.xlsx": "Calc MS Excel 2007 XML", "typed.pdf": "calc_pdf_Export"}
        task = {
            "port": port,
            "cells": _cells(),
            "files": [((user / name).as_uri(), kind) for name, kind in files.items()],
        }
        answer = _held(task, user)
        for name in files:
            shutil.copy(user / name, folder)
    return answer, folder


def test_typed_formulas_show_what_they_must(session: Any) -> None:
    cells = session[0]["cells"]
    for row, (words, _, _, expected) in enumerate(ROWS, 2):
        cell = cells[f"{RESULT}{row}"]
        if expected == "error":
            assert cell["error"] and cell["shown"].startswith(("#", "Err:")), words
        else:
            assert not cell["error"] and cell["value"] == pytest.approx(expected, rel=1e-12), words
    assert [cells[f"K{row}"]["value"] for row in (2, 3, 4)] == pytest.approx(
        FUNCTIONS["axis_move_time_s"]([2, 328, 500], 500, 2500, 25000), rel=1e-12
    )


def test_the_wizard_shows_every_function_with_its_arguments(session: Any) -> None:
    shown = session[0]["wizard"]
    assert set(shown) == {one.spec.cell_name for one in CATALOGUE} | {naming.ABOUT}
    for one in CATALOGUE:
        assert shown[one.spec.cell_name]["text"] == naming.description(one.spec)
        assert [tuple(pair) for pair in shown[one.spec.cell_name]["arguments"]] == naming.argument_texts(one.spec)


def test_what_was_typed_is_saved_in_both_formats_and_printed(session: Any) -> None:
    cells, folder = session[0]["cells"], session[1]
    saved = values(folder / "typed.xlsx")
    for row, (words, _, _, expected) in enumerate(ROWS, 2):
        if expected != "error":
            assert saved["Sheet1", f"{RESULT}{row}"] == pytest.approx(expected, rel=1e-12), words
    with office_programs.profile(calc_package.build(folder / "again.oxt")) as user:
        again = values(office_programs.convert(folder / "typed.ods", "xlsx", folder, user))
    assert again == saved
    printed = subprocess.run(["pdftotext", "-layout", folder / "typed.pdf", "-"], capture_output=True, text=True).stdout
    assert "3065.22" in printed and cells["I2"]["shown"] in printed
