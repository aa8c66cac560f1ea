"""`xlfab new comparison`: asks the few questions a first comparison needs, or takes flags, and writes a scenario."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from xlfab.errors import XlfabError

console = Console()


def _ask(question: str, default: object) -> Any:
    """An option that is asked for on a terminal, and takes its default where nobody can answer."""
    asked = question if sys.stdin.isatty() else False
    return typer.Option(default, prompt=asked, help=question)


def new_comparison(
    folder: Annotated[Path, typer.Argument(help="The folder to write; it must not be there yet.")],
    title: str = _ask("Name of the shop", "My shop"),
    currency: str = _ask("Currency", "EUR"),
    units: str = _ask("Units (metric or us)", "metric"),
    wage: float = _ask("Gross wage an hour", 26.0),
    energy_price: float = _ask("Price of a kilowatt-hour", 0.2),
    drive: str = _ask("Drive of the electric press brake", "belt-spring servo-drive"),
    rated_force: float = _ask("Rated force (kN, or US tons)", 1000.0),
    working_length: float = _ask("Working length (mm, or inches)", 3000.0),
    old_price: float = _ask("Price of a new hydraulic one (0: keep the one that is there)", 0.0),
    new_price: float = _ask("Price of the electric one", 120000.0),
    trade_in: float = _ask("What the old one brings in trade", 0.0),
    released_share: float = _ask("Share of released hours that is worth money to you (0 to 1)", 0.5),
    material: str = _ask("Material of a typical part", "S235JR"),
    material_price: float = _ask("Its price a kilogram, or a pound", 1.1),
    thickness: float = _ask("Its thickness (mm, or inches)", 2.0),
    length: float = _ask("Its length (mm, or inches)", 600.0),
    width: float = _ask("Its width, flat (mm, or inches)", 300.0),
    bends: int = _ask("Its bends", 4),
    lot_size: int = _ask("Parts in a lot", 40),
    yearly_quantity: int = _ask("Parts a year", 20000),
) -> None:
    """Write a scenario for a first comparison of a hydraulic with an electric press brake."""
    from xlfab.inputs.defaults import default_names
    from xlfab.inputs.fresh import Answers, write_comparison
    from xlfab.inputs.machine import DRIVES

    if folder.exists():
        raise XlfabError(f"{folder} is there already: give another name")
    choices = (
        ("units", units, ("metric", "us")),
        ("drive", drive, DRIVES[1:]),
        ("material", material, tuple(default_names("material"))),
    )
    for name, value, allowed in choices:
        if value not in allowed:
            raise XlfabError(f"--{name} '{value}' must be one of {', '.join(allowed)}")
    for name, number in (("bends", bends), ("lot-size", lot_size), ("yearly-quantity", yearly_quantity)):
        if number < 1:
            raise XlfabError(f"--{name} {number} must be at least 1")
    money = (wage, energy_price, drive, rated_force, working_length, old_price, new_price, trade_in, released_share)
    part = (material, material_price, thickness, length, width, bends, lot_size, yearly_quantity)
    write_comparison(folder, Answers(title, currency, units, *money, *part))
    console.print(
        f"Scenario: {folder}. Look through scenario.toml, put in your own parts, then: xlfab build {folder} -o {folder}.xlsx"
    )


def add_to(app: typer.Typer) -> None:
    """Add the command to `xlfab new`."""
    app.command("comparison")(new_comparison)
