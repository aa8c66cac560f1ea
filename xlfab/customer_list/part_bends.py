"""The bends of a part: from their columns, from the legs of a profile, and what the list states of angles and sides."""

from __future__ import annotations

from dataclasses import replace

from xlfab.customer_list.bend_text import Bend, angles_of, bends_of
from xlfab.customer_list.cell_grid import Odd, shown
from xlfab.customer_list.flat_blank import Blank
from xlfab.customer_list.quantity import Unreadable
from xlfab.customer_list.row_fields import Row

SQUARE = 90.0
_SIDES = {"bends": None, "bends_length": "length", "bends_width": "width"}


def read_bends(row: Row, blank: Blank) -> list[Bend] | None:
    """The bends of a row, each with its angle and side; None where the list states them and they cannot be read."""
    stated = [_of_column(row, name, side) for name, side in _SIDES.items() if row.has(name)]
    found = None if not stated or None in stated else [bend for bends in stated if bends for bend in bends]
    by_legs = len(blank.legs) - 1 if blank.legs else None
    if by_legs is not None:
        if found is None:
            found = [Bend()] * by_legs
        elif len(found) != by_legs:
            row.note("bends", f"{len(found)} bends, but {by_legs} between the legs")
    if found is None and not any(row.has(name) for name in _SIDES):
        row.note_list("bends", "the list has no column of bends: none are counted")
    if found is None and stated:
        return None
    return _with_angles(row, found or [])


def _of_column(row: Row, name: str, side: str | None) -> list[Bend] | None:
    cell = row.cell(name)
    if cell is None:
        if side is None:
            row.note(name, "empty: no bends are counted")
        return []
    try:
        if isinstance(cell, Odd):
            raise Unreadable(cell.reason)
        bends = bends_of(shown(cell), row.mapping.decimal)
    except Unreadable as error:
        row.note(name, str(error))
        return None
    return [replace(bend, along=bend.along or side) for bend in bends]


def _with_angles(row: Row, bends: list[Bend]) -> list[Bend]:
    """Angles in degrees by which the sheet is bent; of a column of angles, or assumed."""
    given: list[float] = []
    cell = row.cell("bend_angle")
    if bends and cell is not None:
        try:
            given = angles_of(shown(cell), row.mapping.decimal)
        except Unreadable as error:
            row.note("bend_angle", f"{error}; {row.whole.assume.bend_angle_deg:g} degrees are assumed")
    if len(given) not in (0, 1, len(bends)):
        row.note(
            "bend_angle",
            f"{len(given)} angles for {len(bends)} bends; {row.whole.assume.bend_angle_deg:g} degrees are assumed",
        )
        given = []
    return [
        replace(bend, angle_deg=_bent(row, bend.angle_deg or (given[number % len(given)] if given else None)))
        for number, bend in enumerate(bends)
    ]


def _bent(row: Row, angle: float | None) -> float:
    if angle is None or angle != angle:
        return float(row.whole.assume.bend_angle_deg)
    if not row.mapping.angles and abs(angle - SQUARE) > 0.01:
        row.note("bends", f"{angle:g} degrees are read as the angle by which the sheet is bent, 0 being flat")
    bent = 180.0 - angle if row.mapping.angles == "between the legs" else angle
    return row.inside("bends", "bend_angle_deg", bent) or float(row.whole.assume.bend_angle_deg)
