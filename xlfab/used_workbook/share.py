"""A customer's copy of a comparison: built anew from the inputs that the customer may see, and held against the seller's file.

Nothing is taken over from the file but inputs: no note, name, property, picture, hidden sheet or setting can travel with it. Then the
copy is searched for what is the seller's. Nothing is written where the results differ or something private cannot be ruled out.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.core.errors import ScenarioError
from xlfab.core.writing import whole_file
from xlfab.inputs.scenario import load
from xlfab.used_workbook.compared import differences
from xlfab.used_workbook.file_parts import Parts
from xlfab.used_workbook.leaks import Private, leaks, private_of
from xlfab.used_workbook.read_back import ReadInputs, not_carried, read_inputs
from xlfab.used_workbook.scenario_texts import folder_texts
from xlfab.workbook.book import Book

_FEW = 5  # places named in a refusal


@dataclass(frozen=True)
class Shared:
    """What was searched for in a copy, how many of its results agree with the seller's file, and whose sheets it leaves out."""

    private: list[Private]
    agreeing: int
    own_sheets: list[str]


def share(file: Path, output: Path, replace: bool = False) -> Shared:
    """Write the customer's copy, or say why there is none."""
    read = read_inputs(file)
    if read.used.known.kind != "comparison":
        raise ScenarioError(
            f"{file}: a quote holds costs and margins on its inner sheets, so there is no copy of it for a customer. "
            f"Print the customer's page: xlfab pdf {file.name} -o quote.pdf"
        )
    if lost := not_carried(read):
        raise ScenarioError(
            f"{file}: the copy is built anew, and these changes would be lost: {'; '.join(lost[:_FEW])}"
        )
    book = _built(read)
    agreeing = _held_against(read, book)
    private = private_of(read.used)
    with whole_file(output, replace) as place:
        book.save(place, True, {"comments": ""})
        if found := leaks(Parts.open(place), private):
            raise ScenarioError(
                f"{file}: no copy was written, for something of the seller's would be in it: {'; '.join(found[:_FEW])}. "
                "Change that input, or the seller's figure if it is the same by chance."
            )
    return Shared(private, agreeing, [sheet.name for sheet in read.used.own])


def _built(read: ReadInputs) -> Book:
    """The copy: the same builder, the seller's section left out, and no record inside."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place, "shop")
        folder.mkdir()
        for name, text in read.used.parts.guarded(folder_texts, read, False).items():
            (folder / name).write_text(text, encoding="utf-8")
        drawn = read.used.known.record
        made = compare(load(folder), drawn.draws, drawn.seed)
    book = plan_comparison(made, read.used.known.flavour, read.used.known.paper)
    book.kind = ""
    return book


def _held_against(read: ReadInputs, book: Book) -> int:
    """How many results of the copy are those of the seller's file; ScenarioError where one is not."""
    tables = {id(table): table for sheet in book.sheets for table, _, _ in sheet.columns}
    found, compared = read.used.parts.guarded(differences, read, tables.values())
    if found:
        first = "; ".join(f"{item.sheet}!{item.cell} {item.stored} instead of {item.computed}" for item in found[:_FEW])
        raise ScenarioError(
            f"{read.used.path}: {len(found)} of {compared} results are not those of its inputs ({first}). Open it, let it "
            "recalculate, save and try again; xlfab audit says what was changed by hand"
        )
    return compared
