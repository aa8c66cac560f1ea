"""Lists in the styles of real customers, read cell by cell; what is open is asked, what cannot be read is named."""

import csv
import io

import pytest
from customer_lists import CASES, Case

from xlfab.core.errors import ScenarioError
from xlfab.core.writing import csv_text
from xlfab.customer_list import gauges, list_mapping, propose, questions
from xlfab.customer_list.apply_mapping import apply
from xlfab.customer_list.cell_grid import read_sheets
from xlfab.customer_list.save_list import ShopAround, write

MATERIALS = ("S235JR", "S355JR", "DC01", "DC03")
FIELDS = (
    "part",
    "material",
    "thickness_mm",
    "blank_length_mm",
    "blank_width_mm",
    "lot_size_count",
    "yearly_quantity_count",
)


def read(case: Case, folder):
    path = folder / f"list{case.suffix}"
    case.make(path)
    sheets = read_sheets(path)
    proposed = propose.propose(sheets)
    asked = set()
    while todo := [item for item in open_questions(proposed, sheets) if item.place not in asked]:
        asked.add(todo[0].place)
        if todo[0].place in case.answers:
            questions.answer(proposed, todo[0], case.answers[todo[0].place])
    return sheets, proposed, asked


def open_questions(proposed, sheets):
    return questions.questions(proposed, sheets, MATERIALS, tuple(gauges.table()))


def shop(**given):
    return ShopAround(None, "EUR", "metric", "list", given.get("materials", MATERIALS))


def bends_of(steps) -> int:
    return sum(step["kind"] == "bend" for step in steps)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_every_cell_of_the_list(case, tmp_path):
    sheets, used, _ = read(case, tmp_path)
    left = open_questions(used, sheets)
    assert [question.place for question in left if question.needed] == []
    result = apply(sheets, used)
    assert len(result.parts) == len(case.rows)
    for part, steps, expected in zip(result.parts, result.steps, case.rows, strict=True):
        for name, value in zip(FIELDS, expected, strict=False):
            if isinstance(value, (int, float)):
                assert part[name] == pytest.approx(value, rel=1e-9, abs=0.006 if name == "blank_width_mm" else 1e-9), (
                    name
                )
            else:
                assert part[name] == value, name
        assert bends_of(steps) == (expected[7] or 0)
    found = [(note.cell, note.reason) for note in result.notes]
    for cell, reason in case.notes:
        assert any(place == cell and reason in text for place, text in found), (cell, reason, found)
    told = {cell for cell, _ in case.notes}
    assert {cell for cell, _ in found} <= told | {"heading", ""}, "a note that the case does not name"
    assert list(used.skipped) == case.skipped


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_questions_are_the_ones_that_are_open(case, tmp_path):
    _, _, asked = read(case, tmp_path)
    assert {place for place in asked if place[0] != "material"} == {
        place for place in case.answers if place[0] != "material"
    }


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_saved_mapping_reads_the_same(case, tmp_path):
    sheets, used, _ = read(case, tmp_path)
    list_mapping.save(used, tmp_path / "mapping.toml")
    again = list_mapping.load(tmp_path / "mapping.toml")
    assert again == used
    assert apply(sheets, again) == apply(sheets, used)


def test_what_is_written_can_be_read_as_a_scenario(tmp_path):
    from xlfab.inputs.faults import Faults
    from xlfab.inputs.scenario import _read_tables, _Tables

    sheets, used, _ = read(CASES[0], tmp_path)
    write(apply(sheets, used), used, tmp_path / "shop", shop())
    faults = Faults()
    parts, bends, cuts = _read_tables(_Tables(tmp_path / "shop", faults), MATERIALS)
    faults.raise_if_any()
    assert parts["part"].tolist() == ["A-1", "A-2"]
    assert parts["blank_width_mm"].tolist() == [120.5, 80]
    assert cuts["cut_length_mm"].tolist() == [1500, 300, 1500, 410]  # strips across the sheet, pieces of a strip
    assert bends["die_opening_mm"].tolist() == [16, 16]


