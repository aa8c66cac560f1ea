"""The verdict on an option against the first, in words and figures that follow the inputs.

The headline is the first of these that applies: it cannot do the work, it does not fit into the hours, what the money says.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from xlfab.comparison.estimate import MachineTables, OptionTables
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.comparison.spread_tables import SpreadTables
from xlfab.comparison.worth_words import NO_RESULT, NOBODY, PAYS, PAYS_NOT, SAME, worth_words
from xlfab.core.arguments import ARGUMENTS
from xlfab.tables.table import Ref, Table
from xlfab.trace.expression import joined, number_or, said

__all__ = ["CANNOT", "HOURS", "NOBODY", "NO_RESULT", "PAYS", "PAYS_NOT", "SAME", "verdict_of"]

CANNOT, HOURS = "Cannot do the work", "Does not fit into the hours"
NOT_JUDGED = "not judged"
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
    "standing_cost_cur_per_year": "floor, insurance and downtime",
    "overtime_cost_cur_per_year": "overtime or another shift",
}

Checked = Sequence[tuple[MachineTables, Table]]  # machines with their checks


def verdict_of(
    number: int,
    option: OptionTables,
    first: OptionTables,
    checked: Checked,
    spread: SpreadTables,
    terms: Table,
    currency: str,
) -> Table:
    """The verdict on one option (counted from 1), with the measures in a form to be read."""
    t = Table.record(f"verdict_{number}", f"Verdict on option {number}")
    _work(t, option, first, checked)
    causes = [option.difference[column] for column in DIFFERENCE_COLUMNS]
    t.largest("largest_difference_cur_per_year", *causes, label="Largest difference of a single cause")
    _worth(t, option, first, spread, terms, currency)
    made = option.year["quantity_count"]
    parts = ("cannot_words", "hours_words", "worth_words", "without_words", made)
    t.add("verdict", _first_that_applies(first.name), *parts, text=True)
    t.add("judged_switch", _judged, *parts[:2], made, label="Judged by its worth")
    t.add(
        "main_cause",
        _main_cause,
        "largest_difference_cur_per_year",
        *causes,
        text=True,
        label="Most of the yearly difference comes from",
    )
    _sureness(t, option, spread, terms)
    _shown(t, option, terms)
    return t


def _work(t: Table, option: OptionTables, first: OptionTables, checked: Checked) -> None:
    """Whether the option's machines can do the work, and whether it fits into their hours."""
    there = list(first.machines)
    checks = {id(one): table for one, table in checked}
    own = [one for one in option.machines if one not in there]
    shared = [one for one in option.machines if one in there]
    t.add("cannot_words", _named(CANNOT, own), *(checks[id(one)]["work_check"] for one in own), text=True, label="Work")
    hours = [checks[id(one)]["hours_check"] for one in (*own, *shared)]
    t.add("hours_words", _named(HOURS, [*own, *shared]), *hours, text=True, label="Hours")
    lacks = [checks[id(one)]["work_check"] for one in there]
    label = "Left out of all sums"
    t.add("without_words", _without(first.name), *lacks, text=True, label=label)


def _named(what: str, machines: Sequence[MachineTables]) -> Any:
    names = [str(one.stated.value("name")[0]) for one in machines]

    def words(*checks: Any) -> Any:
        found: Any = "OK"
        for check, name in reversed(list(zip(checks, names, strict=True))):
            found = np.where(check == "OK", found, joined(f"{what}: {name}: ", check, "."))
        return found

    return words


def _without(first: str) -> Any:
    def words(*checks: Any) -> Any:
        missing: Any = 0.0
        for check in checks:
            missing = missing + np.where(check == "OK", 0.0, 1.0)
        return np.where(missing > 0, f"Without the parts that {first} cannot make.", "OK")

    return words


def _first_that_applies(first: str) -> Any:
    nothing = f"{NO_RESULT}: {first} makes none of the parts, so there is nothing to compare with."

    def words(cannot: Any, hours: Any, worth: Any, without: Any, made: Any) -> Any:
        full = np.where(without == "OK", worth, joined(worth, " ", without))
        judged = np.where(made > 0, full, nothing)
        return np.where(cannot == "OK", np.where(hours == "OK", judged, hours), cannot)

    return words


def _judged(cannot: Any, hours: Any, made: Any) -> Any:
    return np.where(cannot == "OK", np.where(hours == "OK", np.where(made > 0, 1.0, 0.0), 0.0), 0.0)


def _worth(
    t: Table, option: OptionTables, first: OptionTables, spread: SpreadTables, terms: Table, currency: str
) -> None:
    of, found = option.purchase, option.measures
    outlay, worth = of["outlay_cur"], found["net_present_value_cur"]
    moved = ("largest_difference_cur_per_year", outlay, of["salvage_cur"])
    t.add("differs_switch", _differs, *moved, label="Anything differs")
    sizes = (found.number("net_present_value_cur"), spread.sums.number("worth_doubt_cur"))
    digits = -2 if max(map(abs, sizes)) >= 10_000 else 0
    figures = (
        outlay,
        of["yearly_saving_cur"],
        worth,
        spread.sums["worth_doubt_cur"],
        spread.sums["worth_chance_share"],
    )
    rest = (found["simple_payback_years"], terms["target_payback_years"], terms["study_years"], "differs_switch")
    words = worth_words(bool(first.bought), currency, digits)
    t.add("worth_words", words, *figures, *rest, text=True, label="Money")


