"""Your own stopwatch readings, fitted to the handling formula by least squares: base, slope over size, slope over mass.

The file is a CSV with the columns blank_length_mm, blank_width_mm, blank_mass_kg, observed_time_s and, if wanted, rating_share.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import InputError
from xlfab.core.numbers import Unreadable, decimal_number
from xlfab.core.reading import numbered_csv
from xlfab.cycle_time.standard_time import normal_time_s

NEEDED = ("blank_length_mm", "blank_width_mm", "blank_mass_kg", "observed_time_s")
TERMS = ("handling_base_s", "handling_size_s_per_m", "handling_mass_s_per_kg")
_FEWEST = len(TERMS) + 2  # below this the residual says nothing


@dataclass(frozen=True)
class Fit:
    """Coefficients with their standard errors, the scatter that stays, and the number of readings."""

    coefficients: NDArray[np.float64]
    standard_errors: NDArray[np.float64]
    residual_s: float
    r_squared: float
    readings: int

    def warnings(self) -> list[str]:
        """What a careful reader would say about the fit."""
        said = []
        for name, value, error in zip(TERMS, self.coefficients, self.standard_errors, strict=False):
            if value < 0:
                said.append(f"{name} came out below zero ({value:.3g}): it cannot be used as it is")
            elif abs(value) < 2 * error:
                said.append(
                    f"{name} = {value:.3g} is within twice its standard error ({error:.2g}): more readings needed"
                )
        return said


def least_squares(terms: ArrayLike, times: ArrayLike) -> Fit:
    """Fit times to a base and slopes over the given terms (one column a term).

    >>> fit = least_squares([[1.0], [2.0], [3.0], [4.0]], [3.0, 5.0, 7.0, 9.0])
    >>> [round(float(value), 6) for value in fit.coefficients]
    [1.0, 2.0]
    """
    columns = np.asarray(terms, dtype=np.float64)
    y = np.asarray(times, dtype=np.float64)
    design = np.column_stack([np.ones(len(y)), columns])
    count, width = design.shape
    if count <= width:
        raise InputError(f"{count} readings cannot fit {width} terms and leave a residual: take at least {width + 1}")
    scale = np.abs(design).max(axis=0)  # columns of very different size would hide a rank that is too low
    if (scale == 0).any() or np.linalg.matrix_rank(design / np.where(scale > 0, scale, 1)) < width:
        raise InputError("the readings do not vary enough: size and mass must each change on their own")
    scaled, _, _, _ = np.linalg.lstsq(design / scale, y, rcond=None)
    coefficients = scaled / scale
    residuals = y - design @ coefficients
    variance = float(residuals @ residuals) / (count - width)
    spread = np.linalg.inv((design / scale).T @ (design / scale))
    total = float(((y - y.mean()) ** 2).sum())
    r_squared = 1 - float(residuals @ residuals) / total if total > 0 else float("nan")
    return Fit(coefficients, np.sqrt(variance * np.diag(spread)) / scale, variance**0.5, r_squared, count)


def fit_handling(length_mm: ArrayLike, width_mm: ArrayLike, mass_kg: ArrayLike, time_s: ArrayLike) -> Fit:
    """Fit normal times to handling_time_s: base, slope over length plus width, slope over mass."""
    size_m = (np.asarray(length_mm, dtype=np.float64) + np.asarray(width_mm, dtype=np.float64)) / 1000
    return least_squares(np.column_stack([size_m, np.asarray(mass_kg, dtype=np.float64)]), time_s)


def read_readings(path: str | Path) -> dict[str, NDArray[np.float64]]:
    """Read a file of stopwatch readings; any poor line is refused with its number, nothing is skipped."""
    path = Path(path)
    lines = [(number, row) for number, row in numbered_csv(path) if any(map(str.strip, row))]
    head = [name.strip() for name in lines[0][1]] if lines else []
    missing = [name for name in NEEDED if name not in head]
    unknown = [name for name in head if name not in (*NEEDED, "rating_share")]
    if missing or unknown or len(set(head)) != len(head):
        raise InputError(
            f"{path}, line 1: columns must be {', '.join(NEEDED)} and, if wanted, rating_share; "
            f"missing: {', '.join(missing) or 'none'}; unknown: {', '.join(unknown)[:200] or 'none'}"
        )
    rows = [_row(path, number, head, row) for number, row in lines[1:]]
    if len(rows) < _FEWEST:
        raise InputError(f"{path}: {len(rows)} readings are too few: take at least {_FEWEST}")
    return {name: np.array([row[place] for row in rows]) for place, name in enumerate(head)}


def _row(path: Path, number: int, head: list[str], line: list[str]) -> list[float]:
    if len(line) != len(head):
        raise InputError(f"{path}, line {number}: {len(line)} values for {len(head)} columns")
    values = []
    for name, text in zip(head, line, strict=True):
        try:
            value = decimal_number(text)
        except Unreadable as error:
            raise InputError(f"{path}, line {number}, {name}: '{text[:40]}' {error}; write it as 12.5") from error
        rule = ARGUMENTS[name]
        if not rule.accepts(value, value) or (name == "observed_time_s" and value == 0):
            raise InputError(f"{path}, line {number}, {name}: '{text}' must be {rule.allowed}, and a time above 0")
        values.append(value)
    return values


def fit_file(path: str | Path) -> Fit:
    """Read a file of readings, bring them to normal pace, and fit them."""
    columns = read_readings(path)
    times = columns["observed_time_s"]
    if "rating_share" in columns:
        times = normal_time_s(times, columns["rating_share"])
    try:
        return fit_handling(columns["blank_length_mm"], columns["blank_width_mm"], columns["blank_mass_kg"], times)
    except InputError as error:
        raise InputError(f"{path}: {error}") from error
