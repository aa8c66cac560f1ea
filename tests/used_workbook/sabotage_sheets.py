"""Sabotages of what is shown, of what guards a file, and of rows, columns and sheets."""

from __future__ import annotations

import re
from collections.abc import Callable

from lxml import etree
from sabotage_base import QUOTE, Place, Sabotage, comparison, quote
from workbook_file import MAIN, WorkbookFile
from xlsxwriter.utility import xl_rowcol_to_cell


# --- looks ------------------------------------------------------------------------------------------------------------
def shown_as(name: str, kind: dict[str, Sabotage], table: str, column: str, row: int, code: str) -> None:
    """A sabotage of a number format."""

    def sabotage(file: WorkbookFile) -> Place:
        place = file.place(table, column, row)
        file.number_format(*place, code)
        return place

    kind[name] = sabotage


shown_as("hidden by its format", QUOTE, "prices", "margin_0_share", 0, ";;;")
shown_as("rounded by its format", QUOTE, "page", "price_0_cur", 1, "0")
shown_as("another figure in the format", QUOTE, "page", "price_0_cur", 2, '"9.90"')
shown_as("in thousands", QUOTE, "page", "price_0_cur", 0, "#,##0.00,")
shown_as("another currency in the format", QUOTE, "page", "price_1_cur", 0, '#,##0.00" USD"')
shown_as("negative without its sign", QUOTE, "prices", "loss_0_cur", 0, "#,##0.00;#,##0.00")


@quote
def another_currency_typed_on_the_page(file: WorkbookFile) -> Place:
    return _label_changed(
        file, file.sheet_of("page"), lambda text: text.startswith("EUR"), lambda text: text.replace("EUR", "USD")
    )


@quote
def currency_in_the_terms(file: WorkbookFile) -> Place:
    return file.type("texts", "payment", 0, "30 days net, all prices in USD")


@quote
def unit_label_changed(file: WorkbookFile) -> Place:
    item = file.column("parts", "thickness_mm")
    return file.put(item["sheet"], xl_rowcol_to_cell(item["row"] - 1, item["at"]), "in")


@comparison
def label_changed(file: WorkbookFile) -> Place:
    return _label_changed(file, file.sheet_of("parts"), lambda text: text == "Thickness", lambda text: "Width")


def _label_changed(file: WorkbookFile, sheet: str, test: Callable[[str], bool], change: Callable[[str], str]) -> Place:
    strings = ["".join(item.itertext(f"{MAIN}t")) for item in file.tree("xl/sharedStrings.xml")]
    for cell in file.sheet(sheet).iter(f"{MAIN}c"):
        if cell.get("t") == "s" and test(strings[int(cell.find(f"{MAIN}v").text)]):
            return file.put(sheet, cell.get("r"), change(strings[int(cell.find(f"{MAIN}v").text)]))
    raise AssertionError(f"no such label on {sheet}")


@quote
def white_on_white(file: WorkbookFile) -> Place:
    place = file.place("prices", "loss_0_cur", 0)
    file.font_color(*place, "FFFFFFFF")
    return place


@quote
def row_hidden(file: WorkbookFile) -> Place:
    sheet, cell = file.place("costs_1", "part", 1)
    file.row(sheet, int(re.sub(r"\D", "", cell))).set("hidden", "1")
    return sheet, ""


@quote
def row_of_no_height(file: WorkbookFile) -> Place:
    sheet, cell = file.place("prices", "part", 1)
    row = file.row(sheet, int(re.sub(r"\D", "", cell)))
    row.set("ht", "0")
    row.set("customHeight", "1")
    return sheet, ""


@quote
def column_hidden(file: WorkbookFile) -> Place:
    sheet, _ = file.place("prices", "margin_0_share")
    file.sheet(sheet).find(f"{MAIN}cols")[2].set("hidden", "1")
    return sheet, ""


@quote
def sheet_hidden(file: WorkbookFile) -> Place:
    name = file.sheet_of("checks_all")
    file.sheet_entry(name).set("state", "hidden")
    return name, ""


# --- what guards the file ----------------------------------------------------------------------------------------------
@quote
def protection_removed(file: WorkbookFile) -> Place:
    name = file.record["protected"][0]
    sheet = file.sheet(name)
    sheet.remove(sheet.find(f"{MAIN}sheetProtection"))
    return name, ""