def _differs(*amounts: Any) -> Any:
    total: Any = 0.0
    for amount in amounts:
        total = total + np.abs(amount)
    return np.where(total > 0, 1.0, 0.0)


def _main_cause(largest: Any, *differences: Any) -> Any:
    words: Any = "no cause: nothing differs"
    for item, text in reversed(list(zip(differences, CAUSE_WORDS.values(), strict=True))):
        words = np.where((np.abs(item) >= largest) & (largest > 0), text, words)
    return words


def _sureness(t: Table, option: OptionTables, spread: SpreadTables, terms: Table) -> None:
    """Doubt, paybacks in a good and a bad case, and chances: with words where an option is not judged."""
    sums, outlay = spread.sums, option.purchase["outlay_cur"]
    for name in ("saving", "worth"):
        label = f"{'Cash savings' if name == 'saving' else 'Net present value'}, ± (8 in 10 cases)"
        t.copy(f"{name}_doubt_cur", sums[f"{name}_doubt_cur"], label=label)
    for part, case, words in (
        ("p10", "short", "good case: 1 in 10 is shorter"),
        ("p90", "long", "bad case: 1 in 10 is longer"),
    ):
        source = (sums[f"{case}_payback_years"], outlay, terms["study_years"], "judged_switch")
        t.add(f"payback_{part}_years", _payback_or_words, *source, label=f"Simple payback, {words}")
    for name, column, label in (
        ("gain_share", "worth_chance_share", "Chance that the net present value is above zero"),
        ("in_time_share", "in_target_chance_share", "Chance that the payback is inside the target"),
    ):
        t.add(
            name,
            lambda chance, judged: number_or(np.where(judged > 0, chance, np.nan), NOT_JUDGED),
            sums[column],
            "judged_switch",
            label=label,
        )
    t.copy("spread_word", sums["spread_word"], label="What the spread rests on")


def _shown(t: Table, option: OptionTables, terms: Table) -> None:
    """The measures in a form to be read: where one does not exist there is no number, and the words say why."""
    found, outlay, judged = option.measures, option.purchase["outlay_cur"], t["judged_switch"]
    for kind in ("simple", "discounted"):
        source = (found[f"{kind}_payback_years"], outlay, terms["study_years"], judged)
        t.add(f"{kind}_shown_years", _payback_or_words, *source, label=f"{kind.capitalize()} payback")
    worth = (found["net_present_value_cur"], judged)
    t.add("worth_shown_cur", _if_judged, *worth, label="Net present value")
    rate = (found["internal_rate_share"], found["flows_sum_cur"], outlay, judged)
    t.add("rate_shown_share", _rate_or_words, *rate, label="Internal rate of return")
    for name, column, words in (
        ("modified_shown_share", "modified_internal_rate_share", "no flow out, or none in"),
        ("ratio_shown_ratio", "savings_to_investment_ratio", "nothing invested"),
        ("adjusted_shown_share", "adjusted_internal_rate_share", "no savings on an investment"),
    ):
        label = found.columns[column].label
        t.add(name, lambda value, on, words=words: _or_words(value, on, words), found[column], judged, label=label)
    _turning(t, option, judged)


def _turning(t: Table, option: OptionTables, judged: Ref) -> None:
    """Break-even points that somebody could reach: parts that the machines can make, a wage and a price that exist."""
    turning = option.worth.break_even
    hours = [item for one in option.machines for item in (one.year["busy_h_per_year"], one.year["usable_h_per_year"])]
    t.add(
        "most_parts_count",
        _most_parts,
        option.year["quantity_count"],
        *hours,
        label="Parts a year that fit into the hours",
    )
    for column in ("quantity_count", "wage_cur_per_h", "energy_price_cur_per_kwh"):
        source = turning[f"break_even_{column}"]
        usual = ARGUMENTS[column].usual if column in ARGUMENTS else None
        most: Ref | float = t["most_parts_count"] if usual is None or column == "quantity_count" else usual[1]
        label = turning.columns[f"break_even_{column}"].label
        t.add(f"shown_{column}", _within_reach, source, most, judged, label=label)


def _most_parts(quantity: Any, *hours: Any) -> Any:
    times: Any = 1000.0
    for busy, usable in zip(hours[::2], hours[1::2], strict=True):
        times = np.minimum(times, np.where(busy > 0, usable / np.where(busy > 0, busy, 1.0), 1000.0))
    return quantity * times


def _within_reach(value: Any, most: Any, judged: Any) -> Any:
    return _or_words(np.where(value <= most, value, np.nan), judged, "no break-even")


def _or_words(value: Any, judged: Any, words: Any) -> Any:
    return number_or(np.where(judged > 0, value, np.nan), np.where(judged > 0, words, NOT_JUDGED))


def _if_judged(value: Any, judged: Any) -> Any:
    return _or_words(value, judged, "no result")


def _payback_or_words(years: Any, outlay: Any, study: Any, judged: Any) -> Any:
    longer = joined("longer than ", said(study), " years")
    return _or_words(years, judged, np.where(outlay > 0, longer, "nothing to pay back"))


def _rate_or_words(rate: Any, total: Any, outlay: Any, judged: Any) -> Any:
    why = np.where(total > 0, "several rates fit", "none above 0 %")
    return _or_words(np.where(total > 0, rate, np.nan), judged, np.where(outlay > 0, why, "no outlay"))
