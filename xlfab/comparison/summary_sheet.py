"""The first sheet: what a person needs to read in half a minute, on one page."""

from __future__ import annotations

import numpy as np

from xlfab.comparison.compare import Comparison
from xlfab.comparison.electricity_use import WEAK_LABEL
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.comparison.uncertainty_sheets import named
from xlfab.workbook import shared_texts
from xlfab.workbook.charts import bars
from xlfab.workbook.sheet import Sheet, Shown

FEW = 3  # options that stand beside each other with their charts
MOST = 3  # assumptions named here; all of them stand on the sheet of sensitivity


def fill_summary(sheet: Sheet, made: Comparison) -> None:
    """Fill the summary: verdict, side by side, difference by cause, what it leans on, cautions."""
    job = made.job
    options, others = job.options, job.options[1:]
    names = [one.name for one in options]
    span, width = max(5, 2 + len(options)), 19 if len(options) <= FEW else 16
    sheet.landscape = False
    sheet.fit_height = True
    sheet.widths.update({0: 38, 1: 11, **dict.fromkeys(range(2, span), width)})
    sheet.text(
        f"Amounts in {job.scenario.currency}. Every option makes the same parts, with the same people, wages and tariff.",
        span=span,
    )
    if made.desk.inputs:
        sheet.words(made.desk.case["banner"], "banner", span=span)
    for table, weight, one in zip(made.verdicts, made.weights, others, strict=True):
        sheet.subtitle(f"{one.name} against {names[0]}", span=span)
        sheet.words(table["verdict"], span=span)
        sheet.words(weight["weight"], "label", span=span, height=14)
    sheet.row += 1
    first = sheet.show(["Mean of all parts, weighted by quantity", *names], _side_by_side(made), width=width)
    if others:
        heading = "Yearly difference by cause (positive: saves)"
        start = sheet.show([heading, *[one.name for one in others]], _by_cause(made), width=width)
        sheet.show(["Purchase", *[one.name for one in others]], _purchase(made), width=width)
        turning = "What would change the answer: break-even, one alone"
        sheet.show([turning, *[one.name for one in others]], _turning(made), width=width)
        _charts(sheet, made, first, start)
    _leans_on(sheet, made, span)
    sheet.row += 1
    for caution in shared_texts.CAUTIONS:
        sheet.text(caution, span=span)
    sheet.print_to = span - 1


def _charts(sheet: Sheet, made: Comparison, first: int, start: int) -> None:
    """Cost of a part, and the yearly difference by cause, side by side below the tables; many options, one below the other."""
    options = made.job.options
    few, whole = len(options) <= FEW, 7 * int(sum(sheet.widths.values()))
    places = (sheet.row, 1) if few else (sheet.row + 10, 0)
    sizes = ((268, 300), (455, 300)) if few else ((whole, 180), (whole, 340))
    currency = made.job.scenario.currency
    cost_row, last = first + 3, start + len(DIFFERENCE_COLUMNS) - 1
    cost = [("Cost of a part", (cost_row, 2, cost_row, 1 + len(options)))]
    heads = (first - 1, 2, first - 1, 1 + len(options))
    sheet.charts.append(
        bars("Summary", "Cost of a part, mean", currency, heads, cost, (sheet.row, 0), sizes[0], number_format="0.00")
    )
    causes = [(one.name, (start, 2 + n, last, 2 + n)) for n, one in enumerate(options[1:])]
    labels = (start, 0, last, 0)
    sheet.charts.append(
        bars(
            "Summary",
            "Yearly difference by cause",
            f"{currency} a year",
            labels,
            causes,
            places,
            sizes[1],
            horizontal=True,
        )
    )
    sheet.row += 16 if few else 28


def one_label(made: Comparison, column: str) -> str:
    """The label of a cause."""
    return made.job.options[0].year.columns[column].label


