"""Texts that several sheets share, and the sheet of functions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.core.arguments import label_of
from xlfab.core.registry import Function
from xlfab.core.units import UNITS, factor, shown_unit, split_name, unit_label
from xlfab.reference import ROW_HEADINGS, rows

if TYPE_CHECKING:
    from xlfab.workbook.book import Book

INPUT_NOTE = "Cells on a pale ground with a dark blue figure are inputs: change them and everything follows."
MACHINE_CAUTION = "Force, rake and gap figures never replace the machine's plate, the tooling's rating or the manual. A closing speed follows the protective device in use and local law: never change or defeat a guard to gain time."
OPTION_NOTE = "The first option is the one that others are compared with. Which machines an option uses and buys is set when the workbook is built."
ASSUMPTION_NOTE = "Every figure with what it rests on. 'Judgement' and 'memory' mean that nobody measured it for your shop: replace it by your own reading. Values are live; low and high say how far they may be off."
ENERGY_NOTE = "Electricity by cause. Defaults of power states are judgement, not measurements, until you enter a kW reading of your own. This is not a comparison after ISO 14955-1, which excludes that use."
MONEY_CAUTION = "Before tax and finance: ask an accountant about tax, grants and leasing."
TABLE_NOTE = "Small tables that others look up; each line says what it rests on. Set your own."
GUARD_CAUTION = "The protective device is the one that the risk assessment asks for: it is never changed, muted or defeated to gain time."
SETUP_NOTE = (
    "Every piece of a set-up, alone and as a member of its family. All of it is judgement until timed in your shop."
)
MARGIN_NOTE = "Below zero: it cannot be done, and by how much. The machine's plate, the tools' rating and the manual go before. A flange of 0 is not stated and not checked."
CHECK_NOTE = "Every line must read OK. A machine that cannot do the work, or a sum that does not close, is named here."
INNER_NOTE = "Costs and margins: not for the customer. Send the page Quote as a PDF, not this workbook."
PRICE_NOTE = "A margin is a share of the price, a mark-up a share of the cost: 20 % margin is 25 % mark-up. The switch chooses which one sets prices. Overhead is a line of its own."
RATE_NOTE = "Every line of the cost of an hour, over the planned hours (form of VDI 3258). Electricity is counted apart, once, with the waiting hours that the planned ones have to carry. Where maintenance goes by lines, blades are counted on the parts, by the stroke."
COST_NOTE = "What each piece takes, and what a lot takes once. Scrap is on material, shear, press brake and electricity; further work is stated for good parts."
LOT_NOTE = "A block of columns for the lot asked, for each quantity break, and for the lot to try out: quantity, cost, overhead, price by margin and by mark-up, minimum order, rounding up, margin."
ROUTE_NOTE = "Below or above the lot given, the other route costs less; 0 where they never cost the same."
TRIAL_NOTE = "Choose a part; the lot to try out stands on the sheet Inputs. Nothing here changes the quote."
FLAT_NOTE = "Outside flange lengths up to six; the flat size by the bend allowance of DIN 6935 (from memory: check it on your own sheet). Copy the result into Parts. All bends of a line have one angle and one inside radius."
DEPRECIATION_NOTE = "Share of first cost by year, for depreciation method 3: the MACRS half-year table of IRS Publication 946 where the recovery period is one of its classes. Type your own tax office's table over it. Tax law changes: ask an accountant."
LIFT_CAUTION = "The revised NIOSH lifting equation is an indication and never a clearance to lift: two hands, standing, stable load, up to 8 hours, one person. Have a competent person assess the job. MTM tables are licensed: enter the values of your own data card."
CAUTIONS = (
    "These are estimates, not machine settings and not a safety assessment. Protective measures follow local law and the machine's own documentation; a guard is never traded for time.",
    "Electricity rests on judgement until you enter your own meter readings. Saved hours are worth only what you state. Ask an accountant about tax and finance.",
)


def label(key: str) -> str:
    """The label of an input in running text."""
    return label_of(key).lower() if not label_of(key)[:2].isupper() else label_of(key)


def figure(key: str, value: float, system: str, currency: str) -> str:
    """A value of an input with its unit, in the unit system of the workbook."""
    suffix = split_name(key)[1].suffix
    if suffix == "share":
        return f"{value * 100:g} %"
    shown = shown_unit(suffix, system)
    return f"{value / factor(shown, suffix):.6g} {unit_label(UNITS[shown].suffix, currency)}"


def functions_sheet(book: Book) -> None:
    """The reference of every function; those that no column of this workbook is made of are folded, and so is what only an author needs."""
    functions = [getattr(column.rule, "function", None) for sheet in book.sheets for _, column, _ in sheet.columns]
    used = {one.spec.cell_name for one in functions if isinstance(one, Function)}
    sheet = book.sheet(
        "Functions",
        "Functions behind the columns",
        "What the columns of this workbook are made of. The + in the margins opens arguments, worked examples, sources and all other functions. With the xlfab add-in each can be typed in any cell.",
        "about",
        says="the formulas by name",
    )
    lines = rows(currency=book.currency)
    sheet.lines(ROW_HEADINGS, lines, (33, 8, 64, 36, 38, 40), open_columns=3)
    first = sheet.row - len(lines)
    sheet.folded_rows.update(first + number for number, line in enumerate(lines) if line[0] not in used)