def test_customer_text_is_harmless_in_what_is_written(tmp_path):
    (tmp_path / "list.csv").write_text(
        'part,description,material,thickness mm,length mm,width mm,qty\nA,"=HYPERLINK(""x"")",+steel,2,3,4,5\n'
    )
    sheets = read_sheets(tmp_path / "list.csv")
    used = propose.propose(sheets)
    open_questions(used, sheets)
    saved = write(apply(sheets, used), used, tmp_path / "shop", shop())
    assert saved.whole == 0 and saved.waiting == ["A"]
    row = list(csv.reader(io.StringIO((tmp_path / "shop" / "open_parts.csv").read_text())))[1]
    assert row[:4] == ["A", '\'=HYPERLINK("x")', "'+steel", "2"]
    assert "'+steel" in (tmp_path / "shop" / "notes.csv").read_text()


def test_a_mapping_for_another_list_is_refused(tmp_path):
    sheets, used, _ = read(CASES[0], tmp_path)
    sheets[0].rows[0][3] = "Length (in)"
    with pytest.raises(ScenarioError, match=r"cell D1: the heading is 'Length \(in\)'"):
        apply(sheets, used)


def test_an_answer_that_is_no_choice_is_refused(tmp_path):
    case = CASES[3]
    path = tmp_path / "list.xlsx"
    case.make(path)
    sheets = read_sheets(path)
    proposed = propose.propose(sheets)
    question = next(item for item in open_questions(proposed, sheets) if item.place[0] == "unit")
    with pytest.raises(ScenarioError, match="none of mm, cm"):
        questions.answer(proposed, question, "miles")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("x = [", "TOML"),
        ("sheets = []", "names no sheet"),
        ("colour = 1", "colour"),
        ('[[sheets]]\nsheet = "a"', "is missing"),
        ("[assume]\nsheet_use_share = 8", "sheet_use_share"),
        ("[assume]\ntool_stations_count = -1", "tool_stations_count"),
    ],
)
def test_faults_of_a_mapping_are_named(tmp_path, text, fault):
    (tmp_path / "mapping.toml").write_text(text)
    with pytest.raises(ScenarioError, match=fault):
        list_mapping.load(tmp_path / "mapping.toml")


def test_steel_gauges_follow_the_mass_of_their_sheet():
    """Steel: 41.82 lb a square foot and inch (seen, offroaders.com); ounces a square foot by gauge number from memory."""
    ounces = {
        3: 160,
        4: 150,
        6: 130,
        8: 110,
        10: 90,
        12: 70,
        14: 50,
        16: 40,
        18: 32,
        20: 24,
        22: 20,
        24: 16,
        26: 12,
        28: 10,
        30: 8,
    }
    for number, ounce in ounces.items():
        assert gauges.thickness_mm(number, "sheet steel") == pytest.approx(ounce / 16 / 41.82 * 25.4, abs=0.0015)


def test_aluminium_gauges_follow_the_wire_gauge():
    """American wire gauge 0.005 in x 92^((36 - n)/39) (seen in encyclopaedia articles after ASTM B258), printed to 4 places."""
    for number in gauges.table()["aluminium"]:
        inches = gauges.thickness_mm(number, "aluminium") / 25.4
        assert inches == pytest.approx(0.005 * 92 ** ((36 - number) / 39), abs=5.1e-5)


@pytest.mark.parametrize(
    ("number", "kind", "inches"),
    [
        # anchors seen: forum and reference pages on sheet gauges (offroaders.com, htfbw.com, and a gauge chart page)
        (10, "sheet steel", 0.1345), (20, "sheet steel", 0.0359), (18, "sheet steel", 0.0478), (4, "sheet steel", 0.2242),
        (10, "galvanised steel", 0.1382), (21, "galvanised steel", 0.0366), (30, "galvanised steel", 0.0157),
        (30, "stainless steel", 0.0125), (3, "aluminium", 0.2294), (30, "aluminium", 0.0100),
    ],
)  # fmt: skip
def test_gauge_anchors(number, kind, inches):
    assert gauges.thickness_mm(number, kind) == pytest.approx(inches * 25.4, abs=1e-9)


def test_csv_text_round_trip_of_numbers():
    assert csv_text(["a"], [[1234.5]]) == "a\n1234.5\n"
