"""The pages that are printed: one for the customer, one for the shop. Every cell of them refers to a calculation elsewhere."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.quote.price_tables import ASKED, BREAKS
from xlfab.quote.quote_job import QuoteJob
from xlfab.tables.table import Ref, Table
from xlfab.trace.expression import joined, said
from xlfab.workbook.sheet import Sheet, Shown

_INNER_TERMS = ("shear_cur", "brake_cur", "energy_cur")  # folded on the inner page
ONE_PAGE = 40  # lines that still print on one page


def customer_page(sheet: Sheet, job: QuoteJob, breakdown: bool) -> None:
    """Shop, customer, positions with prices at the quantity breaks, total, terms. No cost, unless a breakdown is asked for."""
    lines = job.stated.parts.rows.shown
    sheet.fit_height = lines * (2 if breakdown else 1) <= ONE_PAGE
    sheet.widths.update({0: 17, 1: 26, 2: 15, 3: 9, 4: 9, **dict.fromkeys(range(5, 12), 9.5)})
    _head(sheet, job)
    table = _lines(job)
    breaks = {f"price_{n}_cur": job.stated.terms[f"break_{n}_count"] for n in BREAKS}
    sheet.text(
        "Prices of one piece at the quantity under each heading; a set-up shown apart is charged once a lot.",
        "said",
        span=9,
    )
    sheet.table(table, under=breaks)
    sheet.rule_lines(table)
    sheet.row -= 1
    sheet.put_text(0, f"Total at the quantities asked, {sheet.book.currency}, without tax", "total", span=4)
    sheet.put_ref(4, job.totals["order_price_cur"], "total", span=2)
    sheet.heights[sheet.row] = 18
    sheet.row += 2
    if breakdown:
        sheet.subtitle("What the price at the quantity asked is made of", span=9)
        made_of = _breakdown(job)
        sheet.table(made_of)
        sheet.rule_lines(made_of)
    _terms(sheet, job)
    sheet.print_to = max(sheet.widths)


def _head(sheet: Sheet, job: QuoteJob) -> None:
    """The letterhead: name and address of the shop, its right half left free for a picture; then customer, number and date."""
    texts = job.stated.texts
    sheet.row = 1
    sheet.put_ref(0, texts["shop"], "shop", span=6)
    sheet.heights[sheet.row] = 20
    sheet.row += 1
    sheet.put_ref(0, texts["shop_address"], "said", span=6)
    sheet.row += 3
    left = (
        ("Customer", "customer"),
        ("", "customer_address"),
        ("Your reference", "reference"),
        ("Prepared by", "prepared_by"),
    )
    right = (("Quote number", "quote_number"), ("Date", "quote_date"), ("Valid", "valid_until"), ("Amounts in", ""))
    for (label, key), (other, other_key) in zip(left, right, strict=True):
        sheet.put_text(0, label, "asked")
        sheet.put_ref(1, texts[key], "said", span=3)
        sheet.put_text(5, other, "asked", span=2)
        if other_key:
            sheet.put_ref(7, texts[other_key], "said", span=5)
        else:
            sheet.put_text(7, sheet.book.currency, "said", span=5)
        sheet.heights[sheet.row] = 15
        sheet.row += 1
    sheet.row += 1


def _terms(sheet: Sheet, job: QuoteJob) -> None:
    for label, key in (
        ("Lead time", "lead_time"),
        ("Delivery", "delivery"),
        ("Payment", "payment"),
        ("Valid", "valid_until"),
    ):
        sheet.put_text(0, label, "asked")
        sheet.put_ref(1, job.stated.texts[key], "said", span=8)
        sheet.heights[sheet.row] = 14
        sheet.row += 1


def _lines(job: QuoteJob) -> Table:
    """The lines of the customer's page."""
    t = Table("page", "Lines", job.stated.parts.rows)
    parts, price = job.stated.parts, job.prices
    for name in ("part", "description", "material"):
        t.copy(name, parts[name], label="Part, drawing number" if name == "part" else "")
    t.copy("thickness_mm", parts["thickness_mm"], label="Thickness")
    t.copy("asked_count", price[f"quantity_{ASKED}_count"], label="Quantity asked")
    t.copy(f"price_{ASKED}_cur", price[f"price_{ASKED}_cur"], label="Price each at that")
    for n in BREAKS:
        t.copy(f"price_{n}_cur", price[f"price_{n}_cur"], label="Price each at")
    t.copy("setup_price_cur", job.first.costs["setup_price_cur"], label="Set-up a lot")
    t.columns["setup_price_cur"].zero = "in the price"
    return t


