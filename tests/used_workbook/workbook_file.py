"""A workbook file changed part by part, as people and programs change it, with everything else kept: for faults with known truth."""

from __future__ import annotations

import json
import posixpath
import re
import zipfile
from pathlib import Path
from typing import Any

from lxml import etree
from xlsxwriter.utility import xl_cell_to_rowcol, xl_rowcol_to_cell

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
RECORD = "xlfab"


class WorkbookFile:
    """The parts of a file; sheets are trees, changed in place, written by `save`."""

    def __init__(self, path: Path) -> None:
        with zipfile.ZipFile(path) as file:
            self.parts = {item.filename: file.read(item) for item in file.infolist()}
        self.trees: dict[str, Any] = {}
        book, relations = self.tree("xl/workbook.xml"), self.tree("xl/_rels/workbook.xml.rels")
        targets = {item.get("Id"): item.get("Target") for item in relations}
        self.sheet_parts = {
            item.get("name"): posixpath.join("xl", targets[item.get(f"{RELATION}id")].removeprefix("/xl/"))
            for item in book.iter(f"{MAIN}sheet")
        }
        self.record = self._record()

    def tree(self, part: str) -> Any:
        """A part as a tree that is written back."""
        if part not in self.trees:
            self.trees[part] = etree.fromstring(self.parts[part])
        return self.trees[part]

    def save(self, path: Path) -> Path:
        """Write the file."""
        for part, root in self.trees.items():
            self.parts[part] = etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
            for name, data in self.parts.items():
                file.writestr(name, data)
        return path

    def sheet(self, name: str) -> Any:
        """The tree of a sheet."""
        return self.tree(self.sheet_parts[name])

    def replace(self, part: str, old: str, new: str, count: int = 1) -> None:
        """Change a text in a part; it must be there."""
        data = self.parts[part].decode("utf-8")
        assert old in data, (part, old)
        self.parts[part] = data.replace(old, new, count).encode("utf-8")

    # --- the record -------------------------------------------------------------------------------------------------

    def _record(self) -> dict[str, Any]:
        text = "".join(value for _, value in sorted(self.texts_of(RECORD).items()) if value)
        return json.loads(text[text.index("{") :])

    def texts_of(self, sheet: str) -> dict[int, str]:
        """The texts in the first column of a sheet by row."""
        strings = ["".join(item.itertext(f"{MAIN}t")) for item in self.tree("xl/sharedStrings.xml")]
        found = {}
        for cell in self.tree(self.sheet_parts[sheet]).iter(f"{MAIN}c"):
            row, column = xl_cell_to_rowcol(cell.get("r"))
            if column == 0 and cell.get("t") == "s":
                found[row] = strings[int(cell.find(f"{MAIN}v").text)]
        return found

    def column(self, table: str, column: str) -> dict[str, Any]:
        """A column as the record holds it."""
        return next(item for item in self.record["columns"] if (item["table"], item["column"]) == (table, column))

    def sheet_of(self, table: str) -> str:
        """The sheet on which a table stands."""
        return str(next(item["sheet"] for item in self.record["columns"] if item["table"] == table))

    def place(self, table: str, column: str, row: int = 0) -> tuple[str, str]:
        """Sheet and cell of a value."""
        item = self.column(table, column)
        return item["sheet"], xl_rowcol_to_cell(item["row"] + row, item["at"])

    # --- cells ------------------------------------------------------------------------------------------------------

    def row(self, sheet: str, number: int) -> Any:
        """A row of a sheet, made where it is missing."""
        data = self.sheet(sheet).find(f"{MAIN}sheetData")
        after = 0
        for place, item in enumerate(data):
            if int(item.get("r")) == number:
                return item
            after = place + 1 if int(item.get("r")) < number else after
        made = etree.Element(f"{MAIN}row", r=str(number))
        data.insert(after, made)
        return made

    def cell(self, sheet: str, name: str) -> Any:
        """A cell, made where it is missing."""
        number, column = xl_cell_to_rowcol(name)
        line = self.row(sheet, number + 1)
        after = 0
        for place, item in enumerate(line):
            other = xl_cell_to_rowcol(item.get("r"))[1]
            if other == column:
                return item
            after = place + 1 if other < column else after
        made = etree.Element(f"{MAIN}c", r=name)
        line.insert(after, made)
        return made

    def put(self, sheet: str, name: str, value: Any) -> tuple[str, str]:
        """Type a number, a text, a formula (with `=`), or None to clear."""
        cell = self.cell(sheet, name)
        for child in list(cell):
            cell.remove(child)
        cell.attrib.pop("t", None)
        if isinstance(value, str) and value.startswith("="):
            etree.SubElement(cell, f"{MAIN}f").text = value[1:]
        elif isinstance(value, str):
            cell.set("t", "inlineStr")
            text = etree.SubElement(etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t")
            text.text = value
            text.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
        elif value is not None:
            etree.SubElement(cell, f"{MAIN}v").text = repr(value)
        return sheet, name

    def type(self, table: str, column: str, row: int, value: Any) -> tuple[str, str]:
        """Type into a row of a column."""
        return self.put(*self.place(table, column, row), value)

    def formula(self, sheet: str, name: str) -> str:
        """The formula of a cell."""
        return str(self.cell(sheet, name).find(f"{MAIN}f").text)

    def value(self, sheet: str, name: str) -> Any:
        """What a cell holds, formulas left out."""
        cell = self.cell(sheet, name)
        found = cell.find(f"{MAIN}v")
        if cell.get("t") == "s":
            strings = self.tree("xl/sharedStrings.xml")
            return "".join(strings[int(found.text)].itertext(f"{MAIN}t"))
        if cell.get("t") == "inlineStr":
            return "".join(cell.itertext(f"{MAIN}t"))
        return None if found is None else float(found.text)

    def list_values(self, table: str, column: str) -> list[Any]:
        """The used rows of a column."""
        count = self.column(table, column)["used"]
        return [self.value(*self.place(table, column, row)) for row in range(count)]

    def inputs_of(self, table: str) -> list[str]:
        """The input columns of a list."""
        return [item["column"] for item in self.record["columns"] if item["table"] == table and "formula" not in item]

    # --- looks ------------------------------------------------------------------------------------------------------

    def number_format(self, sheet: str, name: str, code: str) -> None:
        """Give a cell another number format."""
        self._style(sheet, name, lambda form: form.set("numFmtId", self._format_id(code)))

    def font_color(self, sheet: str, name: str, rgb: str) -> None:
        """Give a cell another colour of its letters."""
        styles = self.tree("xl/styles.xml")
        fonts = styles.find(f"{MAIN}fonts")
        font = etree.SubElement(fonts, f"{MAIN}font")
        etree.SubElement(font, f"{MAIN}sz", val="9")
        etree.SubElement(font, f"{MAIN}color", rgb=rgb)
        etree.SubElement(font, f"{MAIN}name", val="Arial")
        fonts.set("count", str(len(fonts)))
        self._style(sheet, name, lambda form: form.set("fontId", str(len(fonts) - 1)))

    def unlock(self, sheet: str, name: str) -> None:
        """Take the lock off a cell."""

        def change(form: Any) -> None:
            for item in form.findall(f"{MAIN}protection"):
                form.remove(item)
            etree.SubElement(form, f"{MAIN}protection", locked="0")
            form.set("applyProtection", "1")

        self._style(sheet, name, change)

    def _style(self, sheet: str, name: str, change: Any) -> None:
        forms = self.tree("xl/styles.xml").find(f"{MAIN}cellXfs")
        cell = self.cell(sheet, name)
        form = etree.fromstring(etree.tostring(forms[int(cell.get("s", 0))]))
        change(form)
        forms.append(form)
        forms.set("count", str(len(forms)))
        cell.set("s", str(len(forms) - 1))

    def _format_id(self, code: str) -> str:
        styles = self.tree("xl/styles.xml")
        forms = styles.find(f"{MAIN}numFmts")
        number = str(max([200, *(int(item.get("numFmtId")) + 1 for item in forms)]))
        etree.SubElement(forms, f"{MAIN}numFmt", numFmtId=number, formatCode=code)
        forms.set("count", str(len(forms)))
        return number

    # --- rows, columns, sheets ------------------------------------------------------------------------------------------

    def shift_rows(self, sheet: str, start: int, by: int) -> None:
        """Move rows from a number on without changing any formula, as programs do that lose track; rows in the way go."""
        data = self.sheet(sheet).find(f"{MAIN}sheetData")
        for row in list(data):
            number = int(row.get("r"))
            if start + min(by, 0) <= number < start and by < 0:
                data.remove(row)
            elif number >= start:
                row.set("r", str(number + by))
                for cell in row:
                    cell.set("r", re.sub(r"\d+", str(number + by), cell.get("r")))

    def shift_columns(self, sheet: str, start: int, by: int) -> None:
        """Move columns from a number (0 is A) on without changing any formula."""
        for row in self.sheet(sheet).find(f"{MAIN}sheetData"):
            for cell in list(row):
                at = xl_cell_to_rowcol(cell.get("r"))
                if at[1] >= start:
                    cell.set("r", xl_rowcol_to_cell(at[0], at[1] + by))

    def defined_name(self, name: str) -> Any:
        """The element of a defined name."""
        return next(
            item for item in self.tree("xl/workbook.xml").iter(f"{MAIN}definedName") if item.get("name") == name
        )

    def sheet_entry(self, name: str) -> Any:
        """The element of a sheet in the list of sheets."""
        return next(item for item in self.tree("xl/workbook.xml").iter(f"{MAIN}sheet") if item.get("name") == name)
