"""What the operator does: handling by size and mass, and how many people it takes."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("handling-judgement")
def handling_time_s(
    handling_base_s: Any,
    handling_size_s_per_m: Any,
    handling_mass_s_per_kg: Any,
    blank_length_mm: Any,
    blank_width_mm: Any,
    blank_mass_kg: Any,
) -> Any:
    """Time of one handling: a base, and slopes over length + width and over mass.

    Arguments: handling_base_s [s], handling_size_s_per_m [s/m], handling_mass_s_per_kg [s/kg], blank_length_mm [mm], blank_width_mm [mm], blank_mass_kg [kg].
    Returns: [s].
    Holds: judgement until fitted to your own stopwatch readings.
    Sources: handling-judgement.

    >>> handling_time_s(4, 2.5, 0.5, 300, 200, 1)
    5.75
    """
    size_m = (blank_length_mm + blank_width_mm) / 1000
    return handling_base_s + handling_size_s_per_m * size_m + handling_mass_s_per_kg * blank_mass_kg


@function("lifting-limit")
def crew_count(blank_mass_kg: Any, one_person_mass_kg: Any, blank_length_mm: Any, one_person_length_mm: Any) -> Any:
    """People needed to handle a blank: one, or two above a limit of mass or length.

    Arguments: blank_mass_kg [kg], one_person_mass_kg [kg], blank_length_mm [mm], one_person_length_mm [mm].
    Returns: [count].
    Holds: a planning rule, not a clearance to lift; have a competent person assess the job.
    Sources: lifting-limit.

    >>> crew_count(8, 15, 2500, 2000), crew_count(8, 15, 900, 2000)
    (2.0, 1.0)
    """
    heavy = blank_mass_kg > one_person_mass_kg
    return np.where(heavy | (blank_length_mm > one_person_length_mm), 2.0, 1.0)


@function("handling-judgement")
def crew_handling_time_s(handling_time_s: Any, crew_count: Any, second_person_s: Any) -> Any:
    """Time of a handling with the time that each further person costs in agreeing and waiting.

    Arguments: handling_time_s [s], crew_count [count], second_person_s [s] for each further person.
    Returns: [s].
    Holds: judgement until timed in your own shop.
    Sources: handling-judgement.

    >>> crew_handling_time_s(10, 2, 5)
    15.0
    """
    return handling_time_s + (crew_count - 1) * second_person_s


@function("handling-judgement")
def reposition_with_turn_s(reposition_time_s: Any, turn_over_switch: Any, turn_over_s: Any) -> Any:
    """Time to bring the part to its next bend, with turning it over where the bend asks for that.

    Arguments: reposition_time_s [s], turn_over_switch [0 or 1], turn_over_s [s].
    Returns: [s].
    Holds: judgement until timed in your own shop.
    Sources: handling-judgement.

    >>> reposition_with_turn_s(3, 1, 2.5), reposition_with_turn_s(3, 0, 2.5)
    (5.5, 3.0)
    """
    return reposition_time_s + turn_over_switch * turn_over_s


@function("lifting-limit")
def hoist_switch(blank_mass_kg: Any, two_person_mass_kg: Any) -> Any:
    """Whether a blank goes by hoist: 1 above the mass for two people.

    Arguments: blank_mass_kg [kg], two_person_mass_kg [kg].
    Returns: [0 or 1].
    Holds: a planning rule, not a clearance to lift; have a competent person assess the job.
    Sources: lifting-limit.

    >>> hoist_switch(60, 40), hoist_switch(30, 40)
    (1.0, 0.0)
    """
    return np.where(blank_mass_kg > two_person_mass_kg, 1.0, 0.0)


@function("handling-judgement")
def hoist_handling_time_s(handling_time_s: Any, hoist_switch: Any, hoist_time_s: Any) -> Any:
    """Time of a handling with the time of the hoist where one is used.

    Arguments: handling_time_s [s] of the people, hoist_switch [0 or 1], hoist_time_s [s] to attach, travel and release.
    Returns: [s].
    Holds: judgement until timed in your own shop.
    Sources: handling-judgement.

    >>> hoist_handling_time_s(10, 0, 60), hoist_handling_time_s(10, 1, 60)
    (10.0, 70.0)
    """
    return handling_time_s + hoist_switch * hoist_time_s


@function("handling-judgement")
def crew_with_hoist_count(crew_count: Any, hoist_switch: Any) -> Any:
    """People at the machine once a hoist takes the heavy blanks.

    Arguments: crew_count [count] without hoist, hoist_switch [0 or 1].
    Returns: [count].
    Holds: one person works the hoist.
    Sources: handling-judgement.

    >>> crew_with_hoist_count(2, 1), crew_with_hoist_count(2, 0)
    (1.0, 2.0)
    """
    return np.where(hoist_switch > 0, 1.0, crew_count)
