"""Can it be done at all: each check is a margin. Zero or more is OK; below zero it says by how much it fails.

The machine's plate, the tools' rating and the manual always go before.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("beam-load")
def force_at_length_kn(rated_force_kn: Any, bend_length_mm: Any, full_force_length_mm: Any) -> Any:
    """Force that a press brake may give on a bend shorter than its full-load length.

    Arguments: rated_force_kn [kN], bend_length_mm [mm], full_force_length_mm [mm] over which the full force must be spread.
    Returns: [kN].
    Holds: centred load; proportional below the full-load length; take that length from the machine's manual.
    Sources: beam-load.

    >>> force_at_length_kn(1000, 450, 1800), force_at_length_kn(1000, 2500, 1800)
    (250.0, 1000.0)
    """
    return rated_force_kn * np.minimum(bend_length_mm / full_force_length_mm, 1.0)


@function("definition")
def force_margin_kn(allowed_force_kn: Any, needed_force_kn: Any) -> Any:
    """Force that is left: allowed less needed.

    Arguments: allowed_force_kn [kN], needed_force_kn [kN].
    Returns: [kN], below 0 it cannot be done.
    Holds: both at the same length.
    Sources: definition.

    >>> force_margin_kn(1000, 1130)
    -130.0
    """
    return allowed_force_kn - needed_force_kn


@function("definition")
def tool_load_kn_per_m(bend_force_kn: Any, bend_length_mm: Any) -> Any:
    """Force on each metre of punch and die.

    Arguments: bend_force_kn [kN], bend_length_mm [mm].
    Returns: [kN/m].
    Holds: even load along the bend.
    Sources: definition.

    >>> tool_load_kn_per_m(154, 1000)
    154.0
    """
    return bend_force_kn / bend_length_mm * 1000


@function("definition")
def tool_margin_kn_per_m(tool_rating_kn_per_m: Any, tool_load_kn_per_m: Any) -> Any:
    """Load that the tools have left: rating less load.

    Arguments: tool_rating_kn_per_m [kN/m] stamped on the weaker of punch and die, tool_load_kn_per_m [kN/m].
    Returns: [kN/m], below 0 the tools are overloaded.
    Holds: tools of the stated rating in good order.
    Sources: definition.

    >>> tool_margin_kn_per_m(1000, 154)
    846.0
    """
    return tool_rating_kn_per_m - tool_load_kn_per_m


@function("definition")
def length_margin_mm(available_mm: Any, needed_mm: Any) -> Any:
    """Room that is left: available less needed (length, opening, stroke, flange, thickness).

    Arguments: available_mm [mm], needed_mm [mm].
    Returns: [mm], below 0 it does not fit.
    Holds: both measured the same way.
    Sources: definition.

    >>> length_margin_mm(3100, 2500)
    600.0
    """
    return available_mm - needed_mm


@function("bending-force-oehler")
def thickest_force_kn(bend_force_kn: Any, thickest_mm: Any, thickness_mm: Any) -> Any:
    """Force of a bend where the sheet is as thick as its tolerance allows.

    Arguments: bend_force_kn [kN] at the nominal thickness, thickest_mm [mm] with the tolerance, thickness_mm [mm] nominal.
    Returns: [kN].
    Holds: force by the square of the thickness; the small further rise of 1 + 4 t/V is left out.
    Sources: bending-force-oehler.

    >>> round(thickest_force_kn(100, 2.1, 2), 6)
    110.25
    """
    return bend_force_kn * (thickest_mm / thickness_mm) ** 2


@function("definition")
def flange_margin_mm(flange_length_mm: Any, shortest_flange_mm: Any) -> Any:
    """Length that a flange has beyond the shortest the die can hold; 0 where no flange is stated.

    Arguments: flange_length_mm [mm] (0: not stated), shortest_flange_mm [mm].
    Returns: [mm], below 0 the flange slips into the die.
    Holds: both measured to the outside.
    Sources: definition.

    >>> flange_margin_mm(25, 12), flange_margin_mm(0, 12)
    (13.0, 0.0)
    """
    return np.where(flange_length_mm > 0, flange_length_mm - shortest_flange_mm, 0.0)


@function("geometry")
def needed_daylight_mm(
    punch_height_mm: Any, die_height_mm: Any, flange_height_mm: Any, flange_clearance_mm: Any
) -> Any:
    """Opening between ram and table that tools and part need at the top of the stroke.

    Arguments: punch_height_mm [mm], die_height_mm [mm], flange_height_mm [mm] that has to pass, flange_clearance_mm [mm].
    Returns: [mm].
    Holds: the part is taken out to the front, past the punch.
    Sources: geometry.

    >>> needed_daylight_mm(120, 60, 80, 10)
    270.0
    """
    return punch_height_mm + die_height_mm + flange_height_mm + flange_clearance_mm


@function("definition")
def die_ratio(die_opening_mm: Any, thickness_mm: Any) -> Any:
    """Die opening over thickness: the force formula holds from 5 to 20, practice is 6 to 12.

    Arguments: die_opening_mm [mm], thickness_mm [mm].
    Returns: [ratio].
    Holds: V dies with sharp shoulders.
    Sources: definition.

    >>> die_ratio(16, 2)
    8.0
    """
    return die_opening_mm / thickness_mm
