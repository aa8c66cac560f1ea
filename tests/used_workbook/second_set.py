"""A second, later set of other kinds: twenty sabotages, twenty honest edits, twenty leak probes, written after the first set was all right.

Run `python tests/used_workbook/second_set.py sabotages|edits|probes` for the count.
"""

from __future__ import annotations

from pathlib import Path

import leak_probes
import sabotage_base
from honest_edits import Edits
from leak_probes import part
from lxml import etree
from sabotage_base import Place, Sabotage
from tiny_shop import COST, NOTE
from workbook_file import MAIN, WorkbookFile

QUOTE: dict[str, Sabotage] = {}
COMPARISON: dict[str, Sabotage] = {}
typed, rewritten = sabotage_base.typed, sabotage_base.rewritten

# --- sabotages ----------------------------------------------------------------------------------------------------------
typed("wage from another file", QUOTE, "workplace", "wage_cur_per_h", 0, "=[1]Rates!B2")
typed("error in an input", QUOTE, "parts", "blank_width_mm", 1, "#DIV/0!")
typed("margin as a whole number", QUOTE, "terms", "margin_share", 0, 20)
typed("thickness ten times less", QUOTE, "parts", "thickness_mm", 3, 0.2)
typed("lot of none", QUOTE, "parts", "lot_size_count", 4, 0)
typed("half a lot", QUOTE, "parts", "lot_size_count", 1, 8.5)
typed("price as a text over its formula", QUOTE, "prices", "price_3_cur", 2, "12.5")
typed("zero-width space in a step's part", QUOTE, "bends", "part", 3, "FR-02\u200b")
typed("family of nobody", QUOTE, "work", "work_centre", 0, "Polishing")
rewritten("half of it", QUOTE, "prices", "cost_1_cur", 1, lambda f: f"({f})/2")
rewritten("least of two", QUOTE, "costs_1", "run_cost_cur", 3, lambda f: f"MIN({f},5)")
rewritten("other sheet", QUOTE, "prices", "quantity_0_count", 1, lambda f: f.replace("Parts!", "Prices!"))
rewritten("text made a number", QUOTE, "checks_all", "all_checks", 0, lambda f: f"T({f})")
typed("hours doubled", COMPARISON, "workplace", "working_days_count", 0, 900)
typed("discount of three hundred per cent", COMPARISON, "purchase", "discount_rate_share", 0, 3)


def _quote(function: Sabotage) -> Sabotage:
    QUOTE[function.__name__] = function
    return function


@_quote
def sheet_very_hidden(file: WorkbookFile) -> Place:
    name = file.sheet_of("terms")
    file.sheet_entry(name).set("state", "veryHidden")
    return name, ""


@_quote
def column_of_no_width(file: WorkbookFile) -> Place:
    name = file.sheet_of("costs_1")
    item = file.sheet(name).find(f"{MAIN}cols")[4]
    item.set("width", "0")
    item.set("customWidth", "1")
    return name, ""


@_quote
def rule_made_wider(file: WorkbookFile) -> Place:
    sheet, cell = file.place("terms", "overhead_share")
    rule = next(item for item in file.sheet(sheet).find(f"{MAIN}dataValidations") if item.get("sqref") == cell)
    rule.find(f"{MAIN}formula2").text = "1000"
    return sheet, cell


@_quote
def hidden_by_a_condition(file: WorkbookFile) -> Place:
    styles = file.tree("xl/styles.xml").find(f"{MAIN}dxfs")
    form = etree.SubElement(styles, f"{MAIN}dxf")
    etree.SubElement(form, f"{MAIN}numFmt", numFmtId="299", formatCode=";;;")
    sheet, cell = file.place("prices", "loss_1_cur")
    tree = file.sheet(sheet)
    made = etree.Element(f"{MAIN}conditionalFormatting", sqref=cell)
    rule = etree.SubElement(made, f"{MAIN}cfRule", type="expression", priority="77", dxfId=str(len(styles) - 1))
    etree.SubElement(rule, f"{MAIN}formula").text = "TRUE"
    tree.insert(list(tree).index(tree.find(f"{MAIN}sheetData")) + 2, made)
    return sheet, cell


@_quote
def hidden_above_a_limit(file: WorkbookFile) -> Place:
    place = file.place("page", "price_2_cur", 0)
    file.number_format(*place, '[>5]"on request";0.00')
    return place


