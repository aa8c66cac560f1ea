"""The comparison workbook against Python: every formula cell, from corrupted cached values, in LibreOffice and in Gnumeric."""

from __future__ import annotations

import dataclasses
import re
import subprocess
from pathlib import Path
from typing import Any

import ironcalc
import numpy as np
import openpyxl
import pytest
from office import corrupt, differences, formulas, installed, pages, recalculate, values
from openpyxl.utils import coordinate_to_tuple

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import build_comparison, plan_comparison
from xlfab.core.errors import FormulaError
from xlfab.inputs.bundled import bundled, bundled_names
from xlfab.inputs.scenario import load
from xlfab.tables.table import Ref
from xlfab.trace import spreadsheet
from xlfab.workbook.grid import cached

office = pytest.mark.office


def _built(name: str, folder: Path, **options: Any) -> Path:
    path = folder / f"{name}.xlsx"
    build_comparison(load(bundled(name)), path, **options)
    return path


# what the first page says of each candidate of each shop, in order
ANSWERS = {
    "demo_shop": ("Does not pay: at 9,000 EUR a year", "Does not pay within the study of 10 years:"),
    "demo_shop_us": ("No winner:",),
    "small_lot_shop": ("No winner:",),
    "two_shift_shop": ("Pays:",),
}


def _seen_errors(path: Path, found: dict[tuple[str, str], Any]) -> list[tuple[str, str]]:
    """Cells with an error value that a reader sees: all but those whose own rule draws it white, as where there is no payback."""
    unseen = {
        (sheet.title, cell)
        for sheet in openpyxl.load_workbook(path)
        for where, rules in sheet.conditional_formatting._cf_rules.items()
        if any(rule.type == "containsErrors" and rule.dxf.font.color.rgb == "FFFFFFFF" for rule in rules)
        for cell in str(where.sqref).split()
    }
    assert unseen and not {cell for cell in unseen if cell[0] in ("Summary", "Desk")}
    return [cell for cell, value in found.items() if str(value).startswith("#") and cell not in unseen]


@office
@pytest.mark.parametrize("name", bundled_names())
def test_every_formula_recalculates_to_the_python_value(name: str, tmp_path: Path) -> None:
    path = _built(name, tmp_path)
    cells = formulas(path)
    assert len(cells) > 5000
    expected, found = values(path), values(recalculate(path, tmp_path / "out"))
    assert differences(expected, found, cells) == []
    assert _seen_errors(path, expected) == []
    said = [text for (sheet, _), text in found.items() if sheet == "Summary" and str(text).startswith(ANSWERS[name])]
    assert len(said) == len(ANSWERS[name]) == len(load(bundled(name)).options) - 1
    assert all(text.startswith(start) for text, start in zip(said, ANSWERS[name], strict=True))


@office
def test_a_wrong_value_would_be_reported(tmp_path: Path) -> None:
    """The control: without recalculation the corrupted values are all reported, so the check above can fail."""
    path = _built("demo_shop_us", tmp_path)
    spoiled = tmp_path / "spoiled.xlsx"
    count = corrupt(path, spoiled)
    cells = formulas(path)
    assert count == len(cells)
    assert len(differences(values(path), values(spoiled), cells)) == len(cells)


# one changed input in each area: record and key, or list, row and key -> factor on the value
RECORDS = [
    ("workplace", None, "wage_cur_per_h", 1.3),
    ("workplace", None, "burden_share", 0.8),
    ("workplace", None, "allowance_share", 1.5),
    ("workplace", None, "scrap_share", 2.0),
    ("workplace", None, "load_base_s", 1.4),
    ("tariff", None, "energy_price_cur_per_kwh", 1.7),
    ("tariff", None, "demand_price_cur_per_kw", 0.5),
    ("tariff", None, "summer_peak_price_cur_per_kwh", 1.2),
    ("tariff", None, "peak_hours_share", 0.9),
    ("tariff", None, "ratchet_share", 0.8),
    ("tariff", None, "quiet_months_count", 1.5),
    ("tariff", None, "busy_stretch_min", 0.3),
    ("tariff", None, "tax_share", 2.0),
    ("purchase", None, "discount_rate_share", 0.5),
    ("purchase", None, "released_value_share", 0.9),
    ("press_brakes", 0, "approach_speed_mm_s", 0.8),
    ("press_brakes", -1, "opening_mm", 1.25),
    ("press_brakes", -1, "gauge_x_speed_mm_s", 0.6),
    ("press_brakes", 0, "ready_power_kw", 1.2),
    ("press_brakes", -1, "machine_price_cur", 0.7),
    ("shears", 0, "rake_deg", 1.2),
    ("shears", -1, "cutting_speed_mm_s", 0.9),
    ("options", -1, "training_cur", 2.0),
]
LISTS = [
    ("materials", 0, "tensile_strength_mpa", 1.1),
    ("parts", 3, "lot_size_count", 2.0),
    ("parts", 5, "yearly_quantity_count", 3.0),
    ("bends", 4, "die_opening_mm", 1.25),
    ("cuts", 2, "cut_length_mm", 0.9),
]


