"""What the figures say, in words that follow the figures: no winner inside the uncertainty, and where the difference comes from."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.expression import number_or
from xlfab.job.estimate import OptionTables
from xlfab.job.option import DIFFERENCE_COLUMNS
from xlfab.model import Table

CAUSE_WORDS = {
    "ram_cost_cur_per_year": "the ram and blade (seconds a stroke)",
    "gauge_cost_cur_per_year": "waiting for the gauge",
    "operator_cost_cur_per_year": "the operator's handling",
    "setup_cost_cur_per_year": "set-up",
    "waiting_energy_cost_cur_per_year": "electricity while the machine waits",
    "ready_energy_cost_cur_per_year": "electricity of the idling drive during work",
    "work_energy_cost_cur_per_year": "electricity for forming and cutting",
    "lift_energy_cost_cur_per_year": "electricity for lifting the ram",
    "demand_cost_cur_per_year": "the demand charge",
    "maintenance_cost_cur_per_year": "maintenance",
}


def _verdict(saving: Any, doubt: Any, payback: Any, target: Any, outlay: Any) -> Any:
    pays = np.where(
        payback <= target,
        "Saves money every year and is paid back within the target.",
        "Saves money every year, but is paid back later than the target.",
    )
    never = np.where(
        outlay > 0,
        "Saves money every year, but too little: the outlay does not come back within the study.",
        "Saves money every year and needs no outlay.",
    )
    gain = np.where(np.isfinite(payback), pays, never)
    return np.where(
        np.abs(saving) <= doubt,
        "No winner: the yearly difference is smaller than its uncertainty.",
        np.where(saving > 0, gain, "Costs more to run than what is there."),
    )


def _main_cause(largest: Any, *differences: Any) -> Any:
    words: Any = "no cause: nothing differs"
    for item, text in reversed(list(zip(differences, CAUSE_WORDS.values(), strict=True))):
        words = np.where((np.abs(item) >= largest) & (largest > 0), text, words)
    return words


def verdict_of(number: int, option: OptionTables, terms: Table, doubt_cur: float) -> Table:
    """The verdict on one option against the first, with the measures in a form to be read."""
    t = Table.record(f"verdict_{number}", f"Verdict on option {number}")
    note = "From the low and high values of all assumptions, one at a time, when the workbook was built"
    t.put("saving_doubt_cur", doubt_cur, label="Uncertainty of the yearly saving (half-width)", note=note)
    saving, outlay = option.purchase["yearly_saving_cur"], option.purchase["outlay_cur"]
    payback = option.measures["simple_payback_years"]
    t.add("verdict", _verdict, saving, "saving_doubt_cur", payback, terms["target_payback_years"], outlay, text=True)
    causes = [option.difference[column] for column in DIFFERENCE_COLUMNS]
    t.largest("largest_difference_cur_per_year", *causes, label="Largest difference of a single cause")
    t.add(
        "main_cause",
        _main_cause,
        "largest_difference_cur_per_year",
        *causes,
        text=True,
        label="Most of the yearly difference comes from",
    )
    for kind in ("simple", "discounted"):
        source = option.measures[f"{kind}_payback_years"]
        label = f"{kind.capitalize()} payback"
        t.add(f"{kind}_shown_years", lambda value: number_or(value, "not in the study"), source, label=label)
    rate = (option.measures["internal_rate_share"], option.measures["flows_sum_cur"])
    t.add("rate_shown_share", _rate_or_words, *rate, label="Internal rate of return")
    return t


def _rate_or_words(rate: Any, total: Any) -> Any:
    return number_or(np.where(total > 0, rate, np.nan), "none above 0 %")
