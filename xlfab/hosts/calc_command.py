"""`xlfab calc`: the add-in for LibreOffice Calc."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    help="The add-in for LibreOffice Calc: install, check, remove, or write it as a file.", no_args_is_help=True
)


@app.command()
def install() -> None:
    """Build the add-in and hand it to LibreOffice."""
    from xlfab.hosts import calc

    calc.install(typer.echo)


@app.command()
def check() -> None:
    """Say whether the add-in is installed, and in which version."""
    from xlfab.hosts import calc

    if not calc.check(typer.echo):
        raise typer.Exit(1)


@app.command()
def remove() -> None:
    """Take the add-in out of LibreOffice."""
    from xlfab.hosts import calc

    calc.remove(typer.echo)


@app.command()
def write(output: Annotated[Path, typer.Option("--output", "-o", help="Where to write.")] = Path("xlfab.oxt")) -> None:
    """Write the add-in as a file, to be opened with LibreOffice on another computer."""
    from xlfab.hosts import calc_package

    typer.echo(f"The add-in was written to {calc_package.build(output)}. Open it with LibreOffice to install it.")


def add_to(on: typer.Typer) -> None:
    """Add the commands to the command line."""
    on.add_typer(app, name="calc")