def _breakdown(job: QuoteJob) -> Table:
    """What the price of one piece at the quantity asked is made of."""
    t = Table("breakdown", "Breakdown", job.stated.parts.rows)
    price, cost = job.prices, job.first.costs
    t.copy("part", job.stated.parts["part"])
    t.copy("material_cost_cur", cost["material_cost_cur"], label="Material")
    t.difference(
        "making_cur",
        price[f"made_{ASKED}_cur"],
        "material_cost_cur",
        label="Making and set-up share",
    )
    both = (price[f"bought_{ASKED}_cur"], price[f"packing_{ASKED}_cur"])
    t.sum("bought_cur", *both, label="Bought in and packing")
    rest = (price[f"price_{ASKED}_cur"], price[f"base_{ASKED}_cur"])
    t.difference("rest_cur", *rest, label="Overhead and profit")
    t.copy("price_cur", price[f"price_{ASKED}_cur"], label="Price")
    return t


def inner_page(sheet: Sheet, job: QuoteJob) -> None:
    """Times, costs, price and margin of every part at the lot asked, and whether the checks read OK."""
    totals = job.totals
    rows = [
        Shown("Order: cost with overhead", [totals["order_cost_cur"]]),
        Shown("Order: price", [totals["order_price_cur"]], strong=True),
        Shown("Order: margin (of the price)", [totals["order_margin_share"]]),
    ]
    sheet.show(["At the lots asked", "Value"], rows)
    sheet.row -= 1
    sheet.put_text(0, "All checks", "strong_label")
    sheet.put_ref(1, job.overall_check["all_checks"], "strong_label", span=8)
    sheet.row += 2
    table = _inner(job)
    sheet.table(table, main=[name for name in table.columns if name not in _INNER_TERMS])
    sheet.rule_lines(table)
    sheet.widths[0] = 22


def _inner(job: QuoteJob) -> Table:
    t = Table("inner", "Inner page", job.stated.parts.rows)
    road, price = job.first, job.prices
    t.copy("part", job.stated.parts["part"])
    columns: tuple[tuple[str, Ref, str], ...] = (
        ("lot_count", job.stated.parts["lot_size_count"], "Lot"),
        ("shear_s", road.shear.parts["quoted_time_s"], "Shear, a piece"),
        ("brake_s", road.brake.parts["quoted_time_s"], "Press brake, a piece"),
        ("shear_min", road.shear.parts["quoted_setup_min"], "Set-up, shear"),
        ("brake_min", road.brake.parts["quoted_setup_min"], "Set-up, press brake"),
        ("material_cur", road.costs["material_cost_cur"], "Material"),
        ("shear_cur", road.costs["shear_cost_cur"], "Shear"),
        ("brake_cur", road.costs["brake_cost_cur"], "Press brake"),
        ("energy_cur", road.costs["energy_cost_cur"], "Electricity"),
        ("run_cur", road.costs["run_cost_cur"], "Each piece"),
        ("lot_cur", road.costs["lot_cost_cur"], "Each lot"),
        ("overhead_cur", price[f"overhead_{ASKED}_cur"], "Overhead"),
        ("cost_cur", price[f"cost_{ASKED}_cur"], "Cost"),
        ("price_cur", price[f"price_{ASKED}_cur"], "Price"),
        ("margin_share", price[f"margin_{ASKED}_share"], "Margin"),
    )
    for name, item, label in columns:
        t.copy(name, item, label=label)
    fails = (road.shear.parts["fails_count"], road.brake.parts["fails_count"])
    t.add("made_words", _made, *fails, text=True, label="Can it be made")
    return t


def _made(shear: Any, brake: Any) -> Any:
    """Whether a part can be made, and if not, which machine limits it; the limit itself stands beside its step."""
    on_shear = joined("no: shear, ", said(shear), " limits passed")
    on_brake = joined("no: press brake, ", said(brake), " limits passed")
    return np.where(shear > 0, on_shear, np.where(brake > 0, on_brake, "yes"))
