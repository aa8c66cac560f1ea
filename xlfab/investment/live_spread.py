"""The spread of a result that was drawn once, moved on when the inputs change: wider or narrower with what it comes from.

A result is a sum of causes (labour, electricity, upkeep, capital). The draws say how much of its variance comes from each. When a
cause grows, so does its part of the spread: to first order, by the same factor.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("first-order-variance")
def spread_scale_ratio(
    labour_variance_share: Any,
    energy_variance_share: Any,
    upkeep_variance_share: Any,
    capital_variance_share: Any,
    labour_scale_ratio: Any,
    energy_scale_ratio: Any,
    upkeep_scale_ratio: Any,
    capital_scale_ratio: Any,
) -> Any:
    """How much wider a spread is once its causes have grown, each cause with its share of the variance.

    Arguments: labour_variance_share [share], energy_variance_share [share], upkeep_variance_share [share], capital_variance_share [share] of the variance as drawn, adding up to 1; labour_scale_ratio [ratio], energy_scale_ratio [ratio], upkeep_scale_ratio [ratio], capital_scale_ratio [ratio] of each cause to what it was when drawn.
    Returns: [ratio].
    Holds: to first order: each cause's spread grows with the cause; causes that move together are counted with the one that moves.
    Sources: first-order-variance.

    >>> spread_scale_ratio(0.5, 0.2, 0.1, 0.2, 2, 2, 2, 2), round(spread_scale_ratio(0.64, 0, 0, 0.36, 0, 1, 1, 1), 6)
    (2.0, 0.6)
    """
    variance = (
        labour_variance_share * labour_scale_ratio**2
        + energy_variance_share * energy_scale_ratio**2
        + upkeep_variance_share * upkeep_scale_ratio**2
        + capital_variance_share * capital_scale_ratio**2
    )
    return np.sqrt(np.maximum(variance, 0.0))


@function("definition")
def above_zero_share(lower_end_cur: Any, upper_end_cur: Any) -> Any:
    """Share of a stretch of values, spread evenly from its lower to its upper end, that lies above zero.

    Arguments: lower_end_cur [currency], upper_end_cur [currency] not below it.
    Returns: [share].
    Holds: between two neighbouring quantiles of a result, so that the shares of all stretches add up to a chance.
    Sources: definition.

    >>> above_zero_share(-100, 300), above_zero_share(5, 9), above_zero_share(0, 0)
    (0.75, 1.0, 0.0)
    """
    width = np.where(upper_end_cur > lower_end_cur, upper_end_cur - lower_end_cur, 1.0)
    part = np.where(lower_end_cur < 0, upper_end_cur / width, 1.0)
    return np.where(upper_end_cur > 0, part, 0.0)