def _changed(scenario: Any) -> Any:
    """The scenario with the changes in its records and in the list of what is stated, which the desk takes."""
    changes: dict[str, Any] = {}
    factors: dict[tuple[str, str, str], float] = {}
    for section, index, key, by in RECORDS:
        held = changes.get(section, getattr(scenario, section))
        old = held if index is None else held[index]
        new = old.model_copy(update={key: getattr(old, key) * by})
        factors[section if index is None else section.removesuffix("s"), getattr(old, "name", ""), key] = by
        if index is None:
            changes[section] = new
        else:
            changes[section] = list(held)
            changes[section][index] = new
    for section, row, key, by in LISTS:
        columns = dict(changes.get(section, getattr(scenario, section)))
        columns[key] = columns[key].copy()
        columns[key][row] *= by
        changes[section] = columns
    stated = []
    for item in scenario.assumptions:
        by = factors.pop((item.section, item.record, item.key), 1.0)
        stated.append(dataclasses.replace(item, value=item.value * by, low=item.low * by, high=item.high * by))
    assert not factors
    return dataclasses.replace(scenario, assumptions=stated, **changes)


def _table(job: Any, section: str, index: int | None) -> Any:
    if index is None:
        return {"workplace": job.workplace, "tariff": job.tariff, "purchase": job.money.terms}[section]
    return {"press_brakes": job.brakes, "shears": job.shears, "options": job.options}[section][index].stated


# tables of what was drawn or tried out when the workbook was built
BUILT = ("risk_", "bins_", "assumptions", "spread_", "features_")


def _rests_on_the_build(item: Ref, known: dict[Ref, bool]) -> bool:
    if item not in known:
        needs = item.rule.needs()
        known[item] = item.table.name.startswith(BUILT) or any(_rests_on_the_build(need, known) for need in needs)
    return known[item]


def _needs(item: Ref) -> list[tuple[str, str]]:
    return [(need.table.name, need.column) for need in item.rule.needs()]


def _differing_results(book: Any, after: Any, found: dict[tuple[str, str], Any]) -> list[str]:
    """Calculated columns of the built tables whose recalculated cells differ from the estimate of the changed scenario."""
    tables = {id(table): table for table in book.grid._kept}
    changed = {table.name: table for table in after.grid._kept}
    known: dict[Ref, bool] = {}
    wrong, seen = [], 0
    for (key, name), place in book.grid.places.items():
        table = tables[key]
        if (
            place.sheet == "Desk"  # the rows of a changed scenario may be others
            or table.columns[name].unit is None
            or table.columns[name].rule.stated
            or _rests_on_the_build(table[name], known)
            # which causes have a line of their own is chosen when a workbook is built
            or (name == "rest_cur_per_year" and _needs(table[name]) != _needs(changed[table.name][name]))
        ):
            continue
        scale = book.grid.shown(table.columns[name].unit)[1]
        for row, value in enumerate(np.asarray(changed[table.name].value(name)).reshape(-1)):
            cell = (place.sheet, f"{openpyxl.utils.get_column_letter(place.column + 1)}{place.row + row + 1}")
            wrong += differences({cell: cached(value, scale)}, found, [cell])
            seen += 1
    assert seen > 5000
    return wrong


