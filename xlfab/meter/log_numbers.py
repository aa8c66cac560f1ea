"""Texts of a logger's column as numbers: the file itself proves its decimal sign, or both readings are shown and asked about.

The careful reader of numbers (`core.numbers`) reads each different text once; a unit behind a number (`2,80 kW`) is cut off and
counts. What is no number is set aside and counted by its text, so that over-range codes can be named.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.core.numbers import Unreadable, decimal_number, proved_mark
from xlfab.core.writing import CONTROLS
from xlfab.meter.log_columns import UNITS

Series = NDArray[np.float64]
KNOWN_TEXTS = 400_000  # different texts remembered at once
SURE_TEXTS = 10  # so many different texts of one shape are no accident
_CELL = re.compile(r"\s*(.*?[0-9.])\s*([kM]?(?:W|Wh|VA|var))?\s*", re.ASCII)
_OTHER = {".": ",", ",": "."}


@dataclass(frozen=True)
class Form:
    """How a column writes numbers: its decimal sign, and whether the other one (or a space) parts thousands.

    `open_text` is a text with two readings that nothing in the file decides, `proved` that a text proves the decimal sign,
    `consistent` that no text contradicts another.
    """

    decimal: str = "."
    grouped: bool = False
    open_text: str = ""
    note: str = ""
    proved: bool = False
    consistent: bool = True


def form_of(texts: Iterable[Any], others: str = "") -> Form:
    """The form that the texts of a column prove; `others` is the decimal sign that further columns of the file prove.

    >>> form_of(["251", "2.803", "0.25"]), form_of(["2,803", "9,013"]).open_text
    (Form(decimal='.', grouped=False, open_text='', note='', proved=True, consistent=True), '2,803')
    """
    different = {_split(text)[0] for text in texts if isinstance(text, str)} - {""}
    marks = Counter({"?": 0})
    for text in different:
        if re.fullmatch(r"[-+−]?[0-9.,'’\u00a0\u2009\u202f ]+([eE][-+]?[0-9]+)?", text):
            marks[proved_mark(text.lstrip("+-−")) or ""] += 1
    proved = {mark: marks[mark] for mark in (".", ",") if marks[mark]}
    if proved:
        decimal = max(proved, key=lambda mark: proved[mark])
        if min(proved.values()) * 20 > max(proved.values()) and len(proved) == 2:
            example = next(text for text in sorted(different) if proved_mark(text) == _OTHER[decimal])
            return Form(decimal, open_text=example, consistent=False)
        return Form(decimal, _groups(different, decimal), proved=True)
    asked = sorted(text for text in different if proved_mark(text.lstrip("+-−")) == "?")
    if not asked:
        return Form(".", _groups(different, "."))
    return _open_form(different, asked, others)


def _groups(different: set[str], decimal: str) -> bool:
    """True if a text parts its thousands in a way that cannot be anything else."""
    other = re.escape(_OTHER[decimal])
    return any(re.search(rf"[0-9](?:[ '’\u00a0\u2009\u202f]|{other})[0-9]{{3}}(?![0-9])", text) for text in different)


def _open_form(different: set[str], asked: list[str], others: str) -> Form:
    """Texts such as 2,803 and nothing that proves the comma: decided by the file's other columns, or by how it writes small numbers."""
    signs = {sign for text in asked for sign in ",." if sign in text}
    if len(signs) > 1:
        return Form(open_text=asked[0], consistent=False)
    sign = signs.pop()
    if others:
        return Form(
            others, sign != others, note=f"'{asked[0]}' is read with the decimal sign of the other columns, '{others}'"
        )
    plain = [text for text in different if re.fullmatch(r"[-+−]?[0-9]+", text)]
    small = [text for text in plain if 0 < abs(int(text.replace("−", "-"))) < 1000]
    if len(asked) >= SURE_TEXTS and len(small) >= SURE_TEXTS and all(len(text.lstrip("+-−")) < 4 for text in plain):
        value = decimal_number(asked[0], _OTHER[sign])
        return Form(
            _OTHER[sign],
            True,
            note=f"'{asked[0]}' is read as {value:g}: numbers below 1000 have no '{sign}' in this file",
        )
    return Form(open_text=asked[0])


def cell_unit(texts: Iterable[Any]) -> str:
    """The unit that stands behind most numbers of a column, blank if there is none."""
    units = Counter(unit for text in texts if (unit := _split(text)[1]))
    return units.most_common(1)[0][0] if units else ""


def high_reading(texts: Iterable[Any], form: Form) -> float:
    """What the highest fiftieth of a sample starts at in a form, 0 where nothing can be read."""
    values = [value for text in texts if math.isfinite(value := Reader(form)[text])]
    return float(np.quantile(values, 0.98)) if values else 0.0


def _split(text: Any) -> tuple[str, str]:
    """Number and unit of a cell, both as they are written."""
    match = _CELL.fullmatch(text) if isinstance(text, str) and len(text) <= 60 else None
    return (match[1].strip(), match[2] or "") if match else (text.strip()[:60] if isinstance(text, str) else "", "")


class Reader(dict[Any, float]):
    """Texts of one column to numbers, each different text read once; `bad` counts what is no number, `units` the units behind it."""

    def __init__(self, form: Form) -> None:
        super().__init__()
        self.form = form
        self.bad: Counter[str] = Counter()
        self.reasons: dict[str, str] = {}
        self.first_line: dict[str, int] = {}
        self.units: Counter[str] = Counter()

    def read(self, texts: Sequence[Any], line: int) -> Series:
        """A batch of texts as numbers, NaN where there is none; `line` is that of the first text."""
        if len(self) > KNOWN_TEXTS:
            self.clear()
        values = np.fromiter((self[text] for text in texts), dtype=np.float64, count=len(texts))
        for place in np.flatnonzero(np.isnan(values)).tolist():
            text = CONTROLS.sub("?", str(texts[place]).strip()[:24])
            self.bad[text] += 1
            self.first_line.setdefault(text, line + place)
        return values

    def __missing__(self, text: Any) -> float:
        value = float(text) if isinstance(text, (int, float)) and not isinstance(text, bool) else self._value(text)
        self[text] = value if math.isfinite(value) else math.nan
        return self[text]

    def _value(self, text: Any) -> float:
        number, unit = _split(text)
        try:
            value = self._number(number)
        except Unreadable as error:
            self.reasons[CONTROLS.sub("?", str(text).strip()[:24])] = str(error)
            return math.nan
        if unit:
            self.units[unit] += 1
            value *= UNITS[unit.lower()][1]
        return value

    def _number(self, text: str) -> float:
        decimal = self.form.decimal
        if proved_mark(text.lstrip("+-−")) == "?" and decimal not in text and not self.form.grouped:
            raise Unreadable(f"has two readings in a file whose decimal sign is '{decimal}'")
        return decimal_number(text, decimal)


@dataclass
class Faults:
    """Cells that are no number: how many, and the texts that occur most."""

    count: int = 0
    texts: list[str] = field(default_factory=list)
    line: int = 0
    reason: str = ""


def faults_of(readers: Sequence[Reader]) -> Faults:
    """What several columns set aside."""
    total: Counter[str] = Counter()
    for reader in readers:
        total.update(reader.bad)
    lines = [(line, text, reader) for reader in readers for text, line in reader.first_line.items()]
    if not lines:
        return Faults()
    line, text, reader = min(lines, key=lambda item: item[0])
    return Faults(
        sum(total.values()), [text for text, _ in total.most_common(4)], line, reader.reasons.get(text, "is blank")
    )
