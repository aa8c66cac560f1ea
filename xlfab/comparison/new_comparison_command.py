"""`xlfab new comparison`: asks the few questions a first comparison needs, or takes flags, and writes a scenario."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console

from xlfab.core.errors import XlfabError

console = Console()


def _ask(question: str, default: object, check: Callable[[Any], str] = lambda value: "") -> Any:
    """An option that is asked for on a terminal, and takes its default where nobody can answer.

    A wrong answer is asked for again at once, so that the ones before it are not lost.
    """

    def checked(value: Any) -> Any:
        if problem := check(value):
            raise typer.BadParameter(f"{value!r} {problem}")
        return value

    asked = question if sys.stdin.isatty() else False
    return typer.Option(default, prompt=asked, help=question, callback=checked)


def _bounds(name: str) -> Callable[[Any], str]:
    """The bounds of a name of the vocabulary."""

    def check(value: Any) -> str:
        from xlfab.inputs.stated_values import out_of_bounds

        return out_of_bounds(value, name)

    return check


def _size(value: float) -> str:
    return "" if value > 0 else "must be above 0"


def _count(value: int) -> str:
    return "" if value >= 1 else "must be at least 1"


def _one_of(value: str, allowed: tuple[str, ...]) -> str:
    return "" if value in allowed else f"must be one of {', '.join(allowed)}"


def _drive(value: str) -> str:
    from xlfab.inputs.drives import drive_named, drives

    return _one_of(drive_named(value), tuple(drives())[1:])


def _material(value: str) -> str:
    from xlfab.inputs.defaults import default_names

    return _one_of(value, tuple(default_names("material")))


def new_comparison(
    folder: Annotated[Path, typer.Argument(help="The folder to write; it must not be there yet.")],
    title: str = _ask("Name of the shop", "My shop"),
    currency: str = _ask("Currency", "EUR"),
    units: str = _ask("Units (metric or us)", "metric", lambda value: _one_of(value, ("metric", "us"))),
    wage: float = _ask("Gross wage an hour", 26.0, _bounds("wage_cur_per_h")),
    energy_price: float = _ask("Price of a kilowatt-hour", 0.2, _bounds("energy_price_cur_per_kwh")),
    drive: str = _ask("Drive of the electric press brake", "ball screw", _drive),
    rated_force: float = _ask("Rated force (kN, or US tons)", 1000.0, _size),
    working_length: float = _ask("Working length (mm, or inches)", 3000.0, _size),
    old_price: float = _ask(
        "Price of a new hydraulic one (0: keep the one that is there)", 0.0, _bounds("machine_price_cur")
    ),
    new_price: float = _ask("Price of the electric one", 120000.0, _bounds("machine_price_cur")),
    trade_in: float = _ask("What the old one brings in trade", 0.0, _bounds("trade_in_cur")),
    released_share: float = _ask(
        "Share of released hours that is worth money to you (0 to 1)", 0.5, _bounds("released_value_share")
    ),
    material: str = _ask("Material of a typical part", "S235JR", _material),
    material_price: float = _ask("Its price a kilogram, or a pound", 1.1, _bounds("material_price_cur_per_kg")),
    thickness: float = _ask("Its thickness (mm, or inches)", 2.0, _size),
    length: float = _ask("Its length (mm, or inches)", 600.0, _size),
    width: float = _ask("Its width, flat (mm, or inches)", 300.0, _size),
    bends: int = _ask("Its bends", 4, _count),
    lot_size: int = _ask("Parts in a lot", 40, _count),
    yearly_quantity: int = _ask("Parts a year", 20000, _count),
) -> None:
    """Write a scenario for a first comparison of a hydraulic with an electric press brake."""
    from xlfab.comparison.first_comparison import Answers, write_comparison

    if folder.exists():
        raise XlfabError(f"{folder} is there already: give another name")
    money = (wage, energy_price, drive, rated_force, working_length, old_price, new_price, trade_in, released_share)
    part = (material, material_price, thickness, length, width, bends, lot_size, yearly_quantity)
    write_comparison(folder, Answers(title, currency, units, *money, *part))
    console.print(
        f"Scenario: {folder}. Look through scenario.toml, put in your own parts, then: xlfab build {folder} -o {folder}.xlsx"
    )


def add_to(app: typer.Typer) -> None:
    """Add the command to `xlfab new`."""
    app.command("comparison")(new_comparison)
