"""A comparison: the estimate, how sure it is, and what it says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from xlfab.inputs.values import Assumption
from xlfab.job.checks import all_checks
from xlfab.job.doubt import OptionSwings, open_assumptions, swings
from xlfab.job.electricity import electricity_of, strokes_of, weight_of
from xlfab.job.estimate import Job, estimate
from xlfab.job.verdict import verdict_of
from xlfab.model import Table


@dataclass
class Comparison:
    """An estimate with its verdicts (one for each option but the first), swings and checks."""

    job: Job
    verdicts: list[Table]
    open: dict[str, list[Assumption]]
    swings: dict[int, OptionSwings]
    machine_checks: list[Table]
    option_checks: list[Table]
    overall_check: Table
    strokes: list[Table]
    electricity: list[Table]
    weights: list[Table]


def compare(scenario: Any) -> Comparison:
    """Estimate a scenario and judge every option against the first."""
    job = estimate(scenario)
    found = swings(scenario)
    verdicts = [
        verdict_of(number, option, job.money.terms, found[number])
        for number, option in enumerate(job.options, 1)
        if number > 1
    ]
    strokes = [strokes_of(one, job) for one in job.machines]
    electricity = [electricity_of(one, table) for one, table in zip(job.machines, strokes, strict=True)]
    weights = [weight_of(number, one, job, found[number]) for number, one in enumerate(job.options[1:], 2)]
    checks = all_checks(job)
    return Comparison(job, verdicts, open_assumptions(scenario), found, *checks, strokes, electricity, weights)
