"""What if: the price of one part over margins and lots, and the lot at which another route costs the same."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.quote.price_tables import LOTS, WORDS
from xlfab.tables.table import Rows, Table

MARGINS = (0.0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4)


def trial(parts: Table, price: Table, cost: Table, part: str = "") -> Table:
    """One part picked out, the first unless named: its cost and price at every lot."""
    picked = np.array([part], dtype=object) if part else parts.value("part")[:1]
    rows = Rows("trial", len(picked), 1 - len(picked))
    t = Table("trial", "Part to try out", rows)
    rows.key = t.put("part", picked, label="Part", choices=parts["part"])
    for column, label in (("run_cost_cur", "Each piece"), ("lot_cost_cur", "Each lot")):
        t.lookup(column, "part", cost[column], "part", label=label)
    for n in LOTS:
        for column in (f"quantity_{n}_count", f"cost_{n}_cur", f"price_{n}_cur"):
            t.lookup(column, "part", price[column], "part")
    return t


def trial_margins(one: Table, margins: Sequence[float] = MARGINS) -> Table:
    """Price of that part before rounding: a line for each margin, a column for each lot."""
    t = Table("trial_margins", "Price over margin and lot", Rows("trial_margins", len(margins), 0, one["part"]))
    t.put("margin_share", np.array(margins))
    for n in LOTS:
        label = f"At {WORDS[n]}"
        t.add(f"price_{n}_cur", F["price_from_margin_cur"], one[f"cost_{n}_cur"], "margin_share", label=label)
    return t


def by_hand(one: Table, lot_cost: Sequence[float] = (), run_cost: Sequence[float] = ()) -> Table:
    """Another route whose two costs the user types: the lot at which it costs the same as the part picked out."""
    rows = Rows("by_hand", len(run_cost), 1 - len(run_cost))
    t = Table("by_hand", "Another route", rows)
    t.put("other_lot_cost_cur", np.array(lot_cost, dtype=np.float64))
    rows.key = t.put("other_run_cost_cur", np.array(run_cost, dtype=np.float64))
    _compare(t, (one["lot_cost_cur"], one["run_cost_cur"]), ("other_lot_cost_cur", "other_run_cost_cur"))
    return t


def routes(parts: Table, first: Table, other: Table) -> Table:
    """Each part on two routes: what each piece and each lot costs, and the lot at which both cost the same."""
    t = Table("routes", "Two routes", parts.rows)
    t.copy("part", parts["part"])
    for column, label in (("lot_cost_cur", "Each lot"), ("run_cost_cur", "Each piece")):
        t.copy(column, first[column], label=f"{label}, this route")
        t.copy(f"other_{column}", other[column], label=f"{label}, the other")
    _compare(t, ("lot_cost_cur", "run_cost_cur"), ("other_lot_cost_cur", "other_run_cost_cur"))
    return t


def _compare(t: Table, one: tuple[Any, Any], other: tuple[Any, Any]) -> None:
    t.add("same_lot_count", F["same_cost_lot_count"], *one, *other, label="Lot at which both cost the same (0: none)")
    t.add("which", _which, *one, *other, text=True, label="Which costs less")


def _which(lot_cost: Any, run_cost: Any, other_lot_cost: Any, other_run_cost: Any) -> Any:
    crosses = (other_lot_cost - lot_cost) * (run_cost - other_run_cost) > 0
    small = np.where(
        other_lot_cost > lot_cost,
        "This route below that lot, the other above",
        "The other below that lot, this route above",
    )
    always = np.where(
        (lot_cost == other_lot_cost) & (run_cost == other_run_cost),
        "Both cost the same",
        np.where(
            (lot_cost <= other_lot_cost) & (run_cost <= other_run_cost),
            "This route at every lot",
            "The other at every lot",
        ),
    )
    return np.where(crosses, small, always)
