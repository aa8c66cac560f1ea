"""What the money says of an option, in words: each case of outlay, saving and net present value has a sentence of its own."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.trace.expression import joined, said

PAYS, PAYS_NOT, NOBODY, SAME, NO_RESULT = "Pays", "Does not pay", "No winner", "No difference", "No result"


def worth_words(buys_too: bool, currency: str, digits: int) -> Any:
    """The sentence as a function of the figures; `buys_too`: the first option buys a machine as well; `digits` of money shown."""
    investment = "extra investment" if buys_too else "investment"

    def money(value: Any) -> Any:
        return joined(said(np.abs(value), digits), f" {currency}")

    def words(outlay: Any, saving: Any, worth: Any, doubt: Any, *rest: Any) -> Any:
        chance, payback, target, study, differs = rest
        costs = _dearer(investment, money, outlay, saving, worth, payback, target, study)
        even = _as_dear(money, saving, worth)
        less = _cheaper(money, outlay, saving, worth)
        sure = np.where(outlay > 0, costs, np.where(outlay < 0, less, even))
        sign = np.where(worth < 0, "-", "")
        odds = joined("the chance that it pays is ", said(chance * 100), " %")
        value = joined("net present value ", sign, money(worth), " ± ", money(doubt))
        against = np.where(chance <= 0.1, " Most unknowns lean against it.", "")
        lean = np.where(chance >= 0.9, " Most unknowns lean its way.", against)
        unsure = joined(f"{NOBODY}: ", odds, ", ", value, np.where(outlay > 0, ".", ". Nothing to pay back."), lean)
        judged = np.where(np.abs(worth) > doubt, sure, unsure)
        judged = np.where(differs > 0, judged, f"{SAME}: the same cost, and nothing to pay back.")
        return np.where(
            np.isfinite(worth), judged, f"{NO_RESULT}: a figure of this option is outside what the formulas hold for."
        )

    return words


def _dearer(
    investment: str, money: Any, outlay: Any, saving: Any, worth: Any, payback: Any, target: Any, study: Any
) -> Any:
    """An option that costs more at the start."""
    back, wanted, years = said(payback, 1), said(target, 1), joined(said(study), " years")
    in_time = joined(f"{PAYS}: the {investment} is back after ", back, " years; ", wanted, " are wanted.")
    late = joined(
        f"{PAYS}, but later than wanted: the {investment} is back after ", back, " years; ", wanted, " are wanted."
    )
    found = np.where(payback <= target, in_time, late)
    at_the_end = "only with what the machines are worth at the end"
    slow = joined(f"{PAYS}, but {at_the_end}: the savings alone are not back within the study of ", years, ".")
    nothing = f"{PAYS}, but {at_the_end}: it saves nothing a year."
    pays = np.where(saving > 0, np.where(np.isfinite(payback), found, slow), nothing)
    takes = joined("at ", money(saving), " a year the ", f"{investment} of ", money(outlay))
    too_late = joined(f"{PAYS_NOT}: ", takes, " is back after ", back, " years, but not with interest.")
    never = joined(
        f"{PAYS_NOT} within the study of ", years, ": ", takes, " takes ", _level_years(outlay, saving), " years."
    )
    loses = joined(f"{PAYS_NOT}: dearer to buy, and ", money(saving), " a year dearer to run.")
    none = joined(f"{PAYS_NOT}: it saves nothing a year, and the {investment} is ", money(outlay), ".")
    not_back = np.where(np.isfinite(payback), too_late, never)
    pays_not = np.where(saving > 0, not_back, np.where(saving < 0, loses, none))
    return np.where(worth > 0, pays, pays_not)


def _level_years(outlay: Any, saving: Any) -> Any:
    """Years at the first year's saving; above 99 nobody waits."""
    years = outlay / np.where(saving > 0, saving, 1.0)
    return np.where(years > 99, "more than 99", said(years, 1))


def _as_dear(money: Any, saving: Any, worth: Any) -> Any:
    """An option that costs the same at the start."""
    pays = np.where(
        saving > 0,
        joined(f"{PAYS}: ", money(saving), " a year cheaper to run, and nothing to pay back."),
        f"{PAYS}: its machines are worth more at the end, and there is nothing to pay back.",
    )
    pays_not = np.where(
        saving < 0,
        joined(f"{PAYS_NOT}: no cheaper to buy, and ", money(saving), " a year dearer to run."),
        f"{PAYS_NOT}: no cheaper to buy or run, and its machines are worth less at the end.",
    )
    return np.where(worth > 0, pays, pays_not)


def _cheaper(money: Any, outlay: Any, saving: Any, worth: Any) -> Any:
    """An option that costs less at the start, or brings money in."""
    run = np.where(saving > 0, joined(money(saving), " a year cheaper to run"), "the same cost to run")
    both = joined(f"{PAYS}: ", money(outlay), " less at the start, and ", run, ". Nothing to pay back.")
    though = joined(
        f"{PAYS}: ",
        money(saving),
        " a year dearer to run, but ",
        money(outlay),
        " less at the start is worth more. Nothing to pay back.",
    )
    pays = np.where(saving >= 0, both, though)
    dear = joined(
        f"{PAYS_NOT}: ",
        money(outlay),
        " less at the start, but ",
        money(saving),
        " a year dearer to run takes more away.",
    )
    end = joined(f"{PAYS_NOT}: ", money(outlay), " less at the start, but its machines are worth less at the end.")
    return np.where(worth > 0, pays, np.where(saving < 0, dear, end))
