"""From cost to price. Margin is a share of the price, mark-up a share of the cost: two words, two functions."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("margin-and-markup")
def price_from_margin_cur(unit_cost_cur: Any, margin_share: Any) -> Any:
    """Price that leaves a wanted margin: profit as a share of the price.

    Arguments: unit_cost_cur [currency], margin_share [share] of the price.
    Returns: [currency].
    Holds: a margin of 0.2 asks for a price of 1.25 times the cost; see price_from_markup_cur for the other word.
    Sources: margin-and-markup.

    >>> price_from_margin_cur(52, 0.2)
    65.0
    """
    return unit_cost_cur / (1 - margin_share)


@function("margin-and-markup")
def price_from_markup_cur(unit_cost_cur: Any, markup_share: Any) -> Any:
    """Price from a mark-up: profit as a share of the cost.

    Arguments: unit_cost_cur [currency], markup_share [share] of the cost.
    Returns: [currency].
    Holds: a mark-up of 0.2 leaves a margin of a sixth; see price_from_margin_cur for the other word.
    Sources: margin-and-markup.

    >>> round(price_from_markup_cur(13225, 0.12), 6)
    14812.0
    """
    return unit_cost_cur * (1 + markup_share)


@function("margin-and-markup", domain="a margin needs a price above zero")
def margin_of_price_share(price_cur: Any, unit_cost_cur: Any) -> Any:
    """Margin that a price leaves: profit as a share of the price.

    Arguments: price_cur [currency], unit_cost_cur [currency].
    Returns: [share] of the price; negative where the price is below the cost.
    Holds: cost with all overhead that the shop wants to see covered.
    Sources: margin-and-markup.

    >>> margin_of_price_share(65, 52)
    0.2
    """
    return (price_cur - unit_cost_cur) / price_cur


@function("margin-and-markup", domain="a mark-up needs a cost above zero")
def markup_of_cost_share(price_cur: Any, unit_cost_cur: Any) -> Any:
    """Mark-up that a price holds: profit as a share of the cost.

    Arguments: price_cur [currency], unit_cost_cur [currency].
    Returns: [share] of the cost; negative where the price is below the cost.
    Holds: cost with all overhead that the shop wants to see covered.
    Sources: margin-and-markup.

    >>> markup_of_cost_share(65, 52)
    0.25
    """
    return (price_cur - unit_cost_cur) / unit_cost_cur


@function("quote-practice")
def price_with_minimum_order_cur(price_cur: Any, lot_size_count: Any, minimum_order_cur: Any) -> Any:
    """Price of one part, raised where the lot would come to less than the minimum order.

    Arguments: price_cur [currency], lot_size_count [count], minimum_order_cur [currency] for the whole lot (0 for none).
    Returns: [currency].
    Holds: one part number is one order; several in one order may reach the minimum together.
    Sources: quote-practice.

    >>> price_with_minimum_order_cur(3.5, 10, 50), price_with_minimum_order_cur(3.5, 100, 50)
    (5.0, 3.5)
    """
    return np.maximum(price_cur, minimum_order_cur / lot_size_count)


@function("quote-practice")
def rounded_up_price_cur(price_cur: Any, price_step_cur: Any) -> Any:
    """Price rounded up to the next step, so that rounding never eats the margin.

    Arguments: price_cur [currency], price_step_cur [currency].
    Returns: [currency].
    Holds: a price within a billionth of a step stays on it (binary fractions do not hit steps of 0.01 exactly).
    Sources: quote-practice.

    >>> round(rounded_up_price_cur(3.1415, 0.05), 2), round(rounded_up_price_cur(3.15, 0.05), 2)
    (3.15, 3.15)
    """
    return np.ceil(price_cur / price_step_cur - 1e-9) * price_step_cur
