"""`xlfab meter`: a power logger's file into the power of each state of a machine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from xlfab.core.errors import ScenarioError


def meter(
    file: Annotated[
        Path, typer.Argument(help="The logger's file: CSV with time and real power, or an energy counter.")
    ],
    column: Annotated[
        list[str] | None, typer.Option(help="Heading of the power column; give it three times for three phases.")
    ] = None,
    unit: Annotated[str, typer.Option(help="Unit where the heading names none: W, kW, Wh or kWh.")] = "",
    time_zone: Annotated[str, typer.Option(help="Time zone of the clock, as Europe/Vienna.")] = "",
    stroke_column: Annotated[str, typer.Option(help="Heading of a stroke counter, or of marks of 0 and 1.")] = "",
    strokes: Annotated[Path | None, typer.Option(help="File with the time of one stroke on each line.")] = None,
    meter_share: Annotated[float, typer.Option(help="Uncertainty of the meter with its clamps, as a share.")] = 0.01,
    picture: Annotated[Path | None, typer.Option(help="Write a picture here: .png, .pdf or .svg.")] = None,
    scenario: Annotated[Path | None, typer.Option(help="Folder of the scenario that the powers go into.")] = None,
    machine: Annotated[str, typer.Option(help="Name of the machine in that scenario.")] = "",
    to: Annotated[Path | None, typer.Option(help="New folder for the copy of the scenario.")] = None,
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a picture that is there already.")] = False,
) -> None:
    """Find the states of a machine in a power log: power, hours and energy in each, with uncertainty."""
    from xlfab.meter.log_report import lines, table
    from xlfab.meter.states import find_states

    _check(unit, meter_share, scenario, machine, to)
    finding = find_states(_read(file, tuple(column or ()), unit, time_zone, stroke_column, strokes), meter_share)
    console = Console()
    console.print(table(finding))
    for line in lines(finding, meter_share):
        console.print(line, highlight=False, soft_wrap=True)
    if picture is not None:
        from xlfab.meter.picture import draw

        draw(finding, picture, overwrite)
        console.print(f"Picture: {picture}")
    if scenario is not None and to is not None:
        from xlfab.meter.fill import fill_scenario

        for line in fill_scenario(scenario, machine, finding, to):
            console.print(f"{machine}: {line}", highlight=False)
        console.print(f"Scenario: {to}")


def _read(file: Path, columns: tuple[str, ...], unit: str, zone: str, stroke: str, strokes: Path | None) -> Any:
    from xlfab.meter.log_file import read_log
    from xlfab.meter.marks import add_marks

    log = read_log(file, columns, unit, zone, stroke)
    if strokes is not None:
        add_marks(log, strokes, zone)
    return log


def _check(unit: str, share: float, scenario: Path | None, machine: str, to: Path | None) -> None:
    if unit.lower() not in ("", "w", "kw", "mw", "wh", "kwh", "mwh"):
        raise ScenarioError(f"--unit {unit}: allowed are W, kW, Wh and kWh")
    if not 0 <= share <= 0.2:
        raise ScenarioError(f"--meter-share {share:g}: allowed is 0 to 0.2 (0.01 is 1 %)")
    if (scenario is None) != (to is None) or (scenario is not None and not machine):
        raise ScenarioError(
            "--scenario, --machine and --to belong together: the scenario, its machine, and where the copy goes"
        )


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("meter")(meter)
