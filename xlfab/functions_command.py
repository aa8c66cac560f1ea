"""`xlfab functions`: the function reference in the terminal, or written as a page."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

Write = Annotated[bool, typer.Option("--write", help="Write the whole reference into the package (FUNCTIONS.md).")]


def functions(
    name: Annotated[str, typer.Argument(help="A function, as FAB_BEND_... or as in Python; nothing lists all.")] = "",
    write: Write = False,
) -> None:
    """List the functions, or show the page of one: arguments, units, allowed ranges, sources and a worked example."""
    from rich.console import Console
    from rich.markdown import Markdown
    from rich.table import Table

    from xlfab import reference

    console = Console()
    if write:
        place = Path(reference.__file__).with_name("FUNCTIONS.md")
        place.write_text(reference.document(), encoding="utf-8")
        console.print(f"Written: {place}")
    elif name:
        console.print(Markdown(reference.page(reference.find(name))))
    else:
        table = Table("function", "result in", "what it is", title="Functions", title_justify="left")
        for row in reference.rows():
            table.add_row(*row[:3])
        console.print(table)


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("functions")(functions)
