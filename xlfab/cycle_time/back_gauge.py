"""The gauge: several axes move together, the slowest rules, then they settle."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function


@function("gauge-axes")
def gauge_step_time_s(gauge_x_time_s: Any, gauge_r_time_s: Any, gauge_z_time_s: Any, gauge_settle_time_s: Any) -> Any:
    """Time of a gauge move over several axes that start together; no move, no settling.

    Arguments: gauge_x_time_s [s] (depth), gauge_r_time_s [s] (height), gauge_z_time_s [s] (along the length), gauge_settle_time_s [s].
    Returns: [s].
    Holds: axes move at the same time.
    Sources: gauge-axes.

    >>> round(gauge_step_time_s(0.8, 0.3, 0, 0.2), 3)
    1.0
    """
    slowest = np.maximum(np.maximum(gauge_x_time_s, gauge_r_time_s), gauge_z_time_s)
    return np.where(slowest > 0, slowest + gauge_settle_time_s, 0.0)
