"""The seller's own sheet: what a machine costs the seller, and notes. `xlfab share` takes it out of a customer's copy."""

from __future__ import annotations

from xlfab.comparison.compare import Comparison
from xlfab.tables.table import Table
from xlfab.workbook.book import Book

SHEET = "Seller"
_NOTE = "PRIVATE. Nothing else in this workbook refers to this sheet. Before a file goes to a customer, make the customer's copy with `xlfab share`: it takes this sheet, notes and file properties out and looks whether anything of them is left."


def seller_sheet(book: Book, made: Comparison) -> None:
    """Add the sheet where the scenario states what only the seller knows."""
    by_name = {one.stated.value("name")[0]: one.stated for one in made.job.machines}
    spelling = {name.casefold(): name for name in by_name}
    sellers = made.job.scenario.sellers
    if not sellers:
        return
    sheet = book.sheet(SHEET, "For the seller only", _NOTE, "about")
    records = []
    for number, item in enumerate(sellers, 1):
        t = Table.record(f"seller_{number}", f"Seller, machine {number}")
        t.copy(
            "offered_cur",
            by_name[spelling[item.name.casefold()]]["machine_price_cur"],
            label="Price as offered",
        )
        t.put("seller_cost_cur", item.cost_cur, label="What it costs the seller", like="machine_price_cur")
        t.difference("margin_cur", "offered_cur", "seller_cost_cur", label="Margin")
        t.add(
            "margin_share",
            lambda margin, price: margin / price,
            "margin_cur",
            "offered_cur",
            label="Margin of the price",
        )
        t.put("note", item.note or "-", label="Note")
        records.append(t)
        book.private.add(t.name)
    sheet.records(records, [item.name for item in sellers])
    for column in range(2, 2 + len(sellers)):
        sheet.widths[column] = 34
