"""The sheet of doubt: how the answer spreads, what each assumption does alone, and on what each figure rests."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.comparison.compare import Comparison
from xlfab.comparison.random_draws import OptionRisk
from xlfab.comparison.spread_block import spread_block
from xlfab.inputs.stated_values import Assumption
from xlfab.tables.table import Ref, Rows, Table
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.charts import HALF, histogram, tornado
from xlfab.workbook.sheet import Sheet, Stands

NAME = "Uncertainty"
_CHARTED = 12  # assumptions in the chart; the list holds all of them
_BINS = 24
_SEEN = 0.01  # of the widest swing: what moves the net present value by less is folded away
_NOTE = (
    "Spread and changes were worked out when the workbook was built and do not follow the inputs; 'Now' is live. "
    "For the spread all assumptions are drawn at random at once, each from a triangle of its low, stated and high value (after JCGM 101)."
)
_SPREAD = (
    "saving_p10_cur_per_year", "saving_p50_cur_per_year", "saving_p90_cur_per_year", "worth_p10_cur", "worth_p50_cur",
    "worth_p90_cur", "payback_p10_years", "payback_p50_years", "payback_p90_years", "gain_share", "in_time_share",
)  # fmt: skip
Records = dict[tuple[str, str], Table]


def uncertainty_sheet(book: Book, made: Comparison, records: Records) -> None:
    """Spread of the answer with charts, then every assumption: those that move the answer most come first."""
    sheet = book.sheet(
        NAME,
        "How sure the answer is, and on what it rests",
        _NOTE,
        "about",
        says="odds, what decides, and what every figure rests on",
    )
    sheet.widths.update({0: 38, 1: 10, **dict.fromkeys(range(2, 5), 12)})
    if made.risk.options:
        _spread(sheet, made)
    sheet.subtitle("Every assumption alone, from its low to its high value")
    above = sheet.row
    options = list(made.swings)
    sheet.row += rows_of(_tornado_height(made)) * bool(options) + 1
    table, items = _assumptions(made)
    _place(sheet, table, items, records, options)
    for number in options[-1:]:
        shown = min(_CHARTED, table.rows.count)
        names = ("assumption", f"worth_at_low_{number}_cur", f"worth_at_high_{number}_cur")
        labels, low, high = (sheet.area(table[name], shown)[1] for name in names)
        title = f"Change of the net present value, {made.job.options[number - 1].name}"
        sheet.charts.append(tornado(NAME, title, made.job.scenario.currency, labels, low, high, (above, 0)))
    spread_block(sheet, made)


def _tornado_height(made: Comparison) -> int:
    return 110 + 24 * min(_CHARTED, len(made.open))


def rows_of(pixels: int) -> int:
    """How many rows of common height a chart covers."""
    return -(-pixels // 16)


def named(made: Comparison, name: str) -> str:
    """An assumption in words: whose it is, and what."""
    item, *others = made.open[name]
    return _words(item, bool(others))


def named_item(item: Assumption, name: str) -> str:
    """An input in words: `section||key` is one that all machines share."""
    return _words(item, not name.split("|")[1] and item.section in ("press_brake", "shear"))


def _words(item: Assumption, several: bool = False) -> str:
    record = f"All {item.section.replace('_', ' ')}s" if several else item.record
    said = shared_texts.label(item.key)
    return f"{record}: {said}" if record else said[:1].upper() + said[1:]


def _assumptions(made: Comparison) -> tuple[Table, list[Assumption]]:
    """A line for each assumption that has a span, widest first, and after them those that have none."""
    swings = {number: {one.name: one for one in found.worth} for number, found in made.swings.items()}
    names = sorted(made.open, key=lambda name: -max((found[name].span for found in swings.values()), default=0.0))
    items = [made.open[name][0] for name in names]
    spanless = [item for item in made.job.scenario.assumptions if not item.low < item.high]
    units, currency = made.job.scenario.units, made.job.scenario.currency
    t = Table("assumptions", "Assumptions", Rows("assumptions", len(items) + len(spanless)))
    t.fix("assumption", [*(named(made, name) for name in names), *(_words(item) for item in spanless)])
    for end in ("low", "high"):
        ends = [shared_texts.figure(item.key, getattr(item, end), units, currency) for item in items]
        t.fix(end, [*ends, *["-"] * len(spanless)])
    for number, found in swings.items():
        for end in ("low", "high"):
            moved = [getattr(found[name], f"at_{end}") - found[name].base for name in names]
            t.fix(f"worth_at_{end}_{number}_cur", [*moved, *[0.0] * len(spanless)], f"At {end}")
    turns = [any(found[name].decides for found in swings.values()) for name in names]
    t.fix("turns", [*("turns the answer" if one else "" for one in turns), *[""] * len(spanless)], "Alone")
    t.fix("basis", [item.basis for item in (*items, *spanless)], "Rests on")
    t.fix("source", [item.source for item in (*items, *spanless)], "Source")
    return t, [*items, *spanless]


def _place(sheet: Sheet, table: Table, items: list[Assumption], records: Records, options: list[int]) -> None:
    """The list with the live values between what was worked out."""
    spans = _spans(table, options)
    heads = {
        f"worth_at_{end}_{number}_cur": f"Net present value, option {number}"
        for number in options
        for end in ("low", "high")
    }
    blank = Table("assumptions_now", "Now", table.rows)
    blank.fix("now", [""] * table.rows.count, "Now")
    blank.fix("unit", [""] * table.rows.count, "Unit")
    columns = [Stands(table, "assumption"), Stands(blank, "now"), Stands(blank, "unit")]
    columns += [
        Stands(table, name, table.columns[name].label, heads.get(name, ""), name == "source")
        for name in table.columns
        if name != "assumption"
    ]
    sheet.block(columns)
    first = sheet.area(table["assumption"])[1][0]
    for offset, item in enumerate(items):
        owner = records.get((item.section, item.record))
        if owner is not None and item.key in owner.columns and sheet.book.grid.has(owner[item.key]):
            _now(sheet, first + offset, owner[item.key])
        if spans[offset] <= _SEEN * max(spans):
            sheet.folded_rows.add(first + offset)
    sheet.widths[0] = 40


def _spans(table: Table, options: list[int]) -> Any:
    ends = [np.abs(table.value(f"worth_at_{end}_{number}_cur")) for number in options for end in ("low", "high")]
    return np.max(ends, axis=0) if ends else np.ones(table.rows.count)


def _now(sheet: Sheet, row: int, item: Ref) -> None:
    back, sheet.row = sheet.row, row
    sheet.put_ref(1, item, "calc")
    sheet.put_unit(2, item)
    sheet.row = back


def _spread(sheet: Sheet, made: Comparison) -> None:
    """How saving, net present value and payback spread, with a chart of each option's net present value."""
    names = [one.name for one in made.job.options[1:]]
    sheet.text(
        f"{made.risk.draws:,} draws of {len(made.open)} assumptions, seed {made.risk.seed}. "
        f"The error is what another {made.risk.draws:,} draws would differ by (standard error)."
    )
    target = made.job.scenario.purchase.target_payback_years
    sheet.records([_risk_record(n, one, target) for n, one in made.risk.options.items()], names, main=_SPREAD)
    for column in range(2, 2 + len(names)):
        sheet.widths[column] = 16
    above = sheet.row
    sheet.row += rows_of(300) * -(-len(names) // 2)
    for place, (number, one) in enumerate(made.risk.options.items()):
        _chart(sheet, made, number, one, (above + place // 2 * rows_of(300), place % 2))


def _risk_record(number: int, one: OptionRisk, target: float) -> Table:
    t = Table.record(f"risk_{number}", f"Risk, option {number}")
    words = {"p10": "1 case in 10 is lower", "p50": "middle case", "p90": "1 case in 10 is higher"}
    for what, said, unit in (
        ("Cash savings, year 1", one.saving, "saving_{}_cur_per_year"),
        ("Net present value", one.worth, "worth_{}_cur"),
        ("Simple payback", one.payback, "payback_{}_years"),
    ):
        for part, meaning in words.items():
            t.fix(unit.format(part), _or_words(getattr(said, part)), f"{what}: {meaning}")
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
        return "longer than the study"
    return "not known" if np.isnan(value) else value


def _chart(sheet: Sheet, made: Comparison, number: int, one: OptionRisk, at: tuple[int, int]) -> None:
    low, high = np.quantile(one.worths, [0.002, 0.998])
    counts, edges = np.histogram(np.clip(one.worths, low, high), bins=_BINS, range=(low, high) if high > low else None)
    t = Table(f"bins_{number}", f"Bins, option {number}", Rows(f"bins_{number}", len(counts)))
    t.fix("middle_cur", (edges[:-1] + edges[1:]) / 2, "Net present value about")
    t.fix("draws_share", counts / counts.sum(), "Share of draws")
    option, currency = made.job.options[number - 1].name, made.job.scenario.currency
    first = sheet.row
    sheet.subtitle(f"Behind the chart of {option}")
    sheet.table(t)
    sheet.fold(first + 1, sheet.row - 1)
    where = [sheet.area(t[name])[1] for name in ("middle_cur", "draws_share")]
    title = f"{option}: net present value, above zero in {one.gain[0]:.0%} of draws"
    row, half = at
    sheet.charts.append(histogram(NAME, title, currency, where[0], where[1], (row, 0), half * (HALF + 6)))
