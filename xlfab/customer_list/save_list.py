"""What comes of a list, written into a new folder: parts.csv, steps.csv, the mapping, and all that was not read."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from xlfab.core.writing import csv_text, whole_folder
from xlfab.customer_list.apply_mapping import Intake
from xlfab.customer_list.list_mapping import Mapping, as_toml

NOTE_COLUMNS = ("sheet", "cell", "field", "shown", "reason")


def write(intake: Intake, mapping: Mapping, folder: Path) -> None:
    """Write the folder whole; it must not be there yet."""
    from xlfab.inputs.part_lists import PART_COLUMNS, STEP_COLUMNS

    steps = [step for part in intake.steps for step in part]
    notes = [[getattr(note, name) for name in NOTE_COLUMNS] for note in intake.notes]
    texts = {
        "parts.csv": csv_text(PART_COLUMNS, _rows(intake.parts, PART_COLUMNS)),
        "steps.csv": csv_text(STEP_COLUMNS, _rows(steps, STEP_COLUMNS)),
        "notes.csv": csv_text(NOTE_COLUMNS, notes),
        "mapping.toml": as_toml(mapping),
    }
    with whole_folder(folder) as place:
        for name, text in texts.items():
            (place / name).write_text(text, encoding="utf-8")


def _rows(records: Sequence[dict[str, Any]], columns: Sequence[str]) -> list[list[Any]]:
    return [[record.get(name) for name in columns] for record in records]