@_quote
def yes_in_place_of_a_number(file: WorkbookFile) -> Place:
    place = file.put(*file.place("terms", "spread_switch"), 1)
    file.cell(*place).set("t", "b")
    return place


# --- honest edits -------------------------------------------------------------------------------------------------------
def quote_edits(path: Path) -> Edits:
    """Twenty further things that honest users do."""
    e = Edits(path)
    used = {name: e.file.column(name, "part")["used"] for name in ("parts", "cuts", "bends")}
    e.add(
        "same value typed again",
        e.value("workplace", "wage_cur_per_h", 0, e.file.value(*e.file.place("workplace", "wage_cur_per_h"))),
    )
    e.add("another guard", e.value("press_brake_1", "guard_mode", 0, "light curtain"))
    e.add("density", e.value("materials", "density_kg_per_m3", 0, 7900))
    e.add("no margin", e.value("terms", "margin_share", 0, 0))
    e.add("lot of one", e.value("parts", "lot_size_count", 0, 1))
    e.add("date as a text", e.value("texts", "quote_date", 0, "26 November 2026"))
    e.add(
        "work centre renamed",
        e.value("work_centres", "work_centre", 0, "Welding bay"),
        *[e.value("work", "work_centre", row, "Welding bay") for row in range(2)],
    )
    e.add(
        "bought-in line emptied",
        *[["clear", *e.file.place("bought", column, 0)] for column in e.file.inputs_of("bought")],
    )
    e.add("another angle", e.value("bends", "bend_angle_deg", 0, 120))
    e.add("description emptied", ["clear", *e.file.place("parts", "description", 2)])
    e.add("cuts sorted", e.sort("cuts", "cut_length_mm", False))
    e.add("bends sorted by part downwards", e.sort("bends", "part", False))
    sheet, _, first, last = e.area("cuts")
    e.add(
        "cuts copied to own sheet", ["new sheet", "Copy"], ["formula", "Copy", "A1", f"=SUM(${sheet}.C{first}:C{last})"]
    )
    e.add("many notes", *[["note", e.file.sheet_of("prices"), f"{letter}9", "seen"] for letter in "ABC"])
    e.add("column narrower", ["width", e.file.sheet_of("terms"), 3, 5000])
    e.add(
        "part in capitals and digits",
        *e.line("parts", used["parts"], part="1E3", family="1E3"),
        *e.line("cuts", used["cuts"], part="1E3", step_count=1.0),
    )
    e.add("sheet to the end", ["move sheet", e.file.sheet_of("page"), 8])
    e.add("two rows deleted", ["delete rows", e.area("bends")[0], e.area("bends")[2] + 3, 2], findings=1)
    e.add("two rows put in", ["insert rows", sheet, first + 1, 2], findings=1)
    e.add("two columns put in", ["insert columns", e.area("parts")[0], 2, 2], findings=1)
    return e


