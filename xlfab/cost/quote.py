"""The lines of a quote beside material, shear and press brake, what the whole lot pays once, and where two routes break even."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("cost-build-up")
def work_centre_cost_cur(
    setup_time_min: Any, part_time_s: Any, work_centre_rate_cur_per_h: Any, lot_size_count: Any
) -> Any:
    """Cost of one part at a further work centre that is charged by the hour.

    Arguments: setup_time_min [min] of the lot, part_time_s [s], work_centre_rate_cur_per_h [currency/h] with people and machine, lot_size_count [count].
    Returns: [currency].
    Holds: one rate for set-up and run.
    Sources: cost-build-up.

    >>> work_centre_cost_cur(30, 90, 60, 100)
    1.8
    """
    return work_centre_rate_cur_per_h * (setup_time_min / 60 / lot_size_count + part_time_s / 3600)


@function("cost-build-up")
def outside_work_cost_cur(outside_price_cur: Any, outside_lot_charge_cur: Any, lot_size_count: Any) -> Any:
    """Cost of work done by another shop on one part: its price, and no less than its charge for a lot.

    Arguments: outside_price_cur [currency] a part, outside_lot_charge_cur [currency] least charge for the lot (0 for none), lot_size_count [count].
    Returns: [currency].
    Holds: the lot goes out at once.
    Sources: cost-build-up.

    >>> outside_work_cost_cur(0.8, 60, 50), outside_work_cost_cur(0.8, 60, 100)
    (1.2, 0.8)
    """
    return np.maximum(outside_price_cur, outside_lot_charge_cur / lot_size_count)


@function("cost-build-up")
def bought_in_cost_cur(bought_in_price_cur: Any, pieces_per_part_count: Any, bought_in_overhead_share: Any) -> Any:
    """Cost of bought-in pieces in one part, with what it takes to order, receive and store them.

    Arguments: bought_in_price_cur [currency] a piece, pieces_per_part_count [count], bought_in_overhead_share [share] of the price.
    Returns: [currency].
    Holds: price at the quantity that will be bought.
    Sources: cost-build-up.

    >>> bought_in_cost_cur(0.2, 4, 0.25)
    1.0
    """
    return bought_in_price_cur * pieces_per_part_count * (1 + bought_in_overhead_share)


@function("cost-build-up")
def packing_cost_cur(package_price_cur: Any, parts_per_package_count: Any, lot_size_count: Any) -> Any:
    """Packing of one part: whole packages for the lot, spread over its parts.

    Arguments: package_price_cur [currency] filled and closed, parts_per_package_count [count], lot_size_count [count].
    Returns: [currency].
    Holds: the last package may be partly filled and costs as much.
    Sources: cost-build-up.

    >>> packing_cost_cur(8, 40, 100)
    0.24
    """
    return np.ceil(lot_size_count / parts_per_package_count) * package_price_cur / lot_size_count


@function("cost-build-up")
def tool_cost_cur(tool_price_cur: Any, tool_salvage_cur: Any, tool_life_count: Any) -> Any:
    """Special tooling of one part: what the tool loses, over the parts that it lasts or that will be ordered.

    Arguments: tool_price_cur [currency], tool_salvage_cur [currency], tool_life_count [count] parts.
    Returns: [currency].
    Holds: the parts really come; if the customer pays the tool, leave it out here.
    Sources: cost-build-up.

    >>> tool_cost_cur(900, 100, 10000)
    0.08
    """
    return (tool_price_cur - tool_salvage_cur) / tool_life_count


@function("overhead-on-base")
def overhead_cur(overhead_base_cur: Any, overhead_share: Any) -> Any:
    """Overhead as a share of a stated base, kept as a line of its own.

    Arguments: overhead_base_cur [currency] (wages, or manufacturing cost), overhead_share [share] of the base.
    Returns: [currency].
    Holds: what the machine-hour rates hold already is not in the share again.
    Sources: overhead-on-base.

    >>> overhead_cur(11500, 0.15)
    1725.0
    """
    return overhead_base_cur * overhead_share


@function("lot-cost")
def unit_cost_at_lot_cur(run_cost_cur: Any, lot_cost_cur: Any, lot_size_count: Any, spread_switch: Any) -> Any:
    """Cost of one part at a lot size: what each part costs, with the cost of the lot spread over it or left to be shown.

    Arguments: run_cost_cur [currency] each part, lot_cost_cur [currency] once a lot, lot_size_count [count], spread_switch [0 or 1].
    Returns: [currency].
    Holds: run cost does not fall with the lot (no learning, no better material price).
    Sources: lot-cost.

    >>> unit_cost_at_lot_cur(2, 50, 100, 1), unit_cost_at_lot_cur(2, 50, 100, 0)
    (2.5, 2.0)
    """
    return run_cost_cur + spread_switch * lot_cost_cur / lot_size_count


@function("lot-cost")
def shown_lot_cost_cur(lot_cost_cur: Any, spread_switch: Any) -> Any:
    """Cost of the lot that stands on the quote as its own line: all of it where it is not spread over the parts.

    Arguments: lot_cost_cur [currency] once a lot, spread_switch [0 or 1].
    Returns: [currency].
    Holds: it is never in both places.
    Sources: lot-cost.

    >>> shown_lot_cost_cur(50, 1), shown_lot_cost_cur(50, 0)
    (0.0, 50.0)
    """
    return lot_cost_cur * (1 - spread_switch)


@function("break-even-quantity", domain="no lot size above zero at which the two routes cost the same")
def break_even_lot_count(lot_cost_cur: Any, run_cost_cur: Any, other_lot_cost_cur: Any, other_run_cost_cur: Any) -> Any:
    """Lot size at which two machines or routes cost the same: above it the one with the dearer set-up and cheaper run wins.

    Arguments: lot_cost_cur [currency] once a lot, run_cost_cur [currency] each part, other_lot_cost_cur [currency], other_run_cost_cur [currency].
    Returns: [count], not rounded.
    Holds: both routes make the same part; no result where one route is never dearer.
    Sources: break-even-quantity.

    >>> break_even_lot_count(20, 3, 80, 2)
    60.0
    """
    saving = run_cost_cur - other_run_cost_cur
    lot = (other_lot_cost_cur - lot_cost_cur) / saving
    return np.where(lot > 0, lot, np.nan)


@function("break-even-quantity")
def same_cost_lot_count(lot_cost_cur: Any, run_cost_cur: Any, other_lot_cost_cur: Any, other_run_cost_cur: Any) -> Any:
    """Lot size at which two machines or routes cost the same; 0 where one is always cheaper.

    Arguments: lot_cost_cur [currency] once a lot, run_cost_cur [currency] each part, other_lot_cost_cur [currency], other_run_cost_cur [currency].
    Returns: [count], not rounded; 0 where one route is never dearer.
    Holds: both routes make the same part.
    Sources: break-even-quantity.

    >>> same_cost_lot_count(20, 3, 80, 2), same_cost_lot_count(20, 2, 80, 3)
    (60.0, 0.0)
    """
    crosses = (other_lot_cost_cur - lot_cost_cur) * (run_cost_cur - other_run_cost_cur) > 0
    saving = np.where(crosses, run_cost_cur - other_run_cost_cur, 1.0)
    return np.where(crosses, (other_lot_cost_cur - lot_cost_cur) / saving, 0.0)
