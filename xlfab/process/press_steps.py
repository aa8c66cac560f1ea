"""Second press steps: coining and hemming, and the height of the flange that the ram has to clear."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("coining-pressure")
def coining_force_kn(coining_pressure_mpa: Any, bend_length_mm: Any, coined_width_mm: Any) -> Any:
    """Force that presses a strip of the bend's root to the shape of the tools.

    Arguments: coining_pressure_mpa [MPa], bend_length_mm [mm], coined_width_mm [mm] of the strip under pressure.
    Returns: [kN].
    Holds: even pressure on the whole strip; comes on top of the force that bends. Many times an air bend: check machine and tools.
    Sources: coining-pressure.

    >>> coining_force_kn(560, 50, 6)
    168.0
    """
    return coining_pressure_mpa * bend_length_mm * coined_width_mm / 1000


@function("shop-practice")
def press_step_force_kn(bend_force_kn: Any, force_multiple_ratio: Any) -> Any:
    """Force of a second press step as a multiple of the air bend's.

    Arguments: bend_force_kn [kN] of the air bend, force_multiple_ratio [ratio] of bottoming, coining or closing a hem.
    Returns: [kN].
    Holds: common practice, no source: multiples scatter widely (press_steps.csv); the tool maker's figure goes before.
    Sources: shop-practice.

    >>> press_step_force_kn(150, 4)
    600.0
    """
    return bend_force_kn * force_multiple_ratio


@function("geometry")
def flange_height_mm(flange_length_mm: Any, bend_angle_deg: Any) -> Any:
    """Height to which a flange stands over the rest of the part, lying flat, at any moment of its bend.

    Arguments: flange_length_mm [mm] outside, bend_angle_deg [°].
    Returns: [mm].
    Holds: f sin(a) up to 90 degrees; beyond, the full length that it passed through.
    Sources: geometry.

    >>> round(flange_height_mm(40, 30), 6), flange_height_mm(40, 120)
    (20.0, 40.0)
    """
    return flange_length_mm * np.sin(np.radians(np.minimum(bend_angle_deg, 90.0)))


@function("geometry", domain="a hem is closed from a bend of 90 degrees or more, and its gap is below the open flange")
def hem_closing_travel_mm(flange_length_mm: Any, bend_angle_deg: Any, hem_gap_mm: Any) -> Any:
    """Way of the ram that closes a pre-bent flange to a hem.

    Arguments: flange_length_mm [mm], bend_angle_deg [°] of the first bend (about 150), hem_gap_mm [mm] that stays inside (0 closed).
    Returns: [mm].
    Holds: the tip of the flange stands f sin(a) above the sheet and goes down to the gap.
    Sources: geometry.

    >>> round(hem_closing_travel_mm(12, 150, 0), 6)
    6.0
    """
    travel = flange_length_mm * np.sin(np.radians(bend_angle_deg)) - hem_gap_mm
    return np.where((bend_angle_deg >= 90) & (travel >= 0), travel, np.nan)
