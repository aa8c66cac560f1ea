"""The sheet of optional features: what each is worth alone and last, with a waterfall chart of all of them in order."""

from __future__ import annotations

import numpy as np

from xlfab.comparison.compare import Comparison
from xlfab.comparison.feature_value import FeatureStudy
from xlfab.comparison.uncertainty_sheets import rows_of
from xlfab.tables.table import Rows, Table
from xlfab.workbook.book import Book
from xlfab.workbook.charts import waterfall

_NOTE = "Each feature counted on the option's two machines, from machines that have none of them: switched on alone, added in the order of the list, and switched on last of all. Where alone and last differ, features save the same second twice. Worked out when the workbook was built. Money is the running cost of a year; what released hours are worth to you is on the sheet of the purchase. A feature that the machines have already is named: it is no reason to buy."
_HEIGHT = 380


def features_sheets(book: Book, made: Comparison) -> None:
    """A sheet for the machines of the first option, and one for those of the last."""
    for number, study in made.features.items():
        option = made.job.options[number - 1]
        table = feature_table(number, study)
        sheet = book.sheet(f"Features {number}", f"What each feature is worth: {option.name}", _NOTE, "result")
        above = sheet.row
        sheet.row += rows_of(_HEIGHT) + 1
        start, last = sheet.row + 2, sheet.row + 1 + table.rows.count
        sheet.table(table)
        places = {name: column for column, name in enumerate(table.columns)}
        base, total, saves, costs = (
            (start, places[name], last, places[name])
            for name in ("base_cur_per_year", "total_cur_per_year", "saves_cur_per_year", "costs_cur_per_year")
        )
        title = f"Yearly running cost saved by each feature, added in order: {option.name}"
        parts = (base, total, saves, costs)
        currency = f"{made.job.scenario.currency} a year"
        sheet.charts.append(waterfall(sheet.name, title, currency, (start, 0, last, 0), parts, (above, 0)))


def feature_table(number: int, study: FeatureStudy) -> Table:
    """One line a feature, savings positive, and a line for all of them together."""
    worth = study.worth
    steps = np.array([-item.in_order["cost_cur_per_year"] for item in worth])
    t = Table(f"features_{number}", f"Features, option {number}", Rows(f"features_{number}", len(worth) + 1))
    t.fix("feature", [*(item.name for item in worth), "All together"])
    t.fix("there", [*("yes" if study.there[item.name] else "no" for item in worth), ""], "On these machines")
    for what, label, unit in (
        ("time_h_per_year", "Working time", "h_per_year"),
        ("energy_kwh_per_year", "Electricity", "kwh_per_year"),
        ("cost_cur_per_year", "Running cost", "cur_per_year"),
    ):
        for way in ("alone", "last"):
            values = [-getattr(item, way)[what] for item in worth]
            whole = -sum(item.in_order[what] for item in worth)
            t.fix(f"{way}_{unit}", [*values, whole], f"{label} saved, {way}")
    after = np.cumsum(steps)
    t.fix("step_cur_per_year", [*steps, after[-1]], "Running cost saved, in order")
    t.fix("base_cur_per_year", [*np.minimum(after - steps, after), 0.0], "Chart: base")
    t.fix("total_cur_per_year", [*np.zeros(len(worth)), after[-1]], "Chart: total")
    t.fix("saves_cur_per_year", [*np.maximum(steps, 0), 0.0], "Chart: saves")
    t.fix("costs_cur_per_year", [*np.maximum(-steps, 0), 0.0], "Chart: costs")
    return t
