"""Lists that come as text: which column is what."""

from list_corpus.case import text

CASES = [
    text("plain, comma, point", """
part no,material,thickness (mm),length (mm),width (mm),qty,bends
A-1,S235JR,2,300,120.5,50,2
A-2,S235JR,3,410,80,25,0
""", """
A-1|S235JR|2|300|120.5|50|-|2
A-2|S235JR|3|410|80|25|-|0"""),
    text("German, semicolon, decimal comma, Stk, total row", """
Anfrage 4711;;;;;
;;;;;
Teile-Nr.;Werkstoff;Dicke [mm];Länge [mm];Breite [mm];Stk
W-10;DC01;1,5;1.250,5;80;200
W-11;DC01;2;640,25;480;1.500
Summe;;;;;1.700
""", """
W-10|DC01|1.5|1250.5|80|200|-|-
W-11|DC01|2|640.25|480|1500|-|-""", coding="cp1252"),
    text("finished length in inches beside the blank length in mm", """
Part;Material;Thk [mm];Length [in];Blank length [mm];Blank width [mm];Qty
F1;S235JR;2;3.5;100;60;10
F2;S235JR;2;7.25;200;60;10
""", """
F1|S235JR|2|100|60|10|-|-
F2|S235JR|2|200|60|10|-|-""", column__length="E"),
    text("blank length without a unit beside a length in inches", """
Part;Material;Thk [mm];Length [in];Blank length;Blank width [mm];Qty
F1;S235JR;2;3.5;100;60;10
F2;S235JR;2;7.25;200;60;10
""", """
F1|S235JR|2|100|60|10|-|-
F2|S235JR|2|200|60|10|-|-""", column__length="E"),
    text("1.000 St.", """
Teile-Nr.;Material;Dicke mm;Länge mm;Breite mm;Anzahl
P1;DC01;2;100;50;1.000 St.
P2;DC01;2;120;50;250 St.
""", """
P1|DC01|2|100|50|1000|-|-
P2|DC01|2|120|50|250|-|-""", decimal=","),
    text("80,5 without quotes in a comma file", """
part,material,thickness mm,length mm,width mm,qty
A1,S235JR,2,100,60,10
A2,S235JR,2,120,80,5,20
A3,S235JR,2,140,60,30
""", """
A1|S235JR|2|100|60|10|-|-
A2|S235JR|2|~|~|~|-|-
A3|S235JR|2|140|60|30|-|-"""),
    text("80,5 without quotes, remarks column at the end", """
part,material,thickness mm,length mm,width mm,qty,remark
A1,S235JR,2,100,60,10,deburr
A2,S235JR,2,120,80,5,20
A3,S235JR,2,140,60,30,
""", """
A1|S235JR|2|100|60|10|-|-
A2|S235JR|2|120|~|~|-|-
A3|S235JR|2|140|60|30|-|-"""),
    text("legs in columns of their own", """
part,material,t mm,length mm,Leg A (mm),Leg B (mm),qty
L1,DC01,2,500,40,60,20
L2,DC01,2,800,30,100,20
""", """
L1|DC01|2|500|95.99|20|-|1
L2|DC01|2|800|125.99|20|-|1"""),
    text("three legs, one part with two only", """
part;material;t mm;length mm;Leg A;Leg B;Leg C;qty
U1;DC01;2;500;40;100;40;20
L1;DC01;2;500;40;60;;20
""", """
U1|DC01|2|500|171.99|20|-|2
L1|DC01|2|500|95.99|20|-|1"""),
    text("Menge/Jahr and Losgröße", """
Teile-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge/Jahr;Losgröße
J1;DC01;2;100;50;12000;500
J2;DC01;2;150;50;2400;200
""", """
J1|DC01|2|100|50|500|12000|-
J2|DC01|2|150|50|200|2400|-"""),
    text("Menge/Jahr alone", """
Teile-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge/Jahr
J1;DC01;2;100;50;12000
J2;DC01;2;150;50;2400
""", """
J1|DC01|2|100|50|-|12000|-
J2|DC01|2|150|50|-|2400|-"""),
    text("Jahresmenge and Abruf", """
Art.-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Jahresmenge;Abrufmenge
J1;DC01;2;100;50;12000;500
J2;DC01;2;150;50;2400;200
""", """
J1|DC01|2|100|50|500|12000|-
J2|DC01|2|150|50|200|2400|-""", column__lot="G"),
    text("Pos. and Teile-Nr.", """
Pos.;Teile-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Menge
10;T-100;DC01;2;100;50;5
20;T-200;DC01;2;150;50;6
""", """
T-100|DC01|2|100|50|5|-|-
T-200|DC01|2|150|50|6|-|-"""),
    text("Pos. and Art.-Nr., UTF-16 with tabs", """
Pos.\tArt.-Nr.\tWerkstoff\tDicke mm\tLänge mm\tBreite mm\tMenge
10\tT-100\tDC01\t2\t100\t50\t5
20\tT-200\tDC01\t2\t150\t50\t6
""", """
T-100|DC01|2|100|50|5|-|-
T-200|DC01|2|150|50|6|-|-""", ".txt", "utf-16"),
    text("Pos., Benennung, Zeichnungs-Nr.", """
Pos.;Benennung;Zeichnungs-Nr.;Werkstoff;Blechstärke;Länge;Breite;Stückzahl
1;Winkel;Z 4.1;DC01;2;100;50;5
2;Deckel;Z 4.10;DC01;2;150;50;6
""", """
Z 4.1|DC01|2|100|50|5|-|-
Z 4.10|DC01|2|150|50|6|-|-"""),
    text("lfd. Nr. and Sach-Nr.", """
lfd. Nr.;Sach-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Anzahl
1;887-01;DC01;2;100;50;5
2;887-02;DC01;2;150;50;6
""", """
887-01|DC01|2|100|50|5|-|-
887-02|DC01|2|150|50|6|-|-"""),
    text("Artikel-Nr. after the position without a heading", """
;Artikel-Nr.;Werkstoff;Dicke mm;Länge mm;Breite mm;Anzahl
1;A 77;DC01;2;100;50;5
2;A 78;DC01;2;150;50;6
""", """
A 77|DC01|2|100|50|5|-|-
A 78|DC01|2|150|50|6|-|-"""),
    text("Pos. alone names the parts", """
Pos.;Werkstoff;Dicke mm;Länge mm;Breite mm;Anzahl
10;DC01;2;100;50;5
20;DC01;2;150;50;6
""", """
10|DC01|2|100|50|5|-|-
20|DC01|2|150|50|6|-|-""", column__part="A"),
    text("Item and Part number, Description", """
Item,Part number,Description,Material,Thickness (mm),Length (mm),Width (mm),Qty
1,PN-5,bracket,DC01,2,100,50,5
2,PN-6,"cover, left",DC01,2,150,50,6
""", """
PN-5|DC01|2|100|50|5|-|-
PN-6|DC01|2|150|50|6|-|-"""),
    text("gauge in mm", """
part,material,gauge (mm),length (mm),width (mm),qty
G1,DC01,1.5,100,50,5
G2,DC01,16,150,50,6
""", """
G1|DC01|1.5|100|50|5|-|-
G2|DC01|16|150|50|6|-|-"""),
    text("gauge without a unit, values in mm", """
part,material,gauge,length (mm),width (mm),qty
G1,DC01,1.5,100,50,5
G2,DC01,2.0,150,50,6
""", """
G1|DC01|1.5|100|50|5|-|-
G2|DC01|2|150|50|6|-|-""", unit__thickness="mm"),
    text("gauge numbers", """
part,material,gauge,length (in),width (in),qty
G1,A1008 CS-B,16,10,5,5
G2,304,14,12.5,5,6
""", """
G1|A1008 CS-B|1.51892|254|127|5|-|-
G2|304|1.98374|317.5|127|6|-|-""", unit__thickness="gauge", **{"gauge__A1008 CS-B": "sheet steel", "gauge__304": "stainless steel"}),
    text("GA in the cells, decimals of an inch in others", """
part,material,thk,length,width,qty
G1,A1008 CS-B,16 GA,10",5",5
G2,A1008 CS-B,0.125",12-1/2",5",6
""", """
G1|A1008 CS-B|1.51892|254|127|5|-|-
G2|A1008 CS-B|3.175|317.5|127|6|-|-""", gauge="sheet steel"),
    text("fractions, feet and inches", """
P/N|Grade|Thk (in)|Len|Wid|Req'd
R1|A36|1/8|4'-6"|10 1/2"|4
R2|A36|3/16|2' 3 1/4"|0.75"|4
R3|A36|1/4|5'|3-3/8"|4
""", """
R1|A36|3.175|1371.6|266.7|4|-|-
R2|A36|4.7625|692.15|19.05|4|-|-
R3|A36|6.35|1524|85.725|4|-|-""", ".txt"),
]  # fmt: skip