def _side_by_side(made: Comparison) -> list[Shown]:
    years = [one.year for one in made.job.options]
    rows = [
        Shown("Run time of a part", [year["mean_part_time_s"] for year in years]),
        Shown("Set-up share of a part", [year["mean_setup_part_s"] for year in years]),
        Shown("Electricity of a part", [year["mean_part_energy_kwh"] for year in years]),
        Shown("Cost of a part", [year["mean_part_cost_cur"] for year in years], strong=True),
        Shown("Running cost a year", [year["running_cost_cur_per_year"] for year in years]),
        Shown("Electricity a year", [year["energy_kwh"] for year in years]),
        Shown("CO2 of the electricity", [year["co2_kg_per_year"] for year in years]),
    ]
    return rows


def _by_cause(made: Comparison) -> list[Shown]:
    others = made.job.options[1:]
    rows = [Shown(one_label(made, column), [one.difference[column] for one in others]) for column in DIFFERENCE_COLUMNS]
    total = [one.difference["running_cost_cur_per_year"] for one in others]
    return [*rows, Shown("Running cost, difference", total, strong=True)]


def _purchase(made: Comparison) -> list[Shown]:
    others = made.job.options[1:]
    return [
        Shown("Outlay", [one.purchase["outlay_cur"] for one in others]),
        Shown("Saving worth money, first year", [one.purchase["yearly_saving_cur"] for one in others], strong=True),
        Shown("Uncertainty of that saving (±)", [table["saving_doubt_cur"] for table in made.verdicts]),
        Shown("Electricity in that saving", [table["energy_part_share"] for table in made.weights]),
        Shown(WEAK_LABEL, [table["weak_share"] for table in made.weights]),
        Shown("Electricity worth a second of labour", [table["labour_second_kj"] for table in made.weights]),
        Shown("Most of the difference comes from", [table["main_cause"] for table in made.verdicts]),
        Shown("Simple payback", [table["simple_shown_years"] for table in made.verdicts], strong=True),
        Shown("Payback, short (1 case in 10 is shorter)", [table["payback_p10_years"] for table in made.verdicts]),
        Shown("Payback, long (1 case in 10 is longer)", [table["payback_p90_years"] for table in made.verdicts]),
        Shown("Chance of payback inside the target", [table["in_time_share"] for table in made.verdicts]),
        Shown("Net present value", [one.measures["net_present_value_cur"] for one in others]),
        Shown("Uncertainty of that value (±)", [table["worth_doubt_cur"] for table in made.verdicts]),
        Shown("Internal rate of return", [table["rate_shown_share"] for table in made.verdicts]),
        Shown("All checks", [made.overall_check["all_checks"]]),
    ]


def _turning(made: Comparison) -> list[Shown]:
    """Where the net present value would be zero: the answer turns there."""
    others = made.job.options[1:]
    price = "break_even_price_difference_cur"
    lines = [
        Shown(label, [table[f"shown_{column}"] for table in made.verdicts])
        for label, column in (
            ("Yearly parts of", "quantity_count"),
            ("Wage of", "wage_cur_per_h"),
            ("Mean energy price of", "energy_price_cur_per_kwh"),
        )
    ]
    return [*lines, Shown("Outlay beyond the first option's of", [one.worth.break_even[price] for one in others])]


def _leans_on(sheet: Sheet, made: Comparison, span: int) -> None:
    """The three assumptions that move the net present value of the best candidate most: they decide the answer."""
    others = made.job.options[1:]
    if not others:
        return
    number = 2 + int(np.argmax([one.measures.number("net_present_value_cur") for one in others]))
    option, currency, units = made.job.options[number - 1].name, made.job.scenario.currency, made.job.scenario.units
    sheet.subtitle(f"Three assumptions decide the answer ({option})", span=span)
    for swing in made.swings[number].worth[:MOST]:
        item = made.open[swing.name][0]
        ends = " and ".join(shared_texts.figure(item.key, value, units, currency) for value in (item.low, item.high))
        low, high = sorted((swing.at_low, swing.at_high))
        turns = " This alone can turn the answer." if swing.decides else ""
        text = (
            f"{named(made, swing.name)} between {ends} moves the net present value between {low:,.0f} and "
            f"{high:,.0f} {currency}.{turns} Rests on: {item.basis}."
        )
        sheet.text(text, "wrap", span=span)
    sheet.text("These lines were computed when the workbook was built; all other figures follow the inputs.", span=span)
