"""`xlfab actuals`: accepted factors reach the quote, its workbook and what is read back; the workbook has chart and figures."""

from __future__ import annotations

import shutil
import zipfile
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import XlfabError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job


def run(*arguments: Any) -> Any:
    return CliRunner().invoke(app, [str(item) for item in arguments])


@pytest.fixture
def lots(tmp_path: Path) -> Path:
    """Nine lots: bending a quarter slower, set-up a fifth quicker, shearing as estimated, welding slower."""
    lines = ["lot,operation,estimated_min,actual_min"]
    for number, noise in enumerate(np.linspace(0.95, 1.05, 9)):
        for operation, ratio in (("Bending", 1.25), ("set_up", 0.8), ("shear", 1.0), ("Welding bench", 1.5)):
            lines.append(f"L{number},{operation},20,{20 * ratio * noise:.4f}")
    path = tmp_path / "lots.csv"
    path.write_text("\n".join(lines) + "\n")
    return path


def quoted(folder: Path) -> Any:
    scenario = load(folder)
    return quote_job(scenario, load_quote(folder, scenario))


def test_accepted_factors_go_all_the_way(lots: Path, tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    shutil.copytree(bundled("demo_shop_us"), shop)
    (shop / "quote.toml").write_text(
        "# kept\n[quote]\nbrake_time_factor_ratio = 1.1  # from last year\nmargin_share = 0.2\n"
    )
    before_text = (shop / "quote.toml").read_text()
    result = run("actuals", lots, shop, "--accept", tmp_path / "taken")
    assert result.exit_code == 0, result.output
    assert "1.1 before, 1.375 now" in result.output and "Welding bench: a quote has no factor" in result.output
    assert (shop / "quote.toml").read_text() == before_text
    assert "# kept" in (tmp_path / "taken" / "quote.toml").read_text()
    before, after = quoted(shop), quoted(tmp_path / "taken")
    for kind, key, ratio in (
        ("brake", "quoted_time_s", 1.25),
        ("brake", "quoted_setup_min", 0.8),
        ("shear", "quoted_time_s", 1.0),
    ):
        one, other = (getattr(job.first, kind).parts.value(key) for job in (before, after))
        np.testing.assert_allclose(other, one * ratio, rtol=1e-12)
    factor = next(item for item in after.quote.assumptions if item.key == "brake_time_factor_ratio")
    assert factor.basis == "measured" and "9 lots in lots.csv" in factor.source
    assert factor.low < 1.375 < factor.high
    path = tmp_path / "quote.xlsx"
    assert run("quote", tmp_path / "taken", "-o", path).exit_code == 0
    assert run("read", path, "--to", tmp_path / "back").exit_code == 0
    scenario = load(tmp_path / "back")
    again = load_quote(tmp_path / "back", scenario)
    assert again.terms.brake_time_factor_ratio == pytest.approx(1.375, rel=1e-12)
    assert factor in again.assumptions


def test_only_what_is_named_is_taken_over(lots: Path, tmp_path: Path) -> None:
    assert run("actuals", lots, "demo_shop_us", "--accept", tmp_path / "one", "--only", "Set-up").exit_code == 0
    terms = load_quote(tmp_path / "one", load(tmp_path / "one")).terms
    assert (terms.setup_time_factor_ratio, terms.brake_time_factor_ratio) == (0.8, 1.0)


@pytest.mark.parametrize(
    ("options", "fault"),
    [
        (["--accept", "new"], "belong together"),
        (["demo_shop_us"], "belong together"),
        (["demo_shop_us", "--accept", "new", "--only", "shear"], "no factor to take over; there is one for: press brake, set-up"),
        (["demo_shop_us", "--accept", "taken"], "is there already"),
        (["nowhere", "--accept", "new"], "nowhere"),
    ],
)  # fmt: skip
def test_refusals(options: list[str], fault: str, lots: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "taken").mkdir()
    result = run("actuals", lots, *options)
    assert isinstance(result.exception, XlfabError) and fault in str(result.exception)
    assert not (tmp_path / "new").exists()


def test_the_workbook_has_the_figures_the_lots_and_a_chart(lots: Path, tmp_path: Path) -> None:
    path = tmp_path / "actuals.xlsx"
    assert run("actuals", lots, "-o", path).exit_code == 0
    book = openpyxl.load_workbook(path)
    lines = {row[0]: row for row in list(book["Bias"].iter_rows(values_only=True))[::-1]}
    assert lines["press brake"][1] == 9 and lines["press brake"][6] == pytest.approx(1.25)
    assert lines["shear"][10] == "none" and book["Lots"].max_row == 36 + 6  # title, lead, way back, heading, units
    with zipfile.ZipFile(path) as archive:
        chart = archive.read("xl/charts/chart1.xml").decode()
    assert "errBars" in chart and chart.count("<c:ser>") == 4
