"""`xlfab actuals`: actual times of finished lots against the estimate, charted, and factors that a copy of the scenario takes over."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from xlfab.actuals.finished_lots import CONFIDENCE, FACTORS, Bias, biases, operation_of, read_actuals
from xlfab.command_options import Overwrite, Paper, refuse_taken, scenario_folder
from xlfab.core.console import Printer
from xlfab.core.errors import XlfabError

console = Printer(120)


def actuals(
    file: Annotated[Path, typer.Argument(help="CSV with columns lot, operation, estimated_min, actual_min.")],
    scenario: Annotated[
        Path | None, typer.Argument(help="Folder of the scenario that the estimates were made with, or a bundled one.")
    ] = None,
    accept: Annotated[
        Path | None,
        typer.Option(help="Take over the suggested factors: new folder for a copy of the scenario with them."),
    ] = None,
    only: Annotated[
        list[str] | None, typer.Option(help="Operation whose factor is taken over; give it once for each.")
    ] = None,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", help="Write a workbook with chart, figures and lots here.")
    ] = None,
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Hold actual times of finished lots against the estimate: bias and spread by operation, and suggested factors.

    The factors of shear, press brake and set-up go into a quote; a new folder gets them, the scenario itself stays as it is.
    """
    if (accept is None) != (scenario is None) or (only and accept is None):
        raise XlfabError("SCENARIO and --accept belong together: the scenario, and the new folder for its copy")
    if output is not None:
        refuse_taken(output, overwrite)
    lots = read_actuals(file)
    found = biases(lots)
    _show(found, file.name)
    if output is not None:
        from xlfab.actuals.actuals_workbook import build_actuals

        build_actuals(found, lots, file.name, output, paper, overwrite)
        console.print(f"Workbook: {output}")
    if scenario is not None and accept is not None:
        _accept(_taken(found, only or []), scenario, accept, file.name)


def _show(found: list[Bias], title: str) -> None:
    table = Table(title=f"Actual over estimated time: {title}", title_justify="left", title_style="bold")
    for name in ("operation", "lots", "all time", "median", "its interval", "middle half", "factor", ""):
        table.add_column(name, justify="left" if name in ("operation", "") else "right")
    for item in found:
        interval = f"{item.low:.2f} - {item.high:.2f}" if item.low else "not known"
        half = f"{item.first_quartile:.2f} - {item.third_quartile:.2f}"
        factor = "" if item.factor is None else f"{item.factor:.3f}"
        figures = (f"{item.total_ratio:.2f}", f"{item.median_ratio:.2f}", interval, half, factor)
        table.add_row(item.operation, str(item.lots), *figures, item.finding)
    console.print(table)
    console.print(f"The interval holds the median with {CONFIDENCE:.0%} confidence.")


def _taken(found: list[Bias], only: list[str]) -> list[Bias]:
    """The operations whose factor goes into the copy: those named, else all that have one and a place for it."""
    by_name = {item.operation.casefold(): item for item in found}
    for text in only:
        item = by_name.get(operation_of(text).casefold())
        if item is None or item.factor is None or item.operation not in FACTORS:
            having = ", ".join(one.operation for one in found if one.factor is not None and one.operation in FACTORS)
            raise XlfabError(f"--only {text}: there is no factor to take over; there is one for: {having or 'nothing'}")
    wanted = {operation_of(text).casefold() for text in only} or set(by_name)
    return [one for name, one in by_name.items() if name in wanted and one.factor is not None]


def _accept(taken: list[Bias], scenario: Path, to: Path, name: str) -> None:
    from xlfab.actuals.time_factors import Found, write_factors

    found: dict[str, Any] = {}
    for item in taken:
        if item.operation not in FACTORS:
            console.print(f"{item.operation}: a quote has no factor for it; change its times in work.csv")
            continue
        source = f"Median of {item.lots} lots in {name}, {CONFIDENCE:.0%} interval {item.low:.3g} to {item.high:.3g}"
        found[FACTORS[item.operation]] = Found(float(item.factor or 1.0), item.low, item.high, source)
    if not found:
        raise XlfabError("no factor is suggested, so there is nothing to take over and no copy was written")
    for line in write_factors(scenario_folder(scenario), found, to):
        console.print(f"{line} (measured)")
    console.print(f"Scenario: {to}")


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command()(actuals)
