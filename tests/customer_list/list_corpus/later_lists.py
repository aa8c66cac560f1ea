"""Lists made to mislead: two readings that look alike, words that are nearly a heading, figures that are nearly a size."""

from list_corpus.case import Formula, book, one, text

HEAD = ["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"]

CASES = [
    text("number of holes before the quantity", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Anzahl Löcher;Anzahl
H1;DC01;2;100;50;4;20
H2;DC01;2;120;50;6;30
""", """
H1|DC01|2|100|50|20|-|-
H2|DC01|2|120|50|30|-|-""", column__lot="G"),
    text("minimum and delivered quantities", """
Part;Material;Thk mm;Length mm;Width mm;Min qty;Qty delivered;Qty open
H1;S235JR;2;100;50;10;5;20
H2;S235JR;2;120;50;10;6;30
""", """
H1|S235JR|2|100|50|20|-|-
H2|S235JR|2|120|50|30|-|-""", column__lot="H"),
    text("length with tolerance columns", """
Part;Material;Thk mm;Length mm;Length tol +;Length tol -;Width mm;Qty
H1;S235JR;2;100;0.5;0.2;50;10
H2;S235JR;2;120;0.5;0.2;50;10
""", """
H1|S235JR|2|100|50|10|-|-
H2|S235JR|2|120|50|10|-|-""", column__length="D"),
    text("two units for each size", """
Part,Material,Thk (in),Thk (mm),Length (in),Length (mm),Width (in),Width (mm),Qty
H1,A36,0.125,3.18,10,254,5,127,8
H2,A36,0.25,6.35,12,304.8,6,152.4,9
""", """
H1|A36|3.18|254|127|8|-|-
H2|A36|6.35|304.8|152.4|9|-|-""", column__thickness="D", column__length="F", column__width="H"),
    text("coating thickness before the sheet's", """
Part;Material;Coating thickness µm;Sheet thickness mm;Length mm;Width mm;Qty
H1;S235JR;80;2;100;50;10
H2;S235JR;60;3;120;50;10
""", """
H1|S235JR|2|100|50|10|-|-
H2|S235JR|3|120|50|10|-|-""", column__thickness="D"),
    text("coating thickness alone", """
Part;Material;Coating thickness;Length mm;Width mm;Qty
H1;S235JR;80;100;50;10
H2;S235JR;60;120;50;10
""", """
H1|S235JR|~|100|50|10|-|-
H2|S235JR|~|120|50|10|-|-""", column__thickness="none"),
    text("weld length, no length of the part", """
Part;Material;Thk mm;Weld length mm;Width mm;Qty
H1;S235JR;2;30;50;10
H2;S235JR;2;40;50;10
""", """
H1|S235JR|2|~|50|10|-|-
H2|S235JR|2|~|50|10|-|-""", column__length="none"),
    text("bend radius and bend count", """
Part;Material;Thk mm;Length mm;Width mm;Qty;Bend radius;Bends
H1;S235JR;2;100;50;10;3;2
H2;S235JR;2;120;50;10;2;1
""", """
H1|S235JR|2|100|50|10|-|2
H2|S235JR|2|120|50|10|-|1""", column__bends="H"),
    text("inner dimensions", """
Part;Material;Thk mm;Inner length mm;Inner width mm;Qty
H1;S235JR;2;100;50;10
H2;S235JR;2;120;50;10
""", """
H1|S235JR|2|~|~|10|-|-
H2|S235JR|2|~|~|10|-|-""", column__length="none", column__width="none"),
    text("quantity 2 with a note behind", """
Part;Material;Thk mm;Length mm;Width mm;Qty
H1;S235JR;2;100;50;2 left + 2 right
H2;S235JR;2;120;50;10 (sets of 2)
H3;S235JR;2;120;50;6 off
""", """
H1|S235JR|2|100|50|~|-|-
H2|S235JR|2|120|50|~|-|-
H3|S235JR|2|120|50|6|-|-"""),
    text("decimal comma in a list with thousands commas", """
part;material;thickness mm;length mm;width mm;qty
H1;S235JR;1,5;1,250;80;1,000
H2;S235JR;2;1,300;90;2,000
""", """
H1|S235JR|1.5|~|80|~|-|-
H2|S235JR|2|~|90|~|-|-"""),
    text("point as thousands and as decimal in different columns", """
part;material;thickness mm;length mm;width mm;qty
H1;S235JR;1.5;1.250;80;1.000
H2;S235JR;2.5;1.300;90;2.000
""", """
H1|S235JR|1.5|~|80|~|-|-
H2|S235JR|2.5|~|90|~|-|-"""),
    text("sizes without the thickness, two numbers", """
part;material;t (mm);size (mm);qty
H1;S235JR;2;50 x 200;10
H2;S235JR;3;300 x 60;10
""", """
H1|S235JR|2|50|200|10|-|-
H2|S235JR|3|300|60|10|-|-"""),
    text("order of sizes stated as t x b x l", """
Teil;Werkstoff;Maße t x b x l (mm);Stk
H1;DC01;2 x 50 x 200;10
H2;DC01;3 x 60 x 300;10
""", """
H1|DC01|2|200|50|10|-|-
H2|DC01|3|300|60|10|-|-"""),
    text("narrow strip thinner than it is wide", """
Part;Material;Dimensions mm;Qty
H1;S235JR;20 x 1000 x 30;10
H2;S235JR;25 x 1000 x 40;10
""", """
H1|S235JR|~|1000|30|10|-|-
H2|S235JR|~|1000|40|10|-|-"""),
    text("mass in the quantity column", """
Part;Material;Thk mm;Length mm;Width mm;Quantity
H1;S235JR;2;100;50;12 kg
H2;S235JR;2;120;50;30 kg
""", """
H1|S235JR|2|100|50|~|-|-
H2|S235JR|2|120|50|~|-|-"""),
    text("mass that contradicts the sizes", """
Part;Material;Thk mm;Length mm;Width mm;Weight kg;Qty
H1;S235JR;2;1000;500;78.5;10
H2;S235JR;2;1200;500;9.42;10
""", """
H1|S235JR|2|1000|500|10|-|-
H2|S235JR|2|1200|500|10|-|-"""),
    text("a total that does not fit", """
Part;Material;Thk mm;Length mm;Width mm;Qty
H1;S235JR;2;1000;500;1.5
H2;S235JR;2;1200;500;10
Total;;;;;1510
""", """
H1|S235JR|2|1000|500|~|-|-
H2|S235JR|2|1200|500|10|-|-"""),
    text("yearly quantity by month", """
Part;Material;Thk mm;Length mm;Width mm;Monthly qty;Annual qty
H1;S235JR;2;1000;500;100;1200
H2;S235JR;2;1200;500;10;120
""", """
H1|S235JR|2|1000|500|~|1200|-
H2|S235JR|2|1200|500|~|120|-""", column__lot="none"),
    text("lot number, order number, no quantity", """
Lot;Order;Part;Material;Thk mm;Length mm;Width mm
4711;88;H1;S235JR;2;1000;500
4712;88;H2;S235JR;2;1200;500
""", """
H1|S235JR|2|1000|500|~|-|-
H2|S235JR|2|1200|500|~|-|-""", column__lot="none"),
    text("no. as the quantity", """
Part;Material;Thk mm;Length mm;Width mm;No.
H1;S235JR;2;1000;500;3
H2;S235JR;2;1200;500;4
""", """
H1|S235JR|2|1000|500|~|-|-
H2|S235JR|2|1200|500|~|-|-"""),
    text("material with a coating and a second grade", """
Part;Material;Thk mm;Length mm;Width mm;Qty
H1;S235JR or S355JR;2;1000;500;3
H2;DC01 zinc plated;2;1200;500;4
H3;S235;2;1200;500;4
H4;1.4301 or equal;2;1200;500;4
""", """
H1|~|2|1000|500|3|-|-
H2|~|2|1200|500|4|-|-
H3|~|2|1200|500|4|-|-
H4|~|2|1200|500|4|-|-"""),
    one("an old quantity column beside, both called Qty, one empty", [[*HEAD, "Qty new"], ["A1", "S235JR", 2, 100, 50, 5, 9], ["A2", "S235JR", 3, 120, 50, 6, None]], """
A1|S235JR|2|100|50|9|-|-
A2|S235JR|3|120|50|~|-|-""", column__lot="G"),
    one("rounded quantities from formulas", [HEAD, ["A1", "S235JR", 2, 100, 50, Formula("=10/3", 10 / 3)], ["A2", "S235JR", 3, Formula("=100/3", 100 / 3), 50, 6]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|33.333|50|6|-|-"""),
    one("grouped rows folded away", [HEAD, ["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6], ["A3", "S235JR", 3, 130, 50, 7]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-
A3|S235JR|3|130|50|7|-|-""", {"hide_rows": [2, 3]}, hidden="read"),
    book("the real list is on a hidden sheet, the visible one is a summary", [("Summary", [["Part", "Material", "Qty"], ["A1", "S235JR", 5]], {}), ("Data", [HEAD, ["A1", "S235JR", 2, 100, 50, 5]], {"hidden": True})], "A1|S235JR|2|100|50|5|-|-", hidden="read", sheet__Summary="leave out", sheet__Data="read"),
    one("text dates and part numbers alike", [HEAD, ["1-2", "S235JR", 2, 100, 50, 5], ["01.02.2026", "S235JR", 3, 120, 50, 6]], """
1-2|S235JR|2|100|50|5|-|-
01.02.2026|S235JR|3|120|50|6|-|-"""),
    one("heading twice with other units in the second table", [HEAD, ["A1", "S235JR", 2, 100, 50, 5], ["Part", "Material", "Thk in", "Length in", "Width in", "Qty"], ["B1", "S235JR", 0.125, 10, 5, 6]], """
A1|S235JR|2|100|50|5|-|-
B1|S235JR|3.175|254|127|6|-|-"""),
]  # fmt: skip
