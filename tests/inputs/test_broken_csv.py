"""Broken parts.csv and steps.csv files: each is refused with the file, line and column, the value and what is allowed."""

from __future__ import annotations

import pytest

P, S = "parts.csv", "steps.csv"
FIRST = 'P-1,"Bracket, plain",S235JR,3,180,145,100,3000,1,0.92'
STEP = "P-1,3,bend,180,90,24,0,0,0,0,1"
CUT = "P-1,1,cut,1500,,,35,,,,0.1"


def cells(row: str, **changed: str) -> str:
    """A row with some of its cells changed, by their place from the left, counted from 1."""
    parts = row.replace("Bracket, plain", "Bracket plain").split(",")
    for place, text in changed.items():
        parts[int(place[1:]) - 1] = text
    return ",".join(parts)


# file, what is put in place of what, and the words that the message must hold
BROKEN = [
    # headers
    (P, "thickness_mm", "thickness", ["line 1", "'thickness'", "unit is missing", "thickness_mm or thickness_in"]),
    (P, "thickness_mm", "thicknes_mm", ["line 1", "'thicknes_mm'", "nearest known column: thickness_mm"]),
    (P, "thickness_mm", "thickness_kg", ["line 1", "'thickness_kg'", "another kind"]),
    (P, "thickness_mm", "material", ["line 1", "'material'", "another column"]),
    (P, "thickness_mm", "blank_length_in", ["line 1", "'blank_length_mm'", "another column"]),
    (P, "thickness_mm", "", ["line 1", "''", "nearest known column", "part"][:2]),
    (P, ",sheet_use_share\n", "\n", ["line 2", "10 cells", "header has 9"]),
    (S, "length_mm", "length", ["line 1", "'length'", "length_mm or length_in"]),
    (S, "part,step", "parts,step", ["line 1", "'parts'", "nearest known column: part"]),
    (S, "bend_angle_deg", "bend_angle_mm", ["line 1", "'bend_angle_mm'", "bend_angle_deg"]),
    # the file as a whole
    (P, "", "", [P, "is empty", "thickness_mm"]),
    (S, "", "\n\n", [S, "is empty", "bend_angle_deg"]),
    (P, "", "part,description,material\nA,B,S235JR", ["line 1", "thickness_mm", "is missing"]),
    (P, "", FIRST.replace(",", "|"), ["line 1", "commas or semicolons"]),
    (P, "", "part\tdescription\tmaterial\nA\tB\tC", ["line 1", "one column", "commas or semicolons"]),
    (P, "", FIRST, ["line 1", "'P-1'", "known column"]),
    (P, "", b"PK\x03\x04\x14\x00\x06\x00", [P, "line 1", "zero byte"]),
    (P, "", b"\xff\xfep\x00a\x00", [P, "UTF-16"]),
    (P, "Bracket", b"B\xfcgel", [P, "line 2", "0xfc", "UTF-8"]),
    (P, "P-2,Cover", 'P-2,"Cover', [P, "line 3", "CSV"]),
    (P, '"Bracket, plain"', '"Bracket" plain', [P, "line 2", "CSV"]),
    (P, '"Bracket, plain"', "Bracket, plain", [P, "line 2", "11 cells", "header has 10"]),
    (P, "P-3,Plain blank", "P-3", [P, "line 4", "9 cells", "header has 10"]),
    # names
    (P, "P-2", "p-1", ["line 3, column part", "'p-1'", "twice", "line 2"]),
    (P, "P-2", "=P2", ["line 3, column part", "'=P2'", "letters, digits"]),
    (P, "P-2", "", ["line 3, column part", "''", "letters, digits"]),
    (P, "own alloy", "own aloy", ["line 3, column material", "'own aloy'", "nearest known material: Own alloy"]),
    (P, "own alloy", "", ["line 3, column material", "''", "known material: S235JR"]),
    (S, STEP, cells(STEP, c1="P-9"), ["line 4, column part", "'P-9'", "nearest known part: P-"]),
    (S, STEP, cells(STEP, c3="fold"), ["line 4, column kind", "'fold'", "allowed: cut, bend"]),
    (S, STEP, cells(STEP, c2="2"), ["line 4, column step", "'2'", "twice in part 'P-1'"]),
    (S, STEP, cells(STEP, c2="0"), ["line 4, column step", "'0'", "whole number from 1"]),
    (S, STEP, cells(STEP, c2="2.5"), ["line 4, column step", "'2.5'", "whole number from 1"]),
    (S, STEP, cells(STEP, c2="third"), ["line 4, column step", "'third'", "whole number from 1"]),
    # numbers
    (P, FIRST, cells(FIRST, c4="thick"), ["line 2, column thickness_mm", "'thick'", "not a number", "<= 100 mm"]),
    (P, FIRST, cells(FIRST, c4=""), ["line 2, column thickness_mm", "''", "empty", "<= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="0"), ["line 2, column thickness_mm", "'0'", "> 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="-3"), ["line 2, column thickness_mm", "'-3'", "> 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="300"), ["line 2, column thickness_mm", "'300'", "> 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="nan"), ["line 2, column thickness_mm", "'nan'", "> 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="inf"), ["line 2, column thickness_mm", "'inf'", "> 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="1e999"), ["line 2, column thickness_mm", "'1e999'", "> 0 and <= 100 mm"]),
    (P, "thickness_mm", "thickness_ft", ["line 2, column thickness_ft", "'3' (914.4 mm) must be > 0 and <= 100 mm"]),
    (P, FIRST, cells(FIRST, c4="3 mm"), ["line 2, column thickness_mm", "'3 mm'", "not a number"]),
    (P, FIRST, cells(FIRST, c4="True"), ["line 2, column thickness_mm", "'True'", "not a number"]),
    (P, FIRST, cells(FIRST, c4="1_0"), ["line 2, column thickness_mm", "'1_0'", "not a number"]),
    (P, FIRST, cells(FIRST, c4="0x3"), ["line 2, column thickness_mm", "'0x3'", "not a number"]),
    (P, FIRST, cells(FIRST, c4="３"), ["line 2, column thickness_mm", "'３'", "not a number"]),
    (P, FIRST, cells(FIRST, c4="#N/A"), ["line 2, column thickness_mm", "'#N/A'", "spreadsheet's error value"]),
    (P, FIRST, cells(FIRST, c4="3-Mar"), ["line 2, column thickness_mm", "'3-Mar'", "date"]),
    (P, FIRST, cells(FIRST, c4="2024-03-01"), ["line 2, column thickness_mm", "'2024-03-01'", "date"]),
    (P, FIRST, cells(FIRST, c4='"1,5"'), ["line 2, column thickness_mm", "'1,5'", "decimal point", "semicolons"]),
    (P, FIRST, cells(FIRST, c4="1,5"), ["line 2", "11 cells", "decimal point"]),
    (P, FIRST, cells(FIRST, c7="2.5"), ["line 2, column lot_size_count", "'2.5'", "whole number >= 1"]),
    (P, FIRST, cells(FIRST, c8="0"), ["line 2, column yearly_quantity_count", "'0'", "whole number >= 1"]),
    (P, FIRST, cells(FIRST, c10="92"), ["line 2, column sheet_use_share", "'92'", "<= 1 share"]),
    (P, FIRST, cells(FIRST, c10="92 %"), ["line 2, column sheet_use_share", "'92 %'", "<= 1 share"]),
    (S, STEP, cells(STEP, c4=""), ["line 4, column length_mm", "empty", "<= 20000 mm"]),
    (S, STEP, cells(STEP, c5="190"), ["line 4, column bend_angle_deg", "'190'", "<= 175"]),
    (S, STEP, cells(STEP, c5=""), ["line 4, column bend_angle_deg", "empty", "<= 175"]),
    (S, STEP, cells(STEP, c6="0"), ["line 4, column die_opening_mm", "'0'", "> 0"]),
    (S, STEP, cells(STEP, c7="-1"), ["line 4, column gauge_x_mm", "'-1'", ">= 0"]),
    (S, STEP, cells(STEP, c10="2"), ["line 4, column turn_over_switch", "'2'", "0 or 1"]),
    (S, STEP, cells(STEP, c11="0"), ["line 4, column per_part_count", "'0'", "> 0"]),
    (S, CUT, cells(CUT, c5="90"), ["line 2, column bend_angle_deg", "'90'", "bends only"]),
    (S, CUT, cells(CUT, c4="25000"), ["line 2, column length_mm", "'25000'", "<= 20000 mm"]),
    (S, CUT, cells(CUT, c11=""), ["line 2, column per_part_count", "empty"]),
]  # fmt: skip


@pytest.mark.parametrize(("file", "old", "new", "words"), BROKEN, ids=[f"{i}" for i in range(len(BROKEN))])
def test_refused_with_file_place_value_and_allowed(broken, file, old, new, words):
    message = broken(file, old, new)
    for word in (file, *words):
        assert word in message


def test_a_semicolon_file_keeps_to_one_decimal_mark(broken):
    header, *rows = (line.split(",") for line in HEADED.splitlines())
    text = "\n".join(";".join(row) for row in (header, *rows))
    message = broken(P, "", text.replace("1.25", "1,25"))
    assert "line 3, column blank_length_mm: '400.5' is not a number (this file has decimal commas: no point)" in message


HEADED = """part,description,material,thickness_mm,blank_length_mm,blank_width_mm,lot_size_count,yearly_quantity_count,tool_stations_count,sheet_use_share
P-1,Bracket,S235JR,1.25,180,145,100,3000,1,1
P-2,Cover,S235JR,2,400.5,300,40,800,2,1"""
