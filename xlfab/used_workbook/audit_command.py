"""`xlfab audit`: a used workbook compared with what was built."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from xlfab.core.console import Printer

console = Printer()


def audit(
    file: Annotated[Path, typer.Argument(help="A workbook that xlfab built and somebody used.")],
) -> None:
    """Compare a used workbook with what was built: overwritten or changed formulas, broken ranges, inputs out of range, hidden rows.

    Exit code 0 where nothing was found, 1 where something was.
    """
    from xlfab.used_workbook.audit import audit as run

    report = run(file)
    looked = f"{report.formulas:,} formulas and {report.inputs:,} inputs compared"
    if not report.findings:
        console.print(f"{file}: as built. {looked}.")
        return
    table = Table(title=f"{file}: {len(report.findings)} findings", title_justify="left", title_style="bold")
    for name in ("what", "sheet", "cell", "why"):
        table.add_column(name, overflow="fold")
    for item in report.findings:
        table.add_row(item.kind, item.sheet, item.cell, item.text)
    console.print(table)
    console.print(f"{looked}.")
    raise typer.Exit(1)


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command()(audit)
