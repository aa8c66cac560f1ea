"""Cut lists: how the sheets of a part are taken apart on the shear, line by line in the order in which it is cut. The file may be missing."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from xlfab.inputs.csv_tables import Columns, Table
from xlfab.inputs.faults import nearest

CUT_LIST_COLUMNS = ("part", "pass_count", "gauge_position_mm", "cut_length_mm", "blade_place_mm", "strokes_count")
NUMBERS = CUT_LIST_COLUMNS[1:]


def read_cut_lists(table: Table | None, parts: Columns) -> Columns:
    """The lines in the order in which they are written, part after part; a part with a cut list must state its sheet."""
    if table is None:
        return {"part": np.empty(0, object), **{name: np.empty(0) for name in NUMBERS}}
    cells = table.cells["part"]
    spelling = {str(name).casefold(): name for name in parts.get("part", ())}
    found = cells.str.casefold().map(spelling)
    unknown = cells.index[found.isna()]
    table.fault(unknown, "part", lambda line: f"is not known; {nearest(cells[line], _names(spelling), 'known part')}")
    sheets = dict(zip(parts.get("part", ()), parts.get("sheet_length_mm", ()), strict=True))
    bare = cells.index[found.map(lambda name: sheets.get(name, 1.0)).eq(0)]
    table.fault(
        bare, "part", lambda line: "has a cut list and no sheet: state sheet_length_mm and sheet_width_mm of the part"
    )
    columns: Columns = {"part": found.to_numpy(dtype=object)}
    columns |= {name: table.numbers(name, name) for name in NUMBERS}
    order = np.argsort(
        found.map({name: place for place, name in enumerate(spelling.values())}).fillna(-1), kind="stable"
    )
    return {name: values[order] for name, values in columns.items()}


def _names(spelling: dict[str, str]) -> Iterable[str]:
    return spelling.values()
