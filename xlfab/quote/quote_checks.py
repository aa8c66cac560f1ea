"""Checks of a quote that must read OK: can the machines do it, is every step somebody's, is every price above its cost."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.quote.price_tables import LOTS
from xlfab.quote.quoted_machine import QuotedMachine
from xlfab.tables.table import Table
from xlfab.work.step_checks import NO_RESULT, overall, work_check

__all__ = ["machine_limits", "overall", "price_checks"]


def machine_limits(one: QuotedMachine, units: str) -> Table:
    """What the work on a machine leaves to its limits."""
    t = Table.record(f"checks_{one.stated.name}", f"Checks, {one.title.lower()}")
    work_check(t, one.on.kind, one.on.feasible, units)
    return t


def price_checks(price: Table) -> Table:
    """Every price against its cost."""
    t = Table.record("checks_prices", "Checks of prices")
    for n in LOTS:
        t.peak(f"loss_{n}_cur", price[f"loss_{n}_cur"], label=f"{price.columns[f'price_{n}_cur'].label}: largest loss")
    losses = tuple(f"loss_{n}_cur" for n in LOTS)
    t.add("price_check", _no_loss, *losses, text=True, label="Prices cover cost")
    return t


def _no_loss(*losses: Any) -> Any:
    good: Any = losses[0] <= 0
    known: Any = np.isfinite(losses[0])
    for loss in losses[1:]:
        good, known = good & (loss <= 0), known & np.isfinite(loss)
    below = "A price is below its cost: see the sheet Part costs"
    return np.where(known, np.where(good, "OK", below), NO_RESULT)
