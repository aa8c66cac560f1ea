"""A comparison: the estimate, how sure it is, and what it says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from xlfab.comparison.assumption_swings import OptionSwings, open_assumptions, swings
from xlfab.comparison.desk_cases import Desk, desk_of
from xlfab.comparison.electricity_bill import bill_of
from xlfab.comparison.electricity_use import electricity_of, strokes_of, weight_of
from xlfab.comparison.estimate import Job, estimate
from xlfab.comparison.estimate_checks import all_checks
from xlfab.comparison.feature_value import FeatureStudy, features_of
from xlfab.comparison.random_draws import SEED, Risk, few_draws, risk_of
from xlfab.comparison.spread_tables import SpreadTables, spread_tables
from xlfab.comparison.verdict import verdict_of
from xlfab.inputs.stated_values import Assumption
from xlfab.tables.table import Table


@dataclass
class Judged:
    """An estimate with its verdicts (one for each option but the first), how sure they are, and its checks."""

    job: Job
    risk: Risk
    verdicts: list[Table]
    spreads: dict[int, SpreadTables]
    machine_checks: list[Table]
    option_checks: list[Table]
    overall_check: Table
    strokes: list[Table]
    electricity: list[Table]
    bills: list[Table]


@dataclass
class Comparison(Judged):
    """What was judged, with the desk, the swings of each assumption, features, and what the electricity weighs."""

    desk: Desk
    open: dict[str, list[Assumption]]
    swings: dict[int, OptionSwings]
    features: dict[int, FeatureStudy]
    weights: list[Table]


def compare(
    scenario: Any, draws: int = 0, seed: int = SEED, progress: Callable[[int], None] = lambda done: None
) -> Comparison:
    """Estimate a scenario and judge every option against the first. Without a number of draws, a few are taken."""
    found = swings(scenario)
    desk = desk_of(scenario, found)
    job = estimate(scenario, desk.taken)
    judged = judge(job, risk_of(scenario, draws or few_draws(scenario), seed, progress))
    weights = [weight_of(number, one, job, found[number]) for number, one in enumerate(job.options[1:], 2)]
    looked_at = dict.fromkeys((1, len(job.options)))
    features = {number: features_of(scenario, number) for number in looked_at}
    return Comparison(
        **vars(judged), desk=desk, open=open_assumptions(scenario), swings=found, features=features, weights=weights
    )


def judge(job: Job, risk: Risk) -> Judged:
    """The verdicts on an estimate, from its figures and the spread of its draws."""
    strokes = [strokes_of(one, job) for one in job.machines]
    electricity = [electricity_of(one, table) for one, table in zip(job.machines, strokes, strict=True)]
    bills = [
        bill_of(number, one.year, (one.shear.year, one.brake.year), job.tariff)
        for number, one in enumerate(job.options, 1)
    ]
    checks = all_checks(job, electricity, bills)
    checked, first, terms = list(zip(job.machines, checks[0], strict=True)), job.options[0], job.money.terms
    spreads = {
        number: spread_tables(number, one, first, terms, risk.options[number])
        for number, one in enumerate(job.options[1:], 2)
    }
    verdicts = [
        verdict_of(number, one, first, checked, spreads[number], terms, job.scenario.currency)
        for number, one in enumerate(job.options[1:], 2)
    ]
    return Judged(job, risk, verdicts, spreads, *checks, strokes, electricity, bills)
