"""`xlfab functions`: the function reference in the terminal, or written as a page."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from xlfab.core.console import Printer

if TYPE_CHECKING:
    from xlfab.core.registry import Function

Write = Annotated[
    bool,
    typer.Option("--write", help="Write every file that is made from the functions, after one was added or changed."),
]


def functions(
    name: Annotated[
        str,
        typer.Argument(
            help="A function (FAB_... or as in Python), or a word such as IRR, tonnage, setup; nothing lists all."
        ),
    ] = "",
    write: Write = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the list as JSON, for other programs.")] = False,
) -> None:
    """List the functions, find them by a word of the trade, or show the page of one: arguments, units, sources, a worked example."""
    from rich.markdown import Markdown

    from xlfab import reference
    from xlfab.catalogue import CATALOGUE, FUNCTIONS

    console = Printer()
    if write:
        _write(console)
    elif as_json:
        _print_json(_found(name) if name else CATALOGUE)
    elif name.strip().lower().removeprefix("fab_") in FUNCTIONS:
        console.print(Markdown(reference.page(reference.find(name))))
    elif name:
        console.print(_listed(_found(name), f"Functions for '{name}'"))
    else:
        console.print(_listed(CATALOGUE, "Functions"))


def _found(word: str) -> list[Function]:
    """The functions that a word finds; InputError with words that look like it."""
    from xlfab import reference
    from xlfab.core.errors import InputError

    found = reference.search(word)
    if not found:
        near = reference.nearest_words(word)
        hint = f"did you mean {', '.join(near)}?" if near else "xlfab functions lists all; try IRR, tonnage or setup"
        raise InputError(f"no function for '{word}': {hint}")
    return found


def _listed(functions: Iterable[Function], title: str) -> Any:
    from rich.table import Table

    from xlfab import reference

    table = Table("function", "result in", "what it is", title=title, title_justify="left")
    for row in reference.rows(functions):
        table.add_row(*row[:3])
    return table


def _print_json(functions: Iterable[Function]) -> None:
    from xlfab import reference

    names = ("function", "unit", "what", "arguments", "example", "sources")
    print(
        json.dumps(
            [dict(zip(names, row, strict=False)) for row in reference.rows(functions)], indent=2, ensure_ascii=False
        )
    )


def _write(console: Any) -> None:
    """The reference, and the rows of new functions in the table of hosts."""
    from xlfab import reference
    from xlfab.catalogue import CATALOGUE
    from xlfab.core.writing import whole_file

    place = Path(reference.__file__).with_name("FUNCTIONS.md")
    with whole_file(place, replace=True) as unfinished:
        unfinished.write_text(reference.document(), encoding="utf-8")
    console.print(f"Written: {place}")
    readme = Path(reference.__file__).parent / "hosts" / "README.md"
    text = readme.read_text(encoding="utf-8")
    new = [one.spec.name for one in CATALOGUE if f"| {one.spec.cell_name} |" not in text]
    if not new:
        return
    from xlfab.hosts import office_programs

    if not all(office_programs.find(program) for program in ("soffice", "unopkg", "ssconvert")):
        console.print(
            f"Not written: the rows of {', '.join(new)} in {readme}: LibreOffice and Gnumeric compare them, install both"
        )
        return
    from xlfab.hosts.conformance.__main__ import main

    console.print(f"Comparing {', '.join(new)} in every host ...")
    if main(["--write", *new]):
        raise typer.Exit(1)
    console.print(f"Written: {readme}")


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("functions")(functions)
