"""What a part costs: labour, machine, material, set-up share, and their sum with every part visible."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("cost-build-up")
def labour_rate_cur_per_h(wage_cur_per_h: Any, burden_share: Any) -> Any:
    """What an hour of one person costs the shop: the wage and what the employer pays on top.

    Arguments: wage_cur_per_h [currency/h], burden_share [share] of the wage.
    Returns: [currency/h].
    Holds: paid hours; absence can be put into the burden.
    Sources: cost-build-up.

    >>> round(labour_rate_cur_per_h(24, 0.35), 2)
    32.4
    """
    return wage_cur_per_h * (1 + burden_share)


@function("cost-build-up")
def work_cost_cur(work_time_s: Any, crew_count: Any, labour_rate_cur_per_h: Any, machine_rate_cur_per_h: Any) -> Any:
    """Cost of a time at a machine: crew and machine together.

    Arguments: work_time_s [s], crew_count [count], labour_rate_cur_per_h [currency/h], machine_rate_cur_per_h [currency/h].
    Returns: [currency].
    Holds: the crew stays with the machine for the whole time.
    Sources: cost-build-up.

    >>> work_cost_cur(90, 1, 32.4, 12.6)
    1.125
    """
    return work_time_s / 3600 * (crew_count * labour_rate_cur_per_h + machine_rate_cur_per_h)


@function("cost-build-up")
def setup_cost_per_part_cur(
    setup_time_min: Any, labour_rate_cur_per_h: Any, machine_rate_cur_per_h: Any, lot_size_count: Any
) -> Any:
    """Share of a set-up that falls on one part of the lot.

    Arguments: setup_time_min [min], labour_rate_cur_per_h [currency/h], machine_rate_cur_per_h [currency/h], lot_size_count [count].
    Returns: [currency].
    Holds: one person sets up.
    Sources: cost-build-up.

    >>> setup_cost_per_part_cur(30, 32.4, 12.6, 50)
    0.45
    """
    return setup_time_min / 60 * (labour_rate_cur_per_h + machine_rate_cur_per_h) / lot_size_count


@function("cost-build-up")
def material_cost_cur(
    blank_mass_kg: Any, sheet_use_share: Any, material_price_cur_per_kg: Any, offcut_price_cur_per_kg: Any
) -> Any:
    """Material of one part from the gross sheet, less what the offcut brings.

    Arguments: blank_mass_kg [kg], sheet_use_share [share] of the sheet that becomes blanks, material_price_cur_per_kg [currency/kg], offcut_price_cur_per_kg [currency/kg].
    Returns: [currency].
    Holds: offcut sold by mass.
    Sources: cost-build-up.

    >>> round(material_cost_cur(8, 0.8, 1.2, 0.2), 2)
    11.6
    """
    gross = blank_mass_kg / sheet_use_share
    return gross * material_price_cur_per_kg - (gross - blank_mass_kg) * offcut_price_cur_per_kg


@function("cost-build-up", "lot-time")
def good_part_cost_cur(made_cost_cur: Any, scrap_share: Any) -> Any:
    """Cost of one good part when some of the parts made are scrap: scrap carries material, time and electricity too.

    Arguments: made_cost_cur [currency] of a part made, scrap_share [share] of parts made.
    Returns: [currency].
    Holds: scrap found after the last step; what it brings as offcut is left out.
    Sources: cost-build-up, lot-time.

    >>> good_part_cost_cur(9.5, 0.05)
    10.0
    """
    return made_cost_cur / (1 - scrap_share)


@function("cost-build-up")
def part_cost_cur(
    material_cost_cur: Any,
    shear_cost_cur: Any,
    brake_cost_cur: Any,
    setup_cost_cur: Any,
    energy_cost_cur: Any,
    scrap_share: Any,
) -> Any:
    """Cost of one good part: material, shear and brake with scrap, set-up share, electricity.

    Arguments: material_cost_cur [currency], shear_cost_cur [currency], brake_cost_cur [currency], setup_cost_cur [currency], energy_cost_cur [currency], scrap_share [share] of parts made.
    Returns: [currency].
    Holds: set-up share and electricity are stated per good part, scrap counted in them; material and run cost per part made.
    Sources: cost-build-up.

    >>> part_cost_cur(11.6, 0.5, 2, 0.45, 0.05, 0)
    14.6
    """
    made = material_cost_cur + shear_cost_cur + brake_cost_cur
    return good_part_cost_cur.formula(made, scrap_share) + setup_cost_cur + energy_cost_cur


@function("overtime")
def overtime_cost_cur_per_year(
    labour_cost_cur_per_year: Any,
    busy_h_per_year: Any,
    usable_h_per_year: Any,
    extra_h_per_year: Any,
    extra_wage_share: Any,
) -> Any:
    """Extra pay of a year for the hours that pass a machine's usual ones and are worked as overtime or in another shift.

    Arguments: labour_cost_cur_per_year [currency/year] at the usual wage, busy_h_per_year [h/year], usable_h_per_year [h/year], extra_h_per_year [h/year] that can be worked beyond them, extra_wage_share [share] of the wage.
    Returns: [currency/year].
    Holds: people are spread over the year as the machine's hours are; hours beyond the extra ones are not paid, for they do not exist.
    Sources: overtime.

    >>> overtime_cost_cur_per_year(60000, 2000, 1800, 500, 0.25), overtime_cost_cur_per_year(60000, 1500, 1800, 500, 0.25)
    (1500.0, 0.0)
    """
    beyond = np.minimum(np.maximum(busy_h_per_year - usable_h_per_year, 0.0), extra_h_per_year)
    busy = np.where(busy_h_per_year > 0, busy_h_per_year, 1.0)
    return labour_cost_cur_per_year * beyond / busy * extra_wage_share
