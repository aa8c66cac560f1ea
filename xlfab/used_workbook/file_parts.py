"""The parts of a workbook file as programs write them: list of sheets, shared texts, looks of cells. Checked before it is opened.

Read part by part and not by a library: an audit must see what a library leaves out (formulas and stored values at once, hidden
rows, looks, conditions, text boxes), and in one pass.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from lxml import etree
from openpyxl.styles.numbers import BUILTIN_FORMATS

from xlfab.core.errors import ScenarioError
from xlfab.core.workbook_reading import check_workbook

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_RELATION = re.compile(r"\{[^}]*officeDocument/(?:2006/)?relationships\}id")  # the strict form has its own address


def tree(data: bytes) -> Any:
    """A part as a tree; nothing outside the file is looked up, and document types were refused before."""
    return etree.fromstring(data, etree.XMLParser(resolve_entities=False, no_network=True, load_dtd=False))


def children(root: Any, name: str) -> list[Any]:
    """The elements of a name directly below another, whatever their name space."""
    return list(root.iterchildren(f"{{*}}{name}"))


def every(root: Any, name: str) -> Any:
    """All elements of a name, whatever their name space."""
    return root.iter(f"{{*}}{name}")


def text_of(element: Any) -> str:
    """The text of a cell or shared text: its pieces together, without readings, control characters as they were typed."""
    pieces = [item.text or "" for item in every(element, "t") if etree.QName(item.getparent()).localname != "rPh"]
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), "".join(pieces))


@dataclass(frozen=True)
class Look:
    """What of a cell's format can mislead: number format, lock, colours of letters and ground."""

    number_format: str = "General"
    locked: bool = True
    ink: str = ""
    ground: str = ""


@dataclass
class Parts:
    """The parts of a file by name."""

    path: Path
    data: dict[str, bytes]
    strings: list[str] = field(default_factory=list)
    looks: list[Look] = field(default_factory=list)
    conditions: list[Look] = field(default_factory=list)  # what conditional formats do
    sheets: dict[str, tuple[str, str]] = field(default_factory=dict)  # name -> part, state

    @classmethod
    def open(cls, path: Path) -> Parts:
        """A checked file; ScenarioError where it is none."""
        check_workbook(path)
        with zipfile.ZipFile(path) as file:
            made = cls(path, {item.filename: file.read(item) for item in file.infolist() if not item.is_dir()})
        made.guarded(made._read)
        return made

    def guarded(self, step: Any, *rest: Any) -> Any:
        """Do a step; what a damaged file makes it raise becomes one message."""
        try:
            return step(*rest)
        except ScenarioError:
            raise
        except Exception as error:  # broken parts make parsers and look-ups fail in many ways
            words = f"{type(error).__name__}: {str(error)[:120]}"
            raise ScenarioError(f"{self.path}: it cannot be read as a workbook ({words})") from error

    def _read(self) -> None:
        if shared := next((data for name, data in self.data.items() if name.lower() == "xl/sharedstrings.xml"), None):
            self.strings = [text_of(item) for item in children(tree(shared), "si")]
        if "xl/styles.xml" in self.data:
            self.looks, self.conditions = _looks(tree(self.data["xl/styles.xml"]))
        targets = {item.get("Id"): item for item in self.relations("xl/workbook.xml")}
        for item in every(self.book, "sheet"):
            relation = targets[_relation_of(item)]
            if relation.get("Type", "").endswith("/worksheet"):
                self.sheets[item.get("name")] = target(relation, "xl/workbook.xml"), item.get("state", "visible")
        if not self.sheets:
            raise ScenarioError(f"{self.path}: it cannot be read as a workbook (there is no sheet in it)")

    @property
    def book(self) -> Any:
        """The part that lists the sheets."""
        return tree(self.data["xl/workbook.xml"])

    def relations(self, part: str) -> list[Any]:
        """What a part leads to."""
        folder, name = posixpath.split(part)
        data = self.data.get(posixpath.join(folder, "_rels", f"{name}.rels"))
        return list(tree(data)) if data else []

    def text_boxes(self, sheet: str) -> list[str]:
        """The texts of boxes and shapes that lie over the cells of a sheet."""
        part = self.sheets[sheet][0]
        drawings = [target(item, part) for item in self.relations(part) if item.get("Type", "").endswith("/drawing")]
        found = []
        for name in drawings:
            if name in self.data:
                for shape in every(tree(self.data[name]), "sp"):
                    found.append(" ".join(item.text or "" for item in every(shape, "t")).strip())
        return found


def target(relation: Any, owner: str) -> str:
    """The part that a relation leads to."""
    where = str(relation.get("Target", ""))
    return where[1:] if where.startswith("/") else posixpath.normpath(posixpath.join(posixpath.dirname(owner), where))


def _relation_of(element: Any) -> str:
    return next((value for key, value in element.attrib.items() if _RELATION.fullmatch(key)), "")


def _looks(root: Any) -> tuple[list[Look], list[Look]]:
    codes = dict(BUILTIN_FORMATS)
    codes |= {int(item.get("numFmtId")): item.get("formatCode", "") for item in every(root, "numFmt")}
    fonts = [_color(item) for group in children(root, "fonts") for item in group]
    fills = [_color(item) for group in children(root, "fills") for item in group]
    looks = []
    for group in children(root, "cellXfs"):
        for form in group:
            lock = children(form, "protection")
            locked = not lock or lock[0].get("locked", "1") in ("1", "true")
            ink, ground = fonts[int(form.get("fontId", 0))], fills[int(form.get("fillId", 0))]
            looks.append(Look(codes.get(int(form.get("numFmtId", 0)), "General"), locked, ink, ground))
    conditions = []
    for group in children(root, "dxfs"):
        for form in group:
            shown = [item.get("formatCode", "") for item in every(form, "numFmt")]
            colors = [_color(item) for kind in ("font", "fill") for item in children(form, kind) or [None]]
            conditions.append(Look(shown[0] if shown else "", True, *colors))
    return looks, conditions


def _color(element: Any) -> str:
    """The colour of letters, or of a filled ground; empty where it is the usual one."""
    if element is None:
        return ""
    for name in ("color", "fgColor", "bgColor"):
        for item in every(element, name):
            rgb = item.get("rgb", "")
            if name != "bgColor" or not any(every(element, "fgColor")):
                return str(rgb[-6:].upper())
    return ""
