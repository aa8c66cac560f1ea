"""Many random values of all open assumptions at once: how the answer spreads, and how sure that is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.assumption_swings import YEARS, doubts_of, model_of
from xlfab.core.arrays import Numbers
from xlfab.investment.risk import GROUPS, Spread, chance, monte_carlo, spread

FEW = 400  # draws of a plain comparison: enough for a first word; `xlfab risk` takes more
SEED = 1
_AT_ONCE = 320_000  # steps estimated at once: few enough for the memory, many enough to be quick


@dataclass(frozen=True)
class OptionRisk:
    """How saving, net present value and payback of an option spread, and how often it pays."""

    saving: Spread
    worth: Spread
    payback: Spread
    gain: tuple[float, float]  # share of draws with a net present value above zero, and its standard error
    in_time: tuple[float, float]  # share of draws with the payback inside the target, and its standard error
    worths: Numbers
    drawn: dict[str, Numbers]  # all that was drawn of this option, by name without its number


@dataclass(frozen=True)
class Risk:
    """The draws of a scenario: how many, from which seed, and what each option but the first makes of them."""

    draws: int
    seed: int
    options: dict[int, OptionRisk]


def batch_of(scenario: Any) -> int:
    """How many draws are estimated at once."""
    steps = len(scenario.bends["part"]) + len(scenario.cuts["part"]) + len(scenario.parts["part"])
    return int(np.clip(_AT_ONCE // max(steps, 1), GROUPS, 2000))


def few_draws(scenario: Any) -> int:
    """The draws of a plain comparison: fewer where each takes long."""
    return max(5 * GROUPS, min(FEW, batch_of(scenario)))


def risk_of(scenario: Any, draws: int, seed: int = SEED, progress: Callable[[int], None] = lambda done: None) -> Risk:
    """Draw, estimate and sum up."""
    doubts, model = doubts_of(scenario), model_of(scenario, whole=True)
    found = monte_carlo(model, doubts, draws, seed, batch=batch_of(scenario), progress=progress)
    options = {}
    for number in range(2, len(scenario.options) + 1):
        drawn = _of_option(found, number)
        worth = filled(drawn["worth"])
        in_time = chance(drawn["in_target_cur"] >= 0)
        spreads = (spread(drawn["saving"]), spread(worth), spread(drawn["payback"]))
        options[number] = OptionRisk(*spreads, chance(worth > 0), in_time, worth, drawn)
    return Risk(draws, seed, options)


def filled(drawn: Numbers) -> Numbers:
    """Draws without a number count as the middle of the others."""
    good = np.isfinite(drawn)
    return np.where(good, drawn, np.median(drawn[good]) if good.any() else 0.0)


def _of_option(found: dict[str, Numbers], number: int) -> dict[str, Numbers]:
    drawn = {name.removesuffix(f"_{number}"): array for name, array in found.items() if name.endswith(f"_{number}")}
    drawn = {name: array for name, array in drawn.items() if not name.startswith("out")}
    return drawn | {f"out_{year}": found[f"out_{number}_{year}"] for year in YEARS}
