"""Loan, lease and tax of a purchase, year by year: optional, and nothing where nothing is stated."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.comparison.purchase_flows import LAST_YEAR
from xlfab.core.errors import InputError
from xlfab.investment.depreciation import macrs_shares, macrs_table
from xlfab.tables.table import Ref, Rows, Table
from xlfab.trace.expression import number_or

TABLE_METHOD = 3


def depreciation_table(finance: Any) -> Table:
    """Shares of first cost by year, as the tax office's table gives them: MACRS of the recovery period where there is one."""
    rows = Rows("years", LAST_YEAR + 1)
    t = Table("depreciation_table", "Depreciation table", rows)
    t.put("year", np.arange(float(rows.count)))
    years = int(finance.recovery_years)
    if finance.depreciation_method_count == TABLE_METHOD and years not in macrs_table():
        known = ", ".join(str(item) for item in macrs_table())
        raise InputError(f"recovery_years = {years} is not in the MACRS table; known: {known}")
    shares = macrs_shares(years, rows.count - 1) if years in macrs_table() else np.zeros(rows.count)
    t.put("table_share", shares, label="Share of first cost")
    return t


@dataclass(frozen=True)
class Paid:
    """How an option is paid: as stated, and what loan, lease and depreciation do in each year."""

    stated: Table
    flows: Table


def is_stated(scenario: Any) -> bool:
    """True if the scenario states a loan, a lease or a tax rate: else nothing of them goes into a workbook."""
    finance = scenario.finance
    leased = any(option.lease_payment_cur_per_year > 0 for option in scenario.options)
    return bool(finance.loan_share > 0 or finance.tax_rate_share > 0 or leased)


def _until(value: Any, year: Any, last: Any) -> Any:
    return np.where(year <= last, value, 0.0)


def finance_of(number: int, option: Table, spent: Table, finance: Table, terms: Table, table: Table) -> Table:
    """What an option's own loan, lease and depreciation do in each year."""
    t = Table(f"finance_of_{number}", f"Loan, lease, depreciation, option {number}", table.rows)
    t.copy("year", table["year"])
    t.copy("period_count", "year", label="Payment number")
    last = terms["study_years"]
    leased = option["lease_payment_cur_per_year"]
    _lease(t, option, spent, last, leased)
    t.add(
        "loan_cur",
        lambda outlay, share, lease: np.where((outlay > 0) & (lease == 0), outlay * share, 0.0),
        spent["outlay_cur"],
        finance["loan_share"],
        leased,
    )
    loan = ("loan_cur", finance["loan_rate_share"], finance["payments_count"])
    t.add("payment_flow_cur", F["loan_flow_cur"], *loan, "year", label="Loan and its payments")
    t.add("owed_cur", F["loan_balance_cur"], *loan, "period_count", label="Owed at the end of the year")
    t.add(
        "loan_flow_cur",
        lambda flow, owed, year, end: _until(flow - np.where(year == end, owed, 0.0), year, end),
        "payment_flow_cur",
        "owed_cur",
        "year",
        last,
        label="Loan within the study, the rest paid off at its end",
    )
    t.add("interest_full_cur", F["loan_interest_cur"], *loan, "period_count", label="Interest of the loan")
    t.add("interest_paid_cur", _until, "interest_full_cur", "year", last)
    _depreciation(t, option, spent, finance, last, leased, table["table_share"])
    return t


def _lease(t: Table, option: Table, spent: Table, last: Ref, leased: Ref) -> None:
    lease = (leased, option["payments_count"], option["in_advance_switch"], option["buy_out_cur"])
    t.add("lease_flow_cur", F["lease_flow_cur"], *lease, "year", label="Lease payments")
    t.add("lease_paid_cur", _until, "lease_flow_cur", "year", last, label="Lease payments within the study")
    t.add(
        "lease_instead_cur",
        lambda paid, year, end, lease, price, salvage, buy_out: np.where(
            lease > 0,
            paid + np.where(year < 1, price, 0.0) - np.where((year == end) & (buy_out == 0), salvage, 0.0),
            0.0,
        ),
        "lease_paid_cur",
        "year",
        last,
        leased,
        spent["machine_price_cur"],
        spent["salvage_cur"],
        option["buy_out_cur"],
        label="Lease in place of the price",
    )


def _straight_line(cost: Any, years: Any, year: Any) -> Any:
    """The straight-line amount in each year of the recovery period, without salvage."""
    first = F["straight_line_depreciation_cur_per_year"].formula(cost, 0.0, years)
    return F["amount_in_study_cur"].formula(first, 0.0, year, years)


