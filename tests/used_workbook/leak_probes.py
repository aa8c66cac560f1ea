"""Fifty ways in which something of the seller's gets into a file. For each: what must not be in the customer's copy, if there is one.

A copy without it, or a refusal, is right; a copy with it is a leak. Run `python tests/used_workbook/leak_probes.py` for the count.
"""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from lxml import etree
from tiny_shop import COST, NOTE
from workbook_file import MAIN, RELATION, WorkbookFile

SECRETS = ("91350.75", "91,350.75", "91.350,75", "98437.25", "Ilse", "Nadja", "ILSE-7")
Probe = Callable[[WorkbookFile], None]
PROBES: dict[str, Probe] = {}
_REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACK = "{http://schemas.openxmlformats.org/package/2006/relationships}"


def probe(function: Probe) -> Probe:
    """A probe by its name."""
    PROBES[function.__name__] = function
    return function


def typed(name: str, table: str, column: str, value: Any, row: int = 0) -> None:
    """A probe that types something into an input."""
    PROBES[name] = lambda file: file.type(table, column, row, value) and None


def beside(name: str, sheet: str, cell: str, value: Any) -> None:
    """A probe that types something beside the tables of a sheet."""
    PROBES[name] = lambda file: file.put(sheet, cell, value) and None


def part(name: str, path: str, text: str, kind: str = "", content: str = "application/xml", owner: str = "") -> None:
    """A probe that adds a part to the file, with a relation of a part (or of the whole file) to it."""

    def add(file: WorkbookFile) -> None:
        file.parts[path] = text.encode("utf-8")
        types = file.tree("[Content_Types].xml")
        etree.SubElement(types, types[0].tag.replace("Default", "Override"), PartName=f"/{path}", ContentType=content)
        if kind:
            folder, _, last = owner.rpartition("/")
            where = f"{folder}/_rels/{last}.rels" if owner else "_rels/.rels"
            empty = '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"/>'
            file.parts.setdefault(where, empty.encode("utf-8"))
            relations = file.tree(where)
            etree.SubElement(
                relations,
                f"{_PACK}Relationship",
                Id=f"rId{len(relations) + 900}",
                Type=f"{_REL}/{kind}",
                Target=f"/{path}",
            )

    PROBES[name] = add


# --- typed by the seller ------------------------------------------------------------------------------------------------
beside("cost beside the summary", "Summary", "T2", COST)
beside("cost in words on the summary", "Summary", "T2", f"they pay {COST}")
beside("note on another sheet", "Parts", "Z2", NOTE)
beside("cost with points and comma", "Parts", "Z2", "Remember: 91.350,75 is what we pay")
beside("cost in a formula", "Parts", "Z2", f"={COST}*1.1")
beside("formula to the seller's sheet", "Parts", "Z2", "=Seller!C7")
beside("cost rounded beside a list", "Parts", "Z2", 91351)
beside("more on the seller's own sheet", "Seller", "H20", "Call ILSE-7 before noon")
typed("cost in an input", "option_2", "delivery_cur", COST)
typed("cost rounded in an input", "option_2", "delivery_cur", 91351)
typed("cost in hundreds in an input", "option_2", "delivery_cur", 91400)
typed("cost in a part's description", "parts", "description", "Foot, brake costs us 91350.75")
typed("cost in thousands in a description", "parts", "description", "the brake is 91.4 k to us")
typed("rounded cost in a description", "parts", "description", "about 91 thousand for us")
typed("note in a description", "parts", "description", "Floor price 98437.25")
typed("half of the note in a description", "parts", "description", "please ask Ilse before Monday")
typed("cost in a machine's name", "press_brake_1", "name", "Brake 91350.75")
typed("cost in an option's name", "option_2", "name", "Offer (91,350.75)")


@probe
def cost_typed_over_the_seller_and_left_in_the_shared_texts(file: WorkbookFile) -> None:
    strings = file.tree("xl/sharedStrings.xml")
    etree.SubElement(etree.SubElement(strings, f"{MAIN}si"), f"{MAIN}t").text = NOTE
    strings.set("uniqueCount", str(len(strings)))


def _sheet(file: WorkbookFile, name: str, state: str, rows: str) -> None:
    """A sheet of the seller's own."""
    path = f"xl/worksheets/own{len(file.sheet_parts)}.xml"
    file.parts[path] = f'<worksheet xmlns="{MAIN[1:-1]}"><sheetData>{rows}</sheetData></worksheet>'.encode()
    relations = file.tree("xl/_rels/workbook.xml.rels")
    key = f"rId{len(relations) + 700}"
    etree.SubElement(relations, f"{_PACK}Relationship", Id=key, Type=f"{_REL}/worksheet", Target=f"/{path}")
    entry = etree.SubElement(
        file.tree("xl/workbook.xml").find(f"{MAIN}sheets"), f"{MAIN}sheet", name=name, sheetId="777"
    )
    entry.set(f"{RELATION}id", key)
    if state:
        entry.set("state", state)
    types = file.tree("[Content_Types].xml")
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
    etree.SubElement(types, types[0].tag.replace("Default", "Override"), PartName=f"/{path}", ContentType=kind)


