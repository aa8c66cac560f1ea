"""Six options at once - keep what is there, and five candidates - in the workbook, on the page and in the terminal."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import openpyxl
import pytest
from office import convert, differences, formulas, installed, recalculate, values

from xlfab.comparison.compare import Comparison, compare
from xlfab.comparison.comparison_workbook import build_comparison
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

BRAKE = """
[[press_brake]]
name = "{name}"
drive = "{drive}"
rated_force_kn = 1000
working_length_mm = 3100
machine_price_cur = {price}
salvage_cur = 9000

[[option]]
name = "{name} bought"
shear = "{shear}"
press_brake = "{name}"
buy = [{bought}]
delivery_cur = 4000
training_cur = 1500
trade_in_cur = 20000
"""
SHEAR = """
[[shear]]
name = "Electric shear"
drive = "screw servo-drive"
shear_capacity_mm = 8
blade_length_mm = 3100
machine_price_cur = 71000
"""
CANDIDATES = (
    ("Hydraulic new", "hydraulic", 92000, "Shear"),
    ("Variable pump", "hydraulic servo-drive", 101000, "Shear"),
    ("Belt and spring", "belt-spring servo-drive", 116000, "Shear"),
    ("Both electric", "screw servo-drive", 112000, "Electric shear"),
)


@pytest.fixture(scope="module")
def shop(tmp_path_factory) -> Path:
    """A bundled shop with two options, and four further ones."""
    folder = tmp_path_factory.mktemp("six") / "shop"
    shutil.copytree(bundled("small_lot_shop"), folder)
    more = [SHEAR]
    for name, drive, price, shear in CANDIDATES:
        bought = ", ".join(f'"{one}"' for one in (name, shear) if one != "Shear")
        more.append(BRAKE.format(name=name, drive=drive, price=price, shear=shear, bought=bought))
    with (folder / "scenario.toml").open("a", encoding="utf-8") as file:
        file.write("\n".join(more))
    return folder


@pytest.fixture(scope="module")
def built(shop) -> tuple[Comparison, Path]:
    path = shop.parent / "six.xlsx"
    return build_comparison(load(shop), path), path


def test_each_candidate_is_judged_against_the_first(built):
    made, path = built
    assert len(made.job.options) == 6 and len(made.verdicts) == 5
    summary = openpyxl.load_workbook(path, data_only=True)["Summary"]
    texts = [str(cell.value) for row in summary.iter_rows() for cell in row]
    starts = ("Pays", "Does not pay", "No winner", "Cannot", "Does not fit", "No difference")
    assert sum(text.startswith(starts) for text in texts) == 5
    assert any("against \u201cKeep\u201d" in text for text in texts)
    for number, one in enumerate(made.job.options[1:], 2):
        assert one.purchase.number("outlay_cur") == one.outlay.number("outlay_cur")
        assert made.risk.options[number].worths.size == made.risk.draws


def test_an_option_alone_with_the_first_is_judged_the_same(built, shop):
    """What further candidates stand beside it changes nothing of a candidate."""
    made, _ = built
    scenario = load(shop)
    for place in (1, 5):
        pair = compare(type(scenario)(**{**vars(scenario), "options": [scenario.options[0], scenario.options[place]]}))
        for column in ("net_present_value_cur", "flows_sum_cur"):
            assert pair.job.options[1].measures.number(column) == pytest.approx(
                made.job.options[place].measures.number(column), rel=1e-12
            )


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
def test_six_options_recalculate(built, tmp_path):
    _, path = built
    cells = formulas(path)
    assert differences(values(path), values(recalculate(path, tmp_path)), cells) == []


@pytest.mark.office
@pytest.mark.skipif(not installed("soffice"), reason="LibreOffice is not installed")
def test_the_page_of_six_is_one_page(built, tmp_path):
    _, path = built
    printed = convert(path, tmp_path, "pdf")
    first = ["pdftotext", "-l", "1", "-layout", str(printed), "-"]
    text = subprocess.run(first, capture_output=True, text=True, check=True).stdout
    assert "#" not in text and "What decides it" in text
    assert "Electricity rests on judgement" in " ".join(text.split())
