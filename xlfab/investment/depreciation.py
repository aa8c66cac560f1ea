"""Depreciation for tax, and tax on a flow. Optional: rates, classes and allowances change; ask an accountant."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import InputError
from xlfab.core.registry import function


@function("depreciation-textbook")
def declining_balance_depreciation_cur(outlay_cur: Any, salvage_cur: Any, declining_rate_share: Any, year: Any) -> Any:
    """Declining-balance depreciation of one year: a share of the book value, never below the salvage value.

    Arguments: outlay_cur [currency], salvage_cur [currency], declining_rate_share [share] of the book value (2 / life for double declining), year [year].
    Returns: [currency].
    Holds: whole years; nothing in year 0.
    Sources: depreciation-textbook.

    >>> round(declining_balance_depreciation_cur(100000, 0, 0.2, 5), 6)
    8192.0
    """
    book = outlay_cur * (1 - declining_rate_share) ** np.maximum(year - 1, 0.0)
    room = np.maximum(book - salvage_cur, 0.0)
    return np.where(year > 0, np.minimum(book * declining_rate_share, room), 0.0)


@function("irs-946")
def table_depreciation_cur(outlay_cur: Any, depreciation_share: Any) -> Any:
    """Depreciation of one year as a share of the first cost, from a table such as MACRS.

    Arguments: outlay_cur [currency], depreciation_share [share] of the year.
    Returns: [currency].
    Holds: the table holds its own convention for the first and last year; no salvage value is taken off.
    Sources: irs-946.

    >>> round(table_depreciation_cur(984000, 0.1429), 2)
    140613.6
    """
    return outlay_cur * depreciation_share


@function("tax-on-flow")
def tax_cur(operating_flow_cur: Any, tax_depreciation_cur: Any, interest_paid_cur: Any, tax_rate_share: Any) -> Any:
    """Tax on a year's savings after depreciation and interest; negative where it lowers the tax on other income.

    Arguments: operating_flow_cur [currency], tax_depreciation_cur [currency], interest_paid_cur [currency], tax_rate_share [share].
    Returns: [currency].
    Holds: one flat rate and enough other income to use a loss at once; an indication, ask an accountant.
    Sources: tax-on-flow.

    >>> tax_cur(90000, 266640, 0, 0.4)
    -70656.0
    """
    return (operating_flow_cur - tax_depreciation_cur - interest_paid_cur) * tax_rate_share


@function("tax-on-flow")
def salvage_after_tax_cur(salvage_cur: Any, book_value_cur: Any, tax_rate_share: Any) -> Any:
    """What is left of the salvage value after tax on the gain over the book value.

    Arguments: salvage_cur [currency], book_value_cur [currency], tax_rate_share [share].
    Returns: [currency].
    Holds: gain and loss taxed at the same flat rate as income; an indication, ask an accountant.
    Sources: tax-on-flow.

    >>> salvage_after_tax_cur(5000, 0, 0.4)
    3000.0
    """
    return salvage_cur - (salvage_cur - book_value_cur) * tax_rate_share


@cache
def macrs_table() -> dict[int, tuple[float, ...]]:
    """Shares of first cost by recovery period in years, year 1 first: half-year convention, United States.

    >>> macrs_table()[5]
    (0.2, 0.32, 0.192, 0.1152, 0.1152, 0.0576)
    """
    table: dict[int, list[float]] = {}
    text = Path(__file__).with_name("macrs.csv").read_text(encoding="utf-8")
    for row in csv.DictReader(text.splitlines()):
        table.setdefault(int(row["recovery_years"]), []).append(float(row["depreciation_share"]))
    return {years: tuple(shares) for years, shares in table.items()}


def macrs_shares(recovery_years: int, study_years: int) -> list[float]:
    """The table's shares for year 0 to the last year of a study, filled up with nothing.

    >>> macrs_shares(3, 5)
    [0.0, 0.3333, 0.4445, 0.1481, 0.0741, 0.0]
    """
    table = macrs_table()
    if recovery_years not in table:
        known = ", ".join(str(years) for years in table)
        raise InputError(f"recovery period {recovery_years} years is not in the MACRS table; known: {known}")
    shares = [0.0, *table[recovery_years], *[0.0] * study_years]
    return shares[: study_years + 1]
