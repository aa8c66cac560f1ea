"""Set-up of press brake and shear."""

from __future__ import annotations

from typing import Any

from xlfab.registry import function


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
