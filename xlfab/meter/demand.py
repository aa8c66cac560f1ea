"""The highest mean power in a tariff's averaging window, as the log shows it."""

from __future__ import annotations

import numpy as np

from xlfab.meter.log_file import Log

PIECE = 500_000  # windows looked at together


def highest_mean_kw(log: Log, window_min: float) -> float:
    """Highest mean over whole windows without a gap, wherever they start; NaN if there is none."""
    length = max(1, round(window_min * 60 / log.step_s))
    highest = [np.nan]
    for start in range(0, len(log.power_kw) - length + 1, PIECE):
        part = log.power_kw[start : start + PIECE + length - 1]
        sums = np.concatenate([[0.0], np.cumsum(np.nan_to_num(part), dtype=np.float64)])
        gaps = np.concatenate([[0], np.cumsum(np.isnan(part))])
        whole = gaps[length:] == gaps[:-length]
        highest.append(float(np.max((sums[length:] - sums[:-length])[whole], initial=-np.inf)) / length)
    found = np.nanmax(highest) if len(highest) > 1 else np.nan
    return float(found) if np.isfinite(found) else float("nan")
