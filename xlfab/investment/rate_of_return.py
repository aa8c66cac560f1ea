"""The rate at which flows are worth nothing: a root that a library finds here, and a spreadsheet's own IRR there."""

from __future__ import annotations

from typing import Any

import numpy as np


def rate_of_return(flows: Any) -> Any:
    """The rate at which flows along the last axis are worth nothing today; NaN where none is found."""
    from pyxirr import irr

    table = np.asarray(flows, dtype=float)
    rates = np.full(table.shape[:-1], np.nan)
    for place in np.ndindex(rates.shape):
        rate = irr(table[place], silent=True)
        rates[place] = np.nan if rate is None else rate
    return rates[()]