@quote
def validation_removed(file: WorkbookFile) -> Place:
    name = file.sheet_of("parts")
    sheet = file.sheet(name)
    sheet.remove(sheet.find(f"{MAIN}dataValidations"))
    return name, ""


@quote
def one_validation_removed(file: WorkbookFile) -> Place:
    sheet, cell = file.place("terms", "margin_share")
    rules = file.sheet(sheet).find(f"{MAIN}dataValidations")
    rules.remove(next(item for item in rules if item.get("sqref") == cell))
    return sheet, cell


@quote
def lock_taken_off(file: WorkbookFile) -> Place:
    place = file.place("prices", "price_0_cur", 0)
    file.unlock(*place)
    return place


@quote
def name_moved(file: WorkbookFile) -> Place:
    item = file.defined_name("Margin")
    item.text = re.sub(r"\d+$", lambda m: str(int(m[0]) + 1), item.text)
    return "", "Margin"


@quote
def name_deleted(file: WorkbookFile) -> Place:
    item = file.defined_name("Order_price")
    item.getparent().remove(item)
    return "", "Order_price"


@quote
def calculation_by_hand(file: WorkbookFile) -> Place:
    file.tree("xl/workbook.xml").find(f"{MAIN}calcPr").set("calcMode", "manual")
    return "", ""


@quote
def figures_cut_to_what_is_shown(file: WorkbookFile) -> Place:
    file.tree("xl/workbook.xml").find(f"{MAIN}calcPr").set("fullPrecision", "0")
    return "", ""


@quote
def record_changed(file: WorkbookFile) -> Place:
    strings = file.tree("xl/sharedStrings.xml")
    item = next(item for item in strings.iter(f"{MAIN}t") if (item.text or "").startswith('{"form"'))
    item.text = item.text.replace('"thickness_mm"', '"thicknes_mm"', 1)
    return "xlfab", ""


# --- rows, columns, sheets --------------------------------------------------------------------------------------------
@quote
def rows_put_in_above(file: WorkbookFile) -> Place:
    name = file.sheet_of("bends")
    file.shift_rows(name, 2, 2)
    return name, ""


@quote
def row_deleted_from_a_list(file: WorkbookFile) -> Place:
    sheet, cell = file.place("costs_1", "part", 1)
    file.shift_rows(sheet, int(re.sub(r"\D", "", cell)) + 1, -1)
    return sheet, ""


@quote
def column_put_in(file: WorkbookFile) -> Place:
    name = file.sheet_of("costs_1")
    file.shift_columns(name, 3, 1)
    return name, ""


@quote
def sheet_renamed(file: WorkbookFile) -> Place:
    name = file.sheet_of("costs_1")
    file.sheet_entry(name).set("name", f"{name} (old)")
    return name, ""


@quote
def shapes_over_the_page(file: WorkbookFile) -> Place:
    """A text box with another price on top of the page."""
    part, sheet = "xl/drawings/drawing99.xml", file.sheet(file.sheet_of("page"))
    file.parts[part] = (
        b'<xdr:wsDr xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing" xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main">'
        b"<xdr:twoCellAnchor><xdr:from><xdr:col>3</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>18</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:from>"
        b'<xdr:to><xdr:col>5</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>20</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:to><xdr:sp macro="" textlink="">'
        b'<xdr:nvSpPr><xdr:cNvPr id="2" name="Text 1"/><xdr:cNvSpPr txBox="1"/></xdr:nvSpPr><xdr:spPr><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr>'
        b"<xdr:txBody><a:bodyPr/><a:p><a:r><a:t>9.90</a:t></a:r></a:p></xdr:txBody></xdr:sp><xdr:clientData/></xdr:twoCellAnchor></xdr:wsDr>"
    )
    name = file.sheet_parts[file.sheet_of("page")].rsplit("/", 1)[1]
    file.parts[f"xl/worksheets/_rels/{name}.rels"] = (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId9" '
        b'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/drawing" Target="../drawings/drawing99.xml"/></Relationships>'
    )
    etree.SubElement(sheet, f"{MAIN}drawing").set(
        "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id", "rId9"
    )
    types = file.tree("[Content_Types].xml")
    etree.SubElement(
        types, types[0].tag.replace("Default", "Override"), PartName=f"/{part}", ContentType="application/vnd.openxmlformats-officedocument.drawing+xml"
    )  # fmt: skip
    return file.sheet_of("page"), ""
