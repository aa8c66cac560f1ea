"""The quote workbook against Python: every formula, blank rows filled in by hand, a published build-up through the whole chain."""

from __future__ import annotations

import dataclasses
import subprocess
from pathlib import Path
from typing import Any

import ironcalc
import numpy as np
import openpyxl
import pytest
from office import convert, corrupt, differences, formulas, pages, recalculate, values
from openpyxl.utils import coordinate_to_tuple

from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.blank_quote import blank_quote, blank_scenario
from xlfab.quote.quote_file import empty, load_quote, packing_of
from xlfab.quote.quote_job import QuoteJob, quote_job
from xlfab.quote.quote_workbook import build_quote, plan_quote
from xlfab.tables.table import Ref
from xlfab.workbook.book import Book

office = pytest.mark.office
SPARE = {"parts": 6, "cuts": 12, "bends": 12, "work": 6, "bought": 6, "work_centres": 3, "materials": 2}


def demo(name: str = "demo_shop_us", **options: Any) -> QuoteJob:
    folder = bundled(name)
    scenario = load(folder)
    return quote_job(scenario, load_quote(folder, scenario), **options)


def with_extras(job_of: Any, folder: Path) -> QuoteJob:
    """The US demo shop with further work, bought-in pieces, packing and other terms."""
    scenario = load(bundled("demo_shop_us"))
    part = scenario.parts["part"]
    (folder / "quote.toml").write_text(
        "[quote]\nmargin_switch = 0\nmarkup_share = 0.3\nspread_switch = 0\nminimum_order_cur = 150\nprice_step_cur = 0.05\n"
        'brake_time_factor_ratio = 1.1\n[texts]\ncustomer = "=Invented & Sons"\n'
        '[[work_centre]]\nname = "Welding bench"\nmachine_price_cur = 9000\n[[work_centre]]\nname = "Drill"\n'
    )
    (folder / "work.csv").write_text(
        f"part,work_centre,setup_time_min,part_time_s\n{part[0]},Drill,10,45\n{part[0]},Welding bench,20,180\n{part[2]},Drill,10,30\n"
    )
    (folder / "bought_in.csv").write_text(
        f"part,item,bought_in_price_cur,pieces_per_part_count,outside_lot_charge_cur\n{part[0]},Nut,0.08,4,0\n{part[1]},Plating,1.1,1,90\n"
    )
    (folder / "packing.csv").write_text(
        f"part,package_price_cur,parts_per_package_count,tool_price_cur,tool_life_count\n{part[0]},6,40,500,5000\n"
    )
    return job_of(scenario, load_quote(folder, scenario))


@office
def test_every_formula_of_a_full_quote_recalculates(tmp_path: Path) -> None:
    options = {"against": load(bundled("demo_shop_us")).options[1].name, "spare": SPARE}
    job = with_extras(lambda scenario, quote: quote_job(scenario, quote, **options), tmp_path)
    path = tmp_path / "quote.xlsx"
    build_quote(job, path, breakdown=True)
    cells = formulas(path)
    assert len(cells) > 15000
    expected, found = values(path), values(recalculate(path, tmp_path / "out"))
    assert differences(expected, found, cells) == []
    assert not [cell for cell in cells if str(found.get(cell)).startswith("#")]
    assert found["Quote", "B6"] == "=Invented & Sons"


@office
@pytest.mark.parametrize(("currency", "units"), [("EUR", "metric"), ("CHF", "us")])
def test_a_blank_quote_is_empty_and_asks_for_what_only_the_user_knows(
    currency: str, units: str, tmp_path: Path
) -> None:
    job = quote_job(blank_scenario(currency, units), blank_quote(), spare=SPARE)
    path = tmp_path / "blank.xlsx"
    build_quote(job, path)
    found = values(recalculate(path, tmp_path / "out"))
    assert differences(values(path), found, formulas(path)) == []
    faulty = {cell[0] for cell in formulas(path) if str(found.get(cell)).startswith("#")}
    assert faulty <= {"Inputs", "Rates", "Checks"}, "error values only where a price or rating is missing"
    row_of = {
        value: int(cell[1:]) for (sheet, cell), value in found.items() if sheet == "Inner page" and cell[0] == "A"
    }
    for asked in ("Order: cost with overhead", "Order: price", "Order: margin (of the price)"):
        assert found["Inner page", f"C{row_of[asked]}"] == 0


