"""A scenario: a shop in a folder of scenario.toml, parts.csv and steps.csv, read whole or refused whole."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_toml
from xlfab.inputs.csv_tables import Columns, Table, read_table
from xlfab.inputs.cut_list_file import CUT_LIST_COLUMNS, read_cut_lists
from xlfab.inputs.faults import Faults
from xlfab.inputs.machine_records import PressBrake, Shear
from xlfab.inputs.material import Material
from xlfab.inputs.own_features import OwnFeature, SellerNote
from xlfab.inputs.part_lists import BEND_EXTRAS, PART_COLUMNS, PART_OPTIONAL, STEP_COLUMNS, read_parts, read_steps
from xlfab.inputs.purchase_terms import Finance, Option, Purchase
from xlfab.inputs.sections import SCENARIO_FILE, Sections
from xlfab.inputs.stated_values import Assumption
from xlfab.inputs.tariff_record import Tariff, with_co2_origin
from xlfab.inputs.unusual import UnusualValue, unusual_values
from xlfab.inputs.workplace import Workplace

PARTS_FILE, STEPS_FILE, CUT_LISTS_FILE = "parts.csv", "steps.csv", "cut_lists.csv"


@dataclass(frozen=True)
class Scenario:
    """All that a shop states, in shop units, and what every value rests on. The first option is the one to compare with."""

    name: str
    title: str
    currency: str
    units: str
    note: str
    workplace: Workplace
    tariff: Tariff
    purchase: Purchase
    finance: Finance
    materials: Columns
    parts: Columns
    bends: Columns
    cuts: Columns
    cut_lines: Columns
    press_brakes: list[PressBrake]
    shears: list[Shear]
    options: list[Option]
    assumptions: list[Assumption]
    features: list[OwnFeature] = field(default_factory=list)
    sellers: list[SellerNote] = field(default_factory=list)
    warnings: list[UnusualValue] = field(default_factory=list)  # values outside their usual range, as they were typed


def load(folder: str | os.PathLike[str]) -> Scenario:
    """Read a scenario's folder; ScenarioError lists every fault with file, place, value and what is allowed."""
    path = Path(folder)
    if not path.is_dir():
        raise ScenarioError(
            f"'{path}' is no folder; a scenario is a folder of {SCENARIO_FILE}, {PARTS_FILE} and {STEPS_FILE}"
        )
    faults = Faults()
    sections = Sections(read_toml(path / SCENARIO_FILE), faults)
    workplace = sections.section("workplace", Workplace)
    tariff = sections.section("tariff", Tariff)
    purchase = sections.section("purchase", Purchase)
    finance = sections.section("finance", Finance)
    materials = sections.records("material", Material)
    press_brakes = sections.records("press_brake", PressBrake)
    shears = sections.records("shear", Shear)
    options = sections.records("option", Option)
    features = sections.records("feature", OwnFeature)
    sellers = sections.records("seller", SellerNote)
    sections.check_names()
    sections.check_one_source(workplace)
    tables = _Tables(path, faults)
    parts, bends, cuts = _read_tables(tables, sections.names("material"))
    cut_lines = read_cut_lists(tables.read(CUT_LISTS_FILE, CUT_LIST_COLUMNS, []), parts)
    faults.raise_if_any()
    assert workplace and tariff and purchase and finance  # a record that is missing has booked its fault above
    tariff, assumptions = with_co2_origin(tariff, sections.assumptions)
    return Scenario(
        **sections.texts,
        workplace=workplace,
        tariff=tariff,
        purchase=purchase,
        finance=finance,
        materials=_material_columns(materials),
        parts=parts,
        bends=bends,
        cuts=cuts,
        cut_lines=cut_lines,
        press_brakes=press_brakes,
        shears=shears,
        options=_with_known_names(options, [*press_brakes, *shears]),
        assumptions=assumptions,
        features=features,
        sellers=sellers,
        warnings=[
            *unusual_values(SCENARIO_FILE, assumptions, sections.currency, sections.texts["units"]),
            *tables.unusual(sections.currency, sections.texts["units"]),
        ],
    )


class _Tables:
    """The lists of a folder, each kept after reading so that its unusual values can be named."""

    def __init__(self, folder: Path, faults: Faults) -> None:
        self.folder = folder
        self.faults = faults
        self.kept: dict[str, Table] = {}

    def read(self, file: str, known: Sequence[str], optional: Sequence[str]) -> Table | None:
        """One list; None where it cannot be read, or may be missing and is."""
        if file == CUT_LISTS_FILE and not (self.folder / file).exists():
            return None
        table = read_table(self.folder / file, known, optional, self.faults.report(file))
        if table is not None:
            self.kept[file] = table
        return table

    def unusual(self, currency: str, units: str) -> list[UnusualValue]:
        """The unusual values of all lists."""
        return [found for file, table in self.kept.items() for found in table.unusual(file, currency, units)]


def _read_tables(tables: _Tables, materials: Sequence[str]) -> tuple[Columns, Columns, Columns]:
    parts_table = tables.read(PARTS_FILE, PART_COLUMNS, PART_OPTIONAL)
    steps_table = tables.read(STEPS_FILE, STEP_COLUMNS, list(BEND_EXTRAS))
    if parts_table is None:
        return {}, {}, {}
    parts = read_parts(parts_table, materials)
    if steps_table is None:
        return parts, {}, {}
    return parts, *read_steps(steps_table, parts["part"])


def _material_columns(materials: Sequence[Material]) -> Columns:
    return {
        name: np.array([getattr(item, name) for item in materials], dtype=object if name == "material" else np.float64)
        for name in Material.model_fields
    }


def _with_known_names(options: Sequence[Option], machines: Sequence[PressBrake | Shear]) -> list[Option]:
    """Options with machine names in the spelling of the machine's own record."""
    spelling = {machine.name.casefold(): machine.name for machine in machines}
    return [
        option.model_copy(
            update={
                "shear": spelling[option.shear.casefold()],
                "press_brake": spelling[option.press_brake.casefold()],
                "buy": [spelling[name.casefold()] for name in option.buy],
            }
        )
        for option in options
    ]
