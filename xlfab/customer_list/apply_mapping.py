"""A list and its mapping turned into the rows of parts.csv and steps.csv."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from xlfab.catalogue import FUNCTIONS
from xlfab.core.errors import ScenarioError
from xlfab.customer_list.cell_grid import Sheet
from xlfab.customer_list.list_mapping import OPEN, Mapping, SheetMapping
from xlfab.customer_list.row_fields import Note, Row, check_headings, show

Value = str | float | None
_TOTAL = re.compile(r"(total|subtotal|sum|summe|gesamt|somme|totale|suma)\b.*", re.IGNORECASE)
_NOT_IN_NAMES = re.compile(r"[^\w .-]", re.ASCII)


@dataclass
class Intake:
    """What came of a list: rows of parts, the steps of each, and notes on what was not read or should be looked at."""

    parts: list[dict[str, Value]] = field(default_factory=list)
    steps: list[list[dict[str, Value]]] = field(default_factory=list)
    notes: list[Note] = field(default_factory=list)


def apply(sheets: list[Sheet], mapping: Mapping) -> Intake:
    """Read every sheet that the mapping names."""
    by_name = {sheet.name: sheet for sheet in sheets}
    result = Intake()
    for item in mapping.sheets:
        # a CSV file is named anew each time; its only sheet is meant whatever its name
        sheet = by_name.get(item.sheet) or (sheets[0] if len(sheets) == len(mapping.sheets) == 1 else None)
        if sheet is None:
            raise ScenarioError(f"the list has no sheet '{item.sheet}'; it has {', '.join(by_name)}")
        check_headings(sheet, item)
        for row in _rows(sheet, item, mapping):
            _take(row, result)
            result.notes += row.notes
    _own_names(result)
    return result


def _rows(sheet: Sheet, item: SheetMapping, mapping: Mapping) -> Iterator[Row]:
    for number in range(item.heading_first_row + item.heading_rows - 1, len(sheet.rows)):
        row = Row(sheet, item, mapping, number)
        if any(row.cell(name) is not None for name in item.columns):
            yield row


def _take(row: Row, result: Intake) -> None:
    """Read one row into the result, or note why it is none."""
    filled = [show(row.cell(name)) for name in row.mapping.columns if row.cell(name) is not None]
    if any(_TOTAL.fullmatch(text) for text in filled):
        row.note("part", "left out: a total", " | ".join(filled))
    elif all(show(row.cell(name)) in column.heading for name, column in row.mapping.columns.items()):
        row.note("part", "left out: the heading again", " | ".join(filled))
    elif len(filled) == 1 and len(row.mapping.columns) > 2:
        row.note("part", "left out: a row with one text only", filled[0])
    else:
        part, bends = _part(row)
        result.parts.append(part)
        result.steps.append(_steps(row, part, bends))


def _part(row: Row) -> tuple[dict[str, Value], float | None]:
    assume = row.whole.assume
    thickness, length, width, folds = _flat(row)
    bends = row.count("bends", "bends_count") if row.has("bends") else folds
    if row.has("flanges") and folds is not None and bends != folds:
        row.note("bends", f"{bends or 0:g} bends, but {folds:g} between the flanges")
    lot, yearly = _lots(row)
    part: dict[str, Value] = {
        "part": row.text("part"),
        "description": row.text("description"),
        "material": _material(row),
        "thickness_mm": thickness,
        "blank_length_mm": length,
        "blank_width_mm": width,
        "lot_size_count": lot,
        "yearly_quantity_count": yearly,
        "tool_stations_count": row.count("stations", "tool_stations_count")
        if row.has("stations")
        else assume["tool_stations_count"],
        "sheet_use_share": row.share("sheet_use", "sheet_use_share")
        if row.has("sheet_use")
        else assume["sheet_use_share"],
    }
    if not part["part"]:
        row.note("part", "empty: the part has no name")
    return part, bends


def _material(row: Row) -> str:
    found = row.text("material")
    known = row.whole.materials.get(found, OPEN)
    if known == OPEN:
        row.note(
            "material", "no known material is named so; the text is kept, put in the right name" if found else "empty"
        )
        return found
    return known


def _lots(row: Row) -> tuple[float | None, float | None]:
    """Lot size and yearly quantity; of the two, a list that has one gives the other by the lots a year."""
    lots = float(row.whole.assume["yearly_lots_count"])
    lot = row.count("lot", "lot_size_count") if row.has("lot") else None
    yearly = row.count("yearly", "yearly_quantity_count") if row.has("yearly") else None
    if row.has("lot") and not row.has("yearly"):
        yearly = None if lot is None else lot * lots
    if row.has("yearly") and not row.has("lot"):
        lot = None if yearly is None else max(1.0, round(yearly / lots))
    if not row.has("yearly") and not row.has("lot"):
        row.note("lot", "the list has no column for the quantity", "")
    return lot, yearly


def _flat(row: Row) -> tuple[float | None, float | None, float | None, float | None]:
    """Thickness, length and width of the flat blank, and the bends between flanges where the list gives those."""
    thickness = row.length("thickness", "thickness_mm") if row.has("thickness") else None
    length = row.length("length", "blank_length_mm") if row.has("length") else None
    width = row.length("width", "blank_width_mm") if row.has("width") else None
    if row.has("size"):
        thickness, length, width = _from_size(row, thickness, length, width)
    if row.has("flanges"):
        return thickness, length, *_from_flanges(row, thickness, width)
    for name, value in (("thickness", thickness), ("length", length), ("width", width)):
        if value is None and not row.has(name) and not row.has("size"):
            row.note(name, "the list has no column for it", "")
    return thickness, length, width, None


def _from_size(
    row: Row, thickness: float | None, length: float | None, width: float | None
) -> tuple[float | None, float | None, float | None]:
    found = row.lengths("size")
    if found is None:
        return thickness, length, width
    if len(found) == 3:
        thin = min(found)
        if row.has("thickness") and (thickness is None or abs(thin - thickness) > 0.01):
            row.note("size", "three sizes, and none of them is the thickness of its own column")
            return thickness, None, None
        if not row.has("thickness"):
            row.note("size", f"three sizes: the smallest, {thin:g} mm, is taken for the thickness")
            thickness = row.inside("size", "thickness_mm", thin)
        found.remove(thin)
    if len(found) != 2:
        row.note("size", f"{len(found)} sizes; two are wanted (or three with the thickness)")
        return thickness, None, None
    return thickness, row.inside("size", "blank_length_mm", found[0]), row.inside("size", "blank_width_mm", found[1])


def _from_flanges(row: Row, thickness: float | None, width: float | None) -> tuple[float | None, float | None]:
    """Flat width from outside flange lengths, by the bend allowance of DIN 6935."""
    found = row.lengths("flanges")
    if found is None:
        return width, None
    bends = float(len(found) - 1)
    if row.has("width") or thickness is None:
        return width, bends
    assume = row.whole.assume
    radius = float(assume["inside_radius_thickness_ratio"]) * thickness
    change = FUNCTIONS["flat_length_change_mm"](float(assume["bend_angle_deg"]), radius, thickness)
    flat = sum(found) + bends * change
    return row.inside("flanges", "blank_width_mm", round(flat, 2)), bends


def _steps(row: Row, part: dict[str, Value], bends: float | None) -> list[dict[str, Value]]:
    """The cuts and bends of a part, as the mapping assumes them."""
    assume = row.whole.assume
    steps: list[dict[str, Value]] = []

    def step(kind: str, length: Value, times: float, **rest: Value) -> None:
        common: dict[str, Value] = {
            "step": len(steps) + 1.0,
            "kind": kind,
            "length_mm": length,
            "per_part_count": times,
        }
        steps.append(common | {"gauge_x_mm": assume["gauge_x_mm"]} | rest)

    for along in ("length", "width"):
        times = float(assume[f"cuts_along_{along}_count"])
        if times > 0:
            step("cut", part[f"blank_{along}_mm"], times)
    if not bends:
        return steps
    bend_length = part[f"blank_{assume['bend_along']}_mm"]
    if row.has("bend_length"):
        bend_length = row.length("bend_length", "bend_length_mm")
    thickness = part["thickness_mm"]
    die = float(assume["die_opening_thickness_ratio"]) * thickness if isinstance(thickness, float) else None
    still: dict[str, Value] = {"gauge_r_mm": 0.0, "gauge_z_mm": 0.0, "turn_over_switch": 0.0}
    for _ in range(int(bends)):
        step("bend", bend_length, 1.0, bend_angle_deg=assume["bend_angle_deg"], die_opening_mm=die, **still)
    return steps


def _own_names(result: Intake) -> None:
    """Give every part a name of its own in the characters that are allowed, and say where it was changed."""
    taken: set[str] = set()
    for part, steps in zip(result.parts, result.steps, strict=True):
        given = str(part["part"] or "")
        name = base = " ".join(_NOT_IN_NAMES.sub("_", given).split()).lstrip(" ._-")[:50] or "unnamed"
        number = 2
        while name.casefold() in taken:
            name, number = f"{base} {number}", number + 1
        taken.add(name.casefold())
        if name != given:
            reason = f"named '{name}': part names are unique, start with a letter or digit, and hold letters, digits, space . _ - only"
            result.notes.append(Note("", "", "part", given, reason))
        for row in (part, *steps):
            row["part"] = name