_ROW = f'<row r="1"><c r="A1"><v>{COST}</v></c><c r="B1" t="inlineStr"><is><t>{NOTE}</t></is></c></row>'
for word in ("", "hidden", "veryHidden"):
    PROBES[f"own sheet {word or 'to be seen'}"] = lambda file, state=word: _sheet(file, "Mine", state, _ROW)
PROBES["own sheet with the cost in its name"] = lambda file: _sheet(file, "91350.75 Ilse", "", "")


@probe
def seller_sheet_renamed(file: WorkbookFile) -> None:
    file.sheet_entry("Seller").set("name", "Offer")


@probe
def seller_sheet_hidden(file: WorkbookFile) -> None:
    file.sheet_entry("Seller").set("state", "hidden")


def _name(file: WorkbookFile, name: str, text: str, **more: str) -> None:
    names = file.tree("xl/workbook.xml").find(f"{MAIN}definedNames")
    etree.SubElement(names, f"{MAIN}definedName", name=name, **more).text = text


PROBES["cost in a name"] = lambda file: _name(file, "Floor", str(COST))
PROBES["text in a name"] = lambda file: _name(file, "Whom", '"ask Ilse"')
PROBES["comment of a name"] = lambda file: _name(file, "Whom", "Summary!$A$1", comment=NOTE)
PROBES["hidden name"] = lambda file: _name(file, "Floor", str(COST), hidden="1")
PROBES["name of a name"] = lambda file: _name(file, "Ilse_pays", "Summary!$A$1")


def _tag(name: str, sheet: str, xml: str) -> None:
    """A probe that adds an element at the end of a sheet."""

    def add(file: WorkbookFile) -> None:
        file.sheet(sheet).append(etree.fromstring(xml.replace(">", f' xmlns="{MAIN[1:-1]}">', 1)))

    PROBES[name] = add


_tag("header", "Summary", f"<headerFooter><oddHeader>&amp;L{NOTE}</oddHeader></headerFooter>")
_tag("footer of the first page", "Parts", "<headerFooter><firstFooter>Ilse pays 91350.75</firstFooter></headerFooter>")
_tag(
    "text of a validation",
    "Parts",
    f'<dataValidations count="1"><dataValidation type="none" prompt="{NOTE}" sqref="Z1"></dataValidation></dataValidations>',
)
_tag(
    "list of a validation",
    "Parts",
    '<dataValidations count="1"><dataValidation type="list" sqref="Z1"><formula1>"Ilse,91350.75"</formula1></dataValidation></dataValidations>',
)
_tag(
    "conditional format",
    "Parts",
    '<conditionalFormatting sqref="A1"><cfRule type="expression" priority="99"><formula>$Z$1=91350.75</formula></cfRule></conditionalFormatting>',
)
_tag(
    "scenario of a what-if",
    "Parts",
    f'<scenarios><scenario name="Ilse" comment="{NOTE}"><inputCells r="A1" val="91350.75"></inputCells></scenario></scenarios>',
)


@probe
def cell_style(file: WorkbookFile) -> None:
    styles = file.tree("xl/styles.xml").find(f"{MAIN}cellStyles")
    etree.SubElement(styles, f"{MAIN}cellStyle", name="Ilse 91350.75", xfId="0", builtinId="9")


@probe
def number_format(file: WorkbookFile) -> None:
    file.number_format("Summary", "A3", '"Ilse 91350.75"')


@probe
def alt_text_of_a_chart(file: WorkbookFile) -> None:
    drawing = next(name for name in file.parts if name.startswith("xl/drawings/drawing"))
    for item in file.tree(drawing).iter("{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}cNvPr"):
        item.set("descr", NOTE)
        item.set("name", "Ilse")


@probe
def title_and_cache_of_a_chart(file: WorkbookFile) -> None:
    chart = next(name for name in file.parts if name.startswith("xl/charts/chart"))
    for item in file.tree(chart).iter("{http://schemas.openxmlformats.org/drawingml/2006/main}t"):
        item.text = NOTE
    for item in file.tree(chart).iter("{http://schemas.openxmlformats.org/drawingml/2006/chart}v"):
        item.text = "91350.75"


@probe
def file_properties(file: WorkbookFile) -> None:
    core = file.parts["docProps/core.xml"].decode("utf-8")
    file.parts["docProps/core.xml"] = re.sub(
        r"<dc:creator>.*?</dc:creator>|<dc:creator/>", "<dc:creator>Nadja Ilse</dc:creator>", core
    ).encode("utf-8")


@probe
def path_of_the_file(file: WorkbookFile) -> None:
    book = file.tree("xl/workbook.xml")
    space = "http://schemas.microsoft.com/office/spreadsheetml/2010/11/ac"
    book.insert(0, etree.fromstring(f'<a:absPath xmlns:a="{space}" url="C:\\Users\\Nadja\\Ilse\\91350.75\\"/>'))


@probe
def user_name(file: WorkbookFile) -> None:
    book = file.tree("xl/workbook.xml")
    book.insert(0, etree.fromstring(f'<fileSharing xmlns="{MAIN[1:-1]}" userName="Nadja" readOnlyRecommended="1"/>'))


