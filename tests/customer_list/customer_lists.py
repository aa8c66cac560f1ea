"""Twelve invented lists in the styles that customers send, each with what must be read from it.

A case gives the file's maker, the answers to what the list leaves open, the cells of parts.csv that must come out (in the
order part, material, thickness, length, width, lot, yearly, bends), and the notes that must be there (cell, part of the reason).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import openpyxl
import xlsxwriter
from openpyxl.utils import range_boundaries

IN = 25.4


@dataclass
class Case:
    name: str
    make: Callable[[Path], None]
    answers: dict[tuple[str, ...], str]
    rows: list[tuple[Any, ...]]
    notes: list[tuple[str, str]] = field(default_factory=list)
    skipped: list[str] = field(default_factory=list)
    suffix: str = ".xlsx"


def sheet_of(rows: list[list[Any]], merged: tuple[str, ...] = (), **more: list[list[Any]]) -> Callable[[Path], None]:
    def make(path: Path) -> None:
        book = openpyxl.Workbook()
        fill(book.active, rows)
        book.active.title = "Parts"
        for area in merged:
            book.active.merge_cells(area)
            assert range_boundaries(area)
        for name, others in more.items():
            fill(book.create_sheet(name), others)
        book.save(path)

    return make


def fill(sheet: Any, rows: list[list[Any]]) -> None:
    for row in rows:
        sheet.append(row)


def text_of(text: str, coding: str = "utf-8") -> Callable[[Path], None]:
    return lambda path: path.write_bytes(text.encode(coding)) and None


def formats(path: Path) -> None:
    """Units only in the number format, a formula, a fraction that a program took for a date."""
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet("Order")
    inches = book.add_format({"num_format": '0.00" in"'})
    for column, text in enumerate(["P/N", "Grade", "Thk", "Len", "Wid", "Req'd"]):
        sheet.write(0, column, text)
    for row, (part, thick, length, width, lot) in enumerate(
        [("J-100", 0.125, 12.5, 8, 20), ("J-101", 0.25, 36, 10.25, 5)], start=1
    ):
        sheet.write(row, 0, part)
        sheet.write(row, 1, "A36")
        for column, value in enumerate((thick, length, width), start=2):
            sheet.write_number(row, column, value, inches)
        sheet.write_number(row, 5, lot)
    sheet.write_formula("F3", "=F2/4", None, 5)
    sheet.write_datetime("E3", __import__("datetime").datetime(2025, 2, 1), book.add_format({"num_format": "d mmm"}))
    book.close()


CASES = [
    Case(
        "plain metric csv",
        text_of(
            "part no,material,thickness (mm),length (mm),width (mm),qty,bends\n"
            "A-1,S235JR,2,300,120.5,50,2\nA-2,S235JR,3,410,80,25,0\n"
        ),
        {},
        [("A-1", "S235JR", 2, 300, 120.5, 50, 50, 2), ("A-2", "S235JR", 3, 410, 80, 25, 25, 0)],
        suffix=".csv",
    ),
    Case(
        "German export: semicolons, decimal comma, thousands point, Windows coding, total at the end",
        text_of(
            "Anfrage 0815;;;;;;\nAlle Maße in mm;;;;;;\n;;;;;;\n"
            "Pos.;Bezeichnung;Werkstoff;Blechdicke;Länge;Breite;Stückzahl\n"
            "10;Winkel;DC01;1,5;1.250,5;80;200\n20;Haube groß;DC01;2;640,25;480;1.500\nSumme;;;;;;1.700\n",
            "cp1252",
        ),
        {("column", "list", "part"): "A"},
        [("10", "DC01", 1.5, 1250.5, 80, 200, 200, None), ("20", "DC01", 2, 640.25, 480, 1500, 1500, None)],
        [("row 7", "a total")],
        suffix=".csv",
    ),
    Case(
        "inch fractions, gauge numbers by material, title rows above",
        sheet_of(
            [
                ["Northfork Ranch Gates"],
                ["RFQ - please quote"],
                [],
                ["Item", "Mat'l", "Ga.", "Blank L (in)", "Blank W (in)", "Qty"],
                ["G1", "CRS", "16 ga", '24-1/2"', "6 3/8", 40],
                ["G2", "304 SS", "16GA", "1' 6-1/4\"", "3½", 12],
                ["G3", "CRS", "#11", "48", ".75", "8 pcs"],
            ]
        ),
        {("gauge", "CRS"): "sheet steel", ("gauge", "304 SS"): "stainless steel", ("material", "CRS"): "DC01"},
        [
            ("G1", "DC01", 0.0598 * IN, 24.5 * IN, 6.375 * IN, 40, 40, None),
            ("G2", "304 SS", 0.0625 * IN, 18.25 * IN, 3.5 * IN, 12, 12, None),
            ("G3", "DC01", 0.1196 * IN, 48 * IN, 0.75 * IN, 8, 8, None),
        ],
        [("B6", "no known material"), ("E7", "outside the usual")],
    ),
    Case(
        "merged heading over two rows, merged material cells, no unit anywhere",
        sheet_of(
            [
                ["Drawing", "Material", "Size", None, "Thk", "Order qty"],
                [None, None, "Length", "Width", None, None],
                ["D 7", "S355JR", 500, 200, 4, 10],
                ["D 8", None, 650, 210, 4, 12],
                ["D 9", "S235JR", 90, 45, 2, 300],
            ],
            merged=("A1:A2", "B1:B2", "C1:D1", "E1:E2", "F1:F2", "B3:B4"),
        ),
        {("unit", "Parts", "length+width"): "mm", ("unit", "Parts", "thickness"): "mm"},
        [
            ("D 7", "S355JR", 4, 500, 200, 10, 10, None),
            ("D 8", "S355JR", 4, 650, 210, 12, 12, None),
            ("D 9", "S235JR", 2, 90, 45, 300, 300, None),
        ],
    ),
    Case(
        "sizes in one cell, thickness among them",
        text_of(
            "Article|Description|Alloy|Blank size|Pieces\n"
            "K1|cover|S235JR|600 x 400 x 2 mm|15\nK2|side|S235JR|2,5 x 1200 x 300 mm|4\nK3|rib|S235JR|200 mm|4\n"
        ),
        {},
        [
            ("K1", "S235JR", 2, 600, 400, 15, 15, None),
            ("K2", "S235JR", 2.5, 1200, 300, 4, 4, None),
            ("K3", "S235JR", None, None, None, 4, 4, None),
        ],
        [("D2", "smallest"), ("D3", "smallest"), ("D4", "1 sizes")],
        suffix=".txt",
    ),
    Case(
        "several sheets, one of them a cover letter",
        sheet_of(
            [["Part", "Material", "t [mm]", "L [mm]", "W [mm]", "Qty"], ["Q1", "S235JR", 1, 100, 50, 1000]],
            Letter=[["Dear supplier,"], ["please find our parts in the other sheets."]],
            Spares=[["Qty", "Part", "Material", "W [cm]", "L [cm]", "t [mm]"], [20, "Q2", "s235 jr", 5.5, 12, 1.5]],
        ),
        {},
        [("Q1", "S235JR", 1, 100, 50, 1000, 1000, None), ("Q2", "S235JR", 1.5, 120, 55, 20, 20, None)],
        skipped=["Letter"],
    ),
    Case(
        "units in each cell, mixed",
        text_of(
            "item\tgrade\tthickness\tlength\twidth\tlot\n"
            'M-1\tS235JR\t3 mm\t1.2 m\t30 cm\t6\nM-2\tS235JR\t1/8"\t4 ft\t12 inches\t6\nM-3\tS235JR\t3 mm\t900 furlongs\t300mm\t6\n'
        ),
        {("column", "list", "lot"): "F"},
        [
            ("M-1", "S235JR", 3, 1200, 300, 6, 6, None),
            ("M-2", "S235JR", 0.125 * IN, 4 * 304.8, 12 * IN, 6, 6, None),
            ("M-3", "S235JR", 3, None, 300, 6, 6, None),
        ],
        [("D4", "furlongs")],
        suffix=".tsv",
    ),
    Case(
        "units in the number format, a stored formula, a date where a fraction stood",
        formats,
        {("material", "A36"): "S235JR"},
        [
            ("J-100", "S235JR", 0.125 * IN, 12.5 * IN, 8 * IN, 20, 20, None),
            ("J-101", "S235JR", 0.25 * IN, 36 * IN, None, 5, 5, None),
        ],
        [("C2", "the sheet shows"), ("E3", "date")],
    ),
    Case(
        "flange lengths instead of a flat width",
        sheet_of(
            [
                ["Part", "Material", "t mm", "Length mm", "Legs (mm)", "Qty"],
                ["U-50", "DC01", 2, 1000, "40/120/40", 30],
                ["Z-20", "DC01", 1.5, 800, "20-60-20", 10],
            ]
        ),
        {},
        # DIN 6935 (k from memory): r = 1.3 t, k = 0.65 + 0.5 log10(1.3) = 0.70697, 90 deg
        # t 2: pi/2 (2.6 + 0.70697) - 2 x 4.6 = -4.0054 a bend; 200 - 2 x 4.0054 = 191.99
        [("U-50", "DC01", 2, 1000, 191.99, 30, 30, 2), ("Z-20", "DC01", 1.5, 800, None, 10, 10, None)],
        [("E2", "flat width"), ("E3", "not understood")],
    ),
    Case(
        "several quantities and a yearly one; names twice and with odd signs",
        sheet_of(
            [
                ["Part number", "Mat", "Thk (mm)", "Len (mm)", "Wid (mm)", "Qty", "Qty", "Annual usage"],
                ["7/12-A", "S235JR", 2, 210, 90, 10, 100, 900],
                ["7/12-A", "S235JR", 3, 210, 90, 10, 100, 800],
                ["=SUM", "S235JR", 2, 60, 40, 10, 50.5, "n/a"],
            ]
        ),
        {("column", "Parts", "lot"): "G"},
        [
            ("7_12-A", "S235JR", 2, 210, 90, 100, 900, None),
            ("7_12-A 2", "S235JR", 3, 210, 90, 100, 800, None),
            ("unnamed", "S235JR", 2, 60, 40, None, None, None),
        ],
        [
            ("A4", "value is not stored"),
            ("A4", "has no name"),
            ("row 2", "named '7_12-A'"),
            ("row 3", "named '7_12-A 2'"),
            ("row 4", "named 'unnamed'"),
            ("G4", "not a whole number"),
            ("H4", "no number"),
        ],
    ),
    Case(
        "decimal marks mixed: the user says which, the other is not read",
        text_of("Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge\nX1;DC01;1,5;1.250;80,5;10\nX2;DC01;1.5;300;80;10\n"),
        {("decimal", "list"): ","},
        [("X1", "DC01", 1.5, 1250, 80.5, 10, 10, None), ("X2", "DC01", None, 300, 80, 10, 10, None)],
        [("C3", "decimal mark")],
        suffix=".csv",
    ),
    Case(
        "repeated headings, remarks, error values, sizes that cannot be, bends as a text",
        sheet_of(
            [
                [
                    "No.",
                    "Part name",
                    "Part",
                    "Material",
                    "Thickness mm",
                    "Length mm",
                    "Width mm",
                    "Bends",
                    "Qty",
                    "Remarks",
                ],
                [1, "bracket", "B1", "DC03", 2, 120, 60, "2 off", 40, "deburr"],
                [None, None, "-- second page --"],
                [
                    "No.",
                    "Part name",
                    "Part",
                    "Material",
                    "Thickness mm",
                    "Length mm",
                    "Width mm",
                    "Bends",
                    "Qty",
                    "Remarks",
                ],
                [2, "tray", "B2", "DC03", "#REF!", 120000, 60, "see drawing", 0, None],
                [3, "lid", "B3", "DC03", 30, None, 0, 4, 5, None],
            ]
        ),
        {},
        [
            ("B1", "DC03", 2, 120, 60, 40, 40, 2),
            ("B2", "DC03", None, None, 60, None, None, None),
            ("B3", "DC03", 30, None, None, 5, 5, 4),
        ],
        [
            ("row 3", "one text only"),
            ("row 4", "the heading again"),
            ("E5", "an error value"),
            ("F5", "not allowed"),
            ("H5", "names no bends"),
            ("I5", "not allowed"),
            ("E6", "outside the usual"),
            ("F6", "empty"),
            ("G6", "not allowed"),
        ],
    ),
]
