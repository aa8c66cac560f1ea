"""Writing a workbook: sheets are planned first (so that every formula knows where everything stands), then written at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import xlsxwriter
from xlsxwriter.worksheet import Worksheet

from xlfab.catalogue import CATALOGUE
from xlfab.core.errors import FormulaError
from xlfab.core.writing import whole_file
from xlfab.tables.table import Ref
from xlfab.trace.lambda_name import lambda_names
from xlfab.workbook import build_record
from xlfab.workbook.grid import Grid
from xlfab.workbook.sheet import Sheet
from xlfab.workbook.sheet_writer import SheetWriter
from xlfab.workbook.style import FONT, Styles

PAPERS = {"A4": 9, "Letter": 1}  # as a file numbers them
FLAVOURS = {"portable": "let", "plain": "plain", "names": "call", "addin": "call"}


class _Worksheet(Worksheet):  # type: ignore[misc]  # XlsxWriter has no type hints
    """A worksheet that takes formulas as they are: ours carry their file prefixes already, and looking for them costs most of a build."""

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        return formula.removeprefix("=")


class Book:
    """A workbook being planned. `flavour` is portable, plain (no LET), names or addin; `paper` is A4 or Letter."""

    def __init__(
        self, title: str, currency: str, system: str = "metric", flavour: str = "portable", paper: str = "A4"
    ) -> None:
        if flavour not in FLAVOURS:
            raise FormulaError(f"flavour '{flavour}' is unknown; known: {', '.join(FLAVOURS)}")
        if paper not in PAPERS:
            raise FormulaError(f"paper '{paper}' is unknown; known: {', '.join(PAPERS)}")
        self.title = title
        self.currency = currency
        self.flavour = flavour
        self.paper_name, self.paper = paper, PAPERS[paper]
        self.grid = Grid(FLAVOURS[flavour], system)
        self.sheets: list[Sheet] = []
        self.names: list[tuple[str, Ref]] = []
        self.kind = ""  # what sort of workbook it is; with it, the record of how it was built is kept inside
        self.record: dict[str, Any] = {}
        self.private: set[str] = set()  # tables that no customer may see; the record marks them
        self.lambdas = lambda_names(CATALOGUE) if flavour == "names" else []

    def sheet(self, name: str, title: str, lead: str = "", tab: str = "calc", says: str = "") -> Sheet:
        """Add a sheet; blocks are added to it from top to bottom. The index says of it what its title says, if nothing else."""
        made = Sheet(self, name, title, lead, tab, says or title)
        self.sheets.append(made)
        return made

    def name(self, name: str, item: Ref) -> None:
        """Give a cell a name that people look for."""
        self.names.append((name, item))

    def save(self, path: Path, replace: bool = False, properties: dict[str, str] | None = None) -> None:
        """Write the file whole or not at all; an existing one is replaced only if asked for."""
        with whole_file(Path(path), replace) as place:
            self._write(str(place), properties or {})

    def _write(self, path: str, properties: dict[str, str]) -> None:
        options: dict[str, Any] = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
        # widths count digits of the default font: one whose digits are as wide in every program
        options |= {"default_format_properties": {"font_name": FONT, "font_size": 10}}
        with xlsxwriter.Workbook(path, options) as file:
            file.set_properties({"title": self.title, "comments": "Built by xlfab", **properties})
            file.set_calc_mode("auto")
            styles = Styles(file)
            written = {sheet.name: file.add_worksheet(sheet.name, _Worksheet) for sheet in self.sheets}
            for sheet in self.sheets:
                SheetWriter(sheet, written[sheet.name], styles).write()
            for name, item in self.names:
                place = self.grid.place(item)
                if file.define_name(name, f"={place.cell('')}") == -1:
                    raise FormulaError(f"'{name}' cannot be the name of a cell")
            for name, definition in self.lambdas:
                if file.define_name(name, f"={definition}") == -1:
                    raise FormulaError(f"'{name}' cannot be the name of a function")
            for sheet in self.sheets:
                for draw in sheet.charts:
                    draw(file, written[sheet.name])
            if self.kind:
                build_record.write(file, build_record.collect(self))
