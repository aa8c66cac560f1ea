"""Sheets of the purchase: difference, cash flows, measures and break-even, loan and lease and tax."""

from __future__ import annotations

from xlfab.comparison.compare import Comparison
from xlfab.comparison.estimate import OptionTables
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Sheet

_TAX_NOTE = "Only where a loan, a lease or a tax rate is stated; else everything here is nothing. An indication: contracts, rates and allowances differ, so ask your bank and an accountant."
_NONE_NOTE = "A cell that looks empty has no result: it holds an error value, so that no sum passes over it, and the words for it stand in the first table."
MAY_LACK = (
    "internal_rate_share",
    "simple_payback_years",
    "discounted_payback_years",
    "savings_to_investment_ratio",
    "adjusted_internal_rate_share",
    "inflow_outflow_ratio",
    "modified_internal_rate_share",
)
_TABLE_NOTE = "Share of first cost by year, for depreciation method 3: the MACRS half-year table of IRS Publication 946 where the recovery period is one of its classes. Type your own tax office's table over it. Tax law changes: ask an accountant."


def purchase_sheets(book: Book, made: Comparison) -> None:
    """All sheets that judge the options against the first one."""
    options = made.job.options
    others, names = options[1:], [one.name for one in options[1:]]
    book.sheet("Depreciation", "Depreciation table", _TABLE_NOTE, "input").table(made.job.money.depreciation)
    if not others:
        return
    sheet = book.sheet(
        "Difference", "Difference against the first option", "Positive: the option costs less than the first one."
    )
    sheet.records([one.difference for one in others], names)
    sheet.subtitle("What is paid, and what the savings are worth")
    sheet.records([one.purchase for one in others], names)
    for number, one in enumerate(others, 2):
        book.sheet(f"Cash flow {number}", f"Cash flow: {one.name}", shared_texts.MONEY_CAUTION).table(one.cash_flow)
    _measures(book, made, others, names)
    _finance(book, options)


def _measures(book: Book, made: Comparison, others: list[OptionTables], names: list[str]) -> None:
    sheet = book.sheet("Measures", "Measures of the purchase", shared_texts.MONEY_CAUTION)
    sheet.records(made.verdicts, names)
    sheet.subtitle("Worked out")
    sheet.text(_NONE_NOTE)
    sheet.records([one.measures for one in others], names)
    sheet.subtitle("Break-even: what one assumption would have to be, all others unchanged, for a worth of nothing")
    sheet.records([one.worth.break_even for one in others], names)
    for one in others:
        turning = one.worth.break_even
        sheet.blank_if_none([one.measures[name] for name in MAY_LACK])
        sheet.blank_if_none(
            [
                turning[name]
                for name in turning.columns
                if name.startswith(("break_even_", "parts_ratio", "wage_ratio", "energy_ratio"))
            ]
        )
    _moving(sheet, made.job.options)
    sheet.subtitle("Equal yearly cost: each bought machine over its own life, replaced by its like")
    for one in made.job.options:
        sheet.records([one.worth.equal_cost], [one.name])
    for column in range(2, 2 + len(made.job.options)):
        sheet.widths[column] = 30


def _moving(sheet: Sheet, options: list[OptionTables]) -> None:
    sheet.subtitle("Electricity that moves with the work")
    for place, kind in enumerate(("shear", "press brake")):
        headings = [f"{one.name}: {kind}" for one in options]
        sheet.records([one.worth.moving[place] for one in options], headings)


def _finance(book: Book, options: list[OptionTables]) -> None:
    for number, one in enumerate(options, 1):
        sheet = book.sheet(f"Finance {number}", f"Loan, lease, depreciation: {one.name}", _TAX_NOTE)
        sheet.table(one.worth.finance)
    sheet = book.sheet("After tax", "After loan, lease and tax", _TAX_NOTE)
    nets = [one.worth.net_measures for one in options[1:]]
    sheet.records(nets, [one.name for one in options[1:]])
    sheet.blank_if_none([net[name] for net in nets for name in MAY_LACK if name in net.columns])
    for number, one in enumerate(options[1:], 2):
        sheet = book.sheet(f"After tax {number}", f"After finance and tax: {one.name}", _TAX_NOTE)
        sheet.table(one.worth.after_tax)