def fill(file: Any, book: Book, ref: Ref, row: int, value: Any) -> None:
    """Type a value into the cell of a column, in the unit that the workbook shows."""
    place = book.grid.place(ref)
    scale = book.grid.shown(ref.table.columns[ref.column].unit)[1]
    cell = file[place.sheet].cell(place.row + row + 1, place.column + 1)
    assert not str(cell.value).startswith("="), "an input cell holds no formula"
    cell.value = value if isinstance(value, str) else value / scale


@office
def test_a_blank_quote_filled_in_by_hand_gives_the_python_quote(tmp_path: Path) -> None:
    """Machine figures and rows are typed into the blank workbook; LibreOffice then agrees with Python on every cell."""
    blank = blank_scenario("USD", "us", "screw servo-drive")
    known = load(bundled("demo_shop_us"))
    filled = filled_in(blank, known)
    job = quote_job(blank, blank_quote(), spare=SPARE)
    quote = dataclasses.replace(blank_quote(), packing=packing_of(filled.parts["part"].tolist(), empty(PACKING)))
    after = quote_job(filled, quote, spare={key: count - used(filled, key) for key, count in SPARE.items()})
    book = plan_quote(job)
    book.save(tmp_path / "blank.xlsx")
    file = openpyxl.load_workbook(tmp_path / "blank.xlsx")
    for mine, theirs in zip(job.tables(), after.tables(), strict=True):
        for name, column in mine.columns.items():
            if (id(mine), name) in book.grid.places and type(column.rule).__name__ == "Input":
                for row, value in enumerate(theirs.value(name)):
                    if isinstance(value, str) or np.isfinite(value):
                        fill(file, book, mine[name], row, value)
    file.save(tmp_path / "filled.xlsx")
    plan_quote(after).save(tmp_path / "expected.xlsx")
    found = values(convert(tmp_path / "filled.xlsx", tmp_path / "out"))
    cells = [cell for cell in formulas(tmp_path / "expected.xlsx") if cell[0] != "Tables"]
    assert differences(values(tmp_path / "expected.xlsx"), found, cells) == []
    assert after.overall_check.value("all_checks")[0] == "OK"
    assert after.totals.number("order_price_cur") > 0


PACKING = ("part", "package_price_cur", "parts_per_package_count", "tool_price_cur", "tool_life_count")


def used(scenario: Any, key: str) -> int:
    return len(getattr(scenario, key)["part"]) if key in ("parts", "cuts", "bends") else 0


def filled_in(blank: Any, known: Any) -> Any:
    """The blank scenario with the prices and ratings of the demo shop, and its first two parts."""
    parts = {key: column[:2] for key, column in known.parts.items()}
    names = {*parts["part"]}
    steps = {}
    for key in ("bends", "cuts"):
        table = getattr(known, key)
        rows = np.array([part in names for part in table["part"]])
        steps[key] = {name: column[rows] for name, column in table.items()}
    machines = {}
    for key in ("press_brakes", "shears"):
        old, new = getattr(blank, key)[0], getattr(known, key)[0]
        numbers = {name: value for name, value in new.model_dump().items() if isinstance(value, float)}
        machines[key] = [old.model_copy(update=numbers)]
    materials = {key: column.copy() for key, column in blank.materials.items()}
    for row, name in enumerate(known.materials["material"]):
        place = materials["material"].tolist().index(name)
        for key, column in known.materials.items():
            materials[key][place] = column[row]
    return dataclasses.replace(blank, parts=parts, **steps, **machines, materials=materials)


@pytest.mark.parametrize("flavour", ["plain", "names", "addin"])
def test_flavours_have_one_set_of_values(flavour: str, tmp_path: Path) -> None:
    job = demo(spare=SPARE)
    build_quote(job, tmp_path / "portable.xlsx")
    build_quote(job, tmp_path / "other.xlsx", flavour=flavour)
    assert values(tmp_path / "portable.xlsx") == values(tmp_path / "other.xlsx")


