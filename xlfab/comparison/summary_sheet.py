"""The first sheet: one page that answers - who buys what, does it pay, how sure - and a second page with the figures behind it."""

from __future__ import annotations

import numpy as np

from xlfab.comparison.compare import Comparison
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.comparison.page_figures import CAUSES, PageFigures
from xlfab.comparison.uncertainty_sheets import named
from xlfab.tables.table import Ref
from xlfab.workbook import shared_texts
from xlfab.workbook.charts import bars, cash_lines
from xlfab.workbook.sheet import Sheet, Shown

FEW = 3  # options that stand beside each other in large figures
MOST = 3  # assumptions named here; all of them stand on the sheet of uncertainty
_PAGE = 86  # characters across the page, as wide as LibreOffice prints them
_ROW_POINTS = 12.5


def fill_summary(sheet: Sheet, made: Comparison, figures: PageFigures) -> None:
    """Fill both pages."""
    options = made.job.options
    span = 2 + max(len(options), 2)
    label, unit = (30.0, 9.0) if len(options) <= FEW else (22.0, 8.0)
    widths = {0: label, 1: unit, **dict.fromkeys(range(2, span), (_PAGE - label - unit) / (span - 2))}
    sheet.widths.update(widths)
    sheet.landscape = False
    sheet.print_to = span - 1
    _question(sheet, made, figures, span)
    _verdicts(sheet, made, span)
    _three_figures(sheet, made, figures)
    charts = sheet.row
    if len(options) > 1:
        sheet.row += 18 if len(options) <= FEW else 14
        _leans_on(sheet, made, span)
    for caution in (*_unusual(made), *shared_texts.CAUTIONS):
        sheet.text(caution, "caution", span=span)
    sheet.text("Every figure follows the inputs. " + _stale(made), "caution", span=span)
    sheet.breaks.append(sheet.row)
    _details(sheet, made, figures, charts)
    sheet.widths.update(widths)  # long labels of the details break: the page stays one page wide


def _stale(made: Comparison) -> str:
    return "What decides was worked out when the workbook was built." if len(made.job.options) > 1 else ""


def _question(sheet: Sheet, made: Comparison, figures: PageFigures, span: int) -> None:
    """Who buys what, for whom, by whom, when."""
    names = [one.name for one in made.job.options]
    choice = " or ".join(f"\u201c{name}\u201d" for name in names[1:])
    asked = f"Does {choice} pay against \u201c{names[0]}\u201d?" if choice else f"What \u201c{names[0]}\u201d costs"
    sheet.cells[0].value = asked
    sheet.cells[0].kind = "question"
    sheet.cells[0].span = span
    sheet.heights[0] = 24 if len(asked) < 60 else 42
    sheet.row = 1
    for key in ("prepared_for", "prepared_by", "prepared_on"):
        sheet.put_text(0, figures.texts.columns[key].label, "asked")
        sheet.put_column(2, figures.texts, key)
        sheet.row += 1
    sheet.put_ref(0, made.desk.case["banner"], "asked", span=span)
    sheet.row += 1


def _verdicts(sheet: Sheet, made: Comparison, span: int) -> None:
    for table, one in zip(made.verdicts, made.job.options[1:], strict=True):
        sheet.put_text(0, one.name, "named")
        sheet.put_ref(1, table["verdict"], "verdict", span=span - 1)
        sheet.heights[sheet.row] = 32 if len(made.job.options) <= FEW else 26
        sheet.row += 1
    sheet.row += 1


def _three_figures(sheet: Sheet, made: Comparison, figures: PageFigures) -> None:
    """Seconds a part, cost a part, payback: large, an option beside the other."""
    options, others = made.job.options, made.job.options[1:]
    many = len(options) > FEW
    kind = "figure" if many else "big"
    sheet.heads(["", "", *(one.name for one in options)])
    large: tuple[tuple[str, list[Ref | None]], ...] = (
        ("Time a part with set-up", [table["part_s"] for table in figures.options]),
        ("Cost a part", [one.year["mean_part_cost_cur"] for one in options]),
        ("Payback, years", [None, *(table["payback_words"] for table in figures.options[1:])]),
    )
    for words, items in large:
        if words == "Payback, years" and not others:
            continue
        sheet.put_text(0, words, "named")
        _line(sheet, items, kind)
        sheet.heights[sheet.row] = 20 if many else 28
        sheet.row += 1
    if not others:
        return
    smaller: tuple[tuple[str, list[Ref | None]], ...] = (
        ("Payback, 8 cases in 10", [None, *(table["payback_span"] for table in figures.options[1:])]),
        ("Chance that it pays", [None, *(table["gain_share"] for table in made.verdicts)]),
        ("Cash savings, year 1", [None, *(table["saving_shown_cur"] for table in figures.options[1:])]),
    )
    for words, items in smaller:
        sheet.put_text(0, words, "named")
        _line(sheet, items, "figure|0" if words == "Cash savings, year 1" else "figure")
        sheet.heights[sheet.row] = 15
        sheet.row += 1
    sheet.row += 1


