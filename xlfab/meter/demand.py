"""The highest mean power in a tariff's averaging window, as the log shows it."""

from __future__ import annotations

import numpy as np

from xlfab.meter.log_file import Log


def highest_mean_kw(log: Log, window_min: float) -> float:
    """Highest mean over whole windows without a gap, wherever they start; NaN if there is none."""
    length = max(1, round(window_min * 60 / log.step_s))
    if length > len(log.power_kw):
        return float("nan")
    sums = np.concatenate([[0.0], np.cumsum(np.nan_to_num(log.power_kw))])
    gaps = np.concatenate([[0], np.cumsum(np.isnan(log.power_kw))])
    whole = gaps[length:] == gaps[:-length]
    means = (sums[length:] - sums[:-length])[whole] / length
    return float(means.max()) if len(means) else float("nan")
