"""What the operator does: handling by size and mass, and how many people it takes."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.registry import function


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
