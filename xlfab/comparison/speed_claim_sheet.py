"""The sheet on the common claim of 30 to 50 % more speed: strokes, both readings, and when each holds, with charts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from xlfab.comparison.shop_floor_charts import Area, curves
from xlfab.comparison.speed_claim_curves import HANDLINGS_S, OPENINGS_MM, READINGS, claim_of

if TYPE_CHECKING:
    from xlfab.comparison.compare import Comparison
    from xlfab.workbook.book import Book

NAME = "Claim 30 to 50 percent"
LEAD = (
    "An electric press brake is often said to work 30 to 50 % faster than a hydraulic one: common practice, no source. "
    "Faster can mean less time for a step or more steps an hour. Both follow from the two machines as stated, for one bend, "
    "with the same handling on both and nobody waiting for the gauge. The longer the handling, the less a faster ram is worth."
)


def claim_sheet(book: Book, made: Comparison) -> None:
    """Add the sheet for the press brakes of the first and the last option, if they differ."""
    first, other = made.job.options[0].brake, made.job.options[-1].brake
    if first is other:
        return
    claim = claim_of(first, other)
    sheet = book.sheet(NAME, f"Is {claim.names[1]} 30 to 50 % faster than {claim.names[0]}?", LEAD, "result")
    sheet.text(f"Brake 1 is {claim.names[0]}, brake 2 is {claim.names[1]}.")
    sheet.records([claim.settings], ["Value"])
    shown = ["opening_mm", "ram_1_s", "ram_2_s", *(f"{key}_handling_s" for key in READINGS)]
    sheet.table(claim.strokes, shown)
    at = sheet.row
    sheet.row += 19 * len(READINGS)
    head = sheet.row + 2
    sheet.table(claim.readings)
    sheet.subtitle("Phases of the strokes")
    sheet.table(claim.strokes, [name for name in claim.strokes.columns if name not in shown])
    columns = list(claim.readings.columns)
    for number, (key, label) in enumerate(READINGS.items()):
        series = [
            (f"Opening {opening:g} mm", _area(columns, f"{key}_share", head, place))
            for place, opening in enumerate(OPENINGS_MM)
        ]
        series += [(f"Claim, {end}", _area(columns, f"claim_{end}_share", head, 0)) for end in ("from", "to")]
        across = _area(columns, "handling_s", head, 0)
        sheet.charts.append(
            curves(label, NAME, across, series, (at + 19 * number, 0), ("Handling a step, s", label), HANDLINGS_S[-1])
        )


def _area(columns: list[str], name: str, head: int, block: int) -> Area:
    first, column = head + block * len(HANDLINGS_S), columns.index(name)
    return first, column, first + len(HANDLINGS_S) - 1, column