@office
@pytest.mark.parametrize("name", bundled_names())
def test_changed_inputs_carry_through_to_payback(name: str, tmp_path: Path) -> None:
    """Inputs in every area are typed over in the file; LibreOffice then agrees with Python on the changed scenario."""
    scenario = load(bundled(name))
    made = compare(scenario)
    book = plan_comparison(made)
    path, edited = tmp_path / "built.xlsx", tmp_path / "edited.xlsx"
    book.save(path)
    after = compare(_changed(scenario))
    # the uncertainty is computed when a workbook is built; it is an input cell and is typed over as well
    cells: list[tuple[Ref, int, float]] = [
        (old[key], 0, new.number(key))
        for key, befores, afters in (
            ("energy_doubt_cur", made.weights, after.weights),
            ("weak_doubt_cur", made.weights, after.weights),
        )
        for old, new in zip(befores, afters, strict=True)
    ]
    for section, index, key, _ in RECORDS:
        cells.append((_table(made.job, section, index)[key], 0, _table(after.job, section, index).number(key)))
    lists = {"materials": "materials", "parts": "part_list", "bends": "bends", "cuts": "cuts"}
    for section, row, key, _ in LISTS:
        value = getattr(after.job, lists[section]).value(key)[row]
        cells.append((getattr(made.job, lists[section])[key], row, value))
    file = openpyxl.load_workbook(path)
    for ref, row, value in cells:
        place = book.grid.place(ref)
        scale = book.grid.shown(ref.table.columns[ref.column].unit)[1]
        cell = file[place.sheet].cell(place.row + row + 1, place.column + 1)
        # stated on the Desk, before the columns of the two other cases and the one in use
        if str(cell.value).startswith("=Desk!"):
            in_use = file["Desk"][re.match(r"=Desk!\$([A-Z]+)\$(\d+)", cell.value).expand(r"\1\2")]
            cell = file["Desk"].cell(in_use.row, in_use.column - 3)
        assert isinstance(cell.value, (int, float)), "an input cell holds a number and not a formula"
        cell.value = value / scale
    file.save(edited)
    found = values(recalculate(edited, tmp_path / "out"))
    assert _differing_results(book, plan_comparison(after), found) == []
    payback = book.grid.place(made.job.options[-1].measures["flows_sum_cur"])
    before = values(path)[payback.sheet, openpyxl.utils.get_column_letter(payback.column + 1) + str(payback.row + 1)]
    now = found[payback.sheet, openpyxl.utils.get_column_letter(payback.column + 1) + str(payback.row + 1)]
    assert before != now


@office
def test_plain_flavour_in_gnumeric(tmp_path: Path) -> None:
    """The flavour without LET gives the same values in a spreadsheet that has no LET."""
    if not installed("ssconvert"):
        pytest.fail("Gnumeric is missing; tests/run installs it")
    path = _built("demo_shop_us", tmp_path, flavour="plain")
    spoiled, out = tmp_path / "spoiled.xlsx", tmp_path / "out.xlsx"
    corrupt(path, spoiled)
    subprocess.run(["ssconvert", "--recalc", str(spoiled), str(out)], check=True, capture_output=True, timeout=300)
    assert differences(values(path), values(out), formulas(path)) == []


@pytest.mark.parametrize("flavour", ["names", "portable"])
def test_an_independent_engine_agrees(flavour: str, tmp_path: Path) -> None:
    """ironcalc evaluates LAMBDA names and LET, as Excel 365 does: every formula cell, from corrupted cached values."""
    path, spoiled = tmp_path / "built.xlsx", tmp_path / "spoiled.xlsx"
    build_comparison(load(bundled("demo_shop_us")), path, flavour=flavour)
    corrupt(path, spoiled)
    engine = ironcalc.load_from_xlsx(str(spoiled))
    engine.evaluate()
    sheets = openpyxl.load_workbook(path, read_only=True).sheetnames
    cells = formulas(path)
    found = {
        (sheet, cell): engine.get_cell_value(sheets.index(sheet), *coordinate_to_tuple(cell)) for sheet, cell in cells
    }
    assert differences(values(path), found, cells) == []


def test_flavours_have_one_layout_and_one_set_of_values(tmp_path: Path) -> None:
    read = {}
    for flavour in ("portable", "plain", "names", "addin"):
        path = tmp_path / f"{flavour}.xlsx"
        build_comparison(load(bundled("demo_shop_us")), path, flavour=flavour)
        read[flavour] = values(path)
    assert read["portable"] == read["plain"] == read["names"] == read["addin"]


