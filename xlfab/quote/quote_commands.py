"""`xlfab quote` and `xlfab new quote`: the estimator's workbook, filled from a scenario or blank; `xlfab pdf`: its customer page."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Annotated, Any

import typer

from xlfab.command_options import (
    Flavour,
    Folder,
    Output,
    Overwrite,
    Paper,
    name_unusual,
    refuse_taken,
    scenario_folder,
    scenario_of,
)
from xlfab.comparison import new_comparison_command
from xlfab.core.console import Printer
from xlfab.core.errors import XlfabError
from xlfab.hosts.print_page import customer_pdf

console = Printer()
Spare = Annotated[
    int, typer.Option(min=0, max=2000, help="Empty lines for further parts; steps get three times as many.")
]

new = typer.Typer(help="A blank workbook to fill in.", no_args_is_help=True)


def spare_rows(parts: int) -> dict[str, int]:
    """Empty rows of every list, from those of the list of parts."""
    return {
        "parts": parts,
        "cuts": 2 * parts,
        "bends": 3 * parts,
        "work": parts,
        "bought": parts,
        "work_centres": 6,
        "materials": 4,
    }


def quote(
    scenario: Folder,
    output: Output,
    option: Annotated[str, typer.Option(help="Option whose machines make the parts; the first unless named.")] = "",
    against: Annotated[str, typer.Option(help="Another option as second route: break-even lot of each part.")] = "",
    breakdown: Annotated[
        bool, typer.Option("--breakdown", help="Show the customer what the price is made of.")
    ] = False,
    spare: Spare = 15,
    flavour: Flavour = "portable",
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Build the quote workbook of a scenario, or with -o FILE.pdf print its page for the customer at once."""
    from xlfab.inputs.rests_on import rests_on
    from xlfab.quote.quote_file import load_quote
    from xlfab.quote.quote_job import quote_job

    printed = output.suffix.lower() == ".pdf"
    refuse_taken(output, overwrite, ".pdf" if printed else ".xlsx")
    loaded = scenario_of(scenario)
    stated = load_quote(scenario_folder(scenario), loaded)
    name_unusual(stated.warnings)
    job = quote_job(loaded, stated, option, against, spare_rows(spare))
    if printed:
        _print(job, output, paper, breakdown, overwrite)
    else:
        _build(job, output, flavour, paper, breakdown, overwrite)
    console.print("Its figures rest on:")
    for line in rests_on(loaded.assumptions, loaded.currency):
        console.print(f"  {line}")


@new.command("quote")
def new_quote(
    output: Output,
    currency: Annotated[str, typer.Option(help="Code or sign, such as EUR.")] = "EUR",
    units: Annotated[str, typer.Option(help="metric or us.")] = "metric",
    drive: Annotated[str, typer.Option(help="Drive family whose defaults the machines start from.")] = "hydraulic",
    spare: Spare = 30,
    flavour: Flavour = "portable",
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Build a blank quote workbook: one shear, one press brake, every material with defaults, empty lists."""
    from xlfab.inputs.drives import drive_named, drives
    from xlfab.quote.blank_quote import blank_quote, blank_scenario
    from xlfab.quote.quote_job import quote_job

    drive = drive_named(drive)
    for name, value, allowed in (("units", units, ("metric", "us")), ("drive", drive, tuple(drives()))):
        if value not in allowed:
            raise XlfabError(f"--{name} '{value}' must be one of: {'; '.join(allowed)}")
    refuse_taken(output, overwrite)
    job = quote_job(blank_scenario(currency, units, drive), blank_quote(), spare=spare_rows(max(1, spare)))
    _build(job, output, flavour, paper, False, overwrite)


def _print(job: Any, output: Path, paper: str, breakdown: bool, overwrite: bool) -> None:
    """The customer's page at once: the workbook behind it is built, printed and not kept."""
    with tempfile.TemporaryDirectory() as place:
        workbook = Path(place, "quote.xlsx")
        _build(job, workbook, "portable", paper, breakdown, False, say_where=False)
        customer_pdf(workbook, output, overwrite)
    console.print(f"PDF: {output}. The workbook behind it: the same command with -o {output.with_suffix('.xlsx')}")


def _build(
    job: Any, output: Path, flavour: str, paper: str, breakdown: bool, overwrite: bool, say_where: bool = True
) -> None:
    from xlfab.quote.quote_workbook import build_quote

    build_quote(job, output, flavour, paper, breakdown, overwrite)
    totals = job.totals
    parts = len(job.stated.parts.value("part"))
    if parts:
        price, margin = totals.number("order_price_cur"), totals.number("order_margin_share")
        console.print(
            f"{parts} parts, order at the lots asked {price:,.2f} {job.scenario.currency}, margin {margin:.1%}"
        )
    checks = str(job.overall_check.value("all_checks")[0])
    if parts and checks != "OK":
        console.print(f"Checks: {checks}", highlight=False, markup=False)
    if say_where:
        console.print(f"Workbook: {output}")


def pdf(
    file: Annotated[Path, typer.Argument(help="A quote workbook, as it was last saved.")],
    output: Output,
    overwrite: Overwrite = False,
) -> None:
    """Print the customer's page of a quote workbook to PDF; needs LibreOffice."""
    refuse_taken(output, overwrite, ".pdf")
    customer_pdf(file, output, overwrite)
    console.print(f"PDF: {output}")


def add_to(app: Any) -> None:
    """Add the commands to the app."""
    app.command()(quote)
    app.command()(pdf)
    new_comparison_command.add_to(new)
    app.add_typer(new, name="new")
