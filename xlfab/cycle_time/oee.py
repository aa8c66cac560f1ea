"""Overall equipment effectiveness and its neighbours, with the names of ISO 22400-2."""

from __future__ import annotations

from typing import Any

from xlfab.core.registry import function


@function("iso-22400-2")
def availability_share(actual_production_time_h: Any, planned_busy_time_h: Any) -> Any:
    """Availability: actual production time (APT) over planned busy time (PBT).

    Arguments: actual_production_time_h [h], planned_busy_time_h [h].
    Returns: [share].
    Holds: say whether planned stops count as busy time: usage differs.
    Sources: iso-22400-2.

    >>> round(availability_share(783, 910), 4)
    0.8604
    """
    return actual_production_time_h / planned_busy_time_h


@function("iso-22400-2")
def effectiveness_share(
    planned_runtime_per_item_s: Any, produced_quantity_count: Any, actual_production_time_h: Any
) -> Any:
    """Effectiveness (performance): planned runtime per item (PRI) times produced quantity (PQ) over actual production time.

    Arguments: planned_runtime_per_item_s [s], produced_quantity_count [count], actual_production_time_h [h].
    Returns: [share]; above 1 the planned runtime is too long.
    Holds: the planned runtime is a standard time, not a hope.
    Sources: iso-22400-2.

    >>> effectiveness_share(36, 800, 10)
    0.8
    """
    return planned_runtime_per_item_s * produced_quantity_count / (actual_production_time_h * 3600)


@function("iso-22400-2")
def quality_share(good_quantity_count: Any, produced_quantity_count: Any) -> Any:
    """Quality ratio: good quantity (GQ) over produced quantity (PQ).

    Arguments: good_quantity_count [count], produced_quantity_count [count].
    Returns: [share].
    Holds: reworked parts are not good at the first pass.
    Sources: iso-22400-2.

    >>> round(quality_share(18848, 19271), 3)
    0.978
    """
    return good_quantity_count / produced_quantity_count


@function("iso-22400-2")
def oee_share(availability_share: Any, effectiveness_share: Any, quality_share: Any) -> Any:
    """OEE index: availability times effectiveness times quality ratio.

    Arguments: availability_share [share], effectiveness_share [share], quality_share [share].
    Returns: [share].
    Holds: the three belong to the same time.
    Sources: iso-22400-2.

    >>> round(oee_share(0.9, 0.8, 0.95), 6)
    0.684
    """
    return availability_share * effectiveness_share * quality_share


@function("iso-22400-2")
def setup_share(actual_setup_time_h: Any, actual_processing_time_h: Any) -> Any:
    """Setup ratio: actual unit setup time (AUST) over actual unit processing time (AUPT), which holds it.

    Arguments: actual_setup_time_h [h], actual_processing_time_h [h] production and set-up together.
    Returns: [share].
    Holds: times of the same machine.
    Sources: iso-22400-2.

    >>> setup_share(2, 8)
    0.25
    """
    return actual_setup_time_h / actual_processing_time_h