def _line(sheet: Sheet, items: list[Ref | None], kind: str) -> None:
    first = next(item for item in items if item is not None)
    sheet.put_unit(1, first)
    for offset, item in enumerate(items, 2):
        if item is None:
            sheet.put_text(offset, "-", kind.partition("|")[0])
        else:
            sheet.put_ref(offset, item, kind)


def _leans_on(sheet: Sheet, made: Comparison, span: int) -> None:
    """The three assumptions that move the net present value of the best candidate most: they decide the answer."""
    number = _best(made)
    option, currency, units = made.job.options[number - 1].name, made.job.scenario.currency, made.job.scenario.units
    sheet.subtitle(f"What decides it ({option}), and on what that rests", span=span)
    for swing in made.swings[number].worth[:MOST]:
        item = made.open[swing.name][0]
        ends = " to ".join(shared_texts.figure(item.key, value, units, currency) for value in (item.low, item.high))
        low, high = (_rounded(value) for value in sorted((swing.at_low, swing.at_high)))
        turns = " It alone can turn the answer." if swing.decides else ""
        text = f"{named(made, swing.name)}, {ends}: net present value {low} to {high} {currency}.{turns} Rests on: {item.basis}."
        sheet.text(text, "wrap", span=span)


def _rounded(value: float) -> str:
    """Two digits are as many as a span allows."""
    if abs(value) < 1:
        return "0"
    digits = 1 - int(np.floor(np.log10(abs(value))))
    return f"{round(value, min(digits, 0)):,.0f}"


def _best(made: Comparison) -> int:
    others = made.job.options[1:]
    return 2 + int(np.argmax([one.measures.number("net_present_value_cur") for one in others]))


# --- the second page --------------------------------------------------------------------------------------------------


def _details(sheet: Sheet, made: Comparison, figures: PageFigures, charts: int) -> None:
    options, others = made.job.options, made.job.options[1:]
    names = [one.name for one in options]
    width = int(sheet.widths[2])
    first = sheet.row
    sheet.show(["Mean of all parts, weighted by quantity", *names], _side_by_side(made), width=width)
    if not others:
        return
    against = [one.name for one in others]
    start = sheet.show([f"Saved a year against {names[0]}", *against], _by_cause(made, figures), width=width)
    _charts(sheet, made, figures, charts, start)
    sheet.show(["Purchase", *against], _purchase(made, figures), width=width)
    sheet.show(["Break-even points, one at a time", *against], _turning(made), width=width)
    for row in range(first, sheet.row):
        sheet.heights[row] = max(sheet.heights.get(row, 0), _ROW_POINTS)


def _charts(sheet: Sheet, made: Comparison, figures: PageFigures, at: int, start: int) -> None:
    """Cumulative cash with its band on the left, the yearly saving by cause on the right."""
    others, few = made.job.options[1:], len(made.job.options) <= FEW
    height = int((17 if few else 13) * _ROW_POINTS * 4 / 3)
    cash_chart(sheet, made, (at, 0), (320, height))
    last = start + len(figures.shown) - (0 if figures.rest else 1)
    causes = [(one.name, (start, 2 + n, last, 2 + n)) for n, one in enumerate(others)]
    title = f"Saved a year by cause, {made.job.scenario.currency}"
    place, offset = ((at, 2), 44) if few else ((at, 2), 110)
    sheet.charts.append(
        bars("Summary", title, "", (start, 0, last, 0), causes, place, (285, height), horizontal=True, offset=offset)
    )


