"""Sums of what was read, to be compared with the customer's own: rows, pieces, area, mass, least and largest of each column."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS
from xlfab.customer_list.apply_mapping import Intake
from xlfab.inputs.defaults import defaults

_COLUMNS = {
    "thickness": "thickness_mm",
    "length": "blank_length_mm",
    "width": "blank_width_mm",
    "lot": "lot_size_count",
    "a year": "yearly_quantity_count",
}


def checksum(result: Intake) -> list[str]:
    """The lines: one of sums, one of least and largest."""
    pieces = area = mass = 0.0
    weighed = 0
    for part in result.parts:
        lot, length, width = (part[name] for name in ("lot_size_count", "blank_length_mm", "blank_width_mm"))
        if not isinstance(lot, float):
            continue
        pieces += lot
        if not (isinstance(length, float) and isinstance(width, float)):
            continue
        area += lot * length * width / 1e6
        density = defaults("material", str(part["material"])).get("density_kg_per_m3")
        thickness = part["thickness_mm"]
        if density is not None and isinstance(thickness, float):
            mass += lot * float(FUNCTIONS["blank_mass_kg"](length, width, thickness, density.value))
            weighed += 1
    left = sum(note.field == "row" and note.reason.startswith(("left out", "set aside")) for note in result.notes)
    sums = [f"{len(result.parts)} rows", f"{pieces:,.0f} pieces", f"{area:,.1f} m² of blanks"]
    sums += [f"{mass:,.1f} kg" + ("" if weighed == len(result.parts) else f" ({weighed} rows)")] if weighed else []
    return [
        "Compare with the customer's own: " + ", ".join(sums) + f"; {left} rows left out",
        "Least and largest: " + "; ".join(filter(None, (_span(result, name, key) for name, key in _COLUMNS.items()))),
    ]


def _span(result: Intake, name: str, key: str) -> str:
    values = [value for part in result.parts if isinstance(value := part[key], float)]
    unit = " mm" if key.endswith("_mm") else ""
    return f"{name} {min(values):g} to {max(values):g}{unit}" if values else ""
