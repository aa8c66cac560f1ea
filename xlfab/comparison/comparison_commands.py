"""`xlfab demo`, `xlfab build` and `xlfab show`: the comparison as a workbook and on the terminal."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from xlfab.command_options import Flavour, Folder, Output, Overwrite, Paper, refuse_taken, scenario_of
from xlfab.core.console import say, terminal


def demo(
    output: Output = Path("xlfab_demo"),
    flavour: Flavour = "portable",
    paper: Paper = "A4",
    overwrite: Overwrite = False,
) -> None:
    """Build the workbooks of the bundled demo shops into a folder, and print each comparison."""
    from xlfab.inputs.bundled import bundled_names

    files = {name: output / f"{name}.xlsx" for name in bundled_names()}
    for file in files.values():
        refuse_taken(file, overwrite)
    for name, file in files.items():
        _build(Path(name), file, flavour, paper, overwrite)


def build(
    scenario: Folder, output: Output, flavour: Flavour = "portable", paper: Paper = "A4", overwrite: Overwrite = False
) -> None:
    """Build the comparison workbook of a scenario."""
    _build(scenario, output, flavour, paper, overwrite)


def _build(scenario: Path, output: Path, flavour: str, paper: str, overwrite: bool) -> None:
    from xlfab.comparison.comparison_workbook import build_comparison
    from xlfab.comparison.terminal import print_comparison

    refuse_taken(output, overwrite)
    made = build_comparison(scenario_of(scenario), output, flavour, paper, overwrite)
    print_comparison(made, terminal())
    say(f"Workbook: {output}\n")


def show(
    scenario: Folder,
    as_json: Annotated[bool, typer.Option("--json", help="Print the figures as JSON, for other programs.")] = False,
) -> None:
    """Print the comparison of a scenario."""
    from xlfab.comparison.compare import compare

    loaded = scenario_of(scenario)
    made = compare(loaded)
    if as_json:
        from xlfab.comparison.figures_json import figures_json

        print(figures_json(made, loaded.warnings))
    else:
        from xlfab.comparison.terminal import print_comparison

        print_comparison(made, terminal())


def add_to(app: Any) -> None:
    """Add the commands to the app."""
    for command in (demo, build, show):
        app.command()(command)
