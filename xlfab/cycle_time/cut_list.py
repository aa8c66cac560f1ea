"""Cutting up a sheet: strips and blanks from it, the cuts that takes, and the offcut that stays. Shearing has no kerf."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.core.registry import function

_WHOLE = 1e-9  # 3000/500 must count as 6 although the quotient may come out a hair below


@function("cut-list", domain="the blank is larger than the sheet within its edge trims")
def pieces_along_count(sheet_side_mm: Any, edge_trim_mm: Any, blank_side_mm: Any) -> Any:
    """Pieces that fit along one side of the sheet, inside an edge trim at each end.

    Arguments: sheet_side_mm [mm], edge_trim_mm [mm] at each end, blank_side_mm [mm] along that side.
    Returns: [count].
    Holds: straight cuts through the whole strip, no kerf.
    Sources: cut-list.

    >>> pieces_along_count(1250, 5, 300), pieces_along_count(3000, 0, 500)
    (4.0, 6.0)
    """
    pieces = np.floor((sheet_side_mm - 2 * edge_trim_mm) / blank_side_mm + _WHOLE)
    return np.where(pieces >= 1, pieces, np.nan)


@function("cut-list", domain="the blank is larger than the sheet within its edge trims")
def side_cuts_count(sheet_side_mm: Any, edge_trim_mm: Any, blank_side_mm: Any) -> Any:
    """Cuts that part one side of the sheet into its pieces: a trim cut, and one for each piece unless the last leaves no rest.

    Arguments: sheet_side_mm [mm], edge_trim_mm [mm] at each end, blank_side_mm [mm] along that side.
    Returns: [count].
    Holds: the first edge is trimmed where a trim is stated; the last cut frees the last piece and the far trim at once.
    Sources: cut-list.

    >>> side_cuts_count(1250, 5, 300), side_cuts_count(3000, 0, 500)
    (5.0, 5.0)
    """
    pieces = pieces_along_count.formula(sheet_side_mm, edge_trim_mm, blank_side_mm)
    rest = sheet_side_mm - edge_trim_mm - pieces * blank_side_mm
    return pieces + np.where(edge_trim_mm > 0, 1.0, 0.0) - np.where(rest <= _WHOLE * sheet_side_mm, 1.0, 0.0)


@function("cut-list")
def blanks_per_sheet_count(strips_count: Any, pieces_per_strip_count: Any) -> Any:
    """Blanks from one sheet: strips times pieces of a strip.

    Arguments: strips_count [count], pieces_per_strip_count [count].
    Returns: [count].
    Holds: one size of blank a sheet.
    Sources: cut-list.

    >>> blanks_per_sheet_count(4, 6)
    24.0
    """
    return strips_count * pieces_per_strip_count


@function("cut-list")
def cuts_per_sheet_count(strip_cuts_count: Any, strips_count: Any, piece_cuts_count: Any) -> Any:
    """Cuts that take a sheet apart: the strip cuts, then the piece cuts of each strip.

    Arguments: strip_cuts_count [count], strips_count [count], piece_cuts_count [count] a strip.
    Returns: [count].
    Holds: strips are cut up one by one.
    Sources: cut-list.

    >>> cuts_per_sheet_count(5, 4, 5)
    25.0
    """
    return strip_cuts_count + strips_count * piece_cuts_count


@function("cut-list")
def sheets_per_lot_count(lot_size_count: Any, blanks_per_sheet_count: Any, scrap_share: Any) -> Any:
    """Sheets that a lot takes.

    Arguments: lot_size_count [count] good parts, blanks_per_sheet_count [count], scrap_share [share] of parts made.
    Returns: [count].
    Holds: the last sheet may be cut in part.
    Sources: cut-list.

    >>> sheets_per_lot_count(100, 24, 0)
    5.0
    """
    return np.ceil(lot_size_count / (1 - scrap_share) / blanks_per_sheet_count - _WHOLE)


@function("geometry", domain="the blanks hold more than the sheet")
def blanks_on_sheet_share(
    blanks_per_sheet_count: Any,
    blank_length_mm: Any,
    blank_width_mm: Any,
    sheet_length_mm: Any,
    sheet_width_mm: Any,
) -> Any:
    """Share of the sheet that becomes blanks.

    Arguments: blanks_per_sheet_count [count], blank_length_mm [mm], blank_width_mm [mm], sheet_length_mm [mm], sheet_width_mm [mm].
    Returns: [share].
    Holds: rectangular blanks of one size.
    Sources: geometry.

    >>> round(blanks_on_sheet_share(24, 500, 300, 3000, 1250), 6)
    0.96
    """
    share = blanks_per_sheet_count * blank_length_mm * blank_width_mm / (sheet_length_mm * sheet_width_mm)
    return np.where(share <= 1 + _WHOLE, share, np.nan)


@function("cut-list", "geometry", domain="the plan is asked for and the stated sheet does not hold the blank")
def used_sheet_use_share(
    sheet_use_share: Any,
    sheet_plan_switch: Any,
    sheet_length_mm: Any,
    sheet_width_mm: Any,
    edge_trim_mm: Any,
    strip_trim_mm: Any,
    blank_length_mm: Any,
    blank_width_mm: Any,
) -> Any:
    """Share of the sheet that becomes blanks: as stated, or by strips and pieces of the stated sheet.

    Arguments: sheet_use_share [share] as stated, sheet_plan_switch [0 or 1], sheet_length_mm [mm], sheet_width_mm [mm], edge_trim_mm [mm] along the length, strip_trim_mm [mm] along the width, blank_length_mm [mm], blank_width_mm [mm].
    Returns: [share].
    Holds: rectangular blanks of one size, strips cut across the length, no kerf.
    Sources: cut-list, geometry.

    >>> round(used_sheet_use_share(0.8, 1, 3000, 1250, 0, 5, 500, 300), 6)
    0.96
    """
    strips = pieces_along_count.formula(sheet_length_mm, edge_trim_mm, blank_length_mm)
    pieces = pieces_along_count.formula(sheet_width_mm, strip_trim_mm, blank_width_mm)
    blanks = blanks_per_sheet_count.formula(strips, pieces)
    plan = blanks_on_sheet_share.formula(blanks, blank_length_mm, blank_width_mm, sheet_length_mm, sheet_width_mm)
    return np.where(sheet_plan_switch > 0, plan, sheet_use_share)


@function("cut-list", domain="the blank is larger than the sheet within its edge trims")
def rest_side_mm(sheet_side_mm: Any, edge_trim_mm: Any, blank_side_mm: Any) -> Any:
    """What stays along one side of the sheet after the first trim and the pieces, the far trim with it.

    Arguments: sheet_side_mm [mm], edge_trim_mm [mm] at each end, blank_side_mm [mm] along that side.
    Returns: [mm].
    Holds: straight cuts, no kerf.
    Sources: cut-list.

    >>> rest_side_mm(1250, 5, 300), rest_side_mm(3000, 0, 500)
    (45.0, 0.0)
    """
    pieces = pieces_along_count.formula(sheet_side_mm, edge_trim_mm, blank_side_mm)
    rest = sheet_side_mm - edge_trim_mm - pieces * blank_side_mm
    return np.where(rest > _WHOLE * sheet_side_mm, rest, 0 * rest)


@function("definition")
def offcut_mass_kg(sheet_mass_kg: Any, sheet_use_share: Any) -> Any:
    """Mass of sheet that does not become blanks.

    Arguments: sheet_mass_kg [kg], sheet_use_share [share].
    Returns: [kg].
    Holds: a shear takes no kerf.
    Sources: definition.

    >>> round(offcut_mass_kg(58.9, 0.96), 3)
    2.356
    """
    return sheet_mass_kg * (1 - sheet_use_share)


@function("definition")
def offcut_value_cur(offcut_mass_kg: Any, offcut_price_cur_per_kg: Any) -> Any:
    """What the offcut of a sheet brings.

    Arguments: offcut_mass_kg [kg], offcut_price_cur_per_kg [currency/kg].
    Returns: [currency].
    Holds: sold as scrap or used at that value.
    Sources: definition.

    >>> offcut_value_cur(2.5, 0.2)
    0.5
    """
    return offcut_mass_kg * offcut_price_cur_per_kg


@function("lot-time")
def cut_line_time_s(stroke_time_s: Any, reposition_time_s: Any, strokes_count: Any, gauge_wait_s: Any) -> Any:
    """Time of one line of a cut list: wait for the gauge, then as many strokes as the line asks for.

    Arguments: stroke_time_s [s], reposition_time_s [s] to push the sheet on before each stroke, strokes_count [count], gauge_wait_s [s].
    Returns: [s].
    Holds: the gauge stands still within a line.
    Sources: lot-time.

    >>> cut_line_time_s(4, 6, 3, 0.5)
    30.5
    """
    return gauge_wait_s + strokes_count * (stroke_time_s + reposition_time_s)
