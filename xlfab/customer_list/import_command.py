"""`xlfab import`: a customer's list of parts into a scenario's tables, the mapping shown before anything is written."""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console
from rich.markup import escape
from rich.table import Table

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_text
from xlfab.core.workbook_reading import column_number
from xlfab.core.writing import whole_file
from xlfab.customer_list import gauges, list_mapping, propose
from xlfab.customer_list.apply_mapping import Intake, apply
from xlfab.customer_list.cell_grid import Sheet, read_sheets
from xlfab.customer_list.row_fields import show
from xlfab.customer_list.save_list import write
from xlfab.inputs.defaults import default_names

console = Console(width=110 if not sys.stdout.isatty() else None)


def import_list(
    file: Annotated[Path, typer.Argument(help="The customer's list: .xlsx, .xlsm, .csv, .tsv or .txt.")],
    to: Annotated[Path, typer.Option(help="New folder for parts.csv, steps.csv, mapping.toml and notes.csv.")],
    mapping_file: Annotated[
        Path | None, typer.Option("--mapping", help="A saved mapping; nothing is asked then.")
    ] = None,
    save_mapping: Annotated[
        Path | None, typer.Option(help="Write the proposed mapping here, and import nothing.")
    ] = None,
    scenario: Annotated[
        Path | None, typer.Option(help="Folder of the scenario whose material names are known.")
    ] = None,
    accept: Annotated[bool, typer.Option("--accept", help="Take the mapping as shown, without asking.")] = False,
) -> None:
    """Read a customer's list of parts. Shows how it is read, asks for what is open, lists what could not be read."""
    sheets = read_sheets(file)
    known = tuple(known_materials(scenario))
    used = list_mapping.load(mapping_file) if mapping_file else propose.propose(sheets, known)
    if not used.sheets:
        raise ScenarioError(f"{file}: no sheet has a heading that names three known fields; write a mapping for it")
    show_mapping(sheets, used)
    if save_mapping is not None:
        with whole_file(save_mapping) as place:
            list_mapping.save(used, place)
        console.print(f"Mapping written to {save_mapping}: complete it, then import with --mapping {save_mapping}")
        return
    _settle(used, known, ask=mapping_file is None and not accept)
    result = apply(sheets, used)
    write(result, used, to)
    show_result(result, to)


def known_materials(scenario: Path | None) -> list[str]:
    """Material names: a scenario's own, else the ones with defaults."""
    if scenario is None:
        return default_names("material")
    path = scenario / "scenario.toml"
    try:
        records = tomllib.loads(read_text(path)).get("material", [])
    except tomllib.TOMLDecodeError as error:
        raise ScenarioError(f"{path}: is not valid TOML: {error}") from error
    return [str(record.get("material", "")) for record in records]


def _settle(used: list_mapping.Mapping, known: tuple[str, ...], ask: bool) -> None:
    """Ask for what is open where somebody can answer; refuse where a needed answer is missing."""
    tables = tuple(gauges.table())
    if ask and can_ask():
        for question in list_mapping.questions(used, known, tables):
            _ask(used, question)
        if not typer.confirm("Read the list so?"):
            raise typer.Exit(1)
    elif ask:
        left = list_mapping.questions(used, known, tables)
        hint = "look at the mapping, then repeat with --accept, or with --save-mapping and --mapping"
        raise ScenarioError("; ".join([*(question.text for question in left if question.needed), hint]))
    still = [question.text for question in list_mapping.questions(used, known, tables) if question.needed]
    if still:
        raise ScenarioError("the mapping leaves open: " + "; ".join(still))


def can_ask() -> bool:
    """True if somebody sits at the terminal."""
    return sys.stdin.isatty()


def _ask(used: list_mapping.Mapping, question: list_mapping.Question) -> None:
    hint = f" ({', '.join(question.choices)})" if question.choices else ""
    blank = "" if question.needed else "; Enter to leave it open"
    while True:
        text = typer.prompt(
            f"{question.text}{hint}{blank}", default="" if not question.needed else None, show_default=False
        )
        if not text and not question.needed:
            return
        try:
            list_mapping.answer(used, question, text)
            return
        except ScenarioError as error:
            console.print(f"[red]{error}[/red]")


def show_mapping(sheets: list[Sheet], used: list_mapping.Mapping) -> None:
    """Print how the list will be read: columns, units, first cells, materials, gauges, and what is assumed."""
    by_name = {sheet.name: sheet for sheet in sheets}
    for item in used.sheets:
        sheet = by_name.get(item.sheet, sheets[0])
        table = _table(f"Sheet {item.sheet}: heading in row {item.heading_first_row}, decimal mark {item.decimal}")
        for name in ("field", "column", "heading", "unit", "first cells"):
            table.add_column(name, overflow="fold")
        for name, column in item.columns.items():
            cells = (column.heading, column.unit, _first_cells(sheet, item, column.column))
            table.add_row(name, column.column, *map(escape, cells))
        console.print(table)
        console.print("Not used: " + (", ".join(map(escape, _unused(sheet, item))) or "no column"))
    for name, reason in used.skipped.items():
        console.print(f"Sheet {name} is left out: {reason}")
    for title, pairs in (("Materials", used.materials), ("Gauge tables", used.gauges), ("Assumed", used.assume)):
        if pairs:
            console.print(
                f"{title}: " + ", ".join(f"{name} = {value}" for name, value in pairs.items()), highlight=False
            )


def _table(title: str) -> Table:
    return Table(title=title, title_justify="left", title_style="bold")


def _first_cells(sheet: Sheet, item: list_mapping.SheetMapping, letters: str) -> str:
    if letters == list_mapping.OPEN:
        return ""
    column = column_number(letters) - 1
    first = item.heading_first_row + item.heading_rows - 1
    cells = [show(sheet.at(row, column)) for row in range(first, min(first + 3, len(sheet.rows)))]
    return " | ".join(cells)


def _unused(sheet: Sheet, item: list_mapping.SheetMapping) -> list[str]:
    from xlfab.customer_list.headings import read_heading

    texts = read_heading(sheet, item.heading_first_row - 1, item.heading_rows).texts
    taken = {column_number(column.column) - 1 for column in item.columns.values() if column.column != list_mapping.OPEN}
    return [text for column, text in texts.items() if column not in taken]


def show_result(result: Intake, to: Path) -> None:
    """Print what was read and every note."""
    steps = Counter(step["kind"] for part in result.steps for step in part)
    console.print(f"{len(result.parts)} parts, {steps['cut']} cuts, {steps['bend']} bends written to {to}")
    if not result.notes:
        return
    table = _table(f"{len(result.notes)} cells to look at (notes.csv)")
    for name in ("sheet", "cell", "field", "in the list", "why"):
        table.add_column(name, overflow="fold")
    for note in result.notes:
        table.add_row(*map(escape, (note.sheet, note.cell, note.field, note.shown, note.reason)))
    console.print(table)


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("import")(import_list)
