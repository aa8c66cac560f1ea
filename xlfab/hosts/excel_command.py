"""`xlfab excel`: the add-in for Excel on Windows."""

from __future__ import annotations

import typer

app = typer.Typer(help="The add-in for Excel on Windows: install, check, remove.", no_args_is_help=True)


@app.command()
def install() -> None:
    """Build the add-in and put it into Excel's start folder."""
    from xlfab.hosts import excel_install

    excel_install.install(typer.echo)


@app.command()
def check() -> None:
    """Say whether the add-in is in place."""
    from xlfab.hosts import excel_install

    if not excel_install.check(typer.echo):
        raise typer.Exit(1)


@app.command()
def remove() -> None:
    """Take the add-in out again."""
    from xlfab.hosts import excel_install

    excel_install.remove(typer.echo)


def add_to(on: typer.Typer) -> None:
    """Add the commands to the command line."""
    on.add_typer(app, name="excel")
