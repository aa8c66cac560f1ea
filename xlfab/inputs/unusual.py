"""Values that are allowed and most likely a slip: outside the usual range of their name, named where they were typed.

The usual ranges stand in the vocabulary; they are wide and judged, made to find a slip of the decimal mark or of the unit and
nothing else. Those of money are about euros; `data/currency.csv` brings them to the scenario's currency, and in a currency that is
not there no money is looked at.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Any

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.units import factor, shown_unit, split_name, unit_label
from xlfab.inputs.data_files import data_rows
from xlfab.inputs.stated_values import Assumption


@dataclass(frozen=True)
class UnusualValue:
    """One value outside its usual range. Value, low and high are in the unit shown, `key` is the vocabulary's name.

    `file` and `section` say where it was typed: scenario.toml and a section, or a list and nothing. `record` is the machine, the
    material or, in a list, the line. `more` counts further lines of the same column.
    """

    file: str
    section: str
    record: str
    key: str
    value: float
    low: float
    high: float
    unit: str
    more: int = 0

    @property
    def place(self) -> str:
        """Where it was typed: file, section and record, or file and line."""
        return ", ".join(part for part in (self.file, self.section and f"[{self.section}]", self.record) if part)

    @property
    def range_words(self) -> str:
        """The usual range, in words."""
        return f"{self.low:.6g} to {self.high:.6g} {self.unit}"

    @property
    def words(self) -> str:
        """What the user is told."""
        further = f" (and {self.more} more {'line' if self.more == 1 else 'lines'})" if self.more else ""
        what = f"{ARGUMENTS[self.key].label} {self.value:.6g} {self.unit}"
        return f"{self.place}: {what} is outside the usual {self.range_words}{further}. {self._remedy()}"

    def _remedy(self) -> str:
        if self.key.endswith("_cur_per_kwh") and self.value > self.high:
            return f"If these are cents, write {self.key.replace('_cur_', '_cents_')} = {self.value:.6g}."
        if split_name(self.key)[1].suffix == "share" and self.value > self.high:
            return "A share is a part of one: 5 % is 0.05."
        return "Check the unit and the decimal mark."


@cache
def currency_scale(currency: str) -> float | None:
    """About how many units of a currency make a euro; None where nobody has said.

    >>> currency_scale("EUR"), currency_scale("shells")
    (1.0, None)
    """
    return next(
        (float(row["about_per_euro"]) for row in data_rows("currency") if currency in row["currency"].split()), None
    )


def usual_range(name: str, currency: str) -> tuple[float, float] | None:
    """The usual range of a name in shop units and this currency; None where there is none."""
    usual = ARGUMENTS[name].usual
    scale = currency_scale(currency) if "cur" in split_name(name)[1].label else 1.0
    return None if usual is None or scale is None else (usual[0] * scale, usual[1] * scale)


def is_unusual(value: float, name: str, currency: str) -> bool:
    """True if a value lies outside its usual range and is not the one that means none."""
    span = usual_range(name, currency)
    return (
        span is not None and value != ARGUMENTS[name].none and not span[0] * (1 - 1e-9) <= value <= span[1] * (1 + 1e-9)
    )


def unusual_values(file: str, assumptions: Iterable[Assumption], currency: str, units: str) -> list[UnusualValue]:
    """The stated values of a file that lie outside their usual range."""
    return [
        _found(file, item.section, item.record, item.key, item.value, currency, units)
        for item in assumptions
        if item.key in ARGUMENTS and is_unusual(item.value, item.key, currency)
    ]


def unusual_lines(file: str, name: str, values: Any, lines: Any, currency: str, units: str) -> list[UnusualValue]:
    """The first line of a list's column that holds an unusual value, and how many more there are; all in one warning."""
    span = usual_range(name, currency)
    if span is None:
        return []
    low, high = span
    odd = ((values < low * (1 - 1e-9)) | (values > high * (1 + 1e-9))) & (values != ARGUMENTS[name].none)
    if not odd.any():
        return []
    return [_found(file, "", f"line {lines[odd][0]}", name, float(values[odd][0]), currency, units, int(odd.sum()) - 1)]


def _found(
    file: str, section: str, record: str, name: str, value: float, currency: str, units: str, more: int = 0
) -> UnusualValue:
    suffix = split_name(name)[1].suffix
    shown = shown_unit(suffix, units)
    times = factor(suffix, shown)
    low, high = usual_range(name, currency) or (value, value)
    return UnusualValue(
        file, section, record, name, value * times, low * times, high * times, unit_label(shown, currency), more
    )
