"""Intervals of 95 % for a mean that a meter has read: its own bound, the step of its register, and scatter."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

POINTS = 21  # of each bound: the middle of equal parts


def half_width_95(bounds: Sequence[float], sigma: float) -> float:
    """Half of the 95 % interval of a sum of errors: each of `bounds` equally likely anywhere within plus or minus itself, and a
    normal one of standard deviation `sigma`.

    This is JCGM 101's propagation of distributions (from memory), worked out on a grid in place of random draws.

    >>> round(half_width_95((1.0,), 0.0), 2), round(half_width_95((), 1.0), 2), round(half_width_95((1.0, 1.0), 0.0), 2)
    (0.95, 1.96, 1.55)
    """
    used = [abs(bound) for bound in bounds if bound]
    whole = sum(used) + 4 * sigma
    if whole == 0:
        return 0.0
    at = np.zeros(1)
    for bound in used:
        at = (at[:, None] + bound * (2 * np.arange(POINTS) + 1 - POINTS)[None, :] / POINTS).ravel()
    places, counts = np.unique(np.round(at / whole, 12), return_counts=True)
    # each point of the grid stands for its cell, so a scatter of the cell's width keeps the result smooth
    spread = math.hypot(sigma, (max(used, default=0.0) / POINTS / math.sqrt(3)))
    low, high = 0.0, whole
    for _ in range(40):
        middle = (low + high) / 2
        inside = sum(
            count
            * (math.erf((middle - place) / spread / math.sqrt(2)) + math.erf((middle + place) / spread / math.sqrt(2)))
            for place, count in zip((places * whole).tolist(), counts.tolist(), strict=True)
        )
        low, high = (middle, high) if inside / (2 * len(at)) < 0.95 else (low, middle)
    return (low + high) / 2
