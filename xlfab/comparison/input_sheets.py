"""Inputs: first what everybody knows, the rest folded; then the lists of the work, and the small tables that are looked up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from xlfab.comparison.loan_and_tax import is_stated
from xlfab.inputs.defaults import built_in
from xlfab.tables.table import Table
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.input_lines import Owner, input_section
from xlfab.workbook.sheet import Sheet

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison

LEASE = ("lease_payment_cur_per_year", "payments_count", "in_advance_switch", "buy_out_cur")
_LEAD = (
    f"{shared_texts.INPUT_NOTE} A cell in strong colour differs from its default. The + in the margin opens further inputs. "
    "Loan, lease and tax are counted where the scenario states them."
)
_NOTE_WIDTH = 54


def input_sheets(book: Book, made: Comparison) -> Sheet:
    """Inputs of shop, machines and options on one sheet, each list of the work on its own, the small tables on the last one, which is returned."""
    _inputs(book, made)
    job = made.job
    for table, lead in (
        (job.part_list, "One line a part."),
        (job.bends, "One line a bend. Gauge columns give the way of each axis before the bend."),
        (job.cuts, "One line a cut. Strokes a part below 1 are shared by several blanks."),
    ):
        title = table.title
        book.sheet(
            title,
            title,
            f"{lead} {shared_texts.INPUT_NOTE}",
            "input",
            says=f"what every {title.lower().rstrip('s')} is",
        ).table(table)
    tables = book.sheet(
        "Tables",
        "Materials and look-up tables",
        f"{shared_texts.TABLE_NOTE} {shared_texts.GUARD_CAUTION}",
        "input",
        says="materials, protective devices, usual rake and die opening",
    )
    tables.subtitle("Materials")
    tables.table(job.materials)
    tables.subtitle(job.study.title)
    tables.records([job.study], ["Value"])
    for table in job.lookups.values():
        tables.subtitle(table.title)
        tables.table(table)
    if is_stated(job.scenario):
        tables.subtitle("Depreciation table")
        tables.text(shared_texts.DEPRECIATION_NOTE)
        tables.table(job.money.depreciation)
    return tables


def stated_columns(table: Table) -> list[str]:
    """The columns of a list that say something: text, and figures that are not the same on every line; the others are folded."""
    seen = [name for name, column in table.columns.items() if column.unit is None or _differ(table.value(name))]
    return seen if len(seen) < len(table.columns) else []


def _differ(values: Any) -> bool:
    return len(set(np.asarray(values).reshape(-1).tolist())) > 1


def _inputs(book: Book, made: Comparison) -> None:
    job, currency = made.job, made.job.scenario.currency
    sheet = book.sheet("Inputs", "Inputs", _LEAD, "input", says="wage, tariff, purchase terms, machines, options")
    note = 2 + max(2 * len(job.shears), 2 * len(job.brakes), len(job.options), 2)
    sheet.widths.update({0: 27, 1: 9, **dict.fromkeys(range(2, note), 10.5), note: _NOTE_WIDTH})
    stated = is_stated(job.scenario)
    for key, table in (
        ("workplace", job.workplace),
        ("tariff", job.tariff),
        ("purchase", job.money.terms),
        ("finance", job.money.finance),
    ):
        if key != "finance" or stated:
            input_section(sheet, table.title, key, [Owner(table, "Value", built_in(key, currency))], note)
    for heading, kind, machines in (("Shears", "shear", job.shears), ("Press brakes", "press_brake", job.brakes)):
        owners = [
            Owner(one.stated, str(one.stated.value("name")[0]), built_in(kind, str(one.stated.value("drive")[0])))
            for one in machines
        ]
        input_section(sheet, heading, kind, owners, note)
    owners = [Owner(one.stated, f"Option {number}") for number, one in enumerate(job.options, 1)]
    input_section(sheet, "What is compared", "option", owners, note, () if stated else LEASE)


def records_of(made: Comparison) -> dict[tuple[str, str], Table]:
    """Where the assumptions of the shop, its machines and options stand, by section and record."""
    job = made.job
    records: dict[tuple[str, str], Any] = {
        ("workplace", ""): job.workplace,
        ("tariff", ""): job.tariff,
        ("purchase", ""): job.money.terms,
        ("finance", ""): job.money.finance,
    }
    records |= {(one.kind, one.stated.value("name")[0]): one.stated for one in job.machines}
    return records | {("option", one.name): one.stated for one in job.options}
