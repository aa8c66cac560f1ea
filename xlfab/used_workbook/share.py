"""A customer's copy of a workbook: live formulas and charts as they are; the seller's sheet, notes and properties gone.

The hidden record of how the workbook was built goes too, for it names every sheet and holds the scenario's note.

Works on the file's own parts, so that what a person changed in it stays. Nothing is written if a private value is still found.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lxml import etree

from xlfab.comparison.seller_sheet import SHEET
from xlfab.core.errors import ScenarioError
from xlfab.core.workbook_reading import open_workbook
from xlfab.core.writing import whole_file
from xlfab.used_workbook.leaks import Private, leaks, private_of
from xlfab.workbook.build_record import SHEET as RECORD

Parts = dict[str, bytes]
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
# parts that hold notes, people, properties, printers' settings, other files' data or the order of calculation
_DROPPED = re.compile(
    r"^(docProps/(?!app\.xml)|xl/comments|xl/threadedComments/|xl/persons/|xl/printerSettings/|xl/externalLinks/|xl/calcChain|xl/revisions/"
    r"|xl/customProperty|customXml/|xl/drawings/vmlDrawing|xl/connections|xl/queryTables/)"
)


@dataclass(frozen=True)
class Shared:
    """What was taken out of a copy."""

    private: list[Private]
    parts: list[str]


def share(file: Path, output: Path, replace: bool = False) -> Shared:
    """Write the customer's copy, or say what of the seller's is still in it and write nothing."""
    open_workbook(file)  # refuses what is no workbook, or a hostile one
    parts = _read(file)
    private = private_of(parts, SHEET)
    gone = [item for name in (SHEET, RECORD) for item in _remove_sheet(parts, name)]
    gone += _drop_parts(parts)
    _blank_unused_strings(parts)
    found = leaks(parts, private, SHEET)
    if found:
        raise ScenarioError(
            f"{file}: no copy was written, for something of the seller's is left: {'; '.join(found[:5])}. "
            "Change that cell, or the seller's figure if it is the same by chance."
        )
    with whole_file(output, replace) as place, zipfile.ZipFile(place, "w", zipfile.ZIP_DEFLATED) as new:
        for name, data in parts.items():
            new.writestr(name, data)
    return Shared(private, gone)


def _read(file: Path) -> Parts:
    with zipfile.ZipFile(file) as old:
        return {item.filename: old.read(item) for item in old.infolist() if not item.is_dir()}


def tree(data: bytes) -> Any:
    """A part as a tree; nothing outside the file is ever looked up."""
    parser = etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False)
    return etree.fromstring(data, parser)


def _text(root: Any) -> bytes:
    return bytes(etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True))


def _remove_sheet(parts: Parts, name: str) -> list[str]:
    """Take a sheet with its drawings out of the workbook; names of areas on later sheets move up by one."""
    book = tree(parts["xl/workbook.xml"])
    sheets = book.find(f"{_MAIN}sheets")
    place = next((number for number, item in enumerate(sheets) if item.get("name") == name), None)
    if place is None:
        return []
    relation = sheets[place].get(f"{_RELATION}id")
    sheets.remove(sheets[place])
    for item in book.iter(f"{_MAIN}definedName"):
        local = item.get("localSheetId")
        if local == str(place) or re.search(rf"(^|[^\w])'?{re.escape(name)}'?!", item.text or ""):
            item.getparent().remove(item)
        elif local is not None and int(local) > place:
            item.set("localSheetId", str(int(local) - 1))
    for view in book.iter(f"{_MAIN}workbookView"):
        for key in ("activeTab", "firstSheet"):
            view.attrib.pop(key, None)
    parts["xl/workbook.xml"] = _text(book)
    return _remove_related(parts, "xl/workbook.xml", lambda item: item.get("Id") == relation)


def _remove_related(parts: Parts, owner: str, unwanted: Any) -> list[str]:
    """Remove relations of a part, and the parts they lead to with all that only those use."""
    where = relations_of(owner)
    if where not in parts:
        return []
    root, gone = tree(parts[where]), []
    for item in list(root):
        if not unwanted(item):
            continue
        root.remove(item)
        if item.get("TargetMode") == "External":
            continue
        target = target_of(owner, item.get("Target"))
        if target in parts:
            gone += _remove_related(parts, target, lambda _: True)
            parts.pop(target)
            parts.pop(relations_of(target), None)
            gone.append(target)
    parts[where] = _text(root)
    _forget_types(parts)
    return gone


def relations_of(part: str) -> str:
    """Where the relations of a part stand."""
    folder, name = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def target_of(owner: str, target: str) -> str:
    """The part that a relation leads to."""
    if target.startswith("/"):
        return target[1:]
    return posixpath.normpath(posixpath.join(posixpath.dirname(owner), target))


def _forget_types(parts: Parts) -> None:
    root = tree(parts["[Content_Types].xml"])
    for item in list(root):
        if item.tag.endswith("Override") and item.get("PartName", "")[1:] not in parts:
            root.remove(item)
    parts["[Content_Types].xml"] = _text(root)


def _drop_parts(parts: Parts) -> list[str]:
    """Take out notes, properties and the like, and every mention of them."""
    gone = [name for name in parts if _DROPPED.match(name)]
    for name in gone:
        parts.pop(name)
    for name in [name for name in parts if name.endswith(".rels")]:
        owner = posixpath.join(posixpath.dirname(posixpath.dirname(name)), posixpath.basename(name)[: -len(".rels")])
        root = tree(parts[name])
        for item in list(root):
            outside = item.get("TargetMode") == "External"
            if outside or target_of(owner, item.get("Target")) not in parts:
                root.remove(item)
                _remove_mention(parts, owner, item.get("Id"))
        parts[name] = _text(root)
    _forget_types(parts)
    _bare_application(parts)
    return gone


def _bare_application(parts: Parts) -> None:
    """Of the properties keep the program's name and version alone: readers take their defaults for charts from them."""
    if "docProps/app.xml" not in parts:
        return
    root = tree(parts["docProps/app.xml"])
    for item in list(root):
        if etree.QName(item).localname not in ("Application", "AppVersion"):
            root.remove(item)
    parts["docProps/app.xml"] = _text(root)


def _remove_mention(parts: Parts, owner: str, relation: str) -> None:
    """Remove the elements of a part that name a relation which is gone."""
    if owner not in parts or not owner.endswith(".xml"):
        return
    root = tree(parts[owner])
    named = [item for item in root.iter() if item.get(f"{_RELATION}id") == relation]
    for item in named:
        if item.tag == f"{_MAIN}pageSetup":
            del item.attrib[f"{_RELATION}id"]
        else:
            item.getparent().remove(item)
    if named:
        parts[owner] = _text(root)


def _blank_unused_strings(parts: Parts) -> None:
    """Empty the texts that no cell uses any more; their numbers stay, so that the others keep theirs."""
    if "xl/sharedStrings.xml" not in parts:
        return
    used = set()
    for name, data in parts.items():
        if name.startswith("xl/worksheets/sheet"):
            for cell in tree(data).iter(f"{_MAIN}c"):
                value = cell.find(f"{_MAIN}v")
                if cell.get("t") == "s" and value is not None:
                    used.add(int(value.text))
    root = tree(parts["xl/sharedStrings.xml"])
    for number, item in enumerate(root.findall(f"{_MAIN}si")):
        if number not in used:
            for child in list(item):
                item.remove(child)
            etree.SubElement(item, f"{_MAIN}t").text = ""
    parts["xl/sharedStrings.xml"] = _text(root)
