"""`xlfab risk` and `xlfab page`: how sure the answer is, and the printed page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from xlfab.command_options import Flavour, Folder, Output, Overwrite, Paper, refuse_taken, scenario_of
from xlfab.core.console import Printer, terminal
from xlfab.core.errors import XlfabError
from xlfab.hosts.print_page import customer_pdf

console = Printer()
PAGE = "Summary"
File = Annotated[Path, typer.Argument(help="A comparison workbook, as built or as changed by you.")]


def risk(
    scenario: Folder,
    output: Output,
    draws: Annotated[int, typer.Option(min=100, max=10_000_000, help="Random draws of all assumptions.")] = 10_000,
    seed: Annotated[int, typer.Option(min=0, help="The same seed gives the same draws.")] = 1,
    flavour: Flavour = "portable",
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Draw all assumptions at random many times; write a new workbook that holds the result as values with charts."""
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from xlfab.comparison.compare import compare
    from xlfab.comparison.comparison_workbook import build_comparison
    from xlfab.comparison.terminal import print_risk

    refuse_taken(output, overwrite)
    loaded = scenario_of(scenario)
    if len(loaded.options) < 2:
        raise XlfabError(f"{scenario}: one option alone has nothing to be compared with; state a second [[option]]")
    columns = (TextColumn("Draws"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=terminal(), transient=True) as progress:
        task = progress.add_task("Draws", total=draws)
        made = compare(loaded, draws, seed, lambda done: progress.update(task, completed=done))
    build_comparison(loaded, output, flavour, paper, overwrite, made)
    print_risk(made, terminal())
    console.print(f"Workbook: {output}")


def page(
    file: File,
    output: Annotated[Path, typer.Option("--output", "-o", help="The PDF to write.")],
    details: Annotated[bool, typer.Option("--details", help="Print the figures behind the page too.")] = False,
    overwrite: Overwrite = False,
) -> None:
    """Print the one page for the table: the summary of a comparison workbook as PDF, by LibreOffice."""
    refuse_taken(output, overwrite, ".pdf")
    customer_pdf(file, output, overwrite, PAGE, "" if details else "1")
    console.print(f"Page: {output}")


def add_to(app: typer.Typer) -> None:
    """Put the commands on the command line."""
    for command in (risk, page):
        app.command()(command)
