"""Machine-hour rate in the form of VDI 3258: standing cost of a year over its planned hours. Energy is counted elsewhere, once."""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function


@function("vdi-3258")
def straight_line_depreciation_cur_per_year(machine_price_cur: Any, salvage_cur: Any, life_years: Any) -> Any:
    """Straight-line depreciation of a machine.

    Arguments: machine_price_cur [currency] (replacement value), salvage_cur [currency], life_years [years].
    Returns: [currency/year].
    Holds: even use over the life.
    Sources: vdi-3258.

    >>> straight_line_depreciation_cur_per_year(120000, 0, 10)
    12000.0
    """
    return (machine_price_cur - salvage_cur) / life_years


@function("vdi-3258")
def mean_capital_interest_cur_per_year(machine_price_cur: Any, interest_rate_share: Any) -> Any:
    """Imputed interest on half the purchase price: the mean capital tied up.

    Arguments: machine_price_cur [currency], interest_rate_share [share] a year.
    Returns: [currency/year].
    Holds: straight-line depreciation to zero; other texts take half the replacement value.
    Sources: vdi-3258.

    >>> mean_capital_interest_cur_per_year(800000, 0.15)
    60000.0
    """
    return machine_price_cur / 2 * interest_rate_share


@function("vdi-3258")
def space_cost_cur_per_year(floor_area_m2: Any, space_price_cur_per_m2: Any) -> Any:
    """Yearly cost of the floor that a machine and its working place take.

    Arguments: floor_area_m2 [m²], space_price_cur_per_m2 [currency/m²] a year.
    Returns: [currency/year].
    Holds: price a year, not a month.
    Sources: vdi-3258.

    >>> space_cost_cur_per_year(20, 96)
    1920.0
    """
    return floor_area_m2 * space_price_cur_per_m2


@function("maintenance-share")
def maintenance_cost_cur_per_year(machine_price_cur: Any, maintenance_share: Any) -> Any:
    """Yearly maintenance as a share of the machine's price.

    Arguments: machine_price_cur [currency], maintenance_share [share] a year.
    Returns: [currency/year].
    Holds: use this or itemised lines, never both.
    Sources: maintenance-share.

    >>> maintenance_cost_cur_per_year(120000, 0.025)
    3000.0
    """
    return machine_price_cur * maintenance_share


@function("vdi-3258")
def machine_rate_cur_per_h(
    depreciation_cur_per_year: Any,
    interest_cur_per_year: Any,
    space_cost_cur_per_year: Any,
    maintenance_cost_cur_per_year: Any,
    planned_h_per_year: Any,
) -> Any:
    """Machine-hour rate without energy and without labour.

    K = (depreciation + interest + floor + upkeep) / planned hours. Depreciation is (price - salvage) / life; interest is taken on half
    the price, which straight-line depreciation ties up on average; floor is area times its price a year. Electricity follows the work
    and is counted apart, once. Source: the form of VDI 3258 sheet 1, as quoted by Haufe Controlling Office, ch. 5.

    Arguments: depreciation_cur_per_year [currency/year], interest_cur_per_year [currency/year], space_cost_cur_per_year [currency/year], maintenance_cost_cur_per_year [currency/year], planned_h_per_year [h/year].
    Returns: [currency/h].
    Holds: hours planned, not hours hoped for.
    Sources: vdi-3258.

    >>> machine_rate_cur_per_h(12000, 3600, 1920, 3000, 1600)
    12.825
    """
    standing = (
        depreciation_cur_per_year + interest_cur_per_year + space_cost_cur_per_year + maintenance_cost_cur_per_year
    )
    return standing / planned_h_per_year


@function("abwl-machine-rate")
def shift_plan_h_per_year(working_days_count: Any, shifts_count: Any, shift_h: Any, lost_time_share: Any) -> Any:
    """Hours a year in which a machine is planned to work, from days, shifts and lost time.

    Arguments: working_days_count [count] a year, shifts_count [count] a day, shift_h [h], lost_time_share [share] for upkeep, holidays and stoppages.
    Returns: [h/year].
    Holds: lost time as a share of the shift hours.
    Sources: abwl-machine-rate.

    >>> shift_plan_h_per_year(250, 2, 8, 0.1)
    3600.0
    """
    return working_days_count * shifts_count * shift_h * (1 - lost_time_share)


@function("abwl-machine-rate")
def replacement_value_cur(machine_price_cur: Any, index_then_ratio: Any, index_now_ratio: Any) -> Any:
    """What a machine would cost today: its price then, raised by a price index.

    Arguments: machine_price_cur [currency] paid then, index_then_ratio [ratio], index_now_ratio [ratio] of the same index.
    Returns: [currency].
    Holds: depreciation is reckoned on it, interest on half the price paid.
    Sources: abwl-machine-rate.

    >>> replacement_value_cur(800000, 110, 143)
    1040000.0
    """
    return machine_price_cur * index_now_ratio / index_then_ratio


@function("abwl-machine-rate")
def edge_tool_cost_cur_per_h(
    tool_price_cur: Any, regrinds_count: Any, regrind_price_cur: Any, regrind_interval_h: Any
) -> Any:
    """Cost an hour of a tool with a cutting edge (shear blades): bought once, ground or turned several times.

    Arguments: tool_price_cur [currency], regrinds_count [count], regrind_price_cur [currency] each, regrind_interval_h [h] of use between two.
    Returns: [currency/h].
    Holds: the tool serves one interval more than it is ground.
    Sources: abwl-machine-rate.

    >>> edge_tool_cost_cur_per_h(2000, 9, 100, 20)
    14.5
    """
    return (tool_price_cur + regrinds_count * regrind_price_cur) / (regrind_interval_h * (regrinds_count + 1))


@function("vdi-3258")
def work_centre_rate_cur_per_h(
    machine_rate_cur_per_h: Any,
    crew_count: Any,
    labour_rate_cur_per_h: Any,
    mean_power_kw: Any,
    energy_price_cur_per_kwh: Any,
) -> Any:
    """Cost of an hour at a work centre: machine, people and electricity.

    Arguments: machine_rate_cur_per_h [currency/h], crew_count [count], labour_rate_cur_per_h [currency/h], mean_power_kw [kW] while it works, energy_price_cur_per_kwh [currency/kWh].
    Returns: [currency/h].
    Holds: electricity is not in the machine-hour rate.
    Sources: vdi-3258.

    >>> work_centre_rate_cur_per_h(12, 1, 32, 5, 0.2)
    45.0
    """
    return machine_rate_cur_per_h + crew_count * labour_rate_cur_per_h + mean_power_kw * energy_price_cur_per_kwh
