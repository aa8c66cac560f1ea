"""What the commands share: options, finding a scenario, and refusing to write over a file."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from xlfab.core.errors import XlfabError

if TYPE_CHECKING:
    from xlfab.inputs.scenario import Scenario
    from xlfab.inputs.unusual import UnusualValue

WARNINGS = 10  # are printed, more are counted

Folder = Annotated[
    Path,
    typer.Argument(help="Folder of a scenario (scenario.toml, parts.csv, steps.csv), or the name of a bundled one."),
]
Output = Annotated[Path, typer.Option("--output", "-o", help="Where to write.")]
Overwrite = Annotated[bool, typer.Option("--overwrite", help="Replace a file that is there already.")]
Flavour = Annotated[
    str,
    typer.Option(
        help="portable (no add-in needed), plain (also without LET), names (LAMBDA names), addin (calls of the add-in)."
    ),
]
Paper = Annotated[str, typer.Option(help="A4 or Letter.")]


def scenario_folder(given: Path) -> Path:
    """The folder itself; where there is none and the name is a bundled scenario's, that one."""
    from xlfab.inputs.bundled import bundled, bundled_names

    return bundled(str(given)) if not given.exists() and str(given) in bundled_names() else given


def scenario_of(given: Path) -> Scenario:
    """Load a scenario from its folder or by its bundled name; values outside their usual range are named on the error stream."""
    from xlfab.inputs.scenario import load

    scenario = load(scenario_folder(given))
    name_unusual(scenario.warnings)
    return scenario


def name_unusual(warnings: Sequence[UnusualValue]) -> None:
    """Print the values outside their usual range on the error stream, so that they can be found where they were typed."""
    for warning in warnings[:WARNINGS]:
        print(f"Check {warning.words}", file=sys.stderr)
    if len(warnings) > WARNINGS:
        print(f"Check: {len(warnings) - WARNINGS} more values outside their usual range.", file=sys.stderr)


def refuse_taken(output: Path, overwrite: bool, ending: str = ".xlsx") -> None:
    """Say before any work is done that a file has the wrong ending or is there already."""
    if output.suffix.lower() != ending:
        raise XlfabError(f"{output}: the name of this file must end in {ending}")
    if output.exists() and not overwrite:
        raise XlfabError(f"{output} is there already: give another name, or --overwrite to replace it")
