"""Maintenance line by line: oil, wear parts, blades. Use it or the yearly share of the price, never both."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function
from xlfab.cost.machine_rate import edge_tool_cost_cur_per_h


@function("maintenance-lines")
def oil_cost_cur_per_year(
    oil_volume_l: Any, oil_price_cur_per_l: Any, oil_disposal_cur_per_l: Any, oil_interval_h: Any, run_h_per_year: Any
) -> Any:
    """Yearly cost of hydraulic oil: filling, buying and disposal, by running hours.

    Arguments: oil_volume_l [l], oil_price_cur_per_l [currency/l], oil_disposal_cur_per_l [currency/l], oil_interval_h [h] between changes, run_h_per_year [h/year].
    Returns: [currency/year].
    Holds: changes by hours; where oil is changed by its condition, give the mean interval.
    Sources: maintenance-lines.

    >>> oil_cost_cur_per_year(200, 4, 0.5, 4000, 2000)
    450.0
    """
    return oil_volume_l * (oil_price_cur_per_l + oil_disposal_cur_per_l) * run_h_per_year / oil_interval_h


@function("maintenance-lines")
def wear_part_cost_cur_per_year(
    wear_part_cur: Any, fitting_time_h: Any, labour_rate_cur_per_h: Any, wear_interval_h: Any, run_h_per_year: Any
) -> Any:
    """Yearly cost of a wear part and of fitting it: filters, seals, belts, screws, springs.

    Arguments: wear_part_cur [currency] a set, fitting_time_h [h], labour_rate_cur_per_h [currency/h], wear_interval_h [h] between changes, run_h_per_year [h/year].
    Returns: [currency/year].
    Holds: changed by running hours; what the machine would earn while it stands is not in it.
    Sources: maintenance-lines.

    >>> wear_part_cost_cur_per_year(120, 1, 30, 1500, 3000)
    300.0
    """
    return (wear_part_cur + fitting_time_h * labour_rate_cur_per_h) * run_h_per_year / wear_interval_h


@function("maintenance-lines")
def blade_cost_cur_per_year(
    tool_price_cur: Any, regrinds_count: Any, regrind_price_cur: Any, edge_strokes_count: Any, strokes_per_year: Any
) -> Any:
    """Yearly cost of shear blades, by strokes: bought once, ground or turned several times.

    Arguments: tool_price_cur [currency] of a set, regrinds_count [count] grinding or turning of a set, regrind_price_cur [currency] each with setting, edge_strokes_count [count] between two, strokes_per_year [1/year].
    Returns: [currency/year].
    Holds: the set serves one interval more than it is ground or turned.
    Sources: maintenance-lines.

    >>> blade_cost_cur_per_year(1000, 3, 200, 50000, 100000)
    800.0
    """
    per_stroke = edge_tool_cost_cur_per_h.formula(tool_price_cur, regrinds_count, regrind_price_cur, edge_strokes_count)
    return per_stroke * strokes_per_year  # the same cost of an edge, by strokes in place of hours


@function("maintenance-lines")
def blade_cost_cur(
    tool_price_cur: Any,
    regrinds_count: Any,
    regrind_price_cur: Any,
    edge_strokes_count: Any,
    strokes_count: Any,
    itemised_switch: Any,
) -> Any:
    """Cost of shear blades in a part, by its strokes; nothing where maintenance is a share of the price.

    Arguments: tool_price_cur [currency] of a set, regrinds_count [count] grinding or turning of a set, regrind_price_cur [currency] each with setting, edge_strokes_count [count] between two, strokes_count [count] of the part, itemised_switch [0 or 1].
    Returns: [currency].
    Holds: the set serves one interval more than it is ground or turned; a share of the price holds the blades.
    Sources: maintenance-lines.

    >>> blade_cost_cur(1000, 3, 200, 50000, 4, 1), blade_cost_cur(1000, 3, 200, 50000, 4, 0)
    (0.032, 0.0)
    """
    per_stroke = edge_tool_cost_cur_per_h.formula(tool_price_cur, regrinds_count, regrind_price_cur, edge_strokes_count)
    return np.where(itemised_switch > 0.5, per_stroke * strokes_count, 0.0)


@function("maintenance-lines")
def itemised_maintenance_cur_per_year(
    oil_cost_cur_per_year: Any,
    wear_parts_cost_cur_per_year: Any,
    blade_cost_cur_per_year: Any,
    service_cost_cur_per_year: Any,
) -> Any:
    """Yearly maintenance as the sum of its lines.

    Arguments: oil_cost_cur_per_year [currency/year], wear_parts_cost_cur_per_year [currency/year], blade_cost_cur_per_year [currency/year], service_cost_cur_per_year [currency/year] inspection and repair.
    Returns: [currency/year].
    Holds: no line is counted in another.
    Sources: maintenance-lines.

    >>> itemised_maintenance_cur_per_year(450, 300, 0, 1200)
    1950.0
    """
    return oil_cost_cur_per_year + wear_parts_cost_cur_per_year + blade_cost_cur_per_year + service_cost_cur_per_year


@function("maintenance-lines")
def chosen_maintenance_cur_per_year(
    maintenance_cost_cur_per_year: Any, itemised_cost_cur_per_year: Any, itemised_switch: Any
) -> Any:
    """Yearly maintenance by one way of counting: the share of the price, or the lines. Never the sum of both.

    Arguments: maintenance_cost_cur_per_year [currency/year] by share, itemised_cost_cur_per_year [currency/year] by lines, itemised_switch [0 or 1].
    Returns: [currency/year].
    Holds: the same way for all machines that are compared.
    Sources: maintenance-lines.

    >>> chosen_maintenance_cur_per_year(3000, 1950, 0), chosen_maintenance_cur_per_year(3000, 1950, 1)
    (3000.0, 1950.0)
    """
    return np.where(itemised_switch > 0.5, itemised_cost_cur_per_year, maintenance_cost_cur_per_year)
