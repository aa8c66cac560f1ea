"""Lists that come as workbooks."""

import datetime

from list_corpus.case import Formula, book, one

HEAD = ["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"]
TWO = [["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]]
TRUTH = """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""
OLD = [["A1", "S235JR", 2, 999, 50, 5], ["A9", "S235JR", 3, 999, 50, 6]]

CASES = [
    one("plain", [HEAD, *TWO], TRUTH),
    book("a hidden sheet with an old issue", [("Parts", [HEAD, *TWO], {}), ("Rev 0", [HEAD, *OLD], {"hidden": True})], TRUTH, hidden="leave out"),
    book("a sheet hidden so that no menu shows it", [("Parts", [HEAD, *TWO], {}), ("Rev 0", [HEAD, *OLD], {"hidden": "very"})], TRUTH, hidden="leave out"),
    one("hidden rows", [HEAD, TWO[0], OLD[1], TWO[1]], TRUTH, {"hide_rows": [2]}, hidden="leave out"),
    one("rows hidden by a filter, all of them wanted", [HEAD, *TWO], TRUTH, {"hide_rows": [2], "filter": (0, 0, 2, 5)}, hidden="read"),
    one("struck-through rows", [HEAD, TWO[0], OLD[1], TWO[1]], TRUTH, {"strike": [2]}, struck="leave out"),
    one("a struck-through quantity", [HEAD, TWO[0], ["A2", "S235JR", 3, 120, 50, 600]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|~|-|-""", {"strike": [(2, 5)]}),
    one("a hidden column with the old quantity", [[*HEAD[:5], "Qty", "Qty"], ["A1", "S235JR", 2, 100, 50, 77, 5], ["A2", "S235JR", 3, 120, 50, 88, 6]], TRUTH, {"hide_columns": [5]}, column__lot="G", hidden="leave out"),
    one("a hidden column is the only quantity", [HEAD, *TWO], TRUTH, {"hide_columns": [5]}, column__lot="F"),
    one("heading over two rows, merged", [["Drawing", "Material", "Flat size [mm]", None, "t [mm]", "Order"], [None, None, "Length", "Width", None, "Qty"], ["A1", "S235JR", 100, 50, 2, 5], ["A2", None, 120, 50, 3, 6]], TRUTH, {"merge": [(0, 0, 1, 0, "Drawing"), (0, 1, 1, 1, "Material"), (0, 2, 0, 3, "Flat size [mm]"), (2, 1, 3, 1, "S235JR")]}),
    one("formulas with their values", [HEAD, ["A1", "S235JR", 2, Formula("=2*50", 100), 50, 5], ["A2", "S235JR", 3, Formula("=D2+20", 120), 50, Formula("=F2+1", 6)]], TRUTH),
    one("a formula without a value", [HEAD, TWO[0], ["A2", "S235JR", 3, Formula("=D2+20"), 50, 6]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|~|50|6|-|-"""),
    one("dates made of part numbers and sizes", [HEAD, [datetime.datetime(2026, 2, 1), "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, datetime.datetime(2026, 1, 2), 50, 6]], """
~|S235JR|2|100|50|5|-|-
A2|S235JR|3|~|50|6|-|-""", {"formats": {(1, 0): "d-mmm", (2, 3): "d/m"}}),
    one("inches in the number format", [["Part", "Material", "Thk", "Length", "Width", "Qty"], ["A1", "A36", 0.125, 10, 5, 5], ["A2", "A36", 0.25, 12.5, 5, 6]], """
A1|A36|3.175|254|127|5|-|-
A2|A36|6.35|317.5|127|6|-|-""", {"formats": {2: '0.000\\"', 3: '0.00" in"', 4: '0.00" in"'}}, unit="in"),
    one("fractions by number format", [["Part", "Material", "Thk (in)", "Length (in)", "Width (in)", "Qty"], ["A1", "A36", 0.125, 10.5, 5, 5]], "A1|A36|3.175|266.7|127|5|-|-", {"formats": {2: "# ?/?", 3: "# ?/?"}}),
    one("numbers kept as text, thousands", [HEAD, ["A1", "S235JR", "2", "1,250", "50.5", "1,000"], ["A2", "S235JR", "3", "120", "50", "6"]], """
A1|S235JR|2|1250|50.5|1000|-|-
A2|S235JR|3|120|50|6|-|-"""),
    one("part numbers with leading zeros by format", [HEAD, [12, "S235JR", 2, 100, 50, 5], [1234, "S235JR", 3, 120, 50, 6]], """
0012|S235JR|2|100|50|5|-|-
1234|S235JR|3|120|50|6|-|-""", {"formats": {0: "0000"}}),
    one("drawing numbers that are numbers: 1.1 and 1.10", [HEAD, [1.1, "S235JR", 2, 100, 50, 5], [1.1, "S235JR", 3, 120, 50, 6], [1.25, "S235JR", 3, 130, 50, 7]], """
1.1|S235JR|2|100|50|5|-|-
1.10|S235JR|3|120|50|6|-|-
1.25|S235JR|3|130|50|7|-|-""", {"formats": {(2, 0): "0.00"}}),
    one("a part number that became 1.00E+03", [HEAD, [1000.0, "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
~|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-""", {"formats": {(1, 0): "0.00E+00"}}),
    one("list starts at D7", [HEAD, *TWO], TRUTH, {"at": (6, 3)}),
    one("two tables side by side", [[*HEAD, None, *HEAD], [*TWO[0], None, "B1", "DC01", 1, 80, 40, 3], [*TWO[1], None, "B2", "DC01", 1, 90, 40, 4]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-
B1|DC01|1|80|40|3|-|-
B2|DC01|1|90|40|4|-|-"""),
    one("a second table below with another order of columns", [HEAD, *TWO, [], ["Part", "Qty", "Material", "Thk mm", "Width mm", "Length mm"], ["B1", 3, "DC01", 1, 40, 80], ["B2", 4, "DC01", 1, 40, 90]], TRUTH + """
B1|DC01|1|80|40|3|-|-
B2|DC01|1|90|40|4|-|-"""),
    book("cover letter, two lists, a price sheet", [("Letter", [["Dear supplier,"], ["please quote."]], {}), ("Parts", [HEAD, *TWO], {}), ("Spares", [["Qty", "Part", "Material", "W [cm]", "L [cm]", "t [mm]"], [20, "B2", "DC01", 5.5, 12, 1.5]], {})], TRUTH + "\nB2|DC01|1.5|120|55|20|-|-"),
    book("the same parts on a sheet of changes", [("Parts", [HEAD, *TWO], {}), ("Changes", [HEAD, ["A2", "S235JR", 4, 120, 50, 6]], {})], TRUTH, sheet__Parts="read", sheet__Changes="leave out"),
    one("units row, total by formula", [["Part", "Material", "Thickness", "Length", "Width", "Qty"], [None, None, "[mm]", "[mm]", "[mm]", "[pcs]"], *TWO, ["Total", None, None, None, None, Formula("=SUM(F3:F4)", 11)]], TRUTH),
    one("error, boolean, date among quantities", [HEAD, ["A1", "S235JR", 2, 100, 50, True], ["A2", "S235JR", 3, 120, 50, datetime.datetime(2026, 3, 1)], ["A3", "S235JR", 3, Formula("=1/0", "#DIV/0!"), 50, 6]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|120|50|~|-|-
A3|S235JR|3|~|50|6|-|-""", {"formats": {(2, 5): "dd.mm.yyyy"}}),
    one("bends, angle and flanges", [[*HEAD[:4], "Legs (mm)", "Qty", "Bends"], ["U1", "DC01", 2, 1000, "40/120/40", 30, "2x90"], ["L1", "DC01", 2, 500, "40/60", 30, 1]], """
U1|DC01|2|1000|191.99|30|-|2
L1|DC01|2|500|95.99|30|-|1"""),
    one("bends, but the sizes are outside sizes", [["Part", "Material", "Thk mm", "Outside length mm", "Outside width mm", "Qty", "Bends"], ["T1", "DC01", 2, 300, 200, 30, 4]], "T1|DC01|2|~|~|30|-|4", column__length="none", column__width="none"),
    one("thousands by number format, percent", [[*HEAD, "Sheet use"], ["A1", "S235JR", 2, 1250, 50, 1500, 0.85], ["A2", "S235JR", 3, 120, 50, 6, 0.9]], """
A1|S235JR|2|1250|50|1500|-|-
A2|S235JR|3|120|50|6|-|-""", {"formats": {3: "#,##0", 5: "#,##0", 6: "0%"}}),
    one("rounded on the sheet: 2 shown, 2.4 held", [HEAD, ["A1", "S235JR", 2.4, 100, 50, 5], ["A2", "S235JR", 3, 120.49, 50, 6]], """
A1|S235JR|~|100|50|5|-|-
A2|S235JR|3|~|50|6|-|-""", {"formats": {2: "0", 3: "0"}}),
    one("German headings, Menge pro Jahr, Los", [["Pos.", "Artikelnummer", "Benennung", "Werkstoff-Nr.", "Blechdicke", "Zuschnitt L", "Zuschnitt B", "Menge pro Jahr", "Los"], [10, "K-1", "Halter", "1.0330", 2, 100, 50, 1200, 100], [20, "K-2", "Deckel", "1.4301", 1.5, 300, 200, 600, 50]], """
K-1|DC01|2|100|50|100|1200|-
K-2|1.4301|1.5|300|200|50|600|-""", column__lot="I"),
    one("A heading in capitals with line breaks, width first", [["DRAWING\nNUMBER", "MATERIAL\nGRADE", "BLANK\nWIDTH (MM)", "BLANK\nLENGTH (MM)", "THK\n(MM)", "BATCH\nSIZE"], ["A1", "S235JR", 50, 100, 2, 5], ["A2", "S235JR", 50, 120, 3, 6]], TRUTH),
]  # fmt: skip
