"""Lists in other styles, written after the reader was tuned to the first ones."""

import datetime

from list_corpus.case import Formula, StruckPart, book, one, text

CASES = [
    text("Polish", """
Nr rysunku;Nazwa;Materiał;Grubość [mm];Długość [mm];Szerokość [mm];Ilość szt
PL-1;wspornik;DC01;1,5;300;120;40
PL-2;pokrywa;DC01;2;410;80;25
""", """
PL-1|DC01|1.5|300|120|40|-|-
PL-2|DC01|2|410|80|25|-|-"""),
    text("Dutch", """
Artikelnummer;Omschrijving;Materiaal;Dikte (mm);Lengte (mm);Breedte (mm);Aantal;Zettingen
NL1;beugel;S235JR;3;200;100;12;2
NL2;deksel;S235JR;2;250;150;14;0
""", """
NL1|S235JR|3|200|100|12|-|2
NL2|S235JR|2|250|150|14|-|0"""),
    text("Swedish", """
Artikelnr;Benämning;Material;Tjocklek mm;Längd mm;Bredd mm;Antal
SE1;fäste;S235JR;3;200;100;12
SE2;lock;S235JR;2;250;150;14
""", """
SE1|S235JR|3|200|100|12|-|-
SE2|S235JR|2|250|150|14|-|-"""),
    text("Portuguese with decimal comma in quotes", """
Peça,Material,Espessura (mm),Comprimento (mm),Largura (mm),Quantidade
P1,S235JR,"1,5","300,5",120,40
P2,S235JR,2,410,"80,25",25
""", """
P1|S235JR|1.5|300.5|120|40|-|-
P2|S235JR|2|410|80.25|25|-|-"""),
    text("unit of measure in a column of its own", """
Part;Material;Thk mm;Length mm;Width mm;Qty;UoM
U1;S235JR;2;100;50;10;pcs
U2;S235JR;2;120;50;3;sets
U3;S235JR;2;130;50;2;100 pcs
""", """
U1|S235JR|2|100|50|10|-|-
U2|S235JR|2|120|50|~|-|-
U3|S235JR|2|130|50|~|-|-"""),
    text("quantities in thousands", """
Part;Material;Thk mm;Length mm;Width mm;Qty (1000 pcs)
K1;S235JR;2;100;50;10
K2;S235JR;2;120;50;3
""", """
K1|S235JR|2|100|50|~|-|-
K2|S235JR|2|120|50|~|-|-""", column__lot="none"),
    text("quantity per 100", """
Part;Material;Thk mm;Length mm;Width mm;Qty x100
K1;S235JR;2;100;50;10
K2;S235JR;2;120;50;3
""", """
K1|S235JR|2|100|50|~|-|-
K2|S235JR|2|120|50|~|-|-""", column__lot="none"),
    text("material as a heading between the rows", """
Part;Thk mm;Length mm;Width mm;Qty
Material: DC01;;;;
M1;2;100;50;10
M2;2;120;50;11
Material: 1.4301;;;;
M3;1.5;130;50;12
""", """
M1|~|2|100|50|10|-|-
M2|~|2|120|50|11|-|-
M3|~|1.5|130|50|12|-|-"""),
    text("levels of an assembly", """
Level;Part number;Material;Thk mm;Length mm;Width mm;Qty
1;ASSY-1;;;;;2
2;PL-10;S235JR;2;100;50;4
2;PL-11;S235JR;3;120;60;1
""", """
ASSY-1|~|~|~|~|2|-|-
PL-10|S235JR|2|100|50|~|-|-
PL-11|S235JR|3|120|60|~|-|-"""),
    text("t=, L= and B= in the cells", """
Part;Material;Thickness;Length;Width;Pcs
X1;S235JR;t=2 mm;L=300 mm;B=120 mm;8
X2;S235JR;t=3 mm;L=410 mm;B=80 mm;9
""", """
X1|S235JR|2|300|120|8|-|-
X2|S235JR|3|410|80|9|-|-"""),
    text("units behind a slash", """
Teil;Werkstoff;Dicke/mm;L/mm;B/mm;Stück
S1;DC01;1,5;300;120;8
S2;DC01;2;410;80;9
""", """
S1|DC01|1.5|300|120|8|-|-
S2|DC01|2|410|80|9|-|-"""),
    text("abbreviated German", """
Pos;Zeichn.-Nr.;Bez.;Wst.;Bl.-Dicke;Zuschn. L;Zuschn. B;Stck.
1;Z-1;Winkel;DC01;1,5;300;120;8
2;Z-2;Deckel;DC01;2;410;80;9
""", """
Z-1|DC01|1.5|300|120|8|-|-
Z-2|DC01|2|410|80|9|-|-""", column__part="B", column__length="F", column__width="G", column__thickness="E"),
    text("customer's and supplier's part numbers", """
Your part no.;Our part no.;Material;Thk (mm);Length (mm);Width (mm);Qty
Y-1;O-1;S235JR;2;100;50;4
Y-2;O-2;S235JR;3;120;60;5
""", """
O-1|S235JR|2|100|50|4|-|-
O-2|S235JR|3|120|60|5|-|-""", column__part="B"),
    text("order number and lot number beside", """
Order no;Lot no;Part no;Material;Thk mm;Length mm;Width mm;Order qty
4711;12;A-1;S235JR;2;100;50;40
4711;13;A-2;S235JR;3;120;60;50
""", """
A-1|S235JR|2|100|50|40|-|-
A-2|S235JR|3|120|60|50|-|-"""),
    text("quantity per week", """
Part;Material;Thk mm;Length mm;Width mm;Qty/week
A-1;S235JR;2;100;50;40
A-2;S235JR;3;120;60;50
""", """
A-1|S235JR|2|100|50|~|-|-
A-2|S235JR|3|120|60|~|-|-""", column__lot="none"),
    text("hole and slot sizes beside the blank", """
Part,Material,Thickness mm,Blank length mm,Blank width mm,Hole dia mm,Slot length mm,Slot width mm,Qty
H1,S235JR,2,300,120,8,40,6,10
H2,S235JR,3,410,80,10,50,8,12
""", """
H1|S235JR|2|300|120|10|-|-
H2|S235JR|3|410|80|12|-|-""", column__length="D", column__width="E"),
    text("outside dimensions of a folded box", """
Part;Material;Thk mm;L x W x H (mm);Qty;Bends
T1;DC01;1;400x300x50;10;4
T2;DC01;1;200x100x30;10;4
""", """
T1|DC01|1|~|~|10|-|4
T2|DC01|1|~|~|10|-|4""", column__size="none"),
    text("dimensions of bent parts, thickness apart", """
Part;Material;Thk mm;Dimensions mm;Qty;Bends
T1;DC01;1;400x300x50;10;4
T2;DC01;1;200x100x30;10;4
""", """
T1|DC01|1|~|~|10|-|4
T2|DC01|1|~|~|10|-|4"""),
    text("dashes and n/a for what is not there", """
part,material,thickness mm,length mm,width mm,qty,bends
D1,S235JR,2,100,50,5,-
D2,S235JR,n/a,120,50,6,n/a
D3,S235JR,2,-,50,TBD,2
""", """
D1|S235JR|2|100|50|5|-|0
D2|S235JR|~|120|50|6|-|~
D3|S235JR|2|~|50|~|-|2"""),
    text("yards, thou and swg", """
part,material,thickness,length,width,qty
Y1,A36,125 thou,1 yd,5",5
Y2,A36,16 swg,12",5",6
""", """
Y1|A36|~|~|127|5|-|-
Y2|A36|~|304.8|127|6|-|-"""),
    text("thickness with the gauge in brackets", """
part,material,thickness,length (mm),width (mm),qty
Y1,DC01,1.5 mm (16 ga),200,50,5
Y2,DC01,2 mm (14 ga),210,50,6
""", """
Y1|DC01|~|200|50|5|-|-
Y2|DC01|~|210|50|6|-|-"""),
    text("spaces as separators of thousands, currency beside", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge;Preis/100 Stk
A1;DC01;2;1 250;80;10 000;12,50
A2;DC01;2;1 300;90;2 500;9,80
""", """
A1|DC01|2|1250|80|10000|-|-
A2|DC01|2|1300|90|2500|-|-"""),
    text("Swiss apostrophe and decimal point", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge
A1;DC01;1.5;1'250.5;80;1'000
A2;DC01;2;1'300;90.25;2'500
""", """
A1|DC01|1.5|1250.5|80|1000|-|-
A2|DC01|2|1300|90.25|2500|-|-"""),
    text("all lengths with three decimals", """
part;material;thickness mm;length mm;width mm;qty
A1;S235JR;2.000;300.000;120.500;10
A2;S235JR;3.000;410.250;80.000;12
""", """
A1|S235JR|2|300|120.5|10|-|-
A2|S235JR|3|410.25|80|12|-|-""", decimal="."),
    text("no part column at all", """
Description,Material,Thickness mm,Length mm,Width mm,Qty
left bracket,S235JR,2,100,50,5
right bracket,S235JR,2,110,50,6
""", """
left bracket|S235JR|2|100|50|5|-|-
right bracket|S235JR|2|110|50|6|-|-""", column__part="A"),
    one("a total row at the top", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["TOTAL", None, None, None, None, 11], ["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    one("blank rows and group names between", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], [], ["Group left"], ["A1", "S235JR", 2, 100, 50, 5], [], ["Group right"], ["A2", "S235JR", 3, 120, 50, 6]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    one("material written once for the rows below", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5], ["A2", None, 3, 120, 50, 6], ["A3", "DC01", 1, 130, 50, 7]], """
A1|S235JR|2|100|50|5|-|-
A2|~|3|120|50|6|-|-
A3|DC01|1|130|50|7|-|-"""),
    one("ditto marks", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5], ["A2", '"', '"', 120, 50, 6], ["A3", "ditto", "do.", 130, 50, 7]], """
A1|S235JR|2|100|50|5|-|-
A2|~|~|120|50|6|-|-
A3|~|~|130|50|7|-|-"""),
    one("a scaled number format: 1 shown, 1000 held", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty (thousand)"], ["A1", "S235JR", 2, 100, 50, 5000], ["A2", "S235JR", 3, 120, 50, 6000]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|120|50|~|-|-""", {"formats": {5: "0,"}}, column__lot="none"),
    one("mm behind the number by format, metres in another column", [["Part", "Material", "Thk", "Length", "Width", "Qty"], ["A1", "S235JR", 2, 1.2, 50, 5], ["A2", "S235JR", 3, 0.9, 50, 6]], """
A1|S235JR|2|1200|50|5|-|-
A2|S235JR|3|900|50|6|-|-""", {"formats": {2: '0" mm"', 3: '0.0" m"', 4: '0" mm"'}}),
    one("times and percentages in number columns", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 0.5, 50, 5], ["A2", "S235JR", 3, datetime.time(2, 30), 50, 6]], """
A1|S235JR|2|~|50|5|-|-
A2|S235JR|3|~|50|6|-|-""", {"formats": {(1, 3): "0%", (2, 3): "hh:mm"}}),
    book("a sheet a material, the name of the sheet says it", [("DC01", [["Part", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", 2, 100, 50, 5]], {}), ("1.4301", [["Part", "Thk mm", "Length mm", "Width mm", "Qty"], ["B1", 1.5, 200, 60, 7]], {})], """
A1|~|2|100|50|5|-|-
B1|~|1.5|200|60|7|-|-"""),
    book("old and new issue on visible sheets", [("Issue A", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 90, 50, 5]], {}), ("Issue B", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5]], {})], "A1|S235JR|2|100|50|5|-|-", **{"sheet__Issue A": "leave out", "sheet__Issue B": "read"}),
    one("quantities left, right and both", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty left", "Qty right"], ["A1", "S235JR", 2, 100, 50, 5, 5], ["A2", "S235JR", 3, 120, 50, 6, 0]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|120|50|~|-|-""", column__lot="none"),
    one("formulas that join text, and a sum with VAT", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], [Formula('="A-"&1', "A-1"), "S235JR", Formula("=4/2", 2), 100, 50, 5], [Formula('="A-"&2', "A-2"), "S235JR", 3, 120, 50, 6], ["Sum", None, None, None, None, Formula("=SUM(F2:F3)", 11)]], """
A-1|S235JR|2|100|50|5|-|-
A-2|S235JR|3|120|50|6|-|-"""),
    one("a quantity merged over two rows", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, None], ["A2", "S235JR", 3, 120, 50, None]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|120|50|~|-|-""", {"merge": [(1, 5, 2, 5, 10)]}),
    one("a number format that shows nothing", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|3|120|50|6|-|-""", {"formats": {(1, 5): ";;;"}}),
    one("letters struck through within a text", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, StruckPart("1200 ", "1000"), 50, 5], ["A2", "S235JR", 3, StruckPart("12", "0"), 50, 6]], """
A1|S235JR|2|~|50|5|-|-
A2|S235JR|3|~|50|6|-|-"""),
    one("inches by number format in a column of mm", [["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 10, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
A1|S235JR|2|~|50|5|-|-
A2|S235JR|3|120|50|6|-|-""", {"formats": {(1, 3): '0.0" in"'}}),
    one("units above the names of the columns", [[None, None, "mm", "mm", "mm", None], ["Part", "Material", "Thickness", "Length", "Width", "Qty"], ["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    one("rows above the heading", [["A0", "S235JR", 2, 90, 50, 4], ["Part", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "S235JR", 2, 100, 50, 5], ["A2", "S235JR", 3, 120, 50, 6]], """
A0|~|~|~|~|~|-|-
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    one("a part that is called total", [["Part", "Description", "Material", "Thk mm", "Length mm", "Width mm", "Qty"], ["A1", "Total cover", "S235JR", 2, 100, 50, 5], ["A2", "Sum plate", "S235JR", 3, 120, 50, 6], ["Total", None, None, None, None, None, 11]], """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
]  # fmt: skip
