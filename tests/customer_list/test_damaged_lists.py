"""A short run of the damaged lists, and the ones that were found, each refused or read."""

import pytest
from fuzz_lists import fuzz, run
from list_corpus.case import one

from xlfab.core.errors import ScenarioError
from xlfab.customer_list.cell_grid import read_sheets


def test_no_damaged_list_or_mapping_ends_in_a_traceback():
    counts, faults = fuzz(25, seed=7)
    assert faults == []
    assert counts["text read"] > 0 and counts["text refused"] > 0 and counts["mapping refused"] > 0


FOUND = {
    "legs in a hundred columns": "part;material;t mm;length mm;"
    + "Leg A;" * 100
    + "qty\nA;DC01;2;100;"
    + "5;" * 100
    + "7\n",
    "lot sizes in a hundred columns": "part;material;t mm;length mm;width mm;"
    + "Qty 1;" * 100
    + "x\nA;DC01;2;100;50;"
    + "5;" * 100
    + "\n",
    "a quantity of 400 digits": "part;material;t mm;length mm;width mm;qty\nA;DC01;2;100;50;" + "9" * 400 + "\n",
    "a heading of brackets": "(" * 3000 + ";part;material;t mm;length mm;width mm;qty\n;A;DC01;2;100;50;7\n",
    "a cell of spaces and crosses": "part;material;t mm;size mm;qty\nA;DC01;2;" + "1 x " * 49 + ";7\n",
}


@pytest.mark.parametrize("name", FOUND)
def test_a_found_one_is_read_or_refused(name, tmp_path):
    import random

    (tmp_path / "list.csv").write_text(FOUND[name])
    assert run(tmp_path / "list.csv", random.Random(1)) in ("read", "refused")


def test_a_workbook_with_a_style_that_is_not_there_is_refused(tmp_path):
    import zipfile

    rows = [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5]]
    one("", rows, "", {"formats": {2: "0.000"}}).make(tmp_path / "sound.xlsx")
    with zipfile.ZipFile(tmp_path / "sound.xlsx") as old, zipfile.ZipFile(tmp_path / "list.xlsx", "w") as new:
        for item in old.namelist():
            data = old.read(item)
            new.writestr(
                item,
                data.replace(b'numFmtId="164" formatCode="0.000"', b'numFmtId="0" formatCode="0.00"')
                if item == "xl/styles.xml"
                else data,
            )
    with pytest.raises(ScenarioError, match="cannot be read"):
        read_sheets(tmp_path / "list.xlsx")
