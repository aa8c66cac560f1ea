"""The Calc add-in in the real program, headless: typed formulas, ranges, errors, files saved and loaded again, wizard texts."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import xlsxwriter

from xlfab import __version__
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.hosts import calc_package, naming, office_programs
from xlfab.trace.lambda_name import lambda_names

pytestmark = [
    pytest.mark.office,
    pytest.mark.skipif(office_programs.find("unopkg") is None, reason="LibreOffice is not installed"),
]
WRONG = -98765.4321  # stored as every result, so that nothing counts that was not recalculated
# ten formulas as an estimator types them: blank, die, bend, blade, axis, cycle, energy, cost, price, payback
TYPED = [
    ("FAB_BLANK_MASS_KG(1200,400,2,7850)", 7.536),
    ("FAB_AIR_BEND_FORCE_KN(2,410,1200,16)", 1.5 * 410 * 1200 * 4 / 16 / 1000),
    ("FAB_AIR_BEND_PENETRATION_MM(90,16,2,2.56)", FUNCTIONS["air_bend_penetration_mm"](90, 16, 2, 2.56)),
    ("FAB_PARALLEL_SHEAR_FORCE_KN(328,2,1200)", FUNCTIONS["parallel_shear_force_kn"](328, 2, 1200)),
    ("FAB_AXIS_MOVE_TIME_S(500,500,2500,25000)", 1.3),
    ("FAB_STANDARD_TIME_WORK_ALLOWANCE_S(100,0.15)", 115.0),
    ("FAB_ENERGY_KWH(7200)", 2.0),
    ("FAB_LABOUR_RATE_CUR_PER_H(20,0.4)", 28.0),
    (
        "FAB_NET_PRESENT_VALUE_NOW_CUR(0.08,Z1:Z5)",
        FUNCTIONS["net_present_value_now_cur"](0.08, [-40000, 5000, 8000, 12000, 30000]),
    ),
    ("FAB_SIMPLE_PAYBACK_YEARS(Z1:Z5)", 3.5),
]
ERRORS = [
    "FAB_AXIS_MOVE_TIME_S(500,0,2500,25000)",
    "FAB_AXIS_MOVE_TIME_S(-1,500,2500,25000)",
    'FAB_AXIS_MOVE_TIME_S("text",500,2500,25000)',
    "FAB_AXIS_MOVE_TIME_S(Y1,500,2500,25000)",
    "FAB_AXIS_MOVE_TIME_S(500,Y2,2500,25000)",
    "FAB_AXIS_MOVE_TIME_S(1/0,500,2500,25000)",
    "FAB_AXIS_MOVE_TIME_S(500,500,2500)",
    "FAB_INTERNAL_RATE_SHARE(Z2:Z5)",
    "FAB_NET_PRESENT_VALUE_NOW_CUR(0.08,Z1:Z6)",
    "FAB_ENERGY_KWH(Z1:Z2)+FAB_ENERGY_KWH(-1)",
]


@pytest.fixture(scope="module")
def user(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    addin = calc_package.build(tmp_path_factory.mktemp("addin") / "xlfab.oxt")
    with office_programs.profile(addin) as place:
        yield place


def written(path: Path, with_names: bool = False) -> Path:
    """A workbook with the typed formulas, the ones in error, and ranges; every stored result is a wrong number."""
    with xlsxwriter.Workbook(str(path)) as book:
        sheet = book.add_worksheet("Typed")
        shown = book.add_format({"num_format": "0.00000000000000E+00"})
        for name, definition in lambda_names(CATALOGUE) if with_names else ():
            book.define_name(name, "=" + definition)
        for row, text in enumerate([text for text, _ in TYPED] + ERRORS):
            sheet.write_dynamic_array_formula(row, 0, row, 0, "=" + text, shown, WRONG)
        for row, text in enumerate(ERRORS):
            sheet.write_formula(row, 1, f"=ISERROR({text})", shown, WRONG)
        sheet.write_column("Z1", [-40000, 5000, 8000, 12000, 30000])
        sheet.write_string("Y1", "text")
        sheet.write_array_formula("D1:E3", "{=FAB_AXIS_MOVE_TIME_S(Y3:Y5,Y7:Z7,2000,20000)}", shown, WRONG)
        sheet.write_column("Y3", [100, 0, 4000])
        sheet.write_row("Y7", [300, 600])
        sheet.write_array_formula("F1:F3", "{=FAB_AXIS_MOVE_TIME_S(500,Y3:Y5,2000,20000)}", shown, WRONG)
        sheet.write_formula("G1", "=SUM(FAB_AXIS_MOVE_TIME_S(500,Y3:Y5,2000,20000))", shown, WRONG)
        sheet.write_formula("G2", "=FAB_ABOUT()", None, "old")
    return path


def checked(path: Path) -> None:
    """Every cell of the recalculated workbook, read back as comma-separated values."""
    with path.open(encoding="utf-8", newline="") as stream:
        rows = list(csv.reader(stream))
    for row, (text, expected) in zip(rows, TYPED, strict=False):
        assert float(row[0]) == pytest.approx(expected, rel=1e-12), text
    for row, text in zip(rows[len(TYPED) :], ERRORS, strict=False):
        assert row[0].startswith(("#", "Err:")), text
    assert [float(row[1]) for row in rows[: len(ERRORS)]] == [1.0] * len(ERRORS), "ISERROR"
    move = FUNCTIONS["axis_move_time_s"]
    expected = move(np.array([[100.0], [0.0], [4000.0]]), np.array([[300.0, 600.0]]), 2000, 20000)
    np.testing.assert_allclose([[float(cell) for cell in row[3:5]] for row in rows[:3]], expected, rtol=1e-12)
    assert float(rows[0][5]) == pytest.approx(move(500, 100, 2000, 20000), rel=1e-12)
    assert rows[1][5].startswith("#"), "one bad cell spoils its own result"
    assert float(rows[2][5]) == pytest.approx(move(500, 4000, 2000, 20000), rel=1e-12)
    assert rows[0][6].startswith("#"), "a sum does not pass over an error"
    assert rows[1][6] == f"xlfab {__version__}"


def test_typed_formulas_ranges_and_errors(user: Path, tmp_path: Path) -> None:
    checked(office_programs.calc_csv(written(tmp_path / "typed.xlsx"), tmp_path, user))


@pytest.mark.parametrize("kind", ["ods", "xlsx"])
def test_a_file_saved_by_libreoffice_calculates_again(user: Path, tmp_path: Path, kind: str) -> None:
    folder = tmp_path / "saved"
    folder.mkdir()
    saved = office_programs.convert(written(tmp_path / "typed.xlsx"), kind, folder, user)
    checked(office_programs.calc_csv(saved, tmp_path, user))


def test_a_file_with_lambda_names_is_answered_by_the_add_in(user: Path, tmp_path: Path) -> None:
    checked(office_programs.calc_csv(written(tmp_path / "names.xlsx", with_names=True), tmp_path, user))


def test_without_the_add_in_the_calls_are_errors_and_not_old_numbers(tmp_path: Path) -> None:
    with office_programs.profile() as bare:
        found = office_programs.calc_csv(written(tmp_path / "typed.xlsx"), tmp_path, bare)
    with found.open(encoding="utf-8", newline="") as stream:
        assert [row[0] for row in csv.reader(stream)][: len(TYPED)] == ["#NAME?"] * len(TYPED)


def test_the_function_wizard_knows_every_function_and_argument(user: Path) -> None:
    """The texts as LibreOffice registered them, which is where its wizard reads them."""
    found = list(user.rglob("CalcAddIns.xcu"))
    assert len(found) == 1
    registered = (
        user / "user/uno_packages/cache/registry/com.sun.star.comp.deployment.configuration.PackageRegistryBackend"
    )
    assert re.search(r"DATA=.*CalcAddIns\.xcu", registered.joinpath("configmgr.ini").read_text(encoding="utf-8"))
    key = "{http://openoffice.org/2001/registry}name"
    nodes = {node.get(key): node for node in ElementTree.parse(found[0]).iter("node")}
    for one in CATALOGUE:
        node = nodes[naming.method_name(one.spec)]
        texts = {prop.get(key): prop.findtext("value") for prop in node.findall("prop")}
        assert texts["DisplayName"] == texts["CompatibilityName"] == one.spec.cell_name
        assert texts["Description"] == naming.description(one.spec)
        shown = [[prop.findtext("value") for prop in item.findall("prop")] for item in node.findall("node/node")]
        assert [tuple(pair) for pair in shown] == naming.argument_texts(one.spec)
