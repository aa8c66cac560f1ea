"""The command line: parse, call one function, print. Every refusal is one message and exit code 2."""

from __future__ import annotations

import codecs
import os
import sys
from io import TextIOWrapper
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from xlfab import __version__, functions_command
from xlfab.actuals import actuals_command
from xlfab.command_options import Flavour, Folder, Output, Overwrite, Paper, refuse_taken, scenario_of
from xlfab.comparison import new_comparison_command, purchase_commands
from xlfab.core.console import complain
from xlfab.core.errors import XlfabError
from xlfab.core.writing import inputs_kept
from xlfab.customer_list import import_command
from xlfab.hosts import calc_command, excel_command
from xlfab.meter import meter_command
from xlfab.quote import quote_commands
from xlfab.used_workbook import audit_command, read_command, share_command
from xlfab.work import shop_floor_commands

app = typer.Typer(
    name="xlfab",
    help="Cycle time, energy and cost per part for shearing and press-brake bending; hydraulic against electric, down to payback.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)


@app.command()
def demo(
    output: Output = Path("xlfab_demo"),
    flavour: Flavour = "portable",
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Build the workbooks of the bundled demo shops into a folder, and print each comparison."""
    from xlfab.inputs.bundled import bundled_names

    files = {name: output / f"{name}.xlsx" for name in bundled_names()}
    for file in files.values():
        refuse_taken(file, overwrite)
    for name, file in files.items():
        _build(Path(name), file, flavour, paper, overwrite)


@app.command()
def build(
    scenario: Folder, output: Output, flavour: Flavour = "portable", paper: Paper = "A4", overwrite: Overwrite = False
) -> None:
    """Build the comparison workbook of a scenario."""
    _build(scenario, output, flavour, paper, overwrite)


def _build(scenario: Path, output: Path, flavour: str, paper: str, overwrite: bool) -> None:
    from xlfab.comparison.comparison_workbook import build_comparison
    from xlfab.comparison.terminal import print_comparison

    refuse_taken(output, overwrite)
    made = build_comparison(scenario_of(scenario), output, flavour, paper, overwrite)
    console = Console()
    print_comparison(made, console)
    console.print(f"Workbook: {output}\n")


@app.command()
def show(scenario: Folder) -> None:
    """Print the comparison of a scenario."""
    from xlfab.comparison.compare import compare
    from xlfab.comparison.terminal import print_comparison

    print_comparison(compare(scenario_of(scenario)), Console())


@app.callback(invoke_without_command=True)
def about(
    context: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """The options that stand before a command."""
    context.with_resource(inputs_kept())
    if version:
        print(f"xlfab {__version__}")
        raise typer.Exit


import_command.add_to(app)
quote_commands.add_to(app)
shop_floor_commands.add_to(app)
actuals_command.add_to(app)
audit_command.add_to(app)
read_command.add_to(app)
app.add_typer(excel_command.app, name="excel")
meter_command.add_to(app)
purchase_commands.add_to(app)
share_command.add_to(app)
new_comparison_command.add_to(quote_commands.new)
app.add_typer(calc_command.app, name="calc")
functions_command.add_to(app)


PLAIN_LETTERS = {
    "±": "+/-",
    "×": "x",
    "–": "-",
    "—": "-",
    "−": "-",
    "·": ".",
    "…": "...",
    "≥": ">=",
    "≤": "<=",
    "°": " deg",
    "²": "2",
}


def _in_plain_letters(error: UnicodeError) -> tuple[str, int]:
    """What a terminal without these letters gets in their place, so that printing never ends in an error."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(PLAIN_LETTERS.get(one, "?") for one in error.object[error.start : error.end]), error.end


def main() -> None:
    """Run the command line; refusals end with exit code 2 and one message."""
    codecs.register_error("plain_letters", _in_plain_letters)
    if sys.stdout is None:
        complain("the output is closed")
        sys.exit(2)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="plain_letters")
    try:
        code = _run()
        sys.stdout.flush()
    except OSError as error:  # the output itself cannot be written
        code = _refuse(error)
    if code == 2:
        _give_up_output()
    sys.exit(code)


def _run() -> int:
    try:
        app(standalone_mode=True)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    except (XlfabError, OSError, MemoryError, RecursionError) as error:
        return _refuse(error)
    return 0


def _refuse(error: BaseException) -> int:
    if isinstance(error, OSError):
        complain(": ".join(str(part) for part in (error.filename, error.strerror or error) if part))
    elif isinstance(error, (MemoryError, RecursionError)):
        complain("the files are too large for the memory of this computer; try with fewer parts")
    else:
        complain(error)
    return 2


def _give_up_output() -> None:
    """Let Python end without trying again to write to an output that is closed or full."""
    try:
        sys.stdout.flush()
    except OSError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - held until the end


if __name__ == "__main__":
    main()
