"""`xlfab import`: a customer's list of parts into a shop that can be quoted, the mapping shown before anything is written."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console
from rich.markup import escape

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_toml
from xlfab.core.writing import whole_file
from xlfab.customer_list import gauges, list_mapping, propose
from xlfab.customer_list.apply_mapping import apply
from xlfab.customer_list.cell_grid import Sheet, read_sheets
from xlfab.customer_list.questions import Question, answer, questions
from xlfab.customer_list.save_list import ShopAround, write
from xlfab.customer_list.show_import import show_mapping, show_result
from xlfab.inputs.defaults import default_names

console = Console(width=110 if not sys.stdout.isatty() else None)
MOST_QUESTIONS = 10  # shown in one message
US_SHEET_MM = (3048.0, 1524.0)  # 120 x 60 in


def import_list(
    file: Annotated[Path, typer.Argument(help="The customer's list: .xlsx, .xlsm, .csv, .tsv or .txt.")],
    to: Annotated[Path, typer.Option(help="New folder: a shop with the parts of the list, ready for xlfab quote.")],
    mapping_file: Annotated[
        Path | None, typer.Option("--mapping", help="A saved mapping; nothing is asked then.")
    ] = None,
    save_mapping: Annotated[
        Path | None, typer.Option(help="Write the proposed mapping here, and import nothing.")
    ] = None,
    scenario: Annotated[
        Path | None, typer.Option(help="Folder of your own shop: its machines, prices and material names are used.")
    ] = None,
    accept: Annotated[bool, typer.Option("--accept", help="Take the mapping as shown, without asking.")] = False,
    currency: Annotated[str, typer.Option(help="Currency of a new shop: EUR or USD.")] = "EUR",
    units: Annotated[str, typer.Option(help="Units that a new shop shows: metric or us.")] = "metric",
) -> None:
    """Read a customer's list of parts. Shows how it is read, asks for what is open, lists what could not be read."""
    if units not in ("metric", "us"):
        raise ScenarioError(f"--units '{units}' must be metric or us")
    sheets = read_sheets(file)
    known = tuple(known_materials(scenario))
    used = list_mapping.load(mapping_file) if mapping_file else propose.propose(sheets)
    if not used.sheets:
        raise ScenarioError(f"{file}: no sheet has a heading that names three known fields; write a mapping for it")
    if units == "us" and mapping_file is None:
        used.assume.sheet_length_mm, used.assume.sheet_width_mm = US_SHEET_MM
    todo = open_questions(used, sheets, known)
    show_mapping(console, sheets, used)
    if save_mapping is not None:
        with whole_file(save_mapping) as place:
            list_mapping.save(used, place)
        console.print(
            f"Mapping written to {escape(str(save_mapping))}: complete it, then import with --mapping {escape(str(save_mapping))}"
        )
        for text in _first([question.text for question in todo]):
            console.print(f"Open: {escape(text)}", highlight=False)
        return
    _settle(used, sheets, known, ask=mapping_file is None and not accept)
    result = apply(sheets, used)
    shop = ShopAround(scenario, currency, units, file.stem[:100] or "list", known)
    show_result(console, result, write(result, used, to, shop), to)


def known_materials(scenario: Path | None) -> list[str]:
    """Material names: a shop's own, else the ones with defaults."""
    if scenario is None:
        return default_names("material")
    records = read_toml(scenario / "scenario.toml").get("material", [])
    found = (
        [record.get("material") for record in records if isinstance(record, dict)] if isinstance(records, list) else []
    )
    return [name.strip() for name in found if isinstance(name, str) and name.strip()]


def open_questions(used: list_mapping.Mapping, sheets: list[Sheet], known: tuple[str, ...]) -> list[Question]:
    """What is open now."""
    return questions(used, sheets, known, tuple(gauges.table()))


def _settle(used: list_mapping.Mapping, sheets: list[Sheet], known: tuple[str, ...], ask: bool) -> None:
    """Ask for what is open where somebody can answer; refuse where a needed answer is missing."""
    if ask and can_ask():
        asked: set[tuple[str, ...]] = set()
        while todo := [item for item in open_questions(used, sheets, known) if item.place not in asked]:
            asked.add(todo[0].place)
            _ask(used, todo[0])
        if asked:
            show_mapping(console, sheets, used)
        if not typer.confirm("Read the list so?"):
            raise typer.Exit(1)
    elif ask:
        left = [item.text for item in open_questions(used, sheets, known) if item.needed]
        hint = "look at the mapping, then repeat with --accept, or with --save-mapping and --mapping"
        raise ScenarioError("; ".join([*_first(left), hint]))
    still = [item.text for item in open_questions(used, sheets, known) if item.needed]
    if still:
        raise ScenarioError(
            "the mapping leaves open: "
            + "; ".join(_first(still))
            + "; answer at a terminal, or with --save-mapping and --mapping"
        )


def _first(texts: list[str]) -> list[str]:
    """The first questions, each cut short, and how many more there are."""
    shown = [text[:300] for text in texts[:MOST_QUESTIONS]]
    return [*shown, f"and {len(texts) - len(shown)} more"] if len(texts) > len(shown) else shown


def can_ask() -> bool:
    """True if somebody sits at the terminal."""
    return sys.stdin.isatty()


def _ask(used: list_mapping.Mapping, question: Question) -> None:
    hint = f" ({', '.join(question.choices)})" if question.choices else ""
    blank = "" if question.needed else "; Enter to go on"
    while True:
        default = "" if not question.needed else None
        text = typer.prompt(f"{question.text}{hint}{blank}", default=default, show_default=False)
        if not text and not question.needed:
            return
        try:
            answer(used, question, text)
            return
        except ScenarioError as error:
            console.print(escape(str(error)), style="red")


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("import")(import_list)
