"""A year's hours from part times, set-ups and quantities."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("lot-time")
def run_h_per_year(
    part_time_s: Any, crew_count: Any, allowance_share: Any, scrap_share: Any, yearly_quantity_count: Any
) -> Any:
    """Hours a year that a time in every part adds up to, for a crew (person-hours) or for the machine (crew of one).

    Arguments: part_time_s [s] normal time, crew_count [count], allowance_share [share], scrap_share [share] of parts made, yearly_quantity_count [count] good parts.
    Returns: [h/year].
    Holds: scrap found after the last step.
    Sources: lot-time.

    >>> round(run_h_per_year(36, 2, 0.1, 0, 1000), 6)
    22.0
    """
    return part_time_s * crew_count * (1 + allowance_share) * yearly_quantity_count / (1 - scrap_share) / 3600


@function("definition")
def used_switch(steps_count: Any) -> Any:
    """Whether a part goes to a machine at all: 1 if it has a step there, else 0.

    Arguments: steps_count [count].
    Returns: [0 or 1].
    Holds: a part without a step is not loaded, not set up and not costed there.
    Sources: definition.

    >>> used_switch(3), used_switch(0)
    (1.0, 0.0)
    """
    return np.where(steps_count > 0, 1.0, 0.0)


@function("lot-time")
def setup_h_per_year(setup_time_min: Any, lots_per_year_count: Any) -> Any:
    """Hours a year spent on the set-ups of a part.

    Arguments: setup_time_min [min], lots_per_year_count [count].
    Returns: [h/year].
    Holds: every lot is set up anew.
    Sources: lot-time.

    >>> setup_h_per_year(30, 12)
    6.0
    """
    return setup_time_min / 60 * lots_per_year_count


@function("lot-time")
def busy_time_per_part_s(busy_h_per_year: Any, yearly_quantity_count: Any) -> Any:
    """Machine time that a good part takes with its share of set-up, allowance and scrap.

    Arguments: busy_h_per_year [h/year], yearly_quantity_count [count] good parts.
    Returns: [s].
    Holds: the year's mean.
    Sources: lot-time.

    >>> busy_time_per_part_s(10, 1000)
    36.0
    """
    return busy_h_per_year * 3600 / yearly_quantity_count
