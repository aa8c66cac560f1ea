"""The order of a cut list's lines that moves the gauge least."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from xlfab.errors import InputError


def gauge_travel_mm(positions_mm: ArrayLike, start_mm: float) -> float:
    """Way of the gauge through positions in their order, from a start.

    >>> gauge_travel_mm([300, 100, 200], 150)
    450.0
    """
    return float(np.abs(np.diff(np.asarray(positions_mm, dtype=np.float64), prepend=start_mm)).sum())


def least_travel_order(positions_mm: ArrayLike, start_mm: float) -> NDArray[np.intp]:
    """Order of the lines with the least gauge travel from a start: to the nearer end first, then straight to the other.

    On one axis no order can do better: both ends must be reached, so the way is at least the span and the way to one
    end. Lines at the same position keep the order in which they were written.

    >>> [int(i) for i in least_travel_order([300, 100, 200], 150)]
    [1, 2, 0]
    """
    positions = np.asarray(positions_mm, dtype=np.float64)
    if positions.ndim != 1 or not np.isfinite(positions).all() or not np.isfinite(start_mm):
        raise InputError("a cut list needs one finite gauge position (mm) a line, and a finite start")
    if positions.size == 0:
        return np.empty(0, dtype=np.intp)
    rising = abs(start_mm - positions.min()) <= abs(start_mm - positions.max())
    return np.argsort(positions if rising else -positions, kind="stable")