@pytest.mark.parametrize("flavour", ["portable", "plain"])
def test_a_formula_too_long_for_a_cell_is_refused_by_name(
    flavour: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Formulas stay well under what a cell takes; beyond it nothing is written and the function is named."""
    path = _built("demo_shop_us", tmp_path, flavour=flavour)
    assert max(map(len, formulas(path).values())) < 0.95 * spreadsheet.LIMIT
    monkeypatch.setattr(spreadsheet, "LIMIT", 800)
    with pytest.raises(FormulaError, match=r"^[a-z_0-9.]+: the formula would pass 800 characters"):
        build_comparison(load(bundled("demo_shop_us")), tmp_path / "refused.xlsx", flavour=flavour)
    assert not (tmp_path / "refused.xlsx").exists()


@office
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_summary_is_one_page_without_error_values(paper: str, tmp_path: Path) -> None:
    path = _built("demo_shop", tmp_path, paper=paper)
    assert len(pages(path, tmp_path / "pages", resolution=30)) > 5
    text = subprocess.run(
        ["pdftotext", "-l", "1", "-layout", str(tmp_path / "pages" / "demo_shop.pdf"), "-"],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert "#" not in text
    assert "Estimates" in text.replace("These are estimates", "Estimates") and "What decides it" in text


def _with_identical_machines(scenario: Any) -> Any:
    """Every option uses machines with the same figures and buys nothing."""
    brake, shear = scenario.press_brakes[0], scenario.shears[0]
    one_for_all = {"press_brake": brake, "shear": shear}
    assumptions = []
    for item in scenario.assumptions:
        if item.section in one_for_all:
            value = getattr(one_for_all[item.section], item.key)
            item = dataclasses.replace(item, value=value, low=value, high=value)
        if item.section == "option":
            item = dataclasses.replace(item, value=0.0, low=0.0, high=0.0)
        assumptions.append(item)
    return dataclasses.replace(
        scenario,
        assumptions=assumptions,
        press_brakes=[brake.model_copy(update={"name": one.name}) for one in scenario.press_brakes],
        shears=[shear.model_copy(update={"name": one.name}) for one in scenario.shears],
        options=[
            one.model_copy(
                update={"buy": [], "trade_in_cur": 0.0, "delivery_cur": 0.0, "training_cur": 0.0, "grant_cur": 0.0}
            )
            for one in scenario.options
        ],
    )


@pytest.mark.parametrize("name", bundled_names())
def test_identical_machines_differ_by_exactly_nothing(name: str) -> None:
    made = compare(_with_identical_machines(load(bundled(name))))
    for option in made.job.options:
        for column in option.difference.columns:
            assert option.difference.number(column) == 0.0, column
        assert option.purchase.number("yearly_saving_cur") == 0.0
    assert all(table.value("verdict")[0].startswith("No difference: ") for table in made.verdicts)


def test_twice_the_quantity_doubles_run_time_and_set_up_follows_the_lots() -> None:
    scenario = load(bundled("demo_shop"))
    doubled = dict(scenario.parts)
    doubled["yearly_quantity_count"] = scenario.parts["yearly_quantity_count"] * 2
    before, after = compare(scenario).job, compare(dataclasses.replace(scenario, parts=doubled)).job
    for one, two in zip(before.machines, after.machines, strict=True):
        np.testing.assert_allclose(two.parts.value("run_h_per_year"), 2 * one.parts.value("run_h_per_year"), rtol=1e-12)
        lots = [job.part_data.value("lots_per_year_count") for job in (before, after)]
        ratio = np.divide(
            two.parts.value("setup_h_per_year"),
            one.parts.value("setup_h_per_year"),
            where=one.parts.value("setup_h_per_year") > 0,
            out=lots[1] / lots[0],
        )
        np.testing.assert_allclose(ratio, lots[1] / lots[0], rtol=1e-12)


def test_electricity_of_the_parts_is_that_of_the_machines() -> None:
    """The balance closes: sum of parts = sum of causes = sum of machines."""
    for name in bundled_names():
        for option in compare(load(bundled(name))).job.options:
            year = option.year
            causes = sum(year.number(f"{what}_energy_kwh") for what in ("waiting", "ready", "work", "lift"))
            assert year.number("all_part_energy_kwh") == pytest.approx(year.number("energy_kwh"), rel=1e-9)
            assert causes == pytest.approx(year.number("energy_kwh"), rel=1e-9)
