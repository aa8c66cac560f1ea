"""`xlfab cuts` and `xlfab stopwatch`: cut lists in the order with the least gauge travel, and your own readings fitted."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer
from rich.table import Table

from xlfab.command_options import Folder, scenario_of
from xlfab.comparison.estimate import estimate
from xlfab.core.console import Printer
from xlfab.core.errors import ScenarioError
from xlfab.cycle_time.stopwatch import TERMS, fit_file
from xlfab.tables.printed import text_of
from xlfab.tables.table import Ref
from xlfab.work.sheet_cutting import cutting_of

console = Printer(130)
_COUNTS = ("part", "strips_count", "pieces_per_strip_count", "blanks_per_sheet_count", "cuts_per_sheet_count")
_PLAN = (
    *_COUNTS,
    "blanks_on_sheet_share",
    "sheet_use_share",
    "used_sheet_use_share",
    "rest_length_mm",
    "rest_width_mm",
    "offcut_mass_kg",
    "offcut_value_cur",
    "sheets_per_lot_count",
)
_SHEET = (
    "part",
    "written_way_mm",
    "gauge_way_mm",
    "strokes_count",
    "same_cuts",
    "sheet_time_s",
    "lot_cutting_min",
    "blank_time_s",
    "cut_steps_time_s",
)
_LINE = ("line", "gauge_position_mm", "cut_length_mm", "strokes_count", "gauge_way_mm", "stroke_time_s", "line_time_s")


def cuts(scenario: Folder) -> None:
    """Print how sheets are taken apart: blanks, offcut, and each cut list in the order with the least gauge travel."""
    job = estimate(scenario_of(scenario))
    cutting = cutting_of(job)
    if cutting is None:
        raise ScenarioError(f"{scenario}: no part states its sheet (sheet_length_mm, sheet_width_mm in parts.csv)")
    s = job.scenario
    shown = [(cutting.plan, _PLAN), *((t, _SHEET) for t in cutting.per_sheet), *((t, _LINE) for t in cutting.ordered)]
    for table, names in shown:
        printed = Table(title=table.title, title_justify="left", header_style="bold")
        for name in names:
            unit = text_of(Ref(table, name), s.currency, s.units)[1]
            printed.add_column(f"{table.columns[name].label} {unit}".strip())
        for row in range(table.rows.count):
            printed.add_row(*(text_of(Ref(table, name), s.currency, s.units, row)[0] for name in names))
        console.print(printed)


def stopwatch(
    file: Annotated[Path, typer.Argument(help="CSV: blank_length_mm, blank_width_mm, blank_mass_kg, observed_time_s.")],
    kind: Annotated[str, typer.Option(help="What was timed: load, unload, stack or reposition.")] = "load",
) -> None:
    """Fit your own stopwatch readings to base, slope over size and slope over mass, and print lines for scenario.toml."""
    if kind not in ("load", "unload", "stack", "reposition"):
        raise ScenarioError(f"--kind {kind} is not known; known: load, unload, stack, reposition")
    fit = fit_file(file)
    console.print(f"{fit.readings} readings, residual {fit.residual_s:.3g} s, R2 {fit.r_squared:.3f}")
    for line in fit.warnings():
        console.print(f"Careful: {line}")
    console.print("[workplace]")
    for name, value, error in zip(TERMS, fit.coefficients, fit.standard_errors, strict=True):
        key = name.replace("handling", kind)
        low, high = max(value - 2 * error, 0.0), value + 2 * error
        source = f"{fit.readings} stopwatch readings, residual {fit.residual_s:.2g} s"
        console.print(
            f'{key} = {{value = {value:.4g}, low = {low:.4g}, high = {high:.4g}, basis = "measured", source = "{source}"}}',
            soft_wrap=True,
        )


def add_to(app: typer.Typer) -> None:
    """Put both commands on the command line."""
    app.command()(cuts)
    app.command()(stopwatch)
