"""The flat blank of a part: thickness, length and width from columns of their own, from one cell, or from the legs of a profile."""

from __future__ import annotations

from dataclasses import dataclass, field

from xlfab.catalogue import FUNCTIONS
from xlfab.customer_list.designations import without_thickness
from xlfab.customer_list.propose import material_text
from xlfab.customer_list.quantity import Unreadable, in_mm, quantity
from xlfab.customer_list.row_fields import Row
from xlfab.inputs.defaults import defaults

KNOWN = {"thickness": "thickness_mm", "length": "blank_length_mm", "width": "blank_width_mm"}
SAME_MM = 0.01


@dataclass
class Blank:
    """Sizes in mm, each None where it is not known, and the outside lengths of the legs where the list gives those."""

    thickness: float | None = None
    length: float | None = None
    width: float | None = None
    legs: list[float] = field(default_factory=list)

    def mass_kg(self, material: str) -> float | None:
        """Mass by the density of a material with defaults; None where anything is not known."""
        known = defaults("material", material).get("density_kg_per_m3")
        if known is None or self.thickness is None or self.length is None or self.width is None:
            return None
        return float(FUNCTIONS["blank_mass_kg"](self.length, self.width, self.thickness, known.value))


def read_blank(row: Row) -> Blank:
    """The flat blank of a row; what is missing or contradicts is noted."""
    blank = Blank()
    for name, known in KNOWN.items():
        if row.has(name):
            setattr(blank, name, row.length(name, known))
    if row.has("size"):
        _from_size(row, blank)
    if row.has("flanges"):
        _from_legs(row, blank)
    for name in KNOWN:
        if (
            getattr(blank, name) is None
            and not row.has(name)
            and not row.has("size")
            and not (name == "width" and row.has("flanges"))
        ):
            row.note_list(name, "the list has no column for it")
    _check_against_material(row, blank)
    return blank


def _from_size(row: Row, blank: Blank) -> None:
    found = row.lengths("size")
    if found is None:
        return
    order = list(row.mapping.columns["size"].order)
    if order and len(order) == len(found):
        named = dict(zip(order, found, strict=True))
    elif len(found) == 3 and not order:
        named = _by_the_smallest(row, blank, found)
    elif len(found) == 2 and set(order) <= {"length", "width", "thickness"}:
        named = dict(zip([name for name in order if name != "thickness"] or ["length", "width"], found, strict=True))
    else:
        wanted = " x ".join(order) or "two are wanted (or three with the thickness)"
        row.note("size", f"{len(found)} sizes; {wanted}")
        return
    for name, value in named.items():
        held = getattr(blank, name)
        if held is not None and abs(held - value) > SAME_MM:
            row.note("size", f"says {name} {value:g} mm, its own column says {held:g} mm: neither is taken")
            setattr(blank, name, None)
        else:
            setattr(blank, name, row.inside("size", KNOWN[name], value))


def _by_the_smallest(row: Row, blank: Blank, found: list[float]) -> dict[str, float]:
    """Three sizes whose order nobody states: the thickness is the smallest, or the one of its own column."""
    thin = min(found)
    if blank.thickness is not None and any(abs(size - blank.thickness) <= SAME_MM for size in found):
        thin = min(found, key=lambda size: abs(size - (blank.thickness or 0)))
    elif row.has("thickness"):
        row.note("size", "three sizes, and none is the thickness of its own column: outside sizes of the bent part?")
        return {}
    else:
        row.note("size", f"three sizes: the smallest, {thin:g} mm, is taken for the thickness")
    rest = list(found)
    rest.remove(thin)
    return {"thickness": thin, "length": rest[0], "width": rest[1]}


def _from_legs(row: Row, blank: Blank) -> None:
    """Flat width from the outside lengths of the legs, by the bend allowance of DIN 6935 at square bends."""
    found = row.lengths("flanges")
    if found is None or not found:
        return
    blank.legs = found
    bends = len(found) - 1
    if row.has("width") or blank.thickness is None:
        return
    assume = row.whole.assume
    change = FUNCTIONS["flat_length_change_mm"](
        assume.bend_angle_deg, assume.inside_radius_thickness_ratio * blank.thickness, blank.thickness
    )
    flat = round(sum(found) + bends * float(change), 2)
    blank.width = row.inside("flanges", "blank_width_mm", flat)
    if bends:
        legs = " + ".join(f"{leg:g}" for leg in found)
        row.note("flanges", f"flat width {flat:g} mm from outside legs {legs} mm and {bends} bends, inside radius "
                 f"{assume.inside_radius_thickness_ratio:g} x thickness assumed")  # fmt: skip


def _check_against_material(row: Row, blank: Blank) -> None:
    """A thickness within the material's name must be the one of the thickness column."""
    told = without_thickness(material_text(row.cell("material")))[1]
    if not told or blank.thickness is None or row.places("thickness") == row.places("material"):
        return
    try:
        item = quantity(told, row.mapping.decimal)
        own = in_mm(item, "mm") if item.unit != "gauge" else blank.thickness
    except Unreadable:
        return
    if abs(own - blank.thickness) > SAME_MM:
        row.note("thickness", f"the material says {own:g} mm, the thickness column {blank.thickness:g} mm")
