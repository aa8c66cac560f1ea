"""`xlfab new comparison`: ten questions on a terminal or through a pipe, or flags; it writes a scenario and builds its workbook."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from xlfab.core.console import plain, say
from xlfab.core.errors import XlfabError

Text = Annotated[str | None, typer.Option(help="Answers the question of this name; the others are asked.")]


def new_comparison(
    folder: Annotated[Path, typer.Argument(help="The folder to write; it must not be there yet.")],
    title: Text = None,
    currency: Text = None,
    units: Annotated[str | None, typer.Option(help="metric or us.")] = None,
    wage: Text = None,
    energy_price: Annotated[str | None, typer.Option(help="Of a kilowatt-hour, such as '19 ct' or 0.19.")] = None,
    shifts: Annotated[str | None, typer.Option(help="Shifts a day and their hours, such as '1 x 8'.")] = None,
    drive: Text = None,
    rated_force: Annotated[str | None, typer.Option(help="kN, or US tons.")] = None,
    working_length: Annotated[str | None, typer.Option(help="mm, or inches.")] = None,
    old_price: Annotated[
        str | None, typer.Option(help="Of a new hydraulic brake; without it the old one is kept.")
    ] = None,
    new_price: Text = None,
    trade_in: Annotated[str | None, typer.Option(help="What the old brake brings.")] = None,
    released_share: Annotated[
        str | None, typer.Option(help="Share of the labour hours saved that is worth money.")
    ] = None,
    material: Text = None,
    material_price: Annotated[str | None, typer.Option(help="A kilogram, or a pound.")] = None,
    thickness: Annotated[str | None, typer.Option(help="mm, inches or a gauge number, such as '14 ga'.")] = None,
    length: Text = None,
    width: Text = None,
    bends: Text = None,
    lot_size: Text = None,
    yearly_quantity: Text = None,
    yes: Annotated[
        bool, typer.Option("--yes", help="Ask nothing: the default counts where no flag says otherwise.")
    ] = False,
    build: Annotated[bool, typer.Option(help="Build the workbook as well.")] = True,
) -> None:
    """Ask ten questions about a shop and a new press brake, write them as a scenario, and build its comparison."""
    from xlfab.comparison.first_comparison import Answers, write_comparison
    from xlfab.comparison.new_comparison_answers import Interview
    from xlfab.customer_list.gauges import thickness_mm
    from xlfab.customer_list.new_shop import start_prices

    flags = {name: value for name, value in locals().items() if isinstance(value, str)}
    workbook = folder.with_name(folder.name + ".xlsx")
    for path in (folder, *((workbook,) if build else ())):
        if path.exists():
            raise XlfabError(f"{path} is there already: give another name")
    interview = Interview(flags, folder, yes, thickness_mm, start_prices)
    try:
        known = interview.answers()
        write_comparison(folder, Answers(**known))
    except (Exception, KeyboardInterrupt):
        kept = interview.save()
        if kept:
            print(f"Your answers are kept: xlfab new comparison {folder} < {kept}", file=sys.stderr)
        raise
    say(
        f"Scenario: {plain(str(folder))}: look through scenario.toml, and put your own parts into parts.csv and steps.csv."
    )
    if build:
        _build(folder, workbook)
    say(
        f"Next: xlfab show {folder}; after a change: xlfab build {folder} -o {workbook}{' --overwrite' if build else ''}",
        soft_wrap=True,
    )


def _build(folder: Path, workbook: Path) -> None:
    from xlfab.command_options import scenario_of
    from xlfab.comparison.comparison_workbook import build_comparison
    from xlfab.comparison.terminal import print_comparison
    from xlfab.core.console import terminal

    made = build_comparison(scenario_of(folder), workbook, "portable", "A4")
    print_comparison(made, terminal())
    say(f"Workbook: {workbook}")


def add_to(app: Any) -> None:
    """Add the command to `xlfab new`."""
    app.command("comparison")(new_comparison)
