"""Lists that come as text: what stands in rows and cells."""

from list_corpus.case import text

CASES = [
    text("units in a row below the heading", """
Part,Material,Thickness,Length,Width,Quantity
,,mm,cm,cm,pcs
A1,S235JR,2,10,5,5
A2,S235JR,3,12.5,5,6
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|125|50|6|-|-"""),
    text("totals, notes and the heading again", """
Part,Material,Thickness mm,Length mm,Width mm,Quantity
A1,S235JR,2,100,50,5
A2,S235JR,3,120,50,6
Subtotal,,,,,11
Part,Material,Thickness mm,Length mm,Width mm,Quantity
A3,S235JR,2,130,50,7
All parts deburred,,,,,
Grand total,,,,,18
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-
A3|S235JR|2|130|50|7|-|-"""),
    text("total without a word for it in the row", """
Part,Material,Thickness mm,Length mm,Width mm,Quantity
A1,S235JR,2,100,50,5
A2,S235JR,3,120,50,6
,,,,,11
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    text("UTF-16 without a mark", """
part;material;thickness mm;length mm;width mm;qty
A1;S235JR;2;100;50;5
A2;S235JR;2;120;50;6
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|2|120|50|6|-|-""", coding="utf-16-le"),
    text("protective apostrophes", """
part;material;thickness mm;length mm;width mm;qty
'-bracket left;S235JR;2;100;50;5
'0012;S235JR;2;120;50;6
'=A1;S235JR;2;120;50;'7
""", """
-bracket left|S235JR|2|100|50|5|-|-
0012|S235JR|2|120|50|6|-|-
=A1|S235JR|2|120|50|7|-|-"""),
    text("part names that look like numbers", """
part;material;thickness mm;length mm;width mm;qty
1E3;S235JR;2;100;50;5
1000;S235JR;2;110;50;6
001;S235JR;2;120;50;7
1;S235JR;2;130;50;8
1.1;S235JR;2;140;50;9
1.10;S235JR;2;150;50;10
""", """
1E3|S235JR|2|100|50|5|-|-
1000|S235JR|2|110|50|6|-|-
001|S235JR|2|120|50|7|-|-
1|S235JR|2|130|50|8|-|-
1.1|S235JR|2|140|50|9|-|-
1.10|S235JR|2|150|50|10|-|-"""),
    text("trailing spaces and a row twice", """
part ; material;thickness mm ;length mm;width mm;qty
A1 ;S235JR ; 2;100 ;50;5
A2;S235JR;2;120;50;6
A1 ;S235JR ; 2;100 ;50;5
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|2|120|50|6|-|-
~|S235JR|2|100|50|5|-|-"""),
    text("several quantities a part, a column each", """
part;material;thickness mm;length mm;width mm;Qty 1;Qty 2;Qty 3
A1;S235JR;2;100;50;10;50;100
A2;S235JR;2;120;50;20;50;200
""", """
A1|S235JR|2|100|50|50|-|-
A2|S235JR|2|120|50|50|-|-""", column__lot="G"),
    text("several quantities in one cell", """
part;material;thickness mm;length mm;width mm;Quantity
A1;S235JR;2;100;50;10/50/100
A2;S235JR;2;120;50;20/50/200
""", """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|2|120|50|~|-|-"""),
    text("price breaks: 'Qty 10' is a heading over prices", """
part;material;thickness mm;length mm;width mm;qty;price at 100;price at 500
A1;S235JR;2;100;50;100;1.20;1.10
A2;S235JR;2;120;50;500;1.50;1.30
""", """
A1|S235JR|2|100|50|100|-|-
A2|S235JR|2|120|50|500|-|-"""),
    text("bends as short text", """
part;material;thickness mm;length mm;width mm;qty;bends
A1;S235JR;2;100;50;10;2x90
A2;S235JR;2;120;50;10;1x90° 2x45°
A3;S235JR;2;120;50;10;none
A4;S235JR;2;120;50;10;4 x 90°
""", """
A1|S235JR|2|100|50|10|-|2
A2|S235JR|2|120|50|10|-|3
A3|S235JR|2|120|50|10|-|0
A4|S235JR|2|120|50|10|-|4"""),
    text("Kantungen und Winkel", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Stk;Kantungen;Winkel
A1;DC01;2;100;50;10;2;90
A2;DC01;2;120;50;10;1;135
A3;DC01;2;120;50;10;keine;
""", """
A1|DC01|2|100|50|10|-|2
A2|DC01|2|120|50|10|-|1
A3|DC01|2|120|50|10|-|0"""),
    text("dimensions in one cell", """
Part;Material;Dimensions (mm);Qty
A1;S235JR;100x200x2;10
A2;S235JR;1.5 x 300 x 150;20
""", """
A1|S235JR|2|100|200|10|-|-
A2|S235JR|1.5|300|150|20|-|-"""),
    text("heading gives the order of the sizes", """
Part;Material;B x L x t [mm];Qty
A1;S235JR;100x200x2;10
A2;S235JR;150x300x3;20
""", """
A1|S235JR|2|200|100|10|-|-
A2|S235JR|3|300|150|20|-|-"""),
    text("Abmessungen mit Dezimalkomma", """
Teil;Werkstoff;Abmessung;Stück
A1;DC01;1.250 x 200 x 1,5;10
A2;DC01;300 x 150,5 x 2;20
""", """
A1|DC01|1.5|1250|200|10|-|-
A2|DC01|2|300|150.5|20|-|-""", decimal=",", unit="mm"),
    text("thousands by space and by apostrophe", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge
A1;DC01;1,5;1 250,5;80;1 200
A2;DC01;2;1'250,5;80;1'500
""", """
A1|DC01|1.5|1250.5|80|1200|-|-
A2|DC01|2|1250.5|80|1500|-|-"""),
    text("no unit anywhere, inches", """
part,material,thickness,length,width,qty
A1,A36,0.125,12.5,6,10
A2,A36,0.25,36,8.25,10
""", """
A1|A36|3.175|317.5|152.4|10|-|-
A2|A36|6.35|914.4|209.55|10|-|-""", unit="in"),
    text("no unit anywhere, mm", """
part,material,thickness,length,width,qty
A1,S235JR,2,300,120,10
A2,S235JR,3,410,80,10
""", """
A1|S235JR|2|300|120|10|-|-
A2|S235JR|3|410|80|10|-|-"""),
    text("decimal marks mixed", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge
X1;DC01;1,5;1250;80,5;10
X2;DC01;1.5;300;80;10
""", """
X1|DC01|1.5|1250|80.5|10|-|-
X2|DC01|~|300|80|10|-|-""", decimal=","),
    text("only quantities with a dot", """
Teil;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge
X1;DC01;2;250;80;1.500
X2;DC01;3;300;80;2.000
""", """
X1|DC01|2|250|80|1500|-|-
X2|DC01|3|300|80|2000|-|-""", decimal=","),
    text("a point proven in one column, thousands in another", """
part,material,thickness mm,length mm,width mm,qty
X1,DC01,0.125,"1,250",80,"1,500"
X2,DC01,0.5,300,80,20
""", """
X1|DC01|0.125|1250|80|1500|-|-
X2|DC01|0.5|300|80|20|-|-"""),
    text("Spanish", """
Pieza;Material;Espesor (mm);Largo (mm);Ancho (mm);Cantidad;Pliegues
S1;DC01;1,5;300;120;40;2
S2;DC01;2;410;80;25;0
""", """
S1|DC01|1.5|300|120|40|-|2
S2|DC01|2|410|80|25|-|0"""),
    text("French", """
Référence;Désignation;Matière;Épaisseur (mm);Longueur (mm);Largeur (mm);Quantité
F1;équerre;DC01;1,5;300;120;40
F2;capot;DC01;2;410;80;25
""", """
F1|DC01|1.5|300|120|40|-|-
F2|DC01|2|410|80|25|-|-"""),
    text("Italian, Windows coding", """
Codice;Descrizione;Materiale;Spessore mm;Lunghezza mm;Larghezza mm;Quantità
I1;staffa;DC01;1,5;300;120;40
I2;coperchio;DC01;2;410;80;25
""", """
I1|DC01|1.5|300|120|40|-|-
I2|DC01|2|410|80|25|-|-""", coding="cp1252"),
    text("quotes, separators and line breaks in cells", '''
part;description;material;"thickness
(mm)";"length, flat (mm)";"width (mm)";qty
A1;"left; with ""lip""";S235JR;2;100;50;5
A2;"two
lines";S235JR;2;120;50;6
''', """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|2|120|50|6|-|-"""),
    text("mass and price beside", """
part;material;thickness mm;length mm;width mm;weight kg;qty;target price EUR
A1;S235JR;2;1000;500;7.85;5;12.50
A2;S235JR;2;1200;500;9.42;6;14.00
""", """
A1|S235JR|2|1000|500|5|-|-
A2|S235JR|2|1200|500|6|-|-"""),
    text("quantities that cannot be", """
part;material;thickness mm;length mm;width mm;qty
A1;S235JR;2;100;50;-5
A2;S235JR;2;120;50;0
A3;S235JR;2;120;50;50-
A4;S235JR;2;120;50;12a
A5;S235JR;2;120;50;1_5
A6;S235JR;2;120;50;1e2
""", """
A1|S235JR|2|100|50|~|-|-
A2|S235JR|2|120|50|~|-|-
A3|S235JR|2|120|50|~|-|-
A4|S235JR|2|120|50|~|-|-
A5|S235JR|2|120|50|~|-|-
A6|S235JR|2|120|50|~|-|-"""),
    text("sizes with a tolerance, about, or a range", """
part;material;thickness mm;length mm;width mm;qty
A1;S235JR;2;100±0.5;50;5
A2;S235JR;2;ca. 120;50;5
A3;S235JR;2;100-120;50;5
A4;S235JR;2;100 +0.2/-0.1;50;5
A5;S235JR;2;Ø100;50;5
A6;S235JR;-2;100;50;5
""", """
A1|S235JR|2|~|50|5|-|-
A2|S235JR|2|~|50|5|-|-
A3|S235JR|2|~|50|5|-|-
A4|S235JR|2|~|50|5|-|-
A5|S235JR|2|~|50|5|-|-
A6|S235JR|~|100|50|5|-|-"""),
    text("thickness within the material", """
part;material;length mm;width mm;qty
A1;S235JR 2 mm;100;50;5
A2;S235JR 3 mm;120;50;6
""", """
A1|S235JR|2|100|50|5|-|-
A2|S235JR|3|120|50|6|-|-"""),
    text("quantity per assembly and in total", """
part;material;thickness mm;length mm;width mm;Qty per assy;Total qty
A1;S235JR;2;100;50;2;40
A2;S235JR;2;120;50;4;80
""", """
A1|S235JR|2|100|50|40|-|-
A2|S235JR|2|120|50|80|-|-""", column__lot="G"),
    text("designations by many standards", """
part;material;thickness mm;length mm;width mm;qty
M1;X5CrNi18-10;2;100;50;1
M2;1.0330;2;100;50;2
M3;1.0038;2;100;50;3
M4;EN AW-5754;2;100;50;4
M5;SUS304;2;100;50;5
M6;AISI 304;2;100;50;6
M7;St 37-2;2;100;50;7
M8;UNS S30400;2;100;50;8
M9;316L;2;100;50;9
M10;1.4539;2;100;50;10
""", """
M1|1.4301|2|100|50|1|-|-
M2|DC01|2|100|50|2|-|-
M3|S235JR|2|100|50|3|-|-
M4|EN AW-5754 H111|2|100|50|4|-|-
M5|304|2|100|50|5|-|-
M6|304|2|100|50|6|-|-
M7|S235JR|2|100|50|7|-|-
M8|304|2|100|50|8|-|-
M9|316L|2|100|50|9|-|-
M10|~|2|100|50|10|-|-""", **{"material__EN AW-5754": "EN AW-5754 H111", "material__SUS304": "304", "material__St 37-2": "S235JR", "material__AISI 304": "304", "material__UNS S30400": "304"}),
    text("US list in inches", """
ITEM,P/N,DESCRIPTION,MAT'L,THK (IN.),BLANK L (IN.),BLANK W (IN.),EAU,LOT QTY
1,70-001,GUSSET,A36,.250,12.00,8.50,600,50
2,70-002,"PLATE, BASE",A36,.375,24.00,10.00,"1,200",100
""", """
70-001|A36|6.35|304.8|215.9|50|600|-
70-002|A36|9.525|609.6|254|100|1200|-"""),
]  # fmt: skip
