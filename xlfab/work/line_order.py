"""The order of a cut list's lines that moves the gauge least."""

from __future__ import annotations

from itertools import product

import numpy as np
from numpy.typing import ArrayLike, NDArray

from xlfab.core.errors import InputError

_MOST_PASSES = 10  # each is tried in both directions


def gauge_travel_mm(positions_mm: ArrayLike, start_mm: float) -> float:
    """Way of the gauge through positions in their order, from a start.

    >>> gauge_travel_mm([300, 100, 200], 150)
    450.0
    """
    return float(np.abs(np.diff(np.asarray(positions_mm, dtype=np.float64), prepend=start_mm)).sum())


def least_round_order(positions_mm: ArrayLike, passes: ArrayLike) -> NDArray[np.intp]:
    """Order of the lines with the least gauge travel for a list that runs again and again, sheet after sheet.

    Lines of a lower pass come first (strips before the blanks that are cut off them). Within a pass both ends must be
    reached, so going straight from one to the other is never worse; all directions of the passes are tried.

    >>> [int(i) for i in least_round_order([300, 100, 200, 150], [1, 1, 1, 2])]
    [1, 2, 0, 3]
    """
    positions, levels = np.asarray(positions_mm, dtype=np.float64), np.asarray(passes)
    if positions.ndim != 1 or positions.shape != levels.shape or not np.isfinite(positions).all():
        raise InputError("a cut list needs one finite gauge position (mm) and one pass a line")
    own = [np.flatnonzero(levels == level) for level in np.unique(levels)]
    if len(own) > _MOST_PASSES:
        raise InputError(f"{len(own)} passes are too many: a cut list has at most {_MOST_PASSES}")
    best, least = np.empty(0, dtype=np.intp), np.inf
    for signs in product((1.0, -1.0), repeat=len(own)):
        legs = [rows[np.argsort(sign * positions[rows], kind="stable")] for sign, rows in zip(signs, own, strict=True)]
        order = np.concatenate([np.empty(0, dtype=np.intp), *legs])
        way = gauge_travel_mm(positions[order], positions[order[-1]]) if len(order) else 0.0
        if way < least:
            best, least = order, way
    return best
