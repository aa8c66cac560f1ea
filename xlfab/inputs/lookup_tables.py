"""Small tables that come with the package and are looked up by name or by thickness: guard modes, usual rake, usual die opening."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from xlfab.inputs.data_files import data_rows

TEXTS = ("guard_mode", "press_step", "basis", "source")


def lookup_table(name: str) -> dict[str, NDArray[Any]]:
    """A table of the package as columns, with what each line rests on.

    >>> float(lookup_table("guard_modes")["guard_speed_mm_s"][-1])
    10.0
    """
    rows = data_rows(name)
    return {
        key: np.array(
            [row[key] if key in TEXTS else float(row[key]) for row in rows], dtype=object if key in TEXTS else float
        )
        for key in rows[0]
    }
