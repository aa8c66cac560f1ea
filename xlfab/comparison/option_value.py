"""What an option is worth against the first one: measures, break-even, equal yearly cost, and after loan, lease and tax."""

from __future__ import annotations

from dataclasses import dataclass

from xlfab.comparison import loan_and_tax, purchase_measures
from xlfab.tables.table import Table


@dataclass
class Money:
    """How purchases are judged and paid: terms, loan and tax, the tax office's table."""

    terms: Table
    finance: Table
    depreciation: Table


@dataclass
class Worth:
    """The tables that go beyond the measures before tax and finance."""

    equal_cost: Table
    moving: tuple[Table, Table]
    break_even: Table
    finance: Table
    after_tax: Table
    net_measures: Table
    paid: loan_and_tax.Paid
    by_month: Table


@dataclass
class Against:
    """The tables of one option that its worth is reckoned from."""

    stated: Table
    owned: purchase_measures.Owned
    machine_years: tuple[Table, Table]
    rate: Table
    year: Table
    outlay: Table
    difference: Table
    purchase: Table
    cash_flow: Table
    measures: Table


def worth_of(number: int, one: Against, first: Worth | None, money: Money, workplace: Table, tariff: Table) -> Worth:
    """The worth of an option; `first` is that of the first option, None for the first itself."""
    terms = money.terms
    equal = purchase_measures.equal_yearly_cost(number, one.stated, one.owned, one.year, terms)
    shear, brake = (purchase_measures.moving_electricity(number, year) for year in one.machine_years)
    moving = (*(first.moving if first else (shear, brake)), shear, brake)
    shop = (workplace, tariff, terms, one.year, one.rate)
    turning = purchase_measures.break_even(number, one.measures, one.purchase, one.difference, moving, shop)
    own = loan_and_tax.finance_of(number, one.stated, one.outlay, money.finance, terms, money.depreciation)
    net = loan_and_tax.after_tax(number, one.cash_flow, own, first.finance if first else own, money.finance)
    found = loan_and_tax.after_tax_measures(number, net, terms)
    paid = loan_and_tax.Paid(one.stated, own)
    month = loan_and_tax.by_month(number, net, one.cash_flow, paid, first.paid if first else paid)
    return Worth(equal, (shear, brake), turning, own, net, found, paid, month)
