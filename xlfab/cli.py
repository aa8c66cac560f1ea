"""The command line: parse, call one function, print. Every refusal is one message and exit code 2."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from xlfab import __version__
from xlfab.commands import excel, import_list, quote
from xlfab.errors import XlfabError

app = typer.Typer(
    name="xlfab",
    help="Cycle time, energy and cost per part for shearing and press-brake bending; hydraulic against electric, down to payback.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
)

Folder = Annotated[
    Path,
    typer.Argument(help="Folder of a scenario (scenario.toml, parts.csv, steps.csv), or the name of a bundled one."),
]
Output = Annotated[Path, typer.Option("--output", "-o", help="Where to write.")]
Overwrite = Annotated[bool, typer.Option("--overwrite", help="Replace a file that is there already.")]
Flavour = Annotated[
    str,
    typer.Option(
        help="portable (no add-in needed), plain (also without LET), names (LAMBDA names), addin (calls of the add-in)."
    ),
]
Paper = Annotated[str, typer.Option(help="A4 or Letter.")]


def _load(folder: Path) -> Any:
    from xlfab.inputs.bundled import bundled, bundled_names
    from xlfab.inputs.scenario import load

    return load(bundled(str(folder)) if not folder.exists() and str(folder) in bundled_names() else folder)


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
        _refuse_existing(file, overwrite)
    for name, file in files.items():
        _build(Path(name), file, flavour, paper, overwrite)


@app.command()
def build(
    scenario: Folder, output: Output, flavour: Flavour = "portable", paper: Paper = "A4", overwrite: Overwrite = False
) -> None:
    """Build the comparison workbook of a scenario."""
    _build(scenario, output, flavour, paper, overwrite)


def _build(scenario: Path, output: Path, flavour: str, paper: str, overwrite: bool) -> None:
    from xlfab.show import print_comparison
    from xlfab.workbook.comparison import build_comparison

    if output.suffix != ".xlsx":
        raise XlfabError(f"{output}: a workbook's name must end in .xlsx")
    _refuse_existing(output, overwrite)
    made = build_comparison(_load(scenario), output, flavour, paper, overwrite)
    console = Console()
    print_comparison(made, console)
    console.print(f"Workbook: {output}\n")


def _refuse_existing(output: Path, overwrite: bool) -> None:
    if output.exists() and not overwrite:
        raise XlfabError(f"{output} is there already: give another name, or --overwrite to replace it")


@app.command()
def show(scenario: Folder) -> None:
    """Print the comparison of a scenario."""
    from xlfab.job.compare import compare
    from xlfab.show import print_comparison

    print_comparison(compare(_load(scenario)), Console())


@app.callback(invoke_without_command=True)
def about(version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False) -> None:
    """The options that stand before a command."""
    if version:
        print(f"xlfab {__version__}")
        raise typer.Exit


import_list.add_to(app)
quote.add_to(app)
app.add_typer(excel.app, name="excel")


def main() -> None:
    """Run the command line; refusals end with exit code 2 and one message."""
    try:
        app(standalone_mode=True)
    except XlfabError as error:
        print(f"xlfab: {error}", file=sys.stderr)
        sys.exit(2)
    except OSError as error:
        print(f"xlfab: {error.filename or ''}: {error.strerror or error}", file=sys.stderr)
        sys.exit(2)


if __name__ == "__main__":
    main()
