"""From a list of twelve plain parts to a priced page in two commands, with no file written by hand."""

import shutil
import subprocess

import pytest
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.customer_list import list_mapping, propose
from xlfab.customer_list.apply_mapping import apply
from xlfab.customer_list.cell_grid import read_sheets
from xlfab.customer_list.questions import questions
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job

TWELVE = """Part no,Description,Material,Thickness (mm),Length (mm),Width (mm),Qty,Bends
B-01,bracket,S235JR,2,200,120,50,1x90
B-02,bracket wide,S235JR,3,320,180,50,1x90
B-03,channel,S235JR,2,1000,190,20,2x90
B-04,hat,1.0330,1.5,600,160,40,4x90
B-05,cover,DC01,1,500,400,100,2x90 L + 2x90 W
B-06,plate,S235JR,5,300,300,10,0
B-07,shelf,X5CrNi18-10,1.5,800,350,25,2x90
B-08,tray,1.4301,1,450,300,60,2L+2W
B-09,z profile,S235JR,2,750,130,30,1x90 up 1x90 down
B-10,gusset,S355JR,5,180,180,16,none
B-11,flange,EN AW-5754 H111,3,260,140,80,1x90
B-12,guard,DC01,1.5,900,420,12,2x90
"""
NAMES = [f"B-{number:02}" for number in range(1, 13)]


def run(*arguments):
    result = CliRunner().invoke(app, [str(item) for item in arguments])
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    folder = tmp_path_factory.mktemp("twelve")
    (folder / "list.csv").write_text(TWELVE)
    out = run("import", folder / "list.csv", "--to", folder / "shop", "--accept")
    assert "12 parts" in out and "Next: xlfab quote" in out
    return folder / "shop"


def test_every_part_of_the_list_has_a_price_that_falls_with_the_lot(shop):
    scenario = load(shop)
    job = quote_job(scenario, load_quote(shop, scenario))
    assert list(job.stated.parts.value("part")) == NAMES
    one, many = job.prices.value("price_1_cur"), job.prices.value("price_5_cur")
    assert (many > 0).all() and (one > many).all()


def test_bends_have_turns_and_gauge_moves_and_no_program_is_stored(shop):
    scenario = load(shop)
    assert set(scenario.parts["stored_program_switch"]) == {0.0}
    bends = {name: scenario.bends["part"] == name for name in NAMES}
    turns = {name: scenario.bends["turn_over_switch"][rows].tolist() for name, rows in bends.items()}
    lengths = {name: scenario.bends["bend_length_mm"][rows].tolist() for name, rows in bends.items()}
    assert turns["B-03"] == [0, 1] and turns["B-09"] == [0, 1]  # the second bend is gauged from the other edge
    assert lengths["B-05"] == [500, 500, 400, 400] and turns["B-05"] == [0, 1, 1, 1]
    # four bends spaced evenly over 160 mm: the gauge stands at 32 and 64 mm from either edge
    assert scenario.bends["gauge_x_mm"][bends["B-04"]].tolist() == [32, 32, 32, 32]
    assert turns["B-04"] == [0, 0, 1, 0]


def test_cuts_are_strips_of_the_sheet_and_pieces_of_a_strip(shop):
    scenario = load(shop)
    rows = scenario.cuts["part"] == "B-01"
    # 1500 - 2 x 10 mm of sheet width hold 12 pieces of 120 mm: one strip cut serves twelve blanks
    assert scenario.cuts["cut_length_mm"][rows].tolist() == [1500, 200]
    assert scenario.cuts["per_part_count"][rows] == pytest.approx([1 / 12, 1])


def test_a_saved_mapping_meets_another_list(tmp_path):
    (tmp_path / "list.csv").write_text(TWELVE)
    sheets = read_sheets(tmp_path / "list.csv")
    used = propose.propose(sheets)
    questions(used, sheets, ("S235JR",))
    list_mapping.save(used, tmp_path / "mapping.toml")
    (tmp_path / "list.csv").write_text(
        TWELVE.replace("B-12,guard,DC01,1.5,900,420,12,2x90", "B-12,guard,DC01,1.5,900,420,12,2x135")
    )
    result = apply(read_sheets(tmp_path / "list.csv"), list_mapping.load(tmp_path / "mapping.toml"))
    assert any("135 degrees are read as" in note.reason and note.cell == "H13" for note in result.notes)


@pytest.mark.office
def test_the_second_command_prints_the_page(shop, tmp_path):
    out = run("quote", shop, "-o", tmp_path / "quote.pdf")
    assert "a placeholder" in out and "PDF:" in out
    assert sorted(item.name for item in tmp_path.iterdir()) == ["quote.pdf"]
    if shutil.which("pdftotext"):
        text = subprocess.run(
            ["pdftotext", "-layout", tmp_path / "quote.pdf", "-"], capture_output=True, text=True, check=True
        ).stdout
        assert all(name in text for name in NAMES) and "Name of your shop" in text
