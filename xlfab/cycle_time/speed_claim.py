"""Two readings of "30 to 50 % faster", and how long the handling may be until each stops being true.

The claim is heard of electric against hydraulic press brakes: common practice, no source.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("definition")
def less_time_share(slow_step_time_s: Any, fast_step_time_s: Any) -> Any:
    """How much less time the faster machine takes for a step: the first reading of "faster".

    Arguments: slow_step_time_s [s], fast_step_time_s [s].
    Returns: [share] of the slower machine's time.
    Holds: the same step on both.
    Sources: definition.

    >>> less_time_share(10, 7)
    0.3
    """
    return (slow_step_time_s - fast_step_time_s) / slow_step_time_s


@function("definition")
def more_parts_share(slow_step_time_s: Any, fast_step_time_s: Any) -> Any:
    """How many more steps an hour the faster machine makes: the second reading of "faster".

    Arguments: slow_step_time_s [s], fast_step_time_s [s].
    Returns: [share] of the slower machine's rate.
    Holds: the same step on both.
    Sources: definition.

    >>> more_parts_share(13, 10)
    0.3
    """
    return (slow_step_time_s - fast_step_time_s) / fast_step_time_s


@function("speed-claim")
def handling_for_less_time_s(slow_ram_time_s: Any, fast_ram_time_s: Any, claim_share: Any) -> Any:
    """Longest handling of a step at which the faster ram still takes the claimed share less time for all of the step.

    Arguments: slow_ram_time_s [s], fast_ram_time_s [s], claim_share [share].
    Returns: [s]; no result where not even a step without handling does it.
    Holds: the same handling on both machines, nobody waits for the gauge.
    Sources: speed-claim.

    >>> round(handling_for_less_time_s(4, 2.5, 0.3), 6)
    1.0
    """
    handling = ((1 - claim_share) * slow_ram_time_s - fast_ram_time_s) / claim_share
    return np.where(handling >= 0, handling, np.nan)


@function("speed-claim")
def handling_for_more_parts_s(slow_ram_time_s: Any, fast_ram_time_s: Any, claim_share: Any) -> Any:
    """Longest handling of a step at which the faster ram still makes the claimed share more steps an hour.

    Arguments: slow_ram_time_s [s], fast_ram_time_s [s], claim_share [share].
    Returns: [s]; no result where not even a step without handling does it.
    Holds: the same handling on both machines, nobody waits for the gauge.
    Sources: speed-claim.

    >>> round(handling_for_more_parts_s(4, 2.5, 0.3), 6)
    2.5
    """
    handling = (slow_ram_time_s - (1 + claim_share) * fast_ram_time_s) / claim_share
    return np.where(handling >= 0, handling, np.nan)