def cash_chart(sheet: Sheet, made: Comparison, at: tuple[int, int], size: tuple[int, int]) -> None:
    """Cumulative cash of every option over the years of the study, with the band of the best one."""
    others, scenario, best = made.job.options[1:], made.job.scenario, _best(made)
    years = int(scenario.purchase.study_years) + 1
    lines = [(one.name, sheet.area(one.cash_flow["simple_sum_cur"], years)) for one in others]
    ends = [sheet.area(made.spreads[best].years[f"{case}_after_cur"], years) for case in ("short", "long")]
    across = sheet.area(others[0].cash_flow["year"], years)
    title = f"Cumulative cash, {scenario.currency}; dotted: 8 cases in 10, {made.job.options[best - 1].name}"
    sheet.charts.append(cash_lines(title, across, lines, ends, best - 2, at, size))


def _side_by_side(made: Comparison) -> list[Shown]:
    years = [one.year for one in made.job.options]
    return [
        Shown("Cycle time a part", [year["mean_part_time_s"] for year in years]),
        Shown("Set-up time a part", [year["mean_setup_part_s"] for year in years]),
        Shown("Electricity a part", [year["mean_part_energy_kwh"] for year in years]),
        Shown("Cost a part", [year["mean_part_cost_cur"] for year in years], strong=True),
        Shown("Running cost a year", [year["running_cost_cur_per_year"] for year in years]),
        Shown("Electricity a year", [year["energy_kwh"] for year in years]),
        Shown("CO2 of the electricity", [year["co2_kg_per_year"] for year in years]),
    ]


def _by_cause(made: Comparison, figures: PageFigures) -> list[Shown]:
    others = made.job.options[1:]
    rows = [Shown(CAUSES[column], [one.difference[column] for one in others]) for column in figures.shown]
    if figures.rest:
        rows.append(Shown("All other causes", [table["rest_cur_per_year"] for table in figures.options[1:]]))
    total = [one.difference["running_cost_cur_per_year"] for one in others]
    return [*rows, Shown("Running cost", total, strong=True)]


def _purchase(made: Comparison, figures: PageFigures) -> list[Shown]:
    others, own = made.job.options[1:], figures.options[1:]
    return [
        Shown("Extra investment", [table["outlay_shown_cur"] for table in own], whole=True),
        Shown("Cash savings, year 1", [table["saving_shown_cur"] for table in own], strong=True, whole=True),
        Shown("± (8 cases in 10)", [table["saving_doubt_shown_cur"] for table in own], whole=True),
        Shown("Electricity in that saving", [table["energy_part_share"] for table in made.weights]),
        Shown("Of it on judgement", [table["weak_share"] for table in made.weights]),
        Shown("Most of the saving comes from", [table["main_cause"] for table in made.verdicts]),
        Shown("Simple payback", [table["simple_shown_years"] for table in made.verdicts], strong=True),
        Shown("Payback, 1 in 10 is shorter than", [table["payback_p10_years"] for table in made.verdicts]),
        Shown("Payback, 1 in 10 is longer than", [table["payback_p90_years"] for table in made.verdicts]),
        Shown("Chance of payback inside the target", [table["in_time_share"] for table in made.verdicts]),
        Shown("Net present value", [table["worth_shown_cur"] for table in own], strong=True, whole=True),
        Shown("± (8 cases in 10)", [table["worth_doubt_shown_cur"] for table in own], whole=True),
        Shown("Internal rate of return", [table["rate_shown_share"] for table in made.verdicts]),
        Shown("Equal yearly cost", [one.worth.equal_cost["equal_yearly_cost_cur_per_year"] for one in others]),
        Shown("All checks", [made.overall_check["all_checks"]]),
    ]


def _unusual(made: Comparison) -> list[str]:
    """The first values outside their usual range; all of them stand on the sheet of checks."""
    warnings = made.job.scenario.warnings
    more = f" {len(warnings) - 1} more on the sheet Checks." if len(warnings) > 1 else ""
    return [f"Unusual value. {warning.words}{more}" for warning in warnings[:1]]


def _turning(made: Comparison) -> list[Shown]:
    """Where the net present value would be zero: the answer turns there."""
    others = made.job.options[1:]
    price = "break_even_price_difference_cur"
    lines = [
        Shown(label, [table[f"shown_{column}"] for table in made.verdicts])
        for label, column in (
            ("Parts a year", "quantity_count"),
            ("Wage", "wage_cur_per_h"),
            ("Mean energy price", "energy_price_cur_per_kwh"),
        )
    ]
    return [*lines, Shown("Extra investment", [one.worth.break_even[price] for one in others], whole=True)]


assert set(CAUSES) == set(DIFFERENCE_COLUMNS)
