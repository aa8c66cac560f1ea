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
    """Make the customer's copy: live formulas, without the seller's sheet, notes, file properties and the record for audit."""
    from xlfab.used_workbook.share import share as shared

    refuse_taken(output, overwrite)
    if output.resolve() == file.resolve():
        raise XlfabError(f"{output}: the copy needs a name of its own; the seller's file stays as it is")
    taken = shared(file, output, overwrite)
    what = (
        f"{len(taken.private)} private values taken out and searched for: none left"
        if taken.private
        else "there was no seller's sheet"
    )
    console.print(f"Customer's copy: {output} ({what}; {len(taken.parts)} parts of the file removed).")


def add_to(app: typer.Typer) -> None:
    """Put the command on the command line."""
    app.command()(share)
