"""Figures of the page, in a form to be read: money rounded to what its doubt allows, and the causes that are worth a line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any

import numpy as np

from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.tables.table import Table
from xlfab.trace.expression import joined, said

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison

CAUSES = {
    "ram_cost_cur_per_year": "Ram and blade",
    "gauge_cost_cur_per_year": "Back gauge",
    "operator_cost_cur_per_year": "Handling",
    "setup_cost_cur_per_year": "Set-up",
    "waiting_energy_cost_cur_per_year": "Standby, warm-up",
    "ready_energy_cost_cur_per_year": "Idle power",
    "work_energy_cost_cur_per_year": "Forming, cutting",
    "lift_energy_cost_cur_per_year": "Lifting",
    "demand_cost_cur_per_year": "Demand charge",
    "try_out_cost_cur_per_year": "Try-out material",
    "maintenance_cost_cur_per_year": "Maintenance",
    "standing_cost_cur_per_year": "Floor, insurance",
    "overtime_cost_cur_per_year": "Overtime",
}
_LEAST = 0.01  # of the largest cause: what is smaller goes into one line


@dataclass(frozen=True)
class PageFigures:
    """Texts of the page's head, a record of each option's figures, the causes shown, and whether others are left."""

    texts: Table
    options: list[Table]
    shown: list[str]
    rest: bool


def page_figures(made: Comparison) -> PageFigures:
    """The figures of both pages."""
    shown = _causes(made)
    rest = len(shown) < len(DIFFERENCE_COLUMNS)
    tables = []
    for number, one in enumerate(made.job.options, 1):
        t = Table.record(f"page_{number}", f"Page, option {number}")
        times = (one.year["mean_part_time_s"], one.year["mean_setup_part_s"])
        t.sum("part_s", *times, label="Time a part with set-up")
        if number > 1:
            _against(t, made, number, shown)
        tables.append(t)
    return PageFigures(_texts(made), tables, shown, rest)


def _texts(made: Comparison) -> Table:
    t = Table.record("page_texts", "Head of the page")
    t.put("prepared_for", made.job.scenario.title, label="Prepared for")
    t.put("prepared_by", "-", label="Prepared by")
    t.put("prepared_on", datetime.now(UTC).strftime("%Y-%m-%d"), label="Date")
    return t


def _causes(made: Comparison) -> list[str]:
    """Causes that make a difference worth a line, in the order of the list."""
    sizes = {
        column: max((abs(one.difference.number(column)) for one in made.job.options[1:]), default=0.0)
        for column in DIFFERENCE_COLUMNS
    }
    largest = max(sizes.values(), default=0.0)
    return [column for column, size in sizes.items() if size > _LEAST * largest]


def _against(t: Table, made: Comparison, number: int, shown: list[str]) -> None:
    one, verdict = made.job.options[number - 1], made.verdicts[number - 2]
    rest = [one.difference[column] for column in DIFFERENCE_COLUMNS if column not in shown]
    if rest:
        t.add("rest_cur_per_year", _sum, *rest, label="All other causes")
    for name, source, doubt in (
        ("saving", one.purchase["yearly_saving_cur"], verdict["saving_doubt_cur"]),
        ("worth", one.measures["net_present_value_cur"], verdict["worth_doubt_cur"]),
    ):
        t.add(f"{name}_shown_cur", _as_sure, source, doubt, label=source.table.columns[source.column].label)
        t.add(f"{name}_doubt_shown_cur", _as_sure, doubt, doubt, label="±")
    outlay = one.purchase["outlay_cur"]
    t.copy("outlay_shown_cur", outlay, label="Extra investment")
    years, study = one.measures["simple_payback_years"], made.job.money.terms["study_years"]
    judged = (years, outlay, study, verdict["judged_switch"])
    t.add("payback_words", _payback, *judged, text=True, label="Simple payback, years")
    sums = made.spreads[number].sums
    ends = (sums["short_payback_years"], sums["long_payback_years"], outlay, study)
    t.add("payback_span", _span, *ends, text=True, label="Payback, 8 cases in 10")


def _sum(*values: Any) -> Any:
    return sum(values[1:], values[0])


def _as_sure(value: Any, doubt: Any) -> Any:
    """Money to the first two digits of its doubt: nobody knows it better."""
    step: Any = 1.0
    for size in (100.0, 1_000.0, 10_000.0, 100_000.0, 1_000_000.0):
        step = np.where(doubt >= size, size / 10, step)
    return np.floor(value / step + 0.5) * step


def _payback(years: Any, outlay: Any, study: Any, judged: Any) -> Any:
    longer = joined("over ", said(study))
    found = np.where(outlay > 0, np.where(np.isfinite(years), said(years, 1), longer), "none")
    return np.where(judged > 0, found, "-")


def _span(short: Any, long: Any, outlay: Any, study: Any) -> Any:
    over = joined("over ", said(study))
    first = np.where(np.isfinite(short), said(short, 1), over)
    last = np.where(np.isfinite(long), said(long, 1), over)
    both = np.where(np.isfinite(short), joined(first, " to ", last, " years"), joined(over, " years"))
    return np.where(outlay > 0, both, "nothing to pay back")
