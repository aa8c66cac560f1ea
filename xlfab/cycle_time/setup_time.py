"""Set-up of press brake and shear."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("setup-judgement")
def press_brake_setup_time_min(
    first_setup_min: Any, further_station_min: Any, tool_stations_count: Any, try_out_min: Any, bends_count: Any
) -> Any:
    """Set-up of a press brake for a lot: first tools, each further station, a try-out for each bend.

    Arguments: first_setup_min [min], further_station_min [min], tool_stations_count [count], try_out_min [min] a bend, bends_count [count].
    Returns: [min].
    Holds: judgement until timed in your own shop.
    Sources: setup-judgement.

    >>> press_brake_setup_time_min(12, 4, 3, 1, 5)
    25.0
    """
    return first_setup_min + further_station_min * (tool_stations_count - 1) + try_out_min * bends_count


@function("setup-judgement")
def shear_setup_time_min(shear_setup_min: Any, gauge_setting_min: Any, cut_lines_count: Any) -> Any:
    """Set-up of a shear for a lot: blade gap and first gauge position, then a setting for each further cut line.

    Arguments: shear_setup_min [min], gauge_setting_min [min] a further line, cut_lines_count [count].
    Returns: [min].
    Holds: judgement until timed in your own shop.
    Sources: setup-judgement.

    >>> shear_setup_time_min(3, 0.5, 3)
    4.0
    """
    return shear_setup_min + gauge_setting_min * (cut_lines_count - 1)


@function("setup-judgement", "walking")
def fetch_time_min(walk_distance_m: Any, walking_speed_m_s: Any, trips_count: Any, search_time_s: Any) -> Any:
    """Time to fetch tools and put them away: there and back on each trip, and the search at the rack.

    Arguments: walk_distance_m [m] one way, walking_speed_m_s [m/s], trips_count [count] fetching and putting away together, search_time_s [s] a trip.
    Returns: [min].
    Holds: one person.
    Sources: setup-judgement, walking.

    >>> fetch_time_min(12, 0.8, 4, 30)
    4.0
    """
    return trips_count * (2 * walk_distance_m / walking_speed_m_s + search_time_s) / 60


@function("setup-judgement")
def program_time_min(program_call_min: Any, program_entry_min: Any, stored_program_switch: Any) -> Any:
    """Time until the control is ready: a stored program is called, a new one is entered.

    Arguments: program_call_min [min], program_entry_min [min], stored_program_switch [0 or 1] if the program is stored.
    Returns: [min].
    Holds: entry at the machine, which waits for it.
    Sources: setup-judgement.

    >>> program_time_min(1, 8, 1), program_time_min(1, 8, 0)
    (1.0, 8.0)
    """
    return np.where(stored_program_switch > 0, program_call_min, program_entry_min)


@function("setup-judgement")
def blade_change_time_min(
    gap_change_min: Any, gap_change_switch: Any, rake_change_min: Any, rake_change_switch: Any
) -> Any:
    """Time to set a shear's blade gap and rake for another thickness or material.

    Arguments: gap_change_min [min], gap_change_switch [0 or 1] if the gap changes, rake_change_min [min], rake_change_switch [0 or 1] if the rake changes.
    Returns: [min].
    Holds: one after the other.
    Sources: setup-judgement.

    >>> blade_change_time_min(2, 1, 1, 0)
    2.0
    """
    return gap_change_min * gap_change_switch + rake_change_min * rake_change_switch


@function("setup-judgement")
def try_out_parts_count(try_out_per_bend_count: Any, bends_count: Any) -> Any:
    """Parts that the try-out of a set-up uses up.

    Arguments: try_out_per_bend_count [count] parts a bend, bends_count [count].
    Returns: [count]; a mean, so it need not be whole.
    Holds: try-out parts are scrap.
    Sources: setup-judgement.

    >>> try_out_parts_count(0.5, 4)
    2.0
    """
    return try_out_per_bend_count * bends_count


@function("setup-family")
def family_setup_time_min(setup_time_min: Any, shared_setup_share: Any, family_lots_count: Any) -> Any:
    """Mean set-up of a lot in a family of parts that are run one after the other with shared tools.

    Arguments: setup_time_min [min] alone, shared_setup_share [share] of it that the next part of the family need not repeat, family_lots_count [count] lots in a row.
    Returns: [min].
    Holds: the first lot pays in full, each further one what is not shared.
    Sources: setup-family.

    >>> round(family_setup_time_min(30, 0.6, 3), 6)
    18.0
    """
    return setup_time_min * (1 - shared_setup_share * (family_lots_count - 1) / family_lots_count)
