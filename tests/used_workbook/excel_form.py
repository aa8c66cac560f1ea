"""A built workbook in the form in which Excel saves one: what it adds, renames and packs differently, with every figure as it was.

Shared formulas, calculation chain, calls of an add-in through an external link, the path and the users' names, rich and phonetic texts,
rules that refer to another sheet in an extension, cell metadata, web and mail links, absolute targets of relations. The forms are those
of ECMA-376 part 1 (18.2 workbook, 18.3 worksheets, 18.4 shared strings, 18.14 external links) and of the extensions of Office 2010
and later; from memory, for Excel itself is not run here.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from lxml import etree
from workbook_file import MAIN, RELATION, WorkbookFile

_SPACE = MAIN[1:-1]
_PACK = "{http://schemas.openxmlformats.org/package/2006/relationships}"
_TYPES = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_COMPATIBLE = "http://schemas.openxmlformats.org/markup-compatibility/2006"
_X14 = "http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"
_XM = "http://schemas.microsoft.com/office/excel/2006/main"
_ROW = re.compile(r"(\$?[A-Z]{1,3})(\d+)(?![\d(])")


def saved_by_excel(source: Path, target: Path) -> Path:
    """A copy as Excel would save it."""
    file = WorkbookFile(source)
    for name in file.sheet_parts:
        if name != "xlfab":
            sheet = file.sheet(name)
            _shared_formulas(sheet)
            _calls(file, sheet)
            _rules(sheet)
            _spans(sheet)
    _texts(file)
    _book(file)
    _calculation_chain(file)
    _links(file, next(iter(file.sheet_parts)))
    return file.save(target)


def _shared_formulas(sheet: Any) -> None:
    """Formulas of a column that say the same are written once; the others name the first (18.3.1.40)."""
    columns: dict[str, list[Any]] = {}
    for cell in sheet.iter(f"{MAIN}c"):
        formula = cell.find(f"{MAIN}f")
        if formula is not None and formula.get("t") is None and "'" not in (formula.text or ""):
            columns.setdefault(re.sub(r"\d", "", cell.get("r")), []).append(cell)
    number = 0
    for cells in columns.values():
        while len(cells) > 1:
            first, run = cells[0], [cells[0]]
            for cell in cells[1:]:
                if int(re.sub(r"\D", "", cell.get("r"))) == int(re.sub(r"\D", "", run[-1].get("r"))) + 1 and _same(
                    first, cell
                ):
                    run.append(cell)
                else:
                    break
            if len(run) > 1:
                formula = first.find(f"{MAIN}f")
                formula.attrib.update({"t": "shared", "ref": f"{first.get('r')}:{run[-1].get('r')}", "si": str(number)})
                for cell in run[1:]:
                    other = cell.find(f"{MAIN}f")
                    other.text = None
                    other.attrib.update({"t": "shared", "si": str(number)})
                number += 1
            cells = cells[len(run) :]


def _same(first: Any, cell: Any) -> bool:
    """True if a formula is the first one, moved: rows that stand fast do so with a dollar sign."""
    by = int(re.sub(r"\D", "", cell.get("r"))) - int(re.sub(r"\D", "", first.get("r")))
    moved = _ROW.sub(lambda match: f"{match[1]}{int(match[2]) + by}", first.find(f"{MAIN}f").text)
    return moved == cell.find(f"{MAIN}f").text


def _calls(file: WorkbookFile, sheet: Any) -> None:
    """Calls of an add-in that is loaded are stored with the number of the link to it (18.14.3)."""
    for formula in sheet.iter(f"{MAIN}f"):
        if "FAB_" in (formula.text or ""):
            formula.text = re.sub(r"(?<![\w!])FAB_", "[1]!FAB_", formula.text)


def _rules(sheet: Any) -> None:
    """Lists on another sheet as the source of a rule stand in an extension of Office 2010."""
    rules = sheet.find(f"{MAIN}dataValidations")
    if rules is None:
        return
    there = [item for item in rules if "!" in "".join(item.itertext())]
    if not there:
        return
    listed = sheet.find(f"{MAIN}extLst")
    listed = listed if listed is not None else etree.SubElement(sheet, f"{MAIN}extLst")
    extension = etree.SubElement(
        listed, f"{MAIN}ext", uri="{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}", nsmap={"x14": _X14}
    )
    group = etree.SubElement(extension, f"{{{_X14}}}dataValidations", nsmap={"xm": _XM})
    group.set("count", str(len(there)))
    for item in there:
        made = etree.SubElement(group, f"{{{_X14}}}dataValidation")
        for key, value in item.attrib.items():
            if key != "sqref":
                made.set(key, value)
        first = etree.SubElement(etree.SubElement(made, f"{{{_X14}}}formula1"), f"{{{_XM}}}f")
        first.text = item.find(f"{MAIN}formula1").text
        etree.SubElement(made, f"{{{_XM}}}sqref").text = item.get("sqref")
        rules.remove(item)
    rules.set("count", str(len(rules)))
    if not len(rules):
        sheet.remove(rules)


def _spans(sheet: Any) -> None:
    """Rows say from which to which column they are filled."""
    for row in sheet.iter(f"{MAIN}row"):
        row.set("spans", f"1:{max(1, len(row))}")


def _texts(file: WorkbookFile) -> None:
    """Some texts in pieces of different letters, one with a reading beside it (18.4)."""
    strings = file.tree("xl/sharedStrings.xml")
    for number, item in enumerate(strings):
        text = item.find(f"{MAIN}t")
        if text is not None and number % 7 == 0 and text.text and 4 < len(text.text) < 1000:
            words = text.text
            item.remove(text)
            for piece in (words[:3], words[3:]):
                run = etree.SubElement(item, f"{MAIN}r")
                etree.SubElement(etree.SubElement(run, f"{MAIN}rPr"), f"{MAIN}b")
                part = etree.SubElement(run, f"{MAIN}t")
                part.text = piece
                part.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
            reading = etree.SubElement(item, f"{MAIN}rPh", sb="0", eb="1")
            etree.SubElement(reading, f"{MAIN}t").text = "reading"


def _book(file: WorkbookFile) -> None:
    """Version, path and code name in the book; users' names in the properties; the link to the add-in."""
    book = file.tree("xl/workbook.xml")
    path = (
        f'<mc:AlternateContent xmlns:mc="{_COMPATIBLE}"><mc:Choice xmlns:x15="http://schemas.microsoft.com/office/spreadsheetml/2010/11/main" Requires="x15">'
        '<x15ac:absPath xmlns:x15ac="http://schemas.microsoft.com/office/spreadsheetml/2010/11/ac" url="C:\\Users\\nadja\\Offers\\"/></mc:Choice></mc:AlternateContent>'
    )
    place = list(book).index(book.find(f"{MAIN}bookViews"))
    book.insert(place, etree.fromstring(path))
    book.find(f"{MAIN}workbookPr").set("codeName", "ThisWorkbook")
    link = "xl/externalLinks/externalLink1.xml"
    file.parts[link] = (
        f'<externalLink xmlns="{_SPACE}"><externalBook xmlns:r="{_TYPES}" r:id="rId1"><sheetNames><sheetName val="xlfab"/></sheetNames>'
        '<definedNames><definedName name="FAB_ENERGY_KWH"/></definedNames></externalBook></externalLink>'
    ).encode()
    file.parts["xl/externalLinks/_rels/externalLink1.xml.rels"] = (
        f'<Relationships xmlns="{_PACK[1:-1]}"><Relationship Id="rId1" Type="{_TYPES}/externalLinkPath" '
        'Target="file:///C:\\Users\\nadja\\AddIns\\xlfab.xlam" TargetMode="External"/></Relationships>'
    ).encode()
    _lead(file, "xl/_rels/workbook.xml.rels", "rId950", "externalLink", "externalLinks/externalLink1.xml")
    _type(file, link, "application/vnd.openxmlformats-officedocument.spreadsheetml.externalLink+xml")
    references = etree.Element(f"{MAIN}externalReferences")
    etree.SubElement(references, f"{MAIN}externalReference").set(f"{RELATION}id", "rId950")
    book.insert(list(book).index(book.find(f"{MAIN}sheets")) + 1, references)
    for relation in file.tree("xl/_rels/workbook.xml.rels"):
        if relation.get("Type", "").endswith("/worksheet"):
            relation.set("Target", "/xl/" + relation.get("Target").removeprefix("/xl/"))
    core = file.parts["docProps/core.xml"].decode("utf-8")
    core = re.sub(
        r"<cp:lastModifiedBy>.*?</cp:lastModifiedBy>|<cp:lastModifiedBy/>",
        "<cp:lastModifiedBy>Nadja</cp:lastModifiedBy>",
        core,
    )
    file.parts["docProps/core.xml"] = core.encode("utf-8")


