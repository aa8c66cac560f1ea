"""How sure an option's answer is, in formulas: the spread of the draws, kept as offsets from its centre, moved with the live centre.

The draws are made once. The workbook keeps their quantiles as distances from the estimate as built, adds them to the estimate as
it now stands, and scales them with the causes of the worth: twice the parts make the labour and its spread twice as wide. As
soon as a figure differs from the build, the words say so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.comparison.assumption_swings import CAUSES_OF_WORTH, YEARS
from xlfab.comparison.estimate import OptionTables
from xlfab.comparison.option_year import UPKEEP
from xlfab.comparison.purchase_flows import RELEASED
from xlfab.comparison.random_draws import OptionRisk, filled
from xlfab.core.arrays import Numbers
from xlfab.tables.rules import Ref
from xlfab.tables.table import Rows, Table

STRETCHES = 40  # between 41 quantiles
_MOST_SHARE = 100.0
FRESH, STALE = (
    "Drawn from these inputs.",
    "Spread as of the build: inputs have changed since. `xlfab risk` draws it anew.",
)
SPREADS = {"saving": "Yearly saving", "worth": "Net present value", "in_target_cur": "Money back at the wanted payback"}


@dataclass
class SpreadTables:
    """What is kept of the draws of one option, and what the workbook makes of it: causes, quantiles, years, and the sums."""

    causes: Table
    quantiles: Table
    years: Table
    sums: Table


def spread_tables(number: int, one: OptionTables, first: OptionTables, terms: Table, risk: OptionRisk) -> SpreadTables:
    """The tables of one option (counted from 1) against the first."""
    causes = _causes(number, one, first, terms, risk.drawn)
    quantiles = _quantiles(number, one, causes, risk.drawn)
    years = _years(number, one, causes, risk.drawn)
    return SpreadTables(causes, quantiles, years, _sums(number, one, causes, quantiles, years, risk.drawn))


def _causes(number: int, one: OptionTables, first: OptionTables, terms: Table, drawn: dict[str, Numbers]) -> Table:
    """How far each cause of the worth has grown since the draws, and with it the spread."""
    t = Table.record(f"spread_causes_{number}", f"What the spread comes from, option {number}")
    rate, study = terms["discount_rate_share"], terms["study_years"]
    t.add("years_worth_ratio", F["uniform_present_value_ratio"], rate, study, label="Worth of one unit a year")
    used = (
        one.purchase["labour_saving_cur"],
        one.shear.rate["labour_rate_cur_per_h"],
        *(terms[key] for key in RELEASED),
    )
    t.add("hour_worth_ratio", _hour_worth, *used, label="Worth of an hour saved over its wage")
    yearly = {
        "labour": ("labour_cost_cur_per_year",),
        "energy": ("electricity_cost_cur_per_year",),
        "upkeep": UPKEEP,
    }
    for cause, columns in yearly.items():
        costs = [option.year[column] for option in (first, one) for column in columns]
        factor = "hour_worth_ratio" if cause == "labour" else 1.0
        label = f"{cause.capitalize()} of both options, worth today"
        t.add(f"{cause}_now_cur", _product_of_sum, "years_worth_ratio", factor, *costs, label=label)
    prices = [option.outlay["machine_price_cur"] for option in (first, one)]
    t.add("capital_now_cur", _product_of_sum, 1.0, 1.0, *prices, label="Prices of both options")
    names = (*yearly, "capital")
    for cause, share in zip(names, _variance_shares(drawn), strict=True):
        now = f"{cause}_now_cur"
        t.fix(f"{cause}_built_cur", t.number(now), f"{t.columns[now].label}, as built")
        t.fix(f"{cause}_variance_share", share, f"{cause.capitalize()} in the variance of the net present value")
        t.add(f"{cause}_scale_ratio", _growth, now, f"{cause}_built_cur")
    shares, scales = ([f"{cause}_{what}" for cause in names] for what in ("variance_share", "scale_ratio"))
    t.add("spread_scale_ratio", F["spread_scale_ratio"], *shares, *scales, label="Spread against as drawn")
    return t


def _hour_worth(saving: Any, rate: Any, *terms: Any) -> Any:
    share, overtime, overtime_rate, outside, outside_rate = terms
    worth = share + (overtime * overtime_rate + outside * outside_rate) / rate
    return np.where(saving > 0, worth, 1.0)


def _product_of_sum(years: Any, worth: Any, *costs: Any) -> Any:
    return sum(costs[1:], costs[0]) * years * worth


def _growth(now: Any, built: Any) -> Any:
    return np.where(built > 0, now / np.where(built > 0, built, 1.0), 1.0)


def _variance_shares(drawn: dict[str, Numbers]) -> list[float]:
    """What share of the variance of the net present value each cause has; what is left is capital's."""
    worth = filled(drawn["worth"])
    variance = float(np.var(worth))
    if variance <= 1e-12:
        return [0.0, 0.0, 0.0, 1.0]
    parts = [filled(np.sum([drawn[column] for column in columns], axis=0)) for columns in CAUSES_OF_WORTH.values()]
    shares = [float(np.mean((part - part.mean()) * (worth - worth.mean()))) / variance for part in parts]
    if max(map(abs, shares)) > _MOST_SHARE:  # causes that cancel each other: none of them tells of the whole
        return [0.0, 0.0, 0.0, 1.0]
    return [*shares, 1.0 - sum(shares)]


