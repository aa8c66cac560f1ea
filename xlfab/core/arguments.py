"""The one vocabulary: every argument and result that has a name, with label, description and allowed range.

The table is `arguments.csv` beside this file, one line a name; the unit is the end of the name. Range is an
interval such as `(0,100]`: round bracket outside, square bracket inside. Usual range is `low..high`: outside it
xlfab computes, and flags. `0 or low..high` says that 0 is usual as well: nothing of it. Usual ranges are judged, wide enough for
any shop and narrow enough to catch a slip of unit or decimal mark; those of money are about euros.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from xlfab.core.errors import InputError
from xlfab.core.units import Unit, split_name

_INTERVAL = re.compile(r"^([(\[])\s*([-+0-9.e]+)\s*,\s*([-+0-9.e]+)\s*([)\]])$")


@dataclass(frozen=True)
class Argument:
    """One name of the vocabulary. `low` and `high` are hard bounds; `usual` is where practice lies.

    `kind` is empty for a number, `whole` for a whole number, `switch` for 0 or 1, `range` for a whole range of cells.
    """

    name: str
    label: str
    description: str
    low: float
    high: float
    low_open: bool
    high_open: bool
    usual: tuple[float, float] | None
    kind: str = ""
    none: float | None = None  # a value outside the usual range that means: none of it

    @property
    def is_range(self) -> bool:
        """True if the argument is a whole range of cells."""
        return self.kind == "range"

    @cached_property
    def unit(self) -> Unit:
        """The unit, read from the end of the name."""
        return split_name(self.name)[1]

    @property
    def allowed(self) -> str:
        """The allowed range in words, for messages and help.

        >>> ARGUMENTS["thickness_mm"].allowed
        '> 0 and <= 100 mm'
        """
        low = f"{'>' if self.low_open else '>='} {self.low:g}"
        high = f"{'<' if self.high_open else '<='} {self.high:g}"
        return f"{low} and {high} {self.unit.label}".replace("{cur}", "currency")

    @property
    def usual_words(self) -> str:
        """The usual range in words, empty where there is none.

        >>> ARGUMENTS["machine_price_cur"].usual_words
        '0 or 1000 to 3e+06'
        """
        if self.usual is None:
            return ""
        return f"{'' if self.none is None else f'{self.none:g} or '}{self.usual[0]:g} to {self.usual[1]:g}"

    def accepts(self, low: float, high: float) -> bool:
        """True if a span of values lies inside the hard bounds; NaN never does."""
        above = low > self.low if self.low_open else low >= self.low
        below = high < self.high if self.high_open else high <= self.high
        return bool(above and below)


def parse_interval(text: str) -> tuple[float, float, bool, bool]:
    """Read an interval such as `(0,100]` into low, high, low open, high open."""
    match = _INTERVAL.match(text.strip())
    if match is None:
        raise InputError(f"'{text}' is not an interval such as (0,100]")
    opening, low, high, closing = match.groups()
    return float(low), float(high), opening == "(", closing == ")"


def _usual(text: str) -> tuple[tuple[float, float] | None, float | None]:
    """A usual range such as `5..90` or `0 or 5..90`: its ends, and the value that means none."""
    if not text:
        return None, None
    none, found, span = text.rpartition(" or ")
    first, _, last = span.partition("..")
    return (float(first), float(last)), float(none) if found else None


def _read() -> dict[str, Argument]:
    table: dict[str, Argument] = {}
    text = Path(__file__).with_name("arguments.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        name = row["name"]
        if name in table:
            raise InputError(f"arguments.csv: name '{name}' stands twice")
        low, high, low_open, high_open = parse_interval(row["range"])
        usual, none = _usual(row["usual"])
        table[name] = Argument(
            name, row["label"], row["description"], low, high, low_open, high_open, usual, row["kind"], none
        )
    return table


ARGUMENTS: dict[str, Argument] = _read()


def argument(name: str) -> Argument:
    """Find a name in the vocabulary; InputError with the nearest names where it is missing."""
    found = ARGUMENTS.get(name)
    if found is None:
        import difflib  # only a wrong name pays for it

        near = difflib.get_close_matches(name, ARGUMENTS, n=3)
        hint = f"; near: {', '.join(near)}" if near else ""
        raise InputError(f"'{name}' is not in the vocabulary (arguments.csv){hint}")
    return found


def label_of(name: str) -> str:
    """The label of a column: the vocabulary's, else made from the name.

    >>> label_of("some_new_time_s")
    'Some new time'
    """
    if name in ARGUMENTS:
        return ARGUMENTS[name].label
    stem = split_name(name)[0].replace("_", " ")
    return stem[:1].upper() + stem[1:]
