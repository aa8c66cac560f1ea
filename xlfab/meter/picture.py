"""A picture of a log: power over time with the states coloured, their levels labelled, and hours and energy in each."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.writing import whole_file
from xlfab.meter.account import ORDER, State
from xlfab.meter.states import Finding

COLOURS = {
    "off": "#9aa0a6",
    "standby": "#4c78a8",
    "warm-up": "#b279a2",
    "other load": "#9d755d",
    "ready": "#54a24b",
    "moving": "#eeca3b",
    "processing": "#e45756",
    "working": "#f58518",
    "production": "#f58518",
}
COLUMNS = 1500  # points drawn across the picture: of more readings, the lowest and highest of each
CLOSE_MIN = 20.0


def draw(finding: Finding, path: Path, replace: bool = False) -> None:
    """Write the picture as PNG (or PDF, SVG by its ending), whole or not at all."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    figure, axes = pyplot.subplots(3, 1, figsize=(11.7, 8.3), height_ratios=(3, 2.4, 1.5), layout="constrained")
    figure.suptitle(f"{finding.log.title}: power and states")
    hours = np.arange(len(finding.log.power_kw)) * finding.log.step_s / 3600
    _course(axes[0], finding, hours, slice(None))
    axes[0].set_title("Whole log", loc="left", fontsize=10)
    first, last = _busiest(finding)
    _course(axes[1], finding, hours, slice(first, last))
    axes[1].set_title(
        f"{(last - first) * finding.log.step_s / 60:.0f} minutes with the most strokes", loc="left", fontsize=10
    )
    _bars(axes[2], finding.states)
    try:
        with whole_file(path, replace) as place:
            figure.savefig(place, dpi=130, format=path.suffix.lstrip(".").lower() or "png")
    finally:
        pyplot.close(figure)


def _course(axis: Any, finding: Finding, hours: Any, part: slice) -> None:
    """Readings coloured by state, and a labelled line at each state's power."""
    power, state, hours = finding.log.power_kw[part], finding.sample_state[part], hours[part]
    power = np.where(state < 0, np.nan, power)
    keep = _extremes(power)
    for item in finding.states:
        mine = keep[state[keep] == ORDER.index(item.name)]
        axis.scatter(hours[mine], power[mine], s=5, color=COLOURS[item.name], linewidths=0, label=item.name)
        axis.axhline(item.power_kw, color=COLOURS[item.name], linewidth=0.8, alpha=0.7)
    places = _apart([item.power_kw for item in finding.states], 0.055 * max(float(np.nanmax(power, initial=0.1)), 0.1))
    for item, place in zip(finding.states, places, strict=True):
        text = f" {item.name} {item.power_kw:.2f} kW"
        axis.annotate(
            text, (1.0, place), xycoords=("axes fraction", "data"), va="center", fontsize=8, color=COLOURS[item.name]
        )
    axis.set_xlabel("hours from the start")
    axis.set_ylabel("kW")
    axis.set_xlim(hours[0], max(hours[-1], hours[0] + 1e-3))
    axis.set_ylim(bottom=min(0.0, float(np.nanmin(power))))
    axis.grid(alpha=0.25)


def _extremes(power: Any) -> Any:
    """The readings to draw: all of them, or the lowest and highest of each column of the picture."""
    good = np.flatnonzero(np.isfinite(power))
    if len(good) <= 4 * COLUMNS:
        return good
    chunks = np.array_split(good, 2 * COLUMNS)
    picked = [
        place
        for chunk in chunks
        for place in (chunk[np.argmin(power[chunk])], chunk[np.argmax(power[chunk])], chunk[0])
    ]
    return np.unique(picked)


def _apart(values: list[float], gap: float) -> list[float]:
    """Heights for labels near the values, at least a gap apart."""
    result = dict.fromkeys(range(len(values)), 0.0)
    last = -np.inf
    for place in np.argsort(values):
        last = max(values[place], last + gap)
        result[int(place)] = last
    return [result[number] for number in range(len(values))]


def _busiest(finding: Finding) -> tuple[int, int]:
    """The stretch of minutes in which the machine works most."""
    length = min(round(CLOSE_MIN * 60 / finding.log.step_s), len(finding.sample_state))
    length = max(length, min(60, len(finding.sample_state)))
    working = finding.sample_state >= ORDER.index("moving")
    sums = np.concatenate([[0], np.cumsum(working)])
    first = int(np.argmax(sums[length:] - sums[:-length]))
    return first, first + length


def _bars(axis: Any, states: list[State]) -> None:
    """Hours and energy of each state as shares of their sums."""
    for row, (values, unit) in enumerate((([s.hours for s in states], "h"), ([s.energy_kwh for s in states], "kWh"))):
        total, left = sum(values) or 1.0, 0.0
        for item, value in zip(states, values, strict=True):
            share = value / total
            axis.barh(row, share, left=left, color=COLOURS[item.name])
            if share > 0.07:
                axis.text(
                    left + share / 2, row, f"{item.name}\n{value:.1f} {unit}", ha="center", va="center", fontsize=8
                )
            left += share
    axis.set_yticks([0, 1], ["hours", "kWh"])
    axis.set_xlim(0, 1)
    axis.set_xticks([])
    for side in ("top", "right", "bottom"):
        axis.spines[side].set_visible(False)