@office
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_customers_page_is_one_page_without_cost(paper: str, tmp_path: Path) -> None:
    job = demo(spare=SPARE)
    path = tmp_path / "quote.xlsx"
    build_quote(job, path, paper=paper)
    assert len(pages(path, tmp_path / "pages", resolution=30)) > 5
    pdf = tmp_path / "pages" / "quote.pdf"
    first, second = (text_of(pdf, number) for number in (1, 2))
    assert "Quote number" in first and str(job.stated.parts.value("part")[0]) in first
    assert "Inner page" in second and "Inner page" not in first
    assert "in the price" in first and "#" not in second
    everything = subprocess.run(
        ["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert not [mark for mark in ("###", "#NUM!", "#REF!", "#NAME?", "#VALUE!", "Err:") if mark in everything]
    assert not [
        word for word in ("cost", "overhead", "margin", "#") if word in first.lower().replace("costs nothing", "")
    ]


@pytest.mark.parametrize("flavour", ["names", "portable"])
def test_an_independent_engine_agrees(flavour: str, tmp_path: Path) -> None:
    """ironcalc evaluates LAMBDA names and LET, as Excel 365 does: every formula cell, from corrupted cached values."""
    path, spoiled = tmp_path / "built.xlsx", tmp_path / "spoiled.xlsx"
    build_quote(
        with_extras(lambda s, q: quote_job(s, q, against=s.options[1].name, spare=SPARE), tmp_path), path, flavour
    )
    corrupt(path, spoiled)
    engine = ironcalc.load_from_xlsx(str(spoiled))
    engine.evaluate()
    sheets = openpyxl.load_workbook(path, read_only=True).sheetnames
    cells = formulas(path)
    found = {}
    for sheet, cell in cells:
        value = engine.get_cell_value(sheets.index(sheet), *coordinate_to_tuple(cell))
        found[sheet, cell] = None if value == "" else value  # an empty text is stored as nothing
    assert differences(values(path), found, cells) == []


def text_of(pdf: Path, page: int) -> str:
    command = ["pdftotext", "-f", str(page), "-l", str(page), "-layout", str(pdf), "-"]
    return subprocess.run(command, capture_output=True, text=True, check=True).stdout


def test_breakdown_adds_up_to_the_price(tmp_path: Path) -> None:
    job = with_extras(quote_job, tmp_path)
    build_quote(job, tmp_path / "quote.xlsx", breakdown=True)
    sheet = openpyxl.load_workbook(tmp_path / "quote.xlsx", data_only=True)["Quote"]
    head = next(row for row in range(1, 200) if sheet.cell(row, 3).value == "Making and set-up share")
    for row in range(head + 2, head + 2 + len(job.stated.parts.value("part"))):
        lines = [sheet.cell(row, column).value for column in range(2, 7)]
        assert sum(lines[:-1]) == pytest.approx(lines[-1], rel=1e-12)


def test_prices_follow_the_published_build_up(tmp_path: Path) -> None:
    """Sharma, Exa 4.1 p. 206 (seen as a transcription): material 5500, wages 3000, factory overhead 100 % of wages,
    other overhead 15 %, profit 12 % on cost: total 13225, price 14812. Here: one part of 5500 material, one hour at 3000 with
    a burden of 100 %.
    """
    scenario = blank_scenario("INR")
    workplace = scenario.workplace.model_copy(
        update={"wage_cur_per_h": 3000.0, "burden_share": 1.0, "scrap_share": 0.0, "space_price_cur_per_m2": 0.0}
    )
    tariff = scenario.tariff.model_copy(update={"energy_price_cur_per_kwh": 0.0, "demand_price_cur_per_kw": 0.0})
    materials = {key: column[:1].copy() for key, column in scenario.materials.items()}
    density = materials["density_kg_per_m3"][0]
    materials["material_price_cur_per_kg"][0] = 5500 / (density * 1e-3)
    materials["offcut_price_cur_per_kg"][0] = 0.0
    one = {
        "part": "Casting", "description": "", "material": materials["material"][0], "thickness_mm": 10.0,
        "blank_length_mm": 1000.0, "blank_width_mm": 100.0, "lot_size_count": 1.0, "yearly_quantity_count": 1.0,
        "tool_stations_count": 1.0, "sheet_use_share": 1.0, "family": "Casting", "stored_program_switch": 1.0,
        "sheet_length_mm": 0.0, "sheet_width_mm": 0.0, "edge_trim_mm": 0.0, "strip_trim_mm": 0.0,
        "sheet_plan_switch": 0.0,
    }  # fmt: skip
    parts = {key: np.array([value], dtype=object if isinstance(value, str) else float) for key, value in one.items()}
    machines = {
        "shears": [scenario.shears[0].model_copy(update={"machine_price_cur": 0.0})],
        "press_brakes": [scenario.press_brakes[0].model_copy(update={"machine_price_cur": 0.0})],
    }
    scenario = dataclasses.replace(
        scenario, workplace=workplace, tariff=tariff, materials=materials, parts=parts, **machines
    )
    (tmp_path / "quote.toml").write_text(
        "[quote]\nmargin_switch = 0\nmarkup_share = 0.12\noverhead_share = 0.15\n"
        '[[work_centre]]\nname = "Bench"\nfloor_area_m2 = 0\nmean_power_kw = 0\n'
    )
    (tmp_path / "work.csv").write_text("part,work_centre,setup_time_min,part_time_s\nCasting,Bench,0,3600\n")
    job = quote_job(scenario, load_quote(tmp_path, scenario))
    assert job.prices.value("cost_0_cur")[0] == pytest.approx(13225, abs=0.5)
    assert job.prices.value("price_0_cur")[0] == pytest.approx(14812, abs=0.5)
    assert job.prices.value("overhead_0_cur")[0] == pytest.approx(1725, abs=0.5)


def test_set_up_is_spread_or_shown_and_never_both(tmp_path: Path) -> None:
    spread = demo()
    shown = demo_with(tmp_path, "[quote]\nspread_switch = 0\nprice_step_cur = 0.0001\n")
    lot = spread.stated.parts.value("lot_size_count")
    whole = spread.prices.value("cost_0_cur") * lot
    apart = shown.prices.value("cost_0_cur") * lot + shown.first.costs.value("shown_total_cur")
    np.testing.assert_allclose(apart, whole, rtol=1e-12)
    assert (spread.first.costs.value("setup_price_cur") == 0).all()
    assert (shown.first.costs.value("setup_price_cur") > 0).all()


def test_minimum_order_counts_the_set_up_shown(tmp_path: Path) -> None:
    job = demo_with(tmp_path, "[quote]\nspread_switch = 0\nminimum_order_cur = 400\nbreak_1_count = 1\n")
    order = job.prices.value("price_1_cur") + job.first.costs.value("setup_price_cur")
    assert (order >= 400 - 1e-6).all()
    above = job.prices.value("unit_1_price_cur") + job.first.costs.value("setup_price_cur") < 400
    assert (order[above] < 400.011).all()


def test_prices_fall_with_the_lot_when_set_up_is_spread() -> None:
    price = demo().prices
    columns = np.array([price.value(f"cost_{n}_cur") for n in range(1, 6)])
    assert (np.diff(columns, axis=0) < 0).all()


def test_both_routes_cost_the_same_at_the_lot_given() -> None:
    scenario = load(bundled("demo_shop_us"))
    dear = scenario.press_brakes[-1].model_copy(
        update={"machine_price_cur": 900000.0, "first_setup_min": 1.0, "further_station_min": 0.0, "try_out_min": 0.0}
    )
    scenario = dataclasses.replace(scenario, press_brakes=[*scenario.press_brakes[:-1], dear])
    other = next(item.name for item in scenario.options if item.press_brake == dear.name)
    routes = quote_job(scenario, load_quote(bundled("demo_shop_us"), scenario), against=other).routes
    assert routes is not None
    lot = routes.value("same_lot_count")
    crosses = lot > 0
    assert crosses.any()
    first = routes.value("run_cost_cur") + routes.value("lot_cost_cur") / np.where(crosses, lot, 1)
    second = routes.value("other_run_cost_cur") + routes.value("other_lot_cost_cur") / np.where(crosses, lot, 1)
    np.testing.assert_allclose(first[crosses], second[crosses], rtol=1e-12)


def demo_with(folder: Path, text: str) -> QuoteJob:
    (folder / "quote.toml").write_text(text)
    scenario = load(bundled("demo_shop_us"))
    return quote_job(scenario, load_quote(folder, scenario))


def test_maintenance_by_lines_charges_blades_by_the_stroke() -> None:
    """However few of a year's parts stand in the quote: a part pays for its own strokes."""
    scenario = load(bundled("demo_shop_us"))
    by_lines = [item.model_copy(update={"itemised_switch": 1.0}) for item in scenario.shears]
    quote = load_quote(bundled("demo_shop_us"), scenario)
    shear = quote_job(dataclasses.replace(scenario, shears=by_lines), quote).first.shear
    m, parts = shear.stated, shear.parts
    sharpened = m.number("blade_set_cur") + m.number("regrinds_count") * m.number("regrind_price_cur")
    strokes = m.number("edge_strokes_count") * (1 + m.number("regrinds_count"))
    np.testing.assert_allclose(parts.value("blade_cost_cur"), parts.value("strokes_count") * sharpened / strokes)
    assert (parts.value("blade_cost_cur") > 0).all()
    assert (demo().first.shear.parts.value("blade_cost_cur") == 0).all()
