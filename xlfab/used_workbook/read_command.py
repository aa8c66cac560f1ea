"""`xlfab read`: the inputs of a used workbook back into a scenario's folder, recomputed, and held against the stored results."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from xlfab.core.console import Printer
from xlfab.core.writing import whole_folder

console = Printer()
_SHOWN = 30


def read(
    file: Annotated[Path, typer.Argument(help="A workbook that xlfab built and somebody used, as it was last saved.")],
    to: Annotated[Path, typer.Option(help="New folder for the scenario.")],
) -> None:
    """Read a used workbook back into a scenario, recompute it, and report every result that differs.

    Exit code 0 where all agree, 1 where a stored result differs or an input has no place in a scenario.
    """
    from xlfab.used_workbook.compared import differences
    from xlfab.used_workbook.read_back import not_carried, read_inputs
    from xlfab.used_workbook.recomputed import recomputed
    from xlfab.used_workbook.scenario_texts import folder_texts

    inputs = read_inputs(file)
    guarded = inputs.used.parts.guarded  # a record that somebody forged ends in one message too
    with whole_folder(to) as place:  # whatever is refused on the way, no folder stays behind
        for name, text in guarded(folder_texts, inputs).items():
            (place / name).write_text(text, encoding="utf-8")
        found, compared = guarded(differences, inputs, recomputed(place, inputs))
    console.print(f"Scenario: {to}")
    lost = not_carried(inputs)
    for line in lost:
        console.print(f"Not carried over, a scenario has no place for it: {line}")
    if found:
        _show(found, compared)
    else:
        console.print(f"{compared:,} results recomputed: all agree.")
    if found or lost:
        raise typer.Exit(1)


def _show(found: list[Any], compared: int) -> None:
    rows = {(item.sheet, item.row) for item in found}
    title = f"{len(found)} of {compared:,} results differ, in {len(rows)} rows"
    table = Table(title=title, title_justify="left", title_style="bold")
    for name in ("sheet", "cell", "part, step", "what", "in the file", "recomputed"):
        table.add_column(name, overflow="fold")
    for item in found[:_SHOWN]:
        cells = (item.sheet, item.cell, item.row, item.label, str(item.stored), str(item.computed))
        table.add_row(*cells)
    console.print(table)
    console.print(
        "A file that was not recalculated before it was saved shows this too; xlfab audit says what was changed."
    )


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command()(read)
