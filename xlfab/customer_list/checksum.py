"""Sums of what was read, to be compared with the customer's own: rows, pieces, area, mass, least and largest of each column."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS
from xlfab.core.units import factor, shown_unit, unit_label
from xlfab.customer_list.apply_mapping import Intake
from xlfab.inputs.defaults import defaults

_COLUMNS = {
    "thickness": "thickness_mm",
    "length": "blank_length_mm",
    "width": "blank_width_mm",
    "lot": "lot_size_count",
    "a year": "yearly_quantity_count",
}


def checksum(result: Intake, units: str = "metric") -> list[str]:
    """The lines: one of sums, one of least and largest; in mm, m² and kg, or for "us" in in, ft² and lb."""
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
    sums = [f"{len(result.parts)} rows", f"{pieces:,.0f} pieces", f"{_shown(area, 'm2', units, ',.1f')} of blanks"]
    sums += (
        [_shown(mass, "kg", units, ",.1f") + ("" if weighed == len(result.parts) else f" ({weighed} rows)")]
        if weighed
        else []
    )
    return [
        "Compare with the customer's own: " + ", ".join(sums) + f"; {left} rows left out",
        "Least and largest: "
        + "; ".join(filter(None, (_span(result, name, key, units) for name, key in _COLUMNS.items()))),
    ]


def _span(result: Intake, name: str, key: str, units: str) -> str:
    values = [value for part in result.parts if isinstance(value := part[key], float)]
    if not values:
        return ""
    if not key.endswith("_mm"):
        return f"{name} {min(values):,.0f} to {max(values):,.0f}"
    return (
        f"{name} {min(values) * factor('mm', shown_unit('mm', units)):.6g} to {_shown(max(values), 'mm', units, '.6g')}"
    )


def _shown(value: float, unit: str, units: str, look: str) -> str:
    """A number with its unit, in the unit system that is shown."""
    other = shown_unit(unit, units)
    return f"{value * factor(unit, other):{look}} {unit_label(other)}"
