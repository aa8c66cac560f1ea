"""What the terminal shows of an import: how the list is read, what came of it, and what comes next."""

from __future__ import annotations

from pathlib import Path

from rich.console import Console
from rich.markup import escape
from rich.table import Table

from xlfab.core.workbook_reading import column_number
from xlfab.customer_list.apply_mapping import Intake
from xlfab.customer_list.cell_grid import Sheet, shown
from xlfab.customer_list.checksum import checksum
from xlfab.customer_list.designations import COMPARABLE, SAME_GRADE
from xlfab.customer_list.find_tables import read_heading
from xlfab.customer_list.list_mapping import OPEN, Mapping, SheetMapping, label, used
from xlfab.customer_list.questions import data_rows, sheet_of
from xlfab.customer_list.save_list import Saved
from xlfab.inputs.rests_on import rests_on

MOST_NOTES = 20  # lines on the terminal; all of them are in notes.csv
CELL_LETTERS = 60
_WORDS = {
    "sheet_use_share": "sheet use",
    "sheet_length_mm": "sheet length mm",
    "sheet_width_mm": "sheet width mm",
    "edge_trim_mm": "edge trim mm",
    "tool_stations_count": "tool stations",
    "stored_program_switch": "program stored (0: entered anew)",
    "yearly_lots_count": "lots a year",
    "bend_along": "bends run along the",
    "bend_angle_deg": "bend angle",
    "die_opening_thickness_ratio": "die opening in thicknesses",
    "inside_radius_thickness_ratio": "inside radius in thicknesses",
}


def show_mapping(console: Console, sheets: list[Sheet], mapping: Mapping) -> None:
    """Print how the list will be read: columns, units, first cells, materials, gauges, and what is assumed."""
    for item in used(mapping):
        sheet = sheet_of(sheets, mapping, item)
        name = escape(label(mapping, item))
        table = _table(f"Sheet {name}: heading in row {item.heading_first_row}, decimal mark {item.decimal}")
        for heading in ("field", "column", "heading", "unit", "first cells"):
            table.add_column(heading, overflow="fold")
        for key, column in item.columns.items():
            cells = (
                column.column,
                column.heading[:CELL_LETTERS],
                column.unit,
                _first_cells(sheet, item, column.column),
            )
            table.add_row(key, *map(escape, cells))
        console.print(table)
        console.print("Not used: " + (", ".join(map(escape, _unused(sheet, item))) or "no column"))
    for sheet_name, reason in mapping.skipped.items():
        console.print(f"Sheet {escape(sheet_name)} is left out: {escape(reason)}")
    taken = [(name, one) for name, one in mapping.materials.items() if one.how in (SAME_GRADE, COMPARABLE)]
    for name, one in taken[:MOST_NOTES]:
        how = f"the {one.how}: " if one.how == SAME_GRADE else ""
        words = f"Material {name} is taken as {one.material}, {how}{one.why}"
        console.print(escape(words), highlight=False)
    if mapping.gauges:
        pairs = ", ".join(f"{name} = {value}" for name, value in mapping.gauges.items())
        console.print(f"Gauge tables: {escape(pairs)}", highlight=False)
    values = [
        f"{_WORDS[name]} {value:g}" if isinstance(value, float) else f"{_WORDS[name]} {value}"
        for name, value in mapping.assume
    ]
    console.print("Assumed, since no list says it: " + ", ".join(values), highlight=False)


def _table(title: str) -> Table:
    return Table(title=title, title_justify="left", title_style="bold")


def _first_cells(sheet: Sheet, item: SheetMapping, letters: str) -> str:
    if letters == OPEN:
        return ""
    column = column_number(letters.split("+")[0]) - 1
    cells = [shown(sheet.at(row, column))[:CELL_LETTERS] for row in data_rows(sheet, item)[:3]]
    return " | ".join(cells)


def _unused(sheet: Sheet, item: SheetMapping) -> list[str]:
    texts = read_heading(sheet, item.heading_first_row - 1, item.heading_rows).texts
    named = [part for column in item.columns.values() if column.column != OPEN for part in column.column.split("+")]
    taken = {column_number(part) - 1 for part in named}
    return [text[:CELL_LETTERS] for column, text in texts.items() if column not in taken]


def show_result(console: Console, result: Intake, saved: Saved, to: Path) -> None:
    """Print what was read, what waits, every note, on what the shop rests, and the next command."""
    console.print(
        f"{saved.whole} parts, {saved.cuts} cuts, {saved.bends} bends written to {escape(str(to))}", highlight=False
    )
    for line in checksum(result, saved.shop.units if saved.shop else "metric"):
        console.print(escape(line), highlight=False)
    if result.notes:
        more = f"; the first {MOST_NOTES}" if len(result.notes) > MOST_NOTES else ""
        table = _table(f"{len(result.notes)} notes (notes.csv){more}")
        for name in ("sheet", "cell", "field", "in the list", "why"):
            table.add_column(name, overflow="fold")
        for note in result.notes[:MOST_NOTES]:
            cells = (note.sheet, note.cell, note.field, note.shown[:CELL_LETTERS], note.reason)
            table.add_row(*map(escape, cells))
        console.print(table)
    if saved.waiting:
        names = ", ".join(saved.waiting[:10]) + (" and more" if len(saved.waiting) > 10 else "")
        console.print(
            f"{len(saved.waiting)} parts wait in open_parts.csv until all of them is known: {escape(names)}",
            highlight=False,
        )
    if saved.shop is not None:
        console.print("The shop rests on:")
        for line in rests_on(saved.shop.assumptions, saved.shop.currency):
            console.print(f"  {escape(line)}", highlight=False)
        console.print(f"Next: xlfab quote {escape(str(to))} -o {escape(to.name)}.pdf", highlight=False)
