"""The answers of a new comparison: from flags, a terminal or a pipe; a wrong one is asked again at once, and none is ever lost."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import typer

from xlfab.comparison.comparison_questions import (
    QUESTIONS,
    UNITS,
    Known,
    Question,
    material_named,
    money_reader,
    read_blank,
    read_brake,
    read_drive,
    read_energy,
    read_shifts,
    read_thickness,
    read_title,
    read_units,
    read_volume,
)
from xlfab.core.errors import InputError
from xlfab.core.units import factor
from xlfab.inputs.stated_values import out_of_bounds
from xlfab.inputs.unusual import currency_scale

NOT_ASKED = {"old_price": "0", "trade_in": "0", "released_share": "0.5"}
_KEYS = {"old_price": "machine_price_cur", "trade_in": "trade_in_cur", "released_share": "released_value_share"}
_POUND = factor("kg", "lb")

Gauges = Callable[[float, str], float]  # thickness in mm of a gauge number in a gauge table
Prices = Callable[[str], dict[str, tuple[float, float, float]]]  # starting prices a kilogram in a currency, by material


class Interview:
    """Asks what no flag answers. Where the input ends, the defaults count for the rest."""

    def __init__(self, flags: dict[str, str], folder: Path, silent: bool, gauge_mm: Gauges, prices: Prices) -> None:
        self.flags = flags
        self.prices = prices
        self.folder = folder
        self.silent = silent
        self.ended = silent
        self.typed: list[str] = []
        self.known: dict[str, Any] = {"gauge_mm": gauge_mm}

    def answers(self) -> dict[str, Any]:
        """Every answer by its name."""
        for question in (UNITS, *QUESTIONS):
            self._answer(question)
        for name, text in NOT_ASKED.items():
            self.known[name] = self._flag(name, self.flags.get(name, text))
        self.known["material_price"] = self._material_price()
        del self.known["gauge_mm"]
        return self.known

    def save(self) -> Path | None:
        """Keep what was typed in a file that can be piped in again; None where nothing was typed."""
        if not self.typed:
            return None
        path = self.folder.with_name(f"{self.folder.name}.answers.txt")
        try:
            path.write_text("\n".join(self.typed) + "\n", encoding="utf-8")
        except OSError:
            return None
        return path

    def _answer(self, question: Question) -> None:
        given = {name: self.flags[name] for name in question.names if name in self.flags}
        whole = "shifts" in given or len(given) == len(question.names)
        if question is UNITS and given:
            self.known |= self._units(given)
            return
        known = {} if whole else self._ask(question)
        self.known |= known
        for name, text in given.items():
            found = self._flag(name, text)
            self.known |= found if isinstance(found, dict) else {name: found}

    def _units(self, given: dict[str, str]) -> dict[str, Any]:
        if given.get("units", "us") not in ("metric", "us"):
            raise typer.BadParameter(f"'{given['units'][:60]}' must be one of metric, us", param_hint="--units")
        try:
            return read_units(" ".join(given.values()), {})
        except InputError as error:
            raise typer.BadParameter(str(error), param_hint="--currency") from None

    def _ask(self, question: Question) -> dict[str, Any]:
        default = question.default(self.known)
        while not self.ended:
            line = self._line(f"{question.asked(self.known)} [{default}]: ")
            text = (line or "").strip()
            try:
                found = question.read(text or default, self.known)
            except InputError as error:
                print(f"  {error}", file=sys.stderr)
                if line is None:
                    raise
                continue
            if line is not None:
                self.typed.append(text)
            return found
        return question.read(default, self.known)

    def _line(self, asked: str) -> str | None:
        """One line from the terminal or the pipe; None where the input has ended."""
        print(asked, end="", flush=True)
        line = sys.stdin.readline(10_000) if sys.stdin is not None else ""
        if not line:
            self.ended = True
        if not line or not sys.stdin.isatty():
            print()
        return line or None

    def _flag(self, name: str, text: str) -> Any:
        try:
            return self._read_flag(name, text)
        except InputError as error:
            raise typer.BadParameter(str(error), param_hint=f"--{name.replace('_', '-')}") from None

    def _read_flag(self, name: str, text: str) -> Any:
        known: Known = self.known
        if name in ("title", "energy_price", "drive", "shifts"):
            read = {"title": read_title, "energy_price": read_energy, "drive": read_drive, "shifts": read_shifts}[name]
            return read(text, known)
        if name == "material":
            return material_named(text, known["units"])
        if name == "thickness":
            return read_thickness(text, known["material"], known)
        if name in ("rated_force", "working_length"):
            force, length = (text, "1") if name == "rated_force" else ("1", text)
            return read_brake(f"{force} x {length}", known)[name]
        if name in ("length", "width", "bends"):
            parts = {"length": "1", "width": "1", "bends": "1", name: text}
            return read_blank(f"{parts['length']} x {parts['width']}, {parts['bends']}", known)[name]
        if name in ("lot_size", "yearly_quantity"):
            year, lot = (text, "1") if name == "yearly_quantity" else ("1", text)
            return read_volume(f"{year} in lots of {lot}", known)[name]
        return self._amount(name, text)

    def _amount(self, name: str, text: str) -> float:
        """An amount given by a flag: bounds hold, and what is unusual is taken as meant."""
        keys = {
            **_KEYS,
            "wage": "wage_cur_per_h",
            "new_price": "machine_price_cur",
            "material_price": "material_price_cur_per_kg",
        }
        negative = text.strip().startswith("-")
        value = money_reader(name, keys[name], "120")(text, {**self.known, "currency": ""})[name] * (
            -1 if negative else 1
        )
        problem = out_of_bounds(value, keys[name])
        if problem:
            raise InputError(f"{value:g} {problem}")
        return float(value)

    def _material_price(self) -> float:
        """The price of the sheet a kilogram, or a pound: the flag's, else a starting price of its material."""
        if "material_price" in self.flags:
            return float(self._flag("material_price", self.flags["material_price"]))
        own, euro = self.prices(self.known["currency"]), self.prices("EUR")
        times = 1.0 if own else currency_scale(self.known["currency"]) or 1.0
        price = times * (own or euro)[self.known["material"]][0]
        return round(price / _POUND, 3) if self.known["units"] == "us" else price