def _depreciation(t: Table, option: Table, spent: Table, finance: Table, last: Ref, leased: Ref, share: Ref) -> None:
    t.add(
        "depreciable_cur",
        lambda outlay, trade_in, lease: np.where(lease > 0, 0.0, outlay + trade_in),
        spent["outlay_cur"],
        option["trade_in_cur"],
        leased,
    )
    t.add(
        "straight_line_cur",
        _straight_line,
        "depreciable_cur",
        finance["recovery_years"],
        "year",
        label="By straight line",
    )
    t.add(
        "declining_balance_cur",
        F["declining_balance_depreciation_cur"],
        "depreciable_cur",
        0.0,
        finance["declining_rate_share"],
        "year",
        label="By declining balance",
    )
    t.add("by_table_cur", F["table_depreciation_cur"], "depreciable_cur", share, label="By the table")
    t.add(
        "tax_depreciation_cur",
        lambda way, line, declining, table, year, end: _until(
            np.where(way == 1, line, np.where(way == 2, declining, np.where(way == TABLE_METHOD, table, 0.0))),
            year,
            end,
        ),
        finance["depreciation_method_count"],
        "straight_line_cur",
        "declining_balance_cur",
        "by_table_cur",
        "year",
        last,
    )
    t.running("written_off_cur", "tax_depreciation_cur", label="Written off so far")
    t.add(
        "gain_cur",
        lambda way, first, off, year, end, lease, salvage: np.where(
            (way > 0) & (year == end) & (lease == 0), salvage - (first - off), 0.0
        ),
        finance["depreciation_method_count"],
        "depreciable_cur",
        "written_off_cur",
        "year",
        last,
        leased,
        spent["salvage_cur"],
        label="Salvage value over book value",
    )


def after_tax(number: int, flows: Table, own: Table, first: Table, finance: Table) -> Table:
    """The option's flows beyond the first option's, after loan, lease and tax."""
    t = Table(f"after_tax_{number}", f"After finance and tax, option {number}", own.rows)
    t.copy("year", own["year"])
    for column in ("lease_paid_cur", "gain_cur", "tax_depreciation_cur", "interest_paid_cur"):
        t.difference(column, own[column], first[column], label=own.columns[column].label)
    for column in ("loan_flow_cur", "lease_instead_cur"):
        t.difference(column, own[column], first[column], label=own.columns[column].label)
    t.sum(
        "operating_flow_cur",
        *(flows[f"{what}_saving_cur"] for what in ("labour", "energy", "upkeep", "scrap")),
        "lease_paid_cur",
        "gain_cur",
        label="Savings, lease and gain before tax",
    )
    taxed = ("operating_flow_cur", "tax_depreciation_cur", "interest_paid_cur", finance["tax_rate_share"])
    t.add("tax_cur", F["tax_cur"], *taxed, label="Tax")
    t.add(
        "net_flow_cur",
        lambda flow, loan, lease, tax: flow + loan + lease - tax,
        flows["flow_cur"],
        "loan_flow_cur",
        "lease_instead_cur",
        "tax_cur",
        label="Cash flow after finance and tax",
    )
    return t


def after_tax_measures(number: int, net: Table, terms: Table) -> Table:
    """What the purchase is worth after loan, lease and tax."""
    t = Table.record(f"after_tax_measures_{number}", f"After finance and tax, option {number}")
    rate = terms["discount_rate_share"]
    t.over(
        "net_present_value_cur",
        F["net_present_value_now_cur"],
        rate,
        net["net_flow_cur"],
        label="Net present value after finance and tax",
    )
    t.over(
        "internal_rate_share",
        F["internal_rate_share"],
        net["net_flow_cur"],
        label="Internal rate after finance and tax",
    )
    t.over(
        "simple_payback_years",
        F["simple_payback_years"],
        net["net_flow_cur"],
        label="Simple payback after finance and tax",
    )
    for shown, column, why in (
        ("rate_shown_share", "internal_rate_share", "none, or several fit"),
        ("simple_shown_years", "simple_payback_years", "not within the study"),
    ):
        label = t.columns[column].label
        t.add(shown, lambda value, why=why: number_or(value, why), column, label=f"{label}, in words if none")
    return t


def by_month(number: int, net: Table, flows: Table, own: Paid, first: Paid) -> Table:
    """What comes in and what goes out in a month of the first year, after tax: the saving, the instalment, and what is left."""
    t = Table.record(f"by_month_{number}", f"A month of the first year, option {number}")
    t.fix("year", 1.0, "Year that is looked at")
    t.lookup("saved_cur", "year", flows["back_cur"], "year", label="Savings of the year")
    t.lookup("tax_cur", "year", net["tax_cur"], "year", label="Tax on them")
    t.lookup("payment_cur", "year", own.flows["payment_flow_cur"], "year", label="Loan payment, this option")
    t.lookup("payment_first_cur", "year", first.flows["payment_flow_cur"], "year", label="Loan payment, first option")
    after = ("saved_cur", "tax_cur")
    label = "Saving a month, after tax"
    t.add("saving_cur", lambda saved, tax: (saved - tax) / 12, *after, label=label)
    leases = (own.stated["lease_payment_cur_per_year"], first.stated["lease_payment_cur_per_year"])
    paid = ("payment_cur", "payment_first_cur", *leases)
    t.add("instalment_cur", _a_month, *paid, label="Instalment a month, loan or lease")
    left = ("saving_cur", "instalment_cur")
    t.difference("left_cur", *left, label="Left a month; to be added if negative")
    return t


def _a_month(loan: Any, loan_first: Any, lease: Any, lease_first: Any) -> Any:
    return (loan_first - loan + lease - lease_first) / 12
