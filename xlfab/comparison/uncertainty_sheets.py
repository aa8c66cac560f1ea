"""Sheets of doubt: what each assumption does alone, with a tornado chart, and how the answer spreads when all move."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.comparison.compare import Comparison
from xlfab.comparison.random_draws import OptionRisk
from xlfab.tables.table import Rows, Table
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.charts import histogram, tornado

_CHARTED = 15  # assumptions in the chart; the list holds all that move anything
_BINS = 24
_LEAST = 0.5  # of the currency: what moves the net present value by less is left out
_SENSITIVITY = "Each assumption is moved alone from its low to its high value, all others as stated. Worked out when the workbook was built: these figures do not follow the inputs."
_RISK = "All assumptions are drawn at random at once, each from a triangle of its low, stated and high value (after JCGM 101); a machine's figures once for that machine, wages and prices once for all. Worked out when the workbook was built: these figures do not follow the inputs."


def sensitivity_sheets(book: Book, made: Comparison) -> None:
    """For each option but the first, what every assumption does to its net present value."""
    for number, option in enumerate(made.job.options[1:], 2):
        table = _swing_table(made, number)
        if not table.rows.count:
            continue
        sheet = book.sheet(f"Sensitivity {number}", f"Sensitivity: {option.name}", _SENSITIVITY, "result")
        shown = min(_CHARTED, table.rows.count)
        above = sheet.row
        sheet.row += rows_of(110 + 24 * shown) + 1
        start = sheet.row + 2
        sheet.table(table)
        last = start + shown - 1
        title = f"Change of the net present value, {option.name}"
        ends = ((start, 3, last, 3), (start, 4, last, 4))
        currency = made.job.scenario.currency
        sheet.charts.append(tornado(sheet.name, title, currency, (start, 0, last, 0), *ends, (above, 0)))


def rows_of(pixels: int) -> int:
    """How many rows of common height a chart covers."""
    return -(-pixels // 20)


def named(made: Comparison, name: str) -> str:
    """An assumption in words: whose it is, and what."""
    item, *others = made.open[name]
    record = f"All {item.section.replace('_', ' ')}s" if others else item.record
    said = shared_texts.label(item.key)
    return f"{record}: {said}" if record else said[:1].upper() + said[1:]


def _swing_table(made: Comparison, number: int) -> Table:
    """The swings of an option, widest first, leaving out what moves nothing."""
    swings = [swing for swing in made.swings[number].worth if swing.span > _LEAST]
    saving = {swing.name: swing for swing in made.swings[number].saving}
    t = Table(f"sensitivity_{number}", f"Sensitivity, option {number}", Rows(f"sensitivity_{number}", len(swings)))
    items = [made.open[swing.name][0] for swing in swings]
    units, currency = made.job.scenario.units, made.job.scenario.currency
    t.fix("assumption", [named(made, swing.name) for swing in swings])
    t.fix("low", [shared_texts.figure(item.key, item.low, units, currency) for item in items])
    t.fix("high", [shared_texts.figure(item.key, item.high, units, currency) for item in items])
    for end in ("low", "high"):
        moved = [getattr(swing, f"at_{end}") - swing.base for swing in swings]
        t.fix(f"worth_at_{end}_cur", moved, f"Net present value, change at {end}")
    for end in ("low", "high"):
        moved = [getattr(saving[swing.name], f"at_{end}") - saving[swing.name].base for swing in swings]
        t.fix(f"saving_at_{end}_cur_per_year", moved, f"Yearly saving, change at {end}")
    t.fix("turns", ["turns the answer" if swing.decides else "" for swing in swings], "Alone")
    t.fix("basis", [item.basis for item in items], "Rests on")
    return t


def risk_sheet(book: Book, made: Comparison) -> None:
    """How saving, net present value and payback spread, with charts of the net present value."""
    if not made.risk.options:
        return
    sheet = book.sheet("Risk", "How sure the answer is", _RISK, "result")
    names = [one.name for one in made.job.options[1:]]
    sheet.text(
        f"{made.risk.draws:,} draws of {len(made.open)} assumptions, seed {made.risk.seed}. "
        "The error is what another {0:,} draws would differ by (standard error).".format(made.risk.draws)
    )
    target = made.job.scenario.purchase.target_payback_years
    sheet.records([_risk_record(n, one, target) for n, one in made.risk.options.items()], names)
    for column in range(2, 2 + len(names)):
        sheet.widths[column] = 22
    above = sheet.row
    sheet.row += len(names) * (rows_of(300) + 1)
    for place, (number, one) in enumerate(made.risk.options.items()):
        _chart(sheet, made, number, one, above + place * (rows_of(300) + 1))


def _risk_record(number: int, one: OptionRisk, target: float) -> Table:
    t = Table.record(f"risk_{number}", f"Risk, option {number}")
    words = {
        "p10": "P10: 1 draw in 10 lies below",
        "p50": "P50: half of the draws",
        "p90": "P90: 1 draw in 10 lies above",
    }
    for what, said, unit in (
        ("Yearly saving", one.saving, "saving_{}_cur_per_year"),
        ("Net present value", one.worth, "worth_{}_cur"),
        ("Simple payback", one.payback, "payback_{}_years"),
    ):
        for part, meaning in words.items():
            t.fix(unit.format(part), _or_words(getattr(said, part)), f"{what}, {meaning}")
            t.fix(unit.format(f"{part}_error"), _or_words(getattr(said, f"{part}_error")), "± its error")
    for name, (share, error), label in (
        ("gain", one.gain, "Chance that the net present value is above zero"),
        ("in_time", one.in_time, f"Chance that the payback is inside {target:g} years"),
    ):
        t.fix(f"{name}_share", share, label)
        t.fix(f"{name}_error_share", error, "± its error")
    return t


def _or_words(value: float) -> Any:
    """A figure, or words where the draws have none."""
    if np.isinf(value):
        return "not within the study"
    return "not known" if np.isnan(value) else value


def _chart(sheet: Any, made: Comparison, number: int, one: OptionRisk, at: int) -> None:
    low, high = np.quantile(one.worths, [0.002, 0.998])
    counts, edges = np.histogram(np.clip(one.worths, low, high), bins=_BINS, range=(low, high) if high > low else None)
    t = Table(f"bins_{number}", f"Bins, option {number}", Rows(f"bins_{number}", len(counts)))
    t.fix("middle_cur", (edges[:-1] + edges[1:]) / 2, "Net present value about")
    t.fix("draws_share", counts / counts.sum(), "Share of draws")
    option, currency = made.job.options[number - 1].name, made.job.scenario.currency
    sheet.subtitle(f"Net present value of {option}")
    start = sheet.row + 2
    sheet.table(t)
    last = start + len(counts) - 1
    title = f"Net present value of {option}: {one.gain[0]:.0%} of draws above zero"
    where = ((start, 0, last, 0), (start, 1, last, 1), (at, 0))
    sheet.charts.append(histogram("Risk", title, currency, *where))
