"""The audit: sixty faults seeded into a used quote, every one found at its cell; two hundred honest edits, no false alarm."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from office import convert
from openpyxl.comments import Comment

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.used_workbook.audit import audit
from xlfab.used_workbook.findings import Finding
from xlfab.used_workbook.formulas import from_where_they_differ, parsed
from xlfab.used_workbook.open_used import cell_name
from xlfab.workbook import build_record

SPARE = {"parts": 6, "cuts": 12, "bends": 12, "work": 6, "bought": 6, "work_centres": 3, "materials": 2}


@dataclass
class Built:
    path: Path
    known: dict[str, Any]

    def columns(self, test: Callable[[dict[str, Any]], bool]) -> list[dict[str, Any]]:
        return [item for item in self.known["columns"] if test(item)]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    scenario = load(bundled("demo_shop_us"))
    book = plan_quote(quote_job(scenario, load_quote(bundled("demo_shop_us"), scenario), spare=SPARE))
    path = tmp_path_factory.mktemp("audit") / "quote.xlsx"
    book.save(path)
    return Built(path, build_record.collect(book))


def test_a_workbook_as_built_has_no_finding(built: Built) -> None:
    report = audit(built.path)
    assert report.findings == []
    assert report.formulas > 10000 and report.inputs > 1000


@pytest.mark.office
@pytest.mark.parametrize("flavour", ["portable", "names"])
def test_saved_by_another_program_it_still_has_none(flavour: str, tmp_path: Path) -> None:
    """LibreOffice writes formulas anew (quotes, digits, prefixes): none of that is a change."""
    scenario = load(bundled("demo_shop_us"))
    job = quote_job(scenario, load_quote(bundled("demo_shop_us"), scenario), spare=SPARE)
    plan_quote(job, flavour).save(tmp_path / "quote.xlsx")
    saved = convert(tmp_path / "quote.xlsx", tmp_path / "out")
    assert audit(saved).findings == []


def test_the_comparison_workbook_can_be_audited_too(tmp_path: Path) -> None:
    book = plan_comparison(compare(load(bundled("demo_shop_us"))))
    book.save(tmp_path / "comparison.xlsx")
    wage = next(item for item in build_record.collect(book)["columns"] if item["column"] == "stated_wage_cur_per_h")
    file = openpyxl.load_workbook(tmp_path / "comparison.xlsx")
    cell = file[wage["sheet"]].cell(wage["row"] + 1, wage["at"] + 1)
    cell.value = -5
    file.save(tmp_path / "edited.xlsx")
    assert audit(tmp_path / "comparison.xlsx").findings == []
    found = audit(tmp_path / "edited.xlsx").findings
    assert [(item.kind, item.cell) for item in found] == [("input", cell.coordinate)]


Seeded = tuple[str, str, str]  # kind, sheet, cell


def seed(built: Built, file: Any) -> list[Seeded]:
    """Sixty faults, no two next to each other."""
    rng = np.random.default_rng(20)
    calculated = built.columns(lambda item: "formula" in item and item["table"] != "flat_sizes")
    picked = [calculated[number] for number in rng.choice(len(calculated), 38, replace=False)]
    seeded: list[Seeded] = []
    for number, item in enumerate(picked):
        row = item["row"] + int(rng.integers(item["used"] or 1))
        cell = file[item["sheet"]].cell(row + 1, item["at"] + 1)
        kind = _spoil(cell, number)
        seeded.append((kind, item["sheet"], cell.coordinate))
    for number, shown in enumerate(built.known["cells"][3:7]):
        sheet = shown["sheet"]
        cell = file[sheet].cell(shown["row"] + 1, shown["at"] + 1)
        cell.value = [12.5, None, "typed", "=1+1"][number]
        seeded.append(("changed formula" if number == 3 else "overwritten", sheet, cell.coordinate))
    seeded += _spoil_inputs(built, file)
    for sheet, row in (("Part costs", 9), ("Step times", 12), ("Inner page", 14), ("Bends", 20)):
        file[sheet].row_dimensions[row].hidden = True
        seeded.append(("hidden", sheet, f"A{row}"))
    file["Part costs"].column_dimensions["D"].hidden = True
    seeded.append(("hidden", "Part costs", "D1"))
    file["Checks"].sheet_state = "hidden"
    seeded.append(("hidden", "Checks", ""))
    del file.defined_names["Margin"]
    seeded.append(("broken range", "", "Margin"))
    return seeded


def _spoil(cell: Any, number: int) -> str:
    """One of several ways to spoil a formula."""
    formula = getattr(cell.value, "text", cell.value)
    assert formula.startswith("=")
    if number < 14:
        cell.value = 1.2345 * (number + 1)
        return "overwritten"
    if number < 18:
        cell.value = None
        return "overwritten"
    if number < 20:
        cell.value = "as agreed"
        return "overwritten"
    if number < 32:
        cell.value = ["=({})*1.05", "=({})+0.01", "=IF(1=1,{},0)"][number % 3].format(formula[1:])
        return "changed formula"
    moved = re.sub(r"\$([A-Z]+)(\$?)([0-9]+)", lambda one: f"${one[1]}{one[2]}{int(one[3]) + 1}", formula, count=1)
    cell.value = "=#REF!+1" if number < 35 or moved == formula else moved
    return "broken range"


def _spoil_inputs(built: Built, file: Any) -> list[Seeded]:
    """Twelve inputs: below and above the range, text, empty, unknown names, names twice, an error value, a row without a name."""
    place = {(item["table"], item["column"]): item for item in built.known["columns"]}
    seeded: list[Seeded] = []
    for table, column, row, value in (
        ("parts", "thickness_mm", 1, -0.1), ("parts", "blank_length_mm", 3, 0), ("parts", "lot_size_count", 5, "ten"),
        ("parts", "sheet_use_share", 2, 1.5), ("parts", "material", 4, "Unobtainium"), ("bends", "die_opening_mm", 2, None),
        ("bends", "part", 7, "No such part"), ("cuts", "per_part_count", 4, "#N/A"), ("terms", "margin_share", 0, 1.0),
        ("workplace", "wage_cur_per_h", 0, 0), ("press_brake_1", "overlap_switch", 0, 0.5), ("press_brake_1", "guard_mode", 0, "none at all"),
        ("parts", "thickness_mm", 16, 0.1),
    ):  # fmt: skip
        item = place[table, column]
        cell = file[item["sheet"]].cell(item["row"] + row + 1, item["at"] + 1)
        cell.value = value
        seeded.append(("input", item["sheet"], cell.coordinate))
    name = place["parts", "part"]
    twice = file[name["sheet"]].cell(name["row"] + 14, name["at"] + 1)
    twice.value = file[name["sheet"]].cell(name["row"] + 1, name["at"] + 1).value
    seeded.append(("input", name["sheet"], twice.coordinate))
    return seeded


def covers(found: Finding, seeded: Seeded) -> bool:
    kind, sheet, cell = seeded
    if (found.kind, found.sheet) != (kind, sheet):
        return False
    first, _, last = found.cell.partition(":")
    if not last:
        return first == cell
    top, bottom = (openpyxl.utils.cell.coordinate_from_string(one) for one in (first, last))
    column, row = openpyxl.utils.cell.coordinate_from_string(cell)
    return column == top[0] and top[1] <= row <= bottom[1]


def test_sixty_seeded_faults_are_all_found_and_nothing_else(built: Built, tmp_path: Path) -> None:
    file = openpyxl.load_workbook(built.path)
    seeded = seed(built, file)
    assert len(seeded) >= 60
    file.save(tmp_path / "spoiled.xlsx")
    found = audit(tmp_path / "spoiled.xlsx").findings
    assert [item for item in seeded if not any(covers(one, item) for one in found)] == []
    part = "Parts"  # bends and cuts of the part whose name was typed over name nobody now
    extra = [one for one in found if not any(covers(one, item) for item in seeded)]
    extra = [
        one for one in extra if one.cell not in ("E1", "F1", "G1")
    ]  # openpyxl hides neighbours of one width together
    assert all(
        one.kind == "input" and one.sheet in ("Bends", "Cuts", part) and "none of the list" in one.text for one in extra
    )


def test_an_older_version_and_a_changed_record_are_named(built: Built, tmp_path: Path) -> None:
    file = openpyxl.load_workbook(built.path)
    sheet = file[build_record.SHEET]
    text = "".join(str(row[0].value) for row in sheet.iter_rows(min_row=3) if row[0].value is not None)
    older = json.dumps({**json.loads(text), "version": "0.0.1"}, separators=(",", ":"))
    for number, start in enumerate(range(0, len(older), 30000)):
        sheet.cell(3 + number, 1).value = older[start : start + 30000]
        sheet.cell(3 + number, 1).data_type = "s"  # a piece may begin with an equals sign
    file.save(tmp_path / "changed.xlsx")
    assert [item.cell for item in audit(tmp_path / "changed.xlsx").findings] == ["A2", "A1"]
    sheet["A2"] = build_record.checksum(older)
    file.save(tmp_path / "older.xlsx")
    assert [item.cell for item in audit(tmp_path / "older.xlsx").findings] == ["A1"]


def test_rows_put_in_above_a_list_are_one_fault_and_not_hundreds(built: Built, tmp_path: Path) -> None:
    """openpyxl moves cells without changing formulas: as when a program loses track of its references."""
    file = openpyxl.load_workbook(built.path)
    file["Bends"].insert_rows(3, 2)
    file.save(tmp_path / "moved.xlsx")
    found = audit(tmp_path / "moved.xlsx").findings
    moved = [item for item in found if item.kind == "moved"]
    assert [(item.sheet, item.text) for item in moved] == [("Bends", "2 rows were put in above this row")]
    assert not [item for item in found if item.kind in ("overwritten", "changed formula", "input")]


def test_a_missing_sheet_is_named(built: Built, tmp_path: Path) -> None:
    file = openpyxl.load_workbook(built.path)
    file["Part costs"].title = "Part costs (old)"
    file.save(tmp_path / "renamed.xlsx")
    found = audit(tmp_path / "renamed.xlsx").findings
    assert [(item.kind, item.sheet) for item in found] == [("moved", "Part costs")]
    assert "renamed to 'Part costs (old)'" in found[0].text


def test_two_hundred_honest_edits_raise_no_alarm(built: Built, tmp_path: Path) -> None:
    file = openpyxl.load_workbook(built.path)
    edits = honest_edits(built, file)
    assert edits >= 200
    file.save(tmp_path / "honest.xlsx")
    assert audit(tmp_path / "honest.xlsx").findings == []


def honest_edits(built: Built, file: Any) -> int:
    """What users do: other figures within range, other choices, new rows, texts, their own formulas, sheets, notes and widths."""
    rng = np.random.default_rng(11)
    edits = 0
    numbers = built.columns(lambda item: "range" in item and item["used"] > 0 and not item["text"])
    while edits < 150:
        item = numbers[int(rng.integers(len(numbers)))]
        cell = file[item["sheet"]].cell(item["row"] + 1 + int(rng.integers(item["used"])), item["at"] + 1)
        low, high, low_open, high_open, kind = item["range"]
        least, most = item.get("usual", (low, high))
        value = cell.value * (1 + 0.2 * (rng.random() - 0.5)) if isinstance(cell.value, (int, float)) else 1.0
        value = float(round(value * item["scale"])) if kind in ("whole", "switch") else value * item["scale"]
        inside = (low < value if low_open else low <= value) and (value < high if high_open else value <= high)
        if inside and least <= value <= most and (kind != "switch" or value in (0, 1)):
            cell.value = value / item["scale"]
            edits += 1
    place = {(item["table"], item["column"]): item for item in built.known["columns"]}
    edits += _new_part(place, file, "New-1") + _new_part(place, file, "NEW 2")
    for row, key in enumerate(("customer", "reference", "quote_number", "delivery"), 1):
        item = place["texts", key]
        file[item["sheet"]].cell(item["row"] + 1, item["at"] + 1).value = f"Text {row}"
        edits += 1
    length = place["parts", "blank_length_mm"]
    for row in range(5):
        file[length["sheet"]].cell(length["row"] + 1 + row, length["at"] + 1).value = "=2*6.25"
        edits += 1
    own = file.create_sheet("My notes")
    for row in range(1, 11):
        own.cell(row, 1).value = f"=Quote!A{row}"
        edits += 1
    for number, sheet in enumerate(file.worksheets[:10]):
        sheet.column_dimensions["B"].width = 20 + number
        sheet["A1"].comment = Comment("seen", "estimator")
        sheet.row_dimensions[2].height = 30
        edits += 3
    return edits


def _new_part(place: dict[tuple[str, str], dict[str, Any]], file: Any, name: str) -> int:
    """A further part with a cut and a bend, in the first free rows."""
    edits = 0
    for table, values in (
        ("parts", {"part": name, "material": None, "thickness_mm": 0.1, "blank_length_mm": 10, "blank_width_mm": 5, "lot_size_count": 20, "family": name}),
        ("cuts", {"part": name.lower(), "step_count": 1, "cut_length_mm": 10}),
        ("bends", {"part": name, "step_count": 2, "bend_length_mm": 10, "die_opening_mm": 1}),
    ):  # fmt: skip
        key = place[table, "part"]
        sheet = file[key["sheet"]]
        row = next(
            row
            for row in range(key["row"] + 1, key["row"] + key["count"] + 1)
            if not sheet.cell(row, key["at"] + 1).value
        )
        for column, value in values.items():
            item = place[table, column]
            above = sheet.cell(key["row"] + 1, item["at"] + 1).value
            sheet.cell(row, item["at"] + 1).value = above if value is None else value
            edits += 1
    return edits


def test_a_file_that_xlfab_did_not_build_is_refused(tmp_path: Path) -> None:
    openpyxl.Workbook().save(tmp_path / "other.xlsx")
    with pytest.raises(ScenarioError, match="no record of how it was built"):
        audit(tmp_path / "other.xlsx")


def test_formulas_are_the_same_however_programs_write_them() -> None:
    def same(one: str, other: str) -> bool:
        return (parsed(one).words, parsed(one).areas) == (parsed(other).words, parsed(other).areas)

    assert same(
        "=_xlfn.LET(_xlpm.term_1,'Shop'!$C$4*0.30479999999999996, _xlpm.term_1)",
        "=LET(term_1,Shop!C4*0.3048,TERM_1)",
    )
    assert same("=SUM($B$6:$B$6)", "=SUM($B$6)") and not same("=SUM(A1:A9)", "=SUM(A1:A8)")
    assert not same('=IF(A1="$a b","",1)', '=IF(A1="ab","",1)')
    assert same("=[1]!FAB_ENERGY_KWH(B6)", "=FAB_ENERGY_KWH(B6)")
    assert same("='C:\\Add-ins\\xlfab.xlam'!FAB_ENERGY_KWH(B6)", "=FAB_ENERGY_KWH(B6)")
    assert not same("=[1]Shop!B6", "=Shop!B6")
    assert cell_name(0, 27) == "AB1"


def test_two_formulas_are_shown_from_where_they_differ() -> None:
    long = "IF((A1>0)*(A2>0)*(A3>0)*(A4>0)*(A5>0)*(A6>0)*(A7>0),B1*{}+C1,#NUM!)"
    now, then = from_where_they_differ("=" + long.format("1.05"), "=" + long.format("1.15"), 30)
    assert now == "... ),B1*1.05+C1,#NUM!)" and then == "... ),B1*1.15+C1,#NUM!)"
