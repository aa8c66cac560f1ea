"""Workings of the year: machines side by side, options side by side, and the cash flows, years below each other."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.comparison.estimate import OptionTables
from xlfab.comparison.loan_and_tax import is_stated
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.comparison.page_figures import PageFigures
from xlfab.comparison.step_sheets import names_of
from xlfab.workbook import shared_texts
from xlfab.workbook.book import Book
from xlfab.workbook.sheet import Sheet, Stands
from xlfab.workbook.side_by_side import side_by_side

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison

MAY_LACK = (
    "internal_rate_share",
    "simple_payback_years",
    "discounted_payback_years",
    "savings_to_investment_ratio",
    "adjusted_internal_rate_share",
    "inflow_outflow_ratio",
    "modified_internal_rate_share",
)
_TURNING = ("break_even_", "parts_ratio", "wage_ratio", "energy_ratio")
_NONE_NOTE = "A cell that looks empty has no result: it holds an error value, so that no sum passes over it."
_TAX_NOTE = "An indication: contracts, rates and allowances differ, so ask your bank and an accountant."
_RATE = (
    "machine_rate_cur_per_h",
    "depreciation_cur_per_year",
    "interest_cur_per_year",
    "maintenance_cost_cur_per_year",
)
_YEAR = ("busy_h_per_year", "usable_h_per_year", "energy_kwh", "energy_cost_cur_per_year", "demand_cost_cur_per_year")
_POWER = (
    "processing_kwh",
    "moving_kwh",
    "ready_kwh",
    "standby_kwh",
    "warm_up_kwh",
    "states_kwh",
    "causes_kwh",
    "balance",
)
_LIMITS = ("ram_share", "gauge_share", "operator_share", "ram_saves_h_per_year", "gauge_saves_h_per_year")
_OEE = ("availability_share", "effectiveness_share", "quality_share", "oee_share")
_OPTION = (
    "quantity_count", "mean_part_time_s", "mean_setup_part_s", "mean_part_energy_kwh", "mean_part_cost_cur",
    "labour_cost_cur_per_year", "electricity_cost_cur_per_year", "maintenance_cost_cur_per_year",
    "running_cost_cur_per_year", "energy_kwh", "co2_kg_per_year",
)  # fmt: skip
_SAVED = (*DIFFERENCE_COLUMNS, "running_cost_cur_per_year")
_PURCHASE = ("outlay_cur", "labour_saving_cur", "energy_saving_cur", "maintenance_saving_cur", "yearly_saving_cur")
_MEASURES = (
    "net_present_value_cur", "internal_rate_share", "simple_payback_years", "discounted_payback_years",
    "savings_to_investment_ratio", "adjusted_internal_rate_share", "modified_internal_rate_share",
)  # fmt: skip
_BREAK_EVEN = (
    "break_even_quantity_count", "break_even_wage_cur_per_h", "break_even_energy_price_cur_per_kwh",
    "break_even_price_difference_cur",
)  # fmt: skip
_FLOW = ("flow_cur", "simple_sum_cur", "discounted_cur", "discounted_sum_cur")
_NET = ("tax_cur", "net_flow_cur")


def machine_years(book: Book, made: Comparison) -> None:
    """Machine-hour rate, hours, electricity by state, limits of the cycle and planned effectiveness of every machine."""
    sheet = book.sheet(
        "Machine years", "Machine years", shared_texts.ENERGY_NOTE, says="hours, kWh and cost of each machine in a year"
    )
    job = made.job
    electricity = {id(one): table for one, table in zip(job.machines, made.electricity, strict=True)}
    for heading, kind in (("Shears", job.shears), ("Press brakes", job.brakes)):
        names = names_of(kind)
        for words, tables, main in (
            ("machine-hour rate without electricity", [one.rate for one in kind], _RATE),
            ("the year", [one.year for one in kind], _YEAR),
            ("electricity by state", [electricity[id(one)] for one in kind], _POWER),
            ("what limits the cycle", [one.rules_year for one in kind], _LIMITS),
            ("performance as planned, with the names of ISO 22400-2", [one.effectiveness for one in kind], _OEE),
            ("closing and stroke", [one.basis for one in kind], list(kind[0].basis.columns)),
        ):
            sheet.subtitle(f"{heading}: {words}")
            sheet.records(tables, names, main=main)


def option_years(book: Book, made: Comparison, figures: PageFigures) -> None:
    """The year with each option, its investment, its electricity bill, and how the purchase is judged."""
    options = made.job.options
    names = [one.name for one in options]
    lead = f"Every option makes the same parts. {_NONE_NOTE} {shared_texts.MONEY_CAUTION}"
    sheet = book.sheet(
        "Option years", "The year with each option", lead, says="yearly cost, saving and worth of each option"
    )
    sheet.widths[0] = 40
    sheet.subtitle("Both machines of an option")
    sheet.records([one.year for one in options], names, main=_OPTION)
    sheet.subtitle("Investment")
    sheet.records([one.outlay for one in options], names)
    sheet.subtitle("Electricity bill")
    sheet.records(made.bills, names, main=("energy_charge_cur", "demand_charge_cur", "bill_cur", "bill_check"))
    sheet.subtitle("Equal yearly cost: each machine bought over its own life, replaced by its like")
    sheet.records([one.worth.equal_cost for one in options], names, main=("equal_yearly_cost_cur_per_year",))
    _against(sheet, made, options[1:])
    for place, kind in enumerate(("Shear", "Press brake")):
        sheet.subtitle(f"{kind}: energy that depends on output")
        sheet.records([one.worth.moving[place] for one in options], names, main=("moving_cost_cur_per_year",))
    sheet.subtitle("As shown on the page: money to the digits that its doubt allows")
    sheet.records(figures.options, names, main=("part_s", "payback_span"))


def _against(sheet: Sheet, made: Comparison, others: list[OptionTables]) -> None:
    if not others:
        return
    names, first = [one.name for one in others], made.job.options[0].name
    for words, tables, main in (
        (f"Saved a year against {first}", [one.difference for one in others], _SAVED),
        ("Extra investment and cash savings", [one.purchase for one in others], _PURCHASE),
        ("Verdict", made.verdicts, ("verdict",)),
        ("Measures", [one.measures for one in others], _MEASURES),
        ("Break-even points, one at a time", [one.worth.break_even for one in others], _BREAK_EVEN),
        ("Electricity in the saving", made.weights, ("energy_part_share", "weak_share", "weight")),
    ):
        sheet.subtitle(words)
        sheet.records(tables, names, main=main)
    for one in others:
        turning = one.worth.break_even
        sheet.blank_if_none([one.measures[name] for name in MAY_LACK])
        sheet.blank_if_none([turning[name] for name in turning.columns if name.startswith(_TURNING)])
    for column in range(2, 2 + len(others)):
        sheet.widths[column] = 24


def cash_flows(book: Book, made: Comparison) -> None:
    """The cash flow of every option against the first, and what a loan, a lease and tax make of it where they are stated."""
    options = made.job.options
    others = options[1:]
    if not others:
        return
    stated = is_stated(made.job.scenario)
    lead = shared_texts.MONEY_CAUTION if not stated else f"{shared_texts.MONEY_CAUTION} {_TAX_NOTE}"
    sheet = book.sheet(
        "Cash flows", "Cash flows against the first option", lead, says="cash year by year, and the sum of it"
    )
    names = [one.name for one in others]
    start = sheet.row + 3
    first = others[0].cash_flow
    columns = side_by_side(dict(zip(names, (one.cash_flow for one in others), strict=True)), _FLOW)
    columns = [Stands(first, "year"), *(item for item in columns if (item.table, item.name) != (first, "year"))]
    if stated:
        net = side_by_side(dict(zip(names, (one.worth.after_tax for one in others), strict=True)), _NET)
        own = side_by_side({one.name: one.worth.finance for one in options})
        columns += [*net, *own]
    sheet.block(sorted(columns, key=lambda item: item.fold))
    study = int(made.job.scenario.purchase.study_years)
    sheet.fold(start + study + 1, start + first.rows.count - 1)
    if stated:
        nets = [one.worth.net_measures for one in others]
        sheet.subtitle("After loan, lease and tax")
        sheet.records(nets, names)
        sheet.blank_if_none([net[name] for net in nets for name in MAY_LACK if name in net.columns])
        sheet.subtitle("A month of the first year")
        sheet.records([one.worth.by_month for one in others], names, main=("saving_cur", "instalment_cur", "left_cur"))
