"""`xlfab meter`: a power logger's file into the power of each state of a machine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from xlfab.core.console import Printer
from xlfab.core.errors import ScenarioError


def meter(
    file: Annotated[
        Path, typer.Argument(help="The logger's file: CSV or .xlsx with time and real power, or an energy counter.")
    ],
    column: Annotated[
        list[str] | None, typer.Option(help="Heading of the power column; give it three times for three phases.")
    ] = None,
    unit: Annotated[str, typer.Option(help="Unit of the values, before what the heading says: W, kW, Wh or kWh.")] = "",
    decimal: Annotated[str, typer.Option(help="Decimal sign of the numbers: point or comma.")] = "",
    time_zone: Annotated[str, typer.Option(help="Time zone of the clock, as Europe/Vienna.")] = "",
    stroke_column: Annotated[str, typer.Option(help="Heading of a stroke counter, or of marks of 0 and 1.")] = "",
    strokes: Annotated[Path | None, typer.Option(help="File with the time of one stroke on each line.")] = None,
    meter_share: Annotated[float, typer.Option(help="Uncertainty of the meter with its clamps, as a share.")] = 0.01,
    picture: Annotated[Path | None, typer.Option(help="Write a picture here: .png, .pdf or .svg.")] = None,
    scenario: Annotated[Path | None, typer.Option(help="Folder of the scenario that the powers go into.")] = None,
    machine: Annotated[str, typer.Option(help="Name of the machine in that scenario.")] = "",
    to: Annotated[Path | None, typer.Option(help="New folder for the copy of the scenario.")] = None,
    auxiliaries: Annotated[
        str, typer.Option(help="Loads that the scenario adds to ready power: metered (the clamps saw them) or apart.")
    ] = "",
    overwrite: Annotated[bool, typer.Option("--overwrite", help="Replace a picture that is there already.")] = False,
) -> None:
    """Find the states of a machine in a power log: power, hours and energy in each, with uncertainty."""

    from xlfab.meter.log_report import lines, table
    from xlfab.meter.states import find_states

    _check(unit, decimal, meter_share, auxiliaries)
    _check_places(file, strokes, picture, scenario, machine, to)
    log = _read(file, tuple(column or ()), unit, time_zone, stroke_column, decimal, strokes)
    finding = find_states(log, meter_share)
    console = Printer()
    console.print(table(finding))
    for line in lines(finding, meter_share):
        console.print(line, soft_wrap=True)
    if picture is not None:
        from xlfab.meter.picture import draw

        draw(finding, picture, overwrite)
        console.print(f"Picture: {picture}")
    if scenario is not None and to is not None:
        from xlfab.meter.fill import fill_scenario

        for line in fill_scenario(scenario, machine, finding, to, auxiliaries):
            console.print(f"{machine}: {line}", soft_wrap=True)
        console.print(f"Scenario: {to}")


def _read(
    file: Path, columns: tuple[str, ...], unit: str, zone: str, stroke: str, decimal: str, strokes: Path | None
) -> Any:
    from xlfab.meter.log_file import read_log
    from xlfab.meter.marks import add_marks

    log = read_log(file, columns, unit, zone, stroke, {"point": ".", "comma": ","}.get(decimal, ""))
    if strokes is not None:
        add_marks(log, strokes, zone)
    return log


def _check(unit: str, decimal: str, share: float, auxiliaries: str) -> None:
    if unit.lower() not in ("", "w", "kw", "mw", "wh", "kwh", "mwh"):
        raise ScenarioError(f"--unit {unit}: allowed are W, kW, Wh and kWh")
    if decimal not in ("", "point", "comma"):
        raise ScenarioError(f"--decimal {decimal}: allowed are point (2.8) and comma (2,8)")
    if not 0 <= share <= 0.2:
        raise ScenarioError(f"--meter-share {share:g}: allowed is 0 to 0.2 (0.01 is 1 %)")
    if auxiliaries not in ("", "metered", "apart"):
        raise ScenarioError(f"--auxiliaries {auxiliaries}: allowed are metered and apart")


def _check_places(
    file: Path, strokes: Path | None, picture: Path | None, scenario: Path | None, machine: str, to: Path | None
) -> None:
    """Outputs stand beside the inputs, never over them; a copy never lies inside the scenario that is read."""
    if (scenario is None) != (to is None) or (scenario is not None and not machine):
        raise ScenarioError(
            "--scenario, --machine and --to belong together: the scenario, its machine, and where the copy goes"
        )
    files = [file, *([strokes] if strokes else [])]
    for option, output, inputs in (
        ("--picture", picture, files),
        ("--to", to, [*files, *([scenario] if scenario else [])]),
    ):
        for source in inputs:
            if output is not None and _within(output, source):
                raise ScenarioError(f"{option} {output}: that is what is read ({source}); give a new name")
    if picture is not None and picture.suffix.lower() not in (".png", ".pdf", ".svg"):
        raise ScenarioError(f"--picture {picture}: the name must end in .png, .pdf or .svg")


def _within(output: Path, source: Path) -> bool:
    """True if a place to write to is an input, by whatever name or link, or lies inside one that is a folder."""
    if output.exists() and source.exists() and output.samefile(source):
        return True
    target, origin = output.resolve(), source.resolve()
    return target == origin or origin in target.parents


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command("meter")(meter)