@probe
def name_of_the_sheet_in_code(file: WorkbookFile) -> None:
    file.sheet("Summary").insert(0, etree.fromstring(f'<sheetPr xmlns="{MAIN[1:-1]}" codeName="Ilse91350"/>'))


part(
    "comments",
    "xl/comments9.xml",
    f'<comments xmlns="{MAIN[1:-1]}"><authors><author>Nadja</author></authors><commentList><comment ref="A1" authorId="0"><text><t>{NOTE}</t></text></comment></commentList></comments>',
    "comments",
    owner="xl/worksheets/sheet1.xml",
)
part(
    "threaded comments",
    "xl/threadedComments/threadedComment1.xml",
    f'<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"><threadedComment ref="A1" id="{{1}}" personId="{{2}}"><text>{NOTE}</text></threadedComment></ThreadedComments>',
    "threadedComment",
    owner="xl/worksheets/sheet1.xml",
)
part(
    "people",
    "xl/persons/person.xml",
    '<personList xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"><person displayName="Nadja" id="{2}"/></personList>',
    "person",
    owner="xl/workbook.xml",
)
part(
    "custom properties",
    "docProps/custom.xml",
    f'<Properties xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"><property name="Ilse">{COST}</property></Properties>',
    "custom-properties",
)
part(
    "custom xml",
    "customXml/item1.xml",
    f"<offer><floor>{COST}</floor><who>Ilse</who></offer>",
    "customXml",
    owner="xl/workbook.xml",
)
part(
    "printer settings",
    "xl/printerSettings/printerSettings1.bin",
    "Nadja's printer, Ilse",
    "printerSettings",
    "application/octet-stream",
    owner="xl/worksheets/sheet1.xml",
)
part(
    "pivot cache",
    "xl/pivotCache/pivotCacheRecords1.xml",
    f'<pivotCacheRecords xmlns="{MAIN[1:-1]}"><r><n v="{COST}"/><s v="Ilse"/></r></pivotCacheRecords>',
    "pivotCacheRecords",
    owner="xl/workbook.xml",
)
part(
    "macros",
    "xl/vbaProject.bin",
    f"Sub Floor() ' Ilse {COST}",
    "vbaProject",
    "application/vnd.ms-office.vbaProject",
    owner="xl/workbook.xml",
)
part(
    "external link",
    "xl/externalLinks/externalLink1.xml",
    f'<externalLink xmlns="{MAIN[1:-1]}"><externalBook><sheetNames><sheetName val="Ilse"/></sheetNames><sheetDataSet><sheetData sheetId="0"><row r="1"><cell r="A1"><v>{COST}</v></cell></row></sheetData></sheetDataSet></externalBook></externalLink>',
    "externalLink",
    owner="xl/workbook.xml",
)
part(
    "connections",
    "xl/connections.xml",
    f'<connections xmlns="{MAIN[1:-1]}"><connection id="1" name="Ilse" description="{NOTE}"/></connections>',
    "connections",
    owner="xl/workbook.xml",
)
part("picture's words", "xl/media/image9.png", f"tEXt {NOTE}", "image", "image/png", owner="xl/worksheets/sheet1.xml")
part("part that nothing leads to", "xl/old/sheet1.xml", f"<old>{NOTE}</old>")


def built_once(module: Any) -> None:
    """Let copies from the same inputs share their calculation: only what is written and searched differs."""
    build, made = module._built, {}

    def once(read: Any) -> Any:
        texts = tuple(sorted(module.folder_texts(read, private=False).items()))
        if texts not in made:
            made[texts] = build(read)
        return made[texts]

    module._built = once


def outcome(share: Any, file: Path, target: Path) -> str:
    """'clean', 'refused', or 'LEAKED' with what is in the copy."""
    try:
        share(file, target)
    except ValueError:
        return "refused" if not target.exists() else "LEAKED by a copy in spite of the refusal"
    with zipfile.ZipFile(target) as copy:
        text = "\n".join(f"{name}\n{copy.read(name).decode('utf-8', errors='replace')}" for name in copy.namelist())
    held = [secret for secret in SECRETS if secret in text]
    return f"LEAKED {held}" if held else "clean"


def check_all(probes: dict[str, Probe], folder: Path) -> None:
    """Count clean copies, refusals and leaks."""
    from tiny_shop import built

    from xlfab.used_workbook import share as module

    built_once(module)
    count: Counter[str] = Counter()
    path = built(folder, "comparison", seller=True)
    for number, (name, change) in enumerate(probes.items()):
        workbook = WorkbookFile(path)
        change(workbook)
        said = outcome(module.share, workbook.save(folder / f"probe_{number}.xlsx"), folder / f"copy_{number}.xlsx")
        count[said.split()[0]] += 1
        print(f"{said:10s} {name}", flush=True)
    print(dict(count), len(probes))


if __name__ == "__main__":
    import tempfile

    with tempfile.TemporaryDirectory() as temporary:
        check_all(PROBES, Path(temporary))