def _quantiles(number: int, one: OptionTables, causes: Table, drawn: dict[str, Numbers]) -> Table:
    """The stretches between neighbouring quantiles: how far their ends are from the centre, and how much lies above zero."""
    t = Table(f"spread_{number}", f"Spread, option {number}", Rows(f"spread_{number}", STRETCHES))
    levels = np.linspace(0.0, 1.0, STRETCHES + 1)
    t.fix("lower_level_share", levels[:-1], "Draws below the stretch")
    t.fix("stretch_share", np.diff(levels), "Draws in the stretch")
    for name, centre in _centres(one).items():
        offsets = np.quantile(_offsets(drawn[name], centre), levels)
        stem = name.removesuffix("_cur")
        ends = []
        for end, part in (("lower", offsets[:-1]), ("upper", offsets[1:])):
            t.fix(f"{stem}_{end}_offset_cur", part, f"{SPREADS[name]}: {end} end from the centre")
            moved = (centre, f"{stem}_{end}_offset_cur", causes["spread_scale_ratio"])
            ends.append(f"{stem}_{end}_cur")
            t.add(ends[-1], _moved, *moved, label=f"{SPREADS[name]}: {end} end")
        t.add(f"{stem}_above_share", F["above_zero_share"], *ends, label=f"{SPREADS[name]}: above zero")
        t.add(f"{stem}_part_share", _times, f"{stem}_above_share", "stretch_share", label="Part of the chance")
    return t


def _centres(one: OptionTables) -> dict[str, Ref]:
    return {
        "saving": one.purchase["yearly_saving_cur"],
        "worth": one.measures["net_present_value_cur"],
        "in_target_cur": one.measures["in_target_cur"],
    }


def _offsets(drawn: Numbers, centre: Ref) -> Numbers:
    return filled(drawn) - float(np.asarray(centre.table.value(centre.column)).reshape(-1)[0])


def _moved(centre: Any, offset: Any, scale: Any) -> Any:
    return centre + offset * scale


def _times(share: Any, width: Any) -> Any:
    return share * width


