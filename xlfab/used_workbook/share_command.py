"""`xlfab share`: the customer's copy of a comparison workbook."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from xlfab.command_options import Output, Overwrite, refuse_taken
from xlfab.core.console import Printer
from xlfab.core.errors import XlfabError

console = Printer()
File = Annotated[Path, typer.Argument(help="A comparison workbook, as built or as changed by you.")]


def share(file: File, output: Output, overwrite: Overwrite = False) -> None:
    """Make the customer's copy: built anew from the inputs, live, without the seller's sheet, notes and anything else of the file."""
    from xlfab.used_workbook.share import share as shared

    refuse_taken(output, overwrite)
    if output.resolve() == file.resolve():
        raise XlfabError(f"{output}: the copy needs a name of its own; the seller's file stays as it is")
    made = shared(file, output, overwrite)
    console.print(f"Customer's copy: {output}")
    console.print(f"Built anew from the inputs; {made.agreeing:,} results agree with {file.name}.")
    if made.private:
        console.print(f"{len(made.private)} values of the seller's were searched for: none is in it.")
    else:
        console.print("There was no seller's sheet.")
    if made.own_sheets:
        console.print(f"Left out, for they are yours: {', '.join(made.own_sheets)}")


def add_to(app: typer.Typer) -> None:
    """Put the command on the command line."""
    app.command()(share)
