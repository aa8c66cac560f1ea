"""Parts and their steps: two CSV files, read as whole columns."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import partial

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from xlfab.inputs.csv_tables import Columns, Table, by_text
from xlfab.inputs.faults import nearest
from xlfab.inputs.lookup_tables import lookup_table
from xlfab.inputs.records import NAME_RULE, name_ok

PART_NUMBERS = (
    "thickness_mm",
    "blank_length_mm",
    "blank_width_mm",
    "lot_size_count",
    "yearly_quantity_count",
    "tool_stations_count",
    "sheet_use_share",
)
# columns that may be missing or empty, with what then counts
PART_EXTRAS = {
    "stored_program_switch": "1",
    "sheet_length_mm": "0",
    "sheet_width_mm": "0",
    "edge_trim_mm": "0",
    "strip_trim_mm": "0",
    "sheet_plan_switch": "0",
}
BEND_EXTRAS = {"flange_length_mm": "0", "force_multiple_ratio": "1", "second_travel_mm": "0"}
PART_COLUMNS = ("part", "description", "material", *PART_NUMBERS, "family", *PART_EXTRAS)
PART_OPTIONAL = ("description", "family", *PART_EXTRAS)
BEND_ONLY = ("bend_angle_deg", "die_opening_mm", "gauge_r_mm", "gauge_z_mm", "turn_over_switch")
STEP_COLUMNS = (
    "part", "step", "kind", "length_mm", "bend_angle_deg", "die_opening_mm",
    "gauge_x_mm", "gauge_r_mm", "gauge_z_mm", "turn_over_switch", "per_part_count", *BEND_EXTRAS,
)  # fmt: skip
_LAST_STEP = 9999
_WHOLE = re.compile(r"([0-9]{1,4})(?:[.,]0+)?")


def read_parts(table: Table, materials: Iterable[str]) -> Columns:
    """The parts, each name once, each material known."""
    parts = table.cells["part"]
    table.fault(parts.index[~parts.map(name_ok)], "part", lambda line: f"must be {NAME_RULE}")
    _no_part_twice(table, parts.str.casefold())
    columns: Columns = {
        "part": parts.to_numpy(dtype=object),
        "description": table.cells["description"].to_numpy(dtype=object),
        "material": known_names(table, "material", materials, "known material"),
    }
    columns |= {name: table.numbers(name, name) for name in PART_NUMBERS}
    columns |= {name: table.filled(name, text) for name, text in PART_EXTRAS.items()}
    _plan_needs_a_sheet(table, columns)
    family = table.cells["family"]
    columns["family"] = family.where(family != "", parts).to_numpy(dtype=object)
    return {name: columns[name] for name in PART_COLUMNS}


def read_steps(table: Table, parts: Iterable[str]) -> tuple[Columns, Columns]:
    """The bends and the cuts, in the order of the parts and then of the steps."""
    names = list(parts)
    part = known_names(table, "part", names, "known part")
    step = _step_numbers(table)
    kind = known_names(table, "kind", ("cut", "bend"), "allowed")
    _no_step_twice(table, part, step)
    place = pd.Series(part).map({name: i for i, name in enumerate(names)}).fillna(-1).to_numpy(dtype=np.float64)
    order = np.lexsort((step, place))
    bends, cuts = _read_bends(table, kind == "bend"), _read_cuts(table, kind == "cut")
    tables: list[Columns] = []
    for columns, name in ((bends, "bend"), (cuts, "cut")):
        rows = kind == name
        picked = order[rows[order]]
        rank = (np.cumsum(rows) - 1)[picked]  # where a row of the file stands among its own kind
        sorted_columns = {key: values[rank] for key, values in columns.items()}
        tables.append({"part": part[picked], "step": step[picked]} | sorted_columns)
    return tables[0], tables[1]


def _read_bends(table: Table, rows: NDArray[np.bool_]) -> Columns:
    names = {str(name): f"{force:g}" for name, force in zip(*_press_steps(), strict=True)}
    multiple = table.cells["force_multiple_ratio"]
    table.cells["force_multiple_ratio"] = multiple.map(lambda text: names.get(text.casefold(), text))
    columns: Columns = {"bend_length_mm": table.numbers("length_mm", "bend_length_mm", rows)}
    for name in (*BEND_ONLY, "gauge_x_mm", "per_part_count"):
        columns[name] = table.numbers(name, name, rows)
    return columns | {name: table.filled(name, text, rows) for name, text in BEND_EXTRAS.items()}


def _press_steps() -> tuple[Iterable[str], Iterable[float]]:
    steps = lookup_table("press_steps")
    return steps["press_step"], steps["force_multiple_ratio"]


def _read_cuts(table: Table, rows: NDArray[np.bool_]) -> Columns:
    for name in (*BEND_ONLY, *BEND_EXTRAS):
        cells = table.cells.loc[rows, name]
        filled = cells.index[by_text(cells, lambda text: text.strip("0.,") != "").astype(bool)]
        table.fault(filled, name, lambda line: "belongs to bends only; leave it empty (or 0) for a cut")
    columns: Columns = {"cut_length_mm": table.numbers("length_mm", "cut_length_mm", rows)}
    for name in ("gauge_x_mm", "per_part_count"):
        columns[name] = table.numbers(name, name, rows)
    return columns


def known_names(table: Table, column: str, names: Iterable[str], what: str) -> NDArray[np.object_]:
    """A column of names in their known spelling; upper and lower case are the same."""
    spelling = {name.casefold(): name for name in names}
    cells = table.cells[column]
    found = by_text(cells, lambda text: spelling.get(text.casefold()))
    unknown = cells.index[pd.isna(found)]
    table.fault(unknown, column, lambda line: f"is not known; {nearest(cells[line], spelling.values(), what)}")
    return found.astype(object)


def _plan_needs_a_sheet(table: Table, columns: Columns) -> None:
    """Sheet use by the plan asks for a sheet that holds the blank."""
    trims = {
        "sheet_length_mm": ("edge_trim_mm", "blank_length_mm"),
        "sheet_width_mm": ("strip_trim_mm", "blank_width_mm"),
    }
    for side, (trim, blank) in trims.items():
        room = columns[side] - 2 * columns[trim] >= columns[blank]
        wrong = table.cells.index[(columns["sheet_plan_switch"] == 1) & ~room]
        why = f"asks for a {side} that holds the blank within its trims; state the sheet, or 0"
        table.fault(wrong, "sheet_plan_switch", partial(_say, why))


def _say(text: str, _line: int) -> str:
    return text


def _step_numbers(table: Table) -> NDArray[np.float64]:
    cells = table.cells["step"]
    numbers = by_text(cells, _step_number)
    wrong = cells.index[numbers == 0]
    table.fault(wrong, "step", lambda line: f"must be a whole number from 1 to {_LAST_STEP}")
    return numbers.astype(np.float64)


def _step_number(text: str) -> int:
    whole = _WHOLE.fullmatch(text)
    return int(whole[1]) if whole else 0


def _no_step_twice(table: Table, part: NDArray[np.object_], step: NDArray[np.float64]) -> None:
    pairs = pd.DataFrame({"part": part, "step": step}, index=table.cells.index)
    twice = pairs.duplicated() & pairs["part"].notna() & (pairs["step"] > 0)
    table.fault(
        pairs.index[twice],
        "step",
        lambda line: f"stands twice in part {table.text(line, 'part')!r}; every step of a part needs its own number",
    )


def _no_part_twice(table: Table, folded: pd.Series[str]) -> None:
    first = {name: line for line, name in folded.drop_duplicates().items()}
    table.fault(
        folded.index[folded.duplicated()],
        "part",
        lambda line: f"stands twice, first in line {first[folded[line]]}; upper and lower case are the same",
    )