def _years(number: int, one: OptionTables, causes: Table, drawn: dict[str, Numbers]) -> Table:
    """The money still out at the start and end of each year, in a good case and in a bad one, and the payback from it."""
    flows = one.cash_flow
    t = Table(f"spread_years_{number}", f"Payback in a good and a bad case, option {number}", flows.rows)
    t.copy("year", flows["year"])
    out = np.array([filled(drawn[f"out_{year}"]) for year in YEARS])
    centre = np.asarray(flows.value("simple_sum_cur"))
    scale = causes["spread_scale_ratio"]
    for case, level, words in (("short", 0.9, "good case"), ("long", 0.1, "bad case")):
        offsets = np.quantile(out, level, axis=1) - centre
        t.fix(f"{case}_offset_cur", offsets, f"After the year, {words}: from the centre")
        t.fix(
            f"{case}_before_offset_cur",
            np.concatenate([[0.0], offsets[:-1]]),
            f"Before the year, {words}: from the centre",
        )
        before = (flows["simple_before_cur"], f"{case}_before_offset_cur", scale)
        after = (flows["simple_sum_cur"], f"{case}_offset_cur", scale)
        t.add(f"{case}_before_cur", _moved, *before, label=f"Before the year, {words}")
        t.add(f"{case}_after_cur", _moved, *after, label=f"After the year, {words}")
        both = (f"{case}_after_cur", f"{case}_before_cur")
        t.difference(f"{case}_flow_cur", *both, label=f"In the year, {words}")
        step = ("year", f"{case}_before_cur", f"{case}_flow_cur")
        t.add(f"{case}_step_years", _step, *step, label=f"Part of the year to payback, {words}")
    return t


def _step(year: Any, before: Any, flow: Any) -> Any:
    return np.where(year > 0, F["payback_step_years"].formula(before, flow), 0.0)


def _sums(
    number: int, one: OptionTables, causes: Table, quantiles: Table, years: Table, drawn: dict[str, Numbers]
) -> Table:
    """Chances, doubts and paybacks, and whether they are those of the build."""
    t = Table.record(f"spread_sums_{number}", f"How sure it is, option {number}")
    scale = causes["spread_scale_ratio"]
    for name, label in SPREADS.items():
        stem = name.removesuffix("_cur")
        t.total(
            f"{stem}_chance_share",
            quantiles[f"{stem}_part_share"],
            label=f"Chance that it is above zero: {label.lower()}",
        )
        within = float(np.quantile(np.abs(_offsets(drawn[name], _centres(one)[name])), 0.8))
        t.fix(f"{stem}_built_doubt_cur", within, f"{label}, ± (8 in 10 draws), as drawn")
        t.times(
            f"{stem}_doubt_cur",
            f"{stem}_built_doubt_cur",
            scale,
            label=f"{label}, ± (8 in 10 cases)",
        )
    for case, words in (("short", "good case"), ("long", "bad case")):
        t.total(f"{case}_steps_years", years[f"{case}_step_years"], label=f"Payback, {words}, sum of steps")
        t.total(f"{case}_end_cur", years[f"{case}_flow_cur"], label=f"Money back at the end, {words}")
        reached = (f"{case}_steps_years", f"{case}_end_cur", one.purchase["outlay_cur"])
        t.add(f"{case}_payback_years", F["payback_if_reached_years"], *reached, label=f"Simple payback, {words}")
    _freshness(t, one, causes)
    return t


def _freshness(t: Table, one: OptionTables, causes: Table) -> None:
    """Compare what the draws lean on with what it was when the workbook was built."""
    now = {
        "worth": one.measures["net_present_value_cur"],
        "saving": one.purchase["yearly_saving_cur"],
        "outlay": one.purchase["outlay_cur"],
        "target": one.measures["in_target_cur"],
        **{cause: causes[f"{cause}_now_cur"] for cause in ("labour", "energy", "upkeep", "capital")},
    }
    pairs: list[str | Ref] = []
    for name, ref in now.items():
        built = float(np.asarray(ref.table.value(ref.column)).reshape(-1)[0])
        t.fix(f"{name}_as_built_cur", built, f"{ref.table.columns[ref.column].label}, as built")
        pairs += [ref, f"{name}_as_built_cur"]
    t.add("spread_word", _fresh, *pairs, text=True, label="What the spread rests on")


def _fresh(*pairs: Any) -> Any:
    differ: Any = 0.0
    for now, built in zip(pairs[::2], pairs[1::2], strict=True):
        differ = differ + np.where(np.abs(now - built) <= 1e-9 * (np.abs(built) + 1), 0.0, 1.0)
    return np.where(differ > 0, STALE, FRESH)
