"""From what a part costs to its price, at the lot asked for, at each quantity break, and at a lot to try out."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table

ASKED, TRIED = 0, 6
BREAKS = range(1, 6)
LOTS = (ASKED, *BREAKS, TRIED)
WORDS = {ASKED: "lot asked", **{n: f"break {n}" for n in BREAKS}, TRIED: "lot tried"}


def costs(
    number: int,
    parts: Table,
    data: Table,
    shear: Table,
    brake: Table,
    work: Table,
    packing: Table,
    shop: tuple[Table, Table],
) -> Table:
    """What each part costs, line by line: what every piece takes, and what a lot takes once."""
    workplace, terms = shop
    title = "Costs" if number == 1 else f"Costs on route {number}"
    t = Table(f"costs_{number}", title, parts.rows)
    t.copy("part", parts["part"])
    t.copy("material_cost_cur", data["material_cost_cur"], label="Material")
    t.copy("shear_cost_cur", shear["shear_cost_cur"], label="Shear")
    t.copy("brake_cost_cur", brake["run_cost_cur"], label="Press brake")
    t.sum("energy_cost_cur", shear["energy_cost_cur"], brake["energy_cost_cur"], label="Electricity")
    lines = ("material_cost_cur", "shear_cost_cur", "brake_cost_cur", "energy_cost_cur")
    t.sum("made_cost_cur", *lines, label="Part made")
    made = ("made_cost_cur", workplace["scrap_share"])
    t.add("machined_cost_cur", F["good_part_cost_cur"], *made, label="These with scrap")
    t.total("work_cost_cur", work["run_cost_cur"], "part", "part", label="Further work")
    tool = (packing["tool_price_cur"], 0.0, packing["tool_life_count"])
    t.add("tool_cost_cur", F["tool_cost_cur"], *tool, label="Special tooling")
    run = ("machined_cost_cur", "work_cost_cur", "tool_cost_cur")
    t.sum("run_cost_cur", *run, label="Each piece")
    t.sum(
        "shear_lot_cur",
        shear["lot_cost_cur"],
        shear["setup_energy_cost_cur"],
        label="Set-up, shear",
    )
    t.sum(
        "brake_lot_cur",
        brake["lot_cost_cur"],
        brake["setup_energy_cost_cur"],
        label="Set-up, press brake",
    )
    t.total("work_lot_cur", work["lot_cost_cur"], "part", "part", label="Set-up, further work")
    t.sum("lot_cost_cur", "shear_lot_cur", "brake_lot_cur", "work_lot_cur", label="Each lot")
    t.add(
        "shown_lot_cost_cur", F["shown_lot_cost_cur"], "lot_cost_cur", terms["spread_switch"], label="Lot shown apart"
    )
    t.add("shown_overhead_cur", F["overhead_cur"], "shown_lot_cost_cur", terms["overhead_share"], label="Its overhead")
    t.sum("shown_total_cur", "shown_lot_cost_cur", "shown_overhead_cur", label="Set-up with overhead")
    _price(t, "shown", "shown_total_cur", terms, "Set-up")
    t.add(
        "setup_price_cur",
        F["rounded_up_price_cur"],
        "shown_price_cur",
        terms["price_step_cur"],
        label="Set-up, price a lot",
    )
    return t


def _price(t: Table, stem: str, cost: str, terms: Table, words: str) -> None:
    """Price by margin and by mark-up side by side, and the one that the terms choose."""
    t.add(f"{stem}_by_margin_cur", F["price_from_margin_cur"], cost, terms["margin_share"], label=f"{words}: by margin")
    t.add(
        f"{stem}_by_markup_cur", F["price_from_markup_cur"], cost, terms["markup_share"], label=f"{words}: by mark-up"
    )
    both = (terms["margin_switch"], f"{stem}_by_margin_cur", f"{stem}_by_markup_cur")
    t.switched(f"{stem}_price_cur", *both, label=f"{words}: price before rounding")


def bought_in(bought: Table, parts: Table, terms: Table) -> None:
    """What each bought-in piece or outside work costs one part at every lot: its price, and no less than its charge for a lot."""
    price = ("bought_in_price_cur", "pieces_per_part_count", terms["bought_in_overhead_share"])
    bought.add("bought_in_cost_cur", F["bought_in_cost_cur"], *price, label="Cost of one part")
    bought.lookup("asked_count", "part", parts["lot_size_count"], "part", label="Lot asked")
    for n in LOTS:
        lot: str | Ref = "asked_count" if n == ASKED else lot_of(n, terms)
        bought.add(
            f"cost_{n}_cur",
            F["outside_work_cost_cur"],
            "bought_in_cost_cur",
            "outside_lot_charge_cur",
            lot,
            label=f"At {WORDS[n]}",
        )


def lot_of(n: int, terms: Table) -> Ref:
    """Where the quantity of a break, or of the lot to try out, stands."""
    return terms["tried_count" if n == TRIED else f"break_{n}_count"]


def prices(parts: Table, cost: Table, bought: Table, packing: Table, terms: Table) -> Table:
    """One block of columns for each lot: quantity, what it costs, overhead, price, margin."""
    t = Table("prices", "Prices", parts.rows)
    t.copy("part", parts["part"])
    for n in LOTS:
        _block(t, n, parts, cost, bought, packing, terms)
    return t


def _block(t: Table, n: int, parts: Table, cost: Table, bought: Table, packing: Table, terms: Table) -> None:
    words = WORDS[n].capitalize()
    quantity = f"quantity_{n}_count"
    t.copy(quantity, parts["lot_size_count"] if n == ASKED else lot_of(n, terms), label=f"{words}: quantity")
    t.total(f"bought_{n}_cur", bought[f"cost_{n}_cur"], "part", "part", label=f"{words}: bought in")
    package = (packing["package_price_cur"], packing["parts_per_package_count"], quantity)
    t.add(f"packing_{n}_cur", F["packing_cost_cur"], *package, label=f"{words}: packing")
    lot = (cost["run_cost_cur"], cost["lot_cost_cur"], quantity, terms["spread_switch"])
    t.add(f"made_{n}_cur", F["unit_cost_at_lot_cur"], *lot, label=f"{words}: made with set-up share")
    lines = (f"made_{n}_cur", f"bought_{n}_cur", f"packing_{n}_cur")
    t.sum(f"base_{n}_cur", *lines, label=f"{words}: cost before overhead")
    t.add(f"overhead_{n}_cur", F["overhead_cur"], f"base_{n}_cur", terms["overhead_share"], label=f"{words}: overhead")
    t.sum(f"cost_{n}_cur", f"base_{n}_cur", f"overhead_{n}_cur", label=f"{words}: cost")
    _price(t, f"unit_{n}", f"cost_{n}_cur", terms, words)
    minimum = (terms["minimum_order_cur"], cost["setup_price_cur"])
    t.excess(f"least_{n}_cur", *minimum, label=f"{words}: least for the pieces")
    floor = (f"unit_{n}_price_cur", quantity, f"least_{n}_cur")
    t.add(f"floor_{n}_cur", F["price_with_minimum_order_cur"], *floor, label=f"{words}: with minimum order")
    step = terms["price_step_cur"]
    t.add(f"price_{n}_cur", F["rounded_up_price_cur"], f"floor_{n}_cur", step, label=f"{words}: price")
    margin = (f"price_{n}_cur", f"cost_{n}_cur")
    t.add(f"margin_{n}_share", F["margin_of_price_share"], *margin, label=f"{words}: margin")
    t.difference(f"loss_{n}_cur", *reversed(margin), label=f"{words}: cost above price")