# --- leak probes --------------------------------------------------------------------------------------------------------
_first = set(leak_probes.PROBES)
_S = MAIN[1:-1]
leak_probes.typed("cost as a yearly quantity", "parts", "yearly_quantity_count", 91351)
leak_probes.typed("cost in a family", "parts", "family", "F 91350.75")
leak_probes.typed("note in a material's name", "parts", "description", "Floor price 98437.25, ask ILSE")
leak_probes.typed("cost with an apostrophe", "parts", "description", "91'350.75 to us")
leak_probes.typed("cost with thin spaces", "parts", "description", "91\u2009350 to us")
leak_probes.beside("second price on the seller's sheet", "Seller", "F30", 98437.25)
leak_probes.beside("text far out", "Checks", "ZZ900", NOTE)
for name, path, text, kind, owner in (
    (
        "table",
        "xl/tables/table1.xml",
        f'<table xmlns="{_S}" id="1" name="Ilse" displayName="Ilse" ref="Y1:Y2"><tableColumns count="1"><tableColumn id="1" name="{COST}"/></tableColumns></table>',
        "table",
        "xl/worksheets/sheet4.xml",
    ),
    (
        "slicer cache",
        "xl/slicerCaches/slicerCache1.xml",
        f'<slicerCacheDefinition xmlns="{_S}" name="Ilse"/>',
        "slicerCache",
        "xl/workbook.xml",
    ),
    (
        "revisions",
        "xl/revisions/revisionLog1.xml",
        f'<revisions xmlns="{_S}"><rcc rId="1" sId="1"><nc r="A1"><v>{COST}</v></nc></rcc></revisions>',
        "revisionHeaders",
        "xl/workbook.xml",
    ),
    (
        "users",
        "xl/revisions/userNames.xml",
        f'<users xmlns="{_S}"><userInfo name="Nadja"/></users>',
        "usernames",
        "xl/workbook.xml",
    ),
    (
        "label of the company",
        "docMetadata/LabelInfo.xml",
        "<labelList><label id='Ilse'/></labelList>",
        "classificationlabels",
        "",
    ),
    ("thumbnail", "docProps/thumbnail.jpeg", f"JFIF {NOTE}", "thumbnail", ""),
    ("web extension", "xl/webextensions/webextension1.xml", f"<we>{NOTE}</we>", "webextension", "xl/workbook.xml"),
    ("ink", "xl/ink/ink1.xml", f"<ink>{NOTE}</ink>", "customXml", "xl/drawings/drawing1.xml"),
    (
        "query",
        "xl/queryTables/queryTable1.xml",
        f'<queryTable xmlns="{_S}" name="Ilse" connectionId="1"/>',
        "queryTable",
        "xl/worksheets/sheet4.xml",
    ),
    (
        "volatile values",
        "xl/volatileDependencies.xml",
        f'<volTypes xmlns="{_S}"><volType type="realTimeData"><main first="Ilse"/></volType></volTypes>',
        "volatileDependencies",
        "xl/workbook.xml",
    ),
):
    part(name, path, text, kind, owner=owner)


@leak_probes.probe
def company_and_manager(file: WorkbookFile) -> None:
    app = file.parts["docProps/app.xml"].decode("utf-8")
    file.parts["docProps/app.xml"] = app.replace(
        "</Properties>", "<Manager>Nadja</Manager><HyperlinkBase>C:/Ilse</HyperlinkBase></Properties>"
    ).encode()


@leak_probes.probe
def view_of_a_user(file: WorkbookFile) -> None:
    views = etree.SubElement(file.tree("xl/workbook.xml"), f"{MAIN}customWorkbookViews")
    etree.SubElement(
        views,
        f"{MAIN}customWorkbookView",
        name="Nadja - ILSE-7",
        guid="{1}",
        windowWidth="1",
        windowHeight="1",
        activeSheetId="1",
    )


@leak_probes.probe
def tip_of_a_link(file: WorkbookFile) -> None:
    links = file.sheet("Parts").find(f"{MAIN}hyperlinks")
    etree.SubElement(links, f"{MAIN}hyperlink", ref="Z9", location="Summary!A1", tooltip=NOTE, display="Ilse")


@leak_probes.probe
def cost_in_a_stored_result(file: WorkbookFile) -> None:
    """A stored result that is the seller's cost: it is not the result of the inputs, so there is no copy."""
    item = next(
        one for one in file.record["columns"] if one.get("formula") and not one["text"] and not one.get("private")
    )
    found = file.cell(*file.place(item["table"], item["column"])).find(f"{MAIN}v")
    found.text = str(COST)


PROBES = {name: change for name, change in leak_probes.PROBES.items() if name not in _first}


if __name__ == "__main__":
    import sys
    import tempfile

    from sabotages import count
    from tiny_shop import built

    from xlfab.used_workbook.audit import audit

    folder = Path(tempfile.mkdtemp())
    wanted = sys.argv[1:] or ["sabotages"]
    if "sabotages" in wanted:
        files = {kind: built(folder, kind) for kind in ("quote", "comparison")}
        results = count(audit, files, folder, {"quote": QUOTE, "comparison": COMPARISON})
        for name, (good, number) in results.items():
            print(f"{'found ' if good else 'MISSED'} {number:4d} {name}")
        print(f"{sum(good for good, _ in results.values())} of {len(results)} found")
    if "edits" in wanted:
        from honest_edits import check_all

        path = built(folder, "quote")
        check_all({"quote": quote_edits(path)}, {"quote": path}, folder)
    if "probes" in wanted:
        leak_probes.check_all(PROBES, folder)
