"""Where speed counts: the common claim of 30 to 50 % more speed, the cycle of every step, and what each feature is worth."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from xlfab.comparison.feature_value import FeatureStudy
from xlfab.comparison.shop_floor_charts import curves, step_chart
from xlfab.comparison.speed_claim_curves import HANDLINGS_S, OPENINGS_MM, READINGS, claim_of
from xlfab.comparison.uncertainty_sheets import rows_of
from xlfab.tables.table import Rows, Table
from xlfab.workbook.charts import waterfall
from xlfab.workbook.grid import Area
from xlfab.workbook.sheet import Sheet

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison
    from xlfab.workbook.book import Book

NAME = "Speed and features"
_LEAD = "Where a faster ram saves time, when '30 to 50 % faster' holds, and what each optional feature is worth."
_FEATURES = (
    "Each feature counted on the option's two machines, from machines that have none: switched on alone, added in order, and "
    "switched on last of all. Where alone and last differ, features save the same second twice. Worked out when the workbook was built."
)
_CLAIM = (
    "An electric press brake is often said to work 30 to 50 % faster than a hydraulic one: common practice, no source. "
    "Faster can mean less time a step or more steps an hour. Both follow from the two machines as stated, for one bend, "
    "with the same handling on both and no back-gauge wait. The longer the handling, the less a faster ram is worth."
)
_STEPS_SHOWN = 40  # bars that can still be told apart in a chart
_CHART = 300
_FEATURE_MAIN = (
    "feature", "there", "alone_h_per_year", "last_h_per_year", "alone_kwh_per_year", "last_kwh_per_year",
    "alone_cur_per_year", "last_cur_per_year", "step_cur_per_year",
)  # fmt: skip


def speed_sheet(book: Book, made: Comparison) -> None:
    """Features of the first and the last option, then the claim for their press brakes, then the steps of every press brake."""
    sheet = book.sheet(NAME, NAME, _LEAD, "about", says="what faster strokes and each feature are worth")
    sheet.widths.update({0: 26, **dict.fromkeys(range(1, 9), 10.0)})
    for number, study in made.features.items():
        _features(sheet, made, number, study)
    _claim(sheet, made)
    sheet.subtitle(
        "Step time by what it goes through: a faster ram is worth nothing where the gauge or the operator takes longer"
    )
    for one in made.job.brakes:
        names = ("ram_ruled_s", "gauge_ruled_s", "operator_ruled_s", "ram_saves_s")
        count = min(one.rules.rows.count, _STEPS_SHOWN)
        places = {name: sheet.area(one.rules[name], count) for name in names}
        places["part"] = sheet.area(made.job.bend_data["part"], count)
        sheet.charts.append(step_chart(f"{one.stated.value('name')[0]}: step time", places, (sheet.row, 0)))
        sheet.row += rows_of(_CHART) + 1


def _features(sheet: Sheet, made: Comparison, number: int, study: FeatureStudy) -> None:
    option = made.job.options[number - 1]
    table = feature_table(number, study)
    sheet.subtitle(f"What each feature is worth: {option.name}")
    sheet.text(_FEATURES)
    above = sheet.row
    sheet.row += rows_of(_CHART) + 1
    sheet.table(table, main=_FEATURE_MAIN)
    shown = [sheet.area(table[name])[1] for name in ("feature", "base_cur_per_year", "total_cur_per_year")]
    moves = [sheet.area(table[name])[1] for name in ("saves_cur_per_year", "costs_cur_per_year")]
    title = f"Running cost saved a year by each feature, added in order: {option.name}"
    currency = f"{made.job.scenario.currency} a year"
    parts = (shown[1], shown[2], moves[0], moves[1])
    sheet.charts.append(waterfall(NAME, title, currency, shown[0], parts, (above, 0)))


def feature_table(number: int, study: FeatureStudy) -> Table:
    """One line a feature, savings positive, and a line for all of them together; features that change nothing are left out."""
    worth = [item for item in study.worth if any(any(way.values()) for way in (item.alone, item.in_order, item.last))]
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
    after = np.cumsum(steps) if len(steps) else np.zeros(1)
    t.fix("step_cur_per_year", [*steps, after[-1]], "Running cost saved, in order")
    t.fix("base_cur_per_year", [*np.minimum(after - steps, after)[: len(worth)], 0.0], "Chart: base")
    t.fix("total_cur_per_year", [*np.zeros(len(worth)), after[-1]], "Chart: total")
    t.fix("saves_cur_per_year", [*np.maximum(steps, 0), 0.0], "Chart: saves")
    t.fix("costs_cur_per_year", [*np.maximum(-steps, 0), 0.0], "Chart: costs")
    return t


def _claim(sheet: Sheet, made: Comparison) -> None:
    """The claim for the press brakes of the first and the last option, if they differ."""
    first, other = made.job.options[0].brake, made.job.options[-1].brake
    if first is other:
        return
    claim = claim_of(first, other)
    sheet.subtitle(f'"30 to 50 % faster": when it holds. {claim.names[1]} (2) against {claim.names[0]} (1)')
    sheet.text(_CLAIM)
    sheet.records([claim.settings], ["Value"])
    shown = ["opening_mm", "ram_1_s", "ram_2_s", *(f"{key}_handling_s" for key in READINGS)]
    sheet.table(claim.strokes, main=shown)
    at = sheet.row
    sheet.row += (rows_of(_CHART) + 1) * len(READINGS)
    behind = sheet.row
    sheet.subtitle("Behind the charts")
    sheet.table(claim.readings, main=list(claim.readings.columns)[:9])
    sheet.fold(behind + 1, sheet.row - 1)
    for number, (key, label) in enumerate(READINGS.items()):
        series = [
            (f"Open height {opening:g} mm", _part(sheet, claim.readings, f"{key}_share", place))
            for place, opening in enumerate(OPENINGS_MM)
        ]
        series += [(f"Claim, {end}", _part(sheet, claim.readings, f"claim_{end}_share", 0)) for end in ("from", "to")]
        across = _part(sheet, claim.readings, "handling_s", 0)
        place = (at + (rows_of(_CHART) + 1) * number, 0)
        sheet.charts.append(curves(label, NAME, across, series, place, ("Handling a step, s", label), HANDLINGS_S[-1]))


def _part(sheet: Sheet, readings: Table, name: str, block: int) -> Area:
    """The rows of one opening."""
    first, column, _, _ = sheet.area(readings[name])[1]
    start = first + block * len(HANDLINGS_S)
    return start, column, start + len(HANDLINGS_S) - 1, column
