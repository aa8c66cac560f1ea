"""Sixty ways to spoil a workbook so that it shows wrong figures, each with the place where it was done: the truth for the audit.

Each takes a file and returns the place: a sheet and a cell, a sheet alone (''), or a defined name ('' and the name).
Run `python tests/used_workbook/sabotages.py` for the count of found and missed.
"""

from __future__ import annotations

import re
from typing import Any

import sabotage_cells
import sabotage_sheets
from sabotage_base import COMPARISON, QUOTE, Place
from workbook_file import WorkbookFile

MODULES = (sabotage_cells, sabotage_sheets)  # each adds its own to the two lists
# what mixes up a whole list or sheet, and so cannot stand in one file with others; True where it is more than one fault
ALONE: dict[str, bool] = {
    "parts sorted without their lots": False,
    "names sorted alone": False,
    "bends sorted without the angle": False,
    "sizes sorted alone": False,
    "name_doubled": True,
    "part_renamed_without_its_steps": True,
    "rows_put_in_above": True,
    "row_deleted_from_a_list": True,
    "column_put_in": True,
    "sheet_renamed": False,
    "validation_removed": False,
    "protection_removed": False,
    "record_changed": True,
}


def covers(found: Any, place: Place) -> bool:
    """True if a finding names the place of a sabotage."""
    sheet, cell = place
    if found.sheet.split(",")[0] != sheet:
        return False
    if not cell or found.cell == cell:
        return True
    first, _, last = found.cell.partition(":")
    ends = [re.fullmatch(r"([A-Z]+)(\d+)", one) for one in (first, last or first)]
    at = re.fullmatch(r"([A-Z]+)(\d+)", cell)
    if at is None or None in ends:
        return False
    return ends[0][1] <= at[1] <= ends[1][1] and int(ends[0][2]) <= int(at[2]) <= int(ends[1][2])


def count(audit: Any, files: dict[str, Any], folder: Any, groups: Any) -> dict[str, tuple[bool, int]]:
    """Whether each sabotage is found at its place, and how many findings it raises in all."""
    found = {}
    for kind, sabotages in groups.items():
        for name, sabotage in sabotages.items():
            file = WorkbookFile(files[kind])
            place = sabotage(file)
            findings = audit(file.save(folder / "spoiled.xlsx")).findings
            found[f"{kind}: {name}"] = any(covers(item, place) for item in findings), len(findings)
    return found


if __name__ == "__main__":
    import tempfile
    from pathlib import Path

    from tiny_shop import built

    from xlfab.used_workbook.audit import audit

    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        files = {kind: built(folder, kind) for kind in ("quote", "comparison")}
        results = count(audit, files, folder, {"quote": QUOTE, "comparison": COMPARISON})
        for name, (good, number) in results.items():
            print(f"{'found ' if good else 'MISSED'} {number:4d} {name}")
        print(f"{sum(good for good, _ in results.values())} of {len(results)} found")
