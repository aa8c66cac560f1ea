"""The cuts and bends of a part as a list lets one assume them: strips and pieces of a sheet, bends in order with gauge moves and turns.

The gauge stands at the distance of the bend line from the nearer edge: the leg where the list gives it, else the bends are spaced evenly
over the blank. Between bends from another edge, along another side, or the other way, the part is turned.
"""

from __future__ import annotations

from dataclasses import dataclass

from xlfab.catalogue import FUNCTIONS
from xlfab.customer_list.bend_text import Bend
from xlfab.customer_list.flat_blank import Blank
from xlfab.customer_list.row_fields import Row

SHEET_SIDES = ("sheet_width_mm", "sheet_length_mm")
Value = str | float | None


@dataclass(frozen=True)
class _Line:
    """A bend line: along which side, from which edge, how far from it, which way."""

    bend: Bend
    along: str
    edge: int
    gauge_mm: float | None
    leg_mm: float = 0.0


def steps_of(row: Row, part: dict[str, Value], blank: Blank, bends: list[Bend]) -> list[dict[str, Value]]:
    """The steps of a part, cuts first; sizes that are not known stay empty. The part's record gets its sheet."""
    made = [*_cuts(row, part, blank), *_bends(row, blank, bends)]
    return [{"step": number + 1.0, **step} for number, step in enumerate(made)]


def _cuts(row: Row, part: dict[str, Value], blank: Blank) -> list[dict[str, Value]]:
    """Strips across the sheet, then pieces of a strip; one strip cut serves all pieces of the strip."""
    sheet = _sheet(row)
    sides = _laid_out(sheet, blank)
    if blank.length is None or blank.width is None or sides is None:
        if blank.length is not None and blank.width is not None:
            row.note(
                "size",
                f"the blank is larger than a sheet of {sheet[0]:g} x {sheet[1]:g} mm: two cuts of its own are counted",
                "",
            )
        both = (("length", blank.length), ("width", blank.width))
        return [_step("cut", length, 1.0, 0.0) for _, length in both]
    strip, piece, pieces = sides
    part |= {
        "sheet_length_mm": sheet[0],
        "sheet_width_mm": sheet[1],
        "edge_trim_mm": sheet[2],
        "strip_trim_mm": sheet[2],
        "sheet_plan_switch": 1.0 if strip == blank.length else 0.0,
    }
    if strip != blank.length:
        part["sheet_use_share"] = _use(sheet, strip, piece)
    way = abs(strip - piece)
    return [_step("cut", sheet[1], 1 / pieces, way), _step("cut", strip, 1.0, way / pieces)]


def _sheet(row: Row) -> tuple[float, float, float]:
    """Length, width and trim of the bought sheet: the list's own, or the one assumed."""
    assume = row.whole.assume
    own = row.lengths("sheet_size") if row.cell("sheet_size") is not None else None
    if own and len(own) == 2:
        sides = [row.inside("sheet_size", name, size) for name, size in zip(SHEET_SIDES, sorted(own), strict=True)]
        if sides[0] and sides[1]:
            return sides[1], sides[0], assume.edge_trim_mm
    elif own:
        row.note("sheet_size", "two sizes are wanted, such as 3000 x 1500; the assumed sheet is taken")
    return assume.sheet_length_mm, assume.sheet_width_mm, assume.edge_trim_mm


def _laid_out(sheet: tuple[float, float, float], blank: Blank) -> tuple[float, float, float] | None:
    """Strip width, piece length and pieces of a strip, the way round that uses more of the sheet; None where neither fits."""
    if blank.length is None or blank.width is None:
        return None
    ways = [(blank.length, blank.width), (blank.width, blank.length)]
    fitting = [way for way in ways if way[0] <= sheet[0] - 2 * sheet[2] and way[1] <= sheet[1] - 2 * sheet[2]]
    if not fitting:
        return None
    strip, piece = max(fitting, key=lambda way: _use(sheet, *way))
    return strip, piece, float(FUNCTIONS["pieces_along_count"](sheet[1], sheet[2], piece))


def _use(sheet: tuple[float, float, float], strip: float, piece: float) -> float:
    """Share of the sheet that becomes blanks."""
    return float(FUNCTIONS["used_sheet_use_share"](1.0, 1.0, *sheet[:2], sheet[2], sheet[2], strip, piece))


def _bends(row: Row, blank: Blank, bends: list[Bend]) -> list[dict[str, Value]]:
    lines = _in_order(_lines(row, blank, bends))
    thickness = blank.thickness
    die = row.whole.assume.die_opening_thickness_ratio * thickness if thickness is not None else None
    made: list[dict[str, Value]] = []
    for number, line in enumerate(lines):
        last = lines[number - 1]  # of the first bend the last one: the parts follow each other
        way = abs((line.gauge_mm or 0.0) - (last.gauge_mm or 0.0))
        turned = number > 0 and (line.along, line.edge, line.bend.up) != (last.along, last.edge, last.bend.up)
        length = row.length("bend_length", "bend_length_mm") if row.has("bend_length") else getattr(blank, line.along)
        rest: dict[str, Value] = {
            "bend_angle_deg": line.bend.angle_deg,
            "die_opening_mm": die,
            "gauge_r_mm": 0.0,
            "gauge_z_mm": 0.0,
            "turn_over_switch": float(turned),
            "flange_length_mm": line.leg_mm,
        }
        made.append(_step("bend", length, 1.0, way) | rest)
    return made


def _lines(row: Row, blank: Blank, bends: list[Bend]) -> list[_Line]:
    """Where each bend lies: by the legs, or spaced evenly over the side that is bent."""
    found: list[_Line] = []
    for along in ("length", "width"):
        group = [bend for bend in bends if (bend.along or row.whole.assume.bend_along) == along]
        across = blank.width if along == "length" else blank.length
        legs = blank.legs if along == "length" and len(blank.legs) == len(group) + 1 else []
        for number, bend in enumerate(group, 1):
            edge = 0 if number <= (len(group) + 1) // 2 else 1
            share = min(number, len(group) + 1 - number) / (len(group) + 1)
            own = sum(legs[:number]) if edge == 0 else sum(legs[number:])
            even = across * share if across is not None else None
            found.append(_Line(bend, along, edge, own if legs else even, own if legs else 0.0))
    return found


def _in_order(lines: list[_Line]) -> list[_Line]:
    """One side after the other, one edge after the other, the outermost bend first."""
    return sorted(lines, key=lambda line: (line.along != lines[0].along, line.edge, line.gauge_mm or 0.0))


def _step(kind: str, length: float | None, times: float, way: float) -> dict[str, Value]:
    return {"kind": kind, "length_mm": length, "per_part_count": round(times, 9), "gauge_x_mm": round(way, 3)}
