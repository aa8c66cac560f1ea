"""What the figures say, in words that follow the figures: no winner inside the uncertainty, and where the difference comes from."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.comparison.estimate import OptionTables
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.comparison.random_draws import OptionRisk
from xlfab.tables.table import Ref, Table
from xlfab.trace.expression import number_or

CAUSE_WORDS = {
    "ram_cost_cur_per_year": "the ram and blade (seconds a stroke)",
    "gauge_cost_cur_per_year": "waiting for the gauge",
    "operator_cost_cur_per_year": "the operator's handling",
    "setup_cost_cur_per_year": "set-up",
    "waiting_energy_cost_cur_per_year": "electricity while the machine waits or warms up",
    "ready_energy_cost_cur_per_year": "electricity of the idling drive during work",
    "work_energy_cost_cur_per_year": "electricity for forming and cutting",
    "lift_energy_cost_cur_per_year": "electricity for lifting the ram",
    "demand_cost_cur_per_year": "the demand charge",
    "try_out_cost_cur_per_year": "material used up at set-up",
    "maintenance_cost_cur_per_year": "maintenance",
}


NOBODY, PAYS, PAYS_NOT = "No winner", "Pays", "Does not pay"


def _verdict(
    saving: Any, saving_doubt: Any, worth: Any, worth_doubt: Any, payback: Any, target: Any, outlay: Any
) -> Any:
    in_time = np.where(
        payback <= target,
        f"{PAYS}: the savings are worth more than the outlay, and it is back within the target.",
        f"{PAYS}, but later than the target: the savings are worth more than the outlay.",
    )
    surely = np.where(worth > 0, in_time, f"{PAYS_NOT}: it saves money every year, but less than the outlay is worth.")
    unsure = f"{NOBODY}: it saves money every year, but nobody can tell whether the outlay comes back."
    buys = np.where(np.abs(worth) <= worth_doubt, unsure, surely)
    gains = np.where(outlay > 0, buys, f"{PAYS}: it saves money every year and needs no further outlay.")
    return np.where(
        np.abs(saving) <= saving_doubt,
        f"{NOBODY}: the yearly difference is smaller than its uncertainty.",
        np.where(saving > 0, gains, f"{PAYS_NOT}: it costs more to run than what is there."),
    )


def _main_cause(largest: Any, *differences: Any) -> Any:
    words: Any = "no cause: nothing differs"
    for item, text in reversed(list(zip(differences, CAUSE_WORDS.values(), strict=True))):
        words = np.where((np.abs(item) >= largest) & (largest > 0), text, words)
    return words


def verdict_of(number: int, option: OptionTables, terms: Table, risk: OptionRisk) -> Table:
    """The verdict on one option against the first, with the measures in a form to be read."""
    t = Table.record(f"verdict_{number}", f"Verdict on option {number}")
    note = "Half of the span in which 8 in 10 random draws of all assumptions lie, when the workbook was built"
    t.fix("saving_doubt_cur", risk.saving.half_width, "Uncertainty of the yearly saving (±, 8 in 10 cases)", note)
    t.fix("worth_doubt_cur", risk.worth.half_width, "Uncertainty of the net present value (±, 8 in 10 cases)", note)
    _drawn(t, risk)
    saving, outlay = option.purchase["yearly_saving_cur"], option.purchase["outlay_cur"]
    payback = option.measures["simple_payback_years"]
    worth = option.measures["net_present_value_cur"]
    money = (saving, "saving_doubt_cur", worth, "worth_doubt_cur")
    t.add("verdict", _verdict, *money, payback, terms["target_payback_years"], outlay, text=True)
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
    _shown(t, option, outlay)
    return t


def _drawn(t: Table, risk: OptionRisk) -> None:
    """Payback with its range, and how often it pays: from the draws, when the workbook was built."""
    never = "not within the study"
    for part, words in (
        ("p10", "short: 1 case in 10 is shorter"),
        ("p50", "middle case"),
        ("p90", "long: 1 case in 10 is longer"),
    ):
        years = getattr(risk.payback, part)
        t.fix(f"payback_{part}_years", years if np.isfinite(years) else never, f"Simple payback, {words}")
    t.fix("gain_share", risk.gain[0], "Chance that the net present value is above zero")
    t.fix("in_time_share", risk.in_time[0], "Chance that the payback is inside the target")


def _shown(t: Table, option: OptionTables, outlay: Ref) -> None:
    """The measures in a form to be read: where one does not exist there is no number, and the words say why."""
    found, turning = option.measures, option.worth.break_even
    for kind in ("simple", "discounted"):
        source = found[f"{kind}_payback_years"]
        t.add(f"{kind}_shown_years", _payback_or_words, source, outlay, label=f"{kind.capitalize()} payback")
    rate = (found["internal_rate_share"], found["flows_sum_cur"], outlay)
    t.add("rate_shown_share", _rate_or_words, *rate, label="Internal rate of return")
    for name, column, words in (
        ("modified_shown_share", "modified_internal_rate_share", "no flow out, or none in"),
        ("ratio_shown_ratio", "savings_to_investment_ratio", "nothing invested"),
        ("adjusted_shown_share", "adjusted_internal_rate_share", "no savings on an investment"),
    ):
        label = found.columns[column].label
        t.add(name, lambda value, words=words: number_or(value, words), found[column], label=label)
    for column in ("quantity_count", "wage_cur_per_h", "energy_price_cur_per_kwh"):
        source = turning[f"break_even_{column}"]
        label = turning.columns[f"break_even_{column}"].label
        t.add(f"shown_{column}", lambda value: number_or(value, "no value does it"), source, label=label)


def _payback_or_words(years: Any, outlay: Any) -> Any:
    return number_or(years, np.where(outlay > 0, "not within the study", "nothing to pay back"))


def _rate_or_words(rate: Any, total: Any, outlay: Any) -> Any:
    why = np.where(total > 0, "several rates fit", "none above 0 %")
    return number_or(np.where(total > 0, rate, np.nan), np.where(outlay > 0, why, "no outlay"))
