"""A new comparison from a few answers: a scenario of one typical part, everything else at its defaults, to be filled in later."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab.core.writing import csv_text, whole_folder
from xlfab.inputs.defaults import defaults
from xlfab.inputs.drives import drives
from xlfab.inputs.part_lists import STEP_COLUMNS
from xlfab.inputs.scenario import PARTS_FILE, STEPS_FILE, load
from xlfab.inputs.sections import SCENARIO_FILE

_DIE = 8.0  # die opening over thickness: a usual first choice, shown in the list of bends for the user to change


@dataclass(frozen=True)
class Answers:
    """What is asked for a new comparison; sizes in mm or in inches, forces in kN or US tons, by the unit system."""

    title: str
    currency: str
    units: str
    wage: float
    energy_price: float
    shifts: float
    shift_h: float
    drive: str
    rated_force: float
    working_length: float
    old_price: float  # what the hydraulic brake costs; nothing where the one that is there would be kept
    new_price: float
    trade_in: float
    released_share: float
    material: str
    material_price: float
    thickness: float
    length: float
    width: float
    bends: int
    lot_size: int
    yearly_quantity: int


def write_comparison(folder: Path, answers: Answers) -> None:
    """Write the folder of the scenario whole, or nothing."""
    with whole_folder(folder) as place:
        (place / SCENARIO_FILE).write_text(_scenario(answers), encoding="utf-8")
        (place / PARTS_FILE).write_text(_parts(answers), encoding="utf-8")
        (place / STEPS_FILE).write_text(_steps(answers), encoding="utf-8")
        load(place)  # what cannot be read again is not written


def _scenario(a: Answers) -> str:
    size, force = ("in", "tonf") if a.units == "us" else ("mm", "kn")
    import tomlkit

    doc = tomlkit.document()
    doc.add(
        tomlkit.comment(
            "Made from a few answers. Every value that is not here is a default; its sheet of assumptions says on what it rests."
        )
    )
    doc.update({"name": "comparison", "title": a.title, "currency": a.currency, "units": a.units})
    hours = {"calendar_switch": 1, "shifts_count": a.shifts, "shift_h": a.shift_h}
    doc["workplace"] = {"wage_cur_per_h": a.wage, **hours, **_unknown("workplace", a.currency)}
    doc["tariff"] = {"energy_price_cur_per_kwh": a.energy_price, **_unknown("tariff", a.currency)}
    doc["purchase"] = {"released_value_share": a.released_share}
    kind = drives()[a.drive].short
    new_name = f"{kind[:1].upper()}{kind[1:]} brake"
    planned = {"planned_h_per_year": _planned(a)}
    brake = {f"rated_force_{force}": a.rated_force, f"working_length_{size}": a.working_length, **planned}
    bought = ["Hydraulic brake"] if a.old_price else []
    keep = "Hydraulic brake, new" if bought else "Keep the hydraulic brake"
    old = {
        "name": "Hydraulic brake",
        "drive": "hydraulic",
        **brake,
        "machine_price_cur": a.old_price or _guess(a.new_price),
    }
    new = {"name": new_name, "drive": a.drive, **brake, "machine_price_cur": a.new_price}
    reach = {f"shear_capacity_{size}": 2 * a.thickness, f"blade_length_{size}": a.working_length}
    shear = {"name": "Shear", "drive": "hydraulic", **reach, **planned, "machine_price_cur": _guess(0.5 * a.new_price)}
    option = {"shear": "Shear", "press_brake": "Hydraulic brake"}
    price = f"material_price_cur_per_{'lb' if a.units == 'us' else 'kg'}"
    lists: dict[str, list[dict[str, Any]]] = {
        "material": [{"material": a.material, price: a.material_price}],
        "shear": [shear],
        "press_brake": [old, new],
        "option": [
            {"name": _name(keep), **option, "buy": bought},
            {
                "name": new_name,
                "shear": "Shear",
                "press_brake": new_name,
                "buy": [new_name],
                "trade_in_cur": a.trade_in,
            },
        ],
    }
    for name, records in lists.items():
        doc[name] = tomlkit.aot()
        for record in records:
            doc[name].append(tomlkit.item(record))
    return tomlkit.dumps(doc)


def _unknown(section: str, currency: str) -> dict[str, Any]:
    """What has no default in this currency: shares and factors of the euro's, and nothing for amounts of money."""
    found: dict[str, Any] = {}
    there = defaults(section, currency)
    for key, item in defaults(section, "EUR").items():
        if key in there or key in ("wage_cur_per_h", "energy_price_cur_per_kwh"):
            continue
        if "_cur" in key:
            figures, source = (0.0, 0.0, 0.0), "Not known in this currency and counted as nothing; state your own"
        else:
            figures, source = (item.value, item.low, item.high), "Default for EUR; state your own"
        value, low, high = figures
        found[key] = {"value": value, "low": low, "high": high, "basis": "judgement", "source": source}
    return found


def _planned(a: Answers) -> dict[str, Any]:
    """The hours a year that a machine is planned to work: 220 days of the stated shifts, less a fifth that is lost."""
    hours = a.shifts * a.shift_h * 220
    figures = {"value": round(0.8 * hours), "low": round(0.5 * hours), "high": round(0.95 * hours)}
    return {**figures, "basis": "judgement", "source": "220 days of the shifts stated, less lost time; state your own"}


def _guess(price: float) -> dict[str, Any]:
    """A price that nobody was asked for: it counts in the machine-hour rate and in maintenance only."""
    source = "Taken from the price of the electric brake when this file was made; state your own"
    return {"value": price, "low": 0.6 * price, "high": 1.3 * price, "basis": "judgement", "source": source}


def _name(text: str) -> str:
    return text.replace(",", "")


def _parts(a: Answers) -> str:
    size = "in" if a.units == "us" else "mm"
    row: dict[str, str | float] = {
        "part": "Typical part",
        "description": "The part that stands for all others",
        "material": a.material,
        f"thickness_{size}": a.thickness,
        f"blank_length_{size}": a.length,
        f"blank_width_{size}": a.width,
        "lot_size_count": min(a.lot_size, a.yearly_quantity),
        "yearly_quantity_count": a.yearly_quantity,
        "tool_stations_count": 1,
        "sheet_use_share": 0.85,
    }
    return csv_text(list(row), [list(row.values())])


def _steps(a: Answers) -> str:
    """Two cuts, then bends side by side over the width, the part turned round at half of them."""
    size = "in" if a.units == "us" else "mm"
    heads = [
        name.replace("_mm", f"_{size}") for name in STEP_COLUMNS if not name.startswith(("flange", "force", "second"))
    ]
    pitch = a.width / (a.bends + 1)
    rows: list[dict[str, str | float]] = []
    for length, gauge in ((a.length, a.width), (a.width, a.length)):
        rows.append({"kind": "cut", f"length_{size}": length, f"gauge_x_{size}": gauge})
    for number in range(a.bends):
        turned = number == (a.bends + 1) // 2
        rows.append(
            {
                "kind": "bend",
                f"length_{size}": a.length,
                "bend_angle_deg": 90,
                f"die_opening_{size}": round(_DIE * a.thickness, 4),
                f"gauge_x_{size}": round(pitch, 3) if number else 0,
                f"gauge_r_{size}": 0,
                f"gauge_z_{size}": 0,
                "turn_over_switch": int(turned),
            }
        )
    for number, row in enumerate(rows, 1):
        row.update({"part": "Typical part", "step": number, "per_part_count": 1})
    return csv_text(heads, [[row.get(head) for head in heads] for row in rows])