def _calculation_chain(file: WorkbookFile) -> None:
    """The order in which cells were calculated (18.6)."""
    chain = etree.Element(f"{MAIN}calcChain", nsmap={None: _SPACE})
    for number, name in enumerate(file.sheet_parts, 1):
        for cell in file.sheet(name).iter(f"{MAIN}c"):
            if cell.find(f"{MAIN}f") is not None:
                etree.SubElement(chain, f"{MAIN}c", r=cell.get("r"), i=str(number))
    file.parts["xl/calcChain.xml"] = etree.tostring(chain, xml_declaration=True, encoding="UTF-8", standalone=True)
    _lead(file, "xl/_rels/workbook.xml.rels", "rId951", "calcChain", "calcChain.xml")
    _type(file, "xl/calcChain.xml", "application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml")


def _links(file: WorkbookFile, name: str) -> None:
    """A web page and a mail address."""
    part = file.sheet_parts[name].rsplit("/", 1)[1]
    where = f"xl/worksheets/_rels/{part}.rels"
    file.parts.setdefault(where, f'<Relationships xmlns="{_PACK[1:-1]}"/>'.encode())
    relations = file.tree(where)
    sheet = file.sheet(name)
    links = sheet.find(f"{MAIN}hyperlinks")
    if links is None:
        links = etree.Element(f"{MAIN}hyperlinks")
        after = max(list(sheet).index(item) for item in sheet if etree.QName(item).localname in _BEFORE_LINKS)
        sheet.insert(after + 1, links)
    for number, target in enumerate(("https://example.org/offer", "mailto:nadja@example.org")):
        etree.SubElement(
            relations,
            f"{_PACK}Relationship",
            Id=f"rId96{number}",
            Type=f"{_TYPES}/hyperlink",
            Target=target,
            TargetMode="External",
        )
        etree.SubElement(links, f"{MAIN}hyperlink", ref=f"Z{number + 1}").set(f"{RELATION}id", f"rId96{number}")


_BEFORE_LINKS = ("sheetData", "sheetProtection", "mergeCells", "conditionalFormatting", "dataValidations")


def _lead(file: WorkbookFile, where: str, key: str, kind: str, target: str) -> None:
    etree.SubElement(file.tree(where), f"{_PACK}Relationship", Id=key, Type=f"{_TYPES}/{kind}", Target=target)


def _type(file: WorkbookFile, part: str, content: str) -> None:
    types = file.tree("[Content_Types].xml")
    etree.SubElement(types, types[0].tag.replace("Default", "Override"), PartName=f"/{part}", ContentType=content)
