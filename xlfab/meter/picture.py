"""A picture of a log: power over time with the states coloured, their levels labelled, and hours and energy in each."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import ScenarioError
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
PIECE = 500_000  # readings looked at together
CLOSE_MIN = 20.0


def draw(finding: Finding, path: Path, replace: bool = False) -> None:
    """Write the picture as PNG (or PDF, SVG by its ending), whole or not at all."""
    pyplot = _pyplot()
    figure, axes = pyplot.subplots(3, 1, figsize=(11.7, 8.3), height_ratios=(3, 2.4, 1.5), layout="constrained")
    figure.suptitle(f"{finding.log.title}: power and states")
    _course(axes[0], finding, 0, len(finding.log.power_kw))
    axes[0].set_title("Whole log", loc="left", fontsize=10)
    first, last = _busiest(finding)
    _course(axes[1], finding, first, last)
    axes[1].set_title(
        f"{(last - first) * finding.log.step_s / 60:.0f} minutes with the most strokes", loc="left", fontsize=10
    )
    _bars(axes[2], finding.states)
    try:
        with whole_file(path, replace) as place:
            figure.savefig(place, dpi=130, format=path.suffix.lstrip(".").lower() or "png")
    finally:
        pyplot.close(figure)


def _pyplot() -> Any:
    """The drawing library, set up to write files."""
    try:
        import matplotlib
    except ImportError as error:
        raise ScenarioError(
            "a picture needs the library matplotlib; install it with: pip install 'xlfab[meter]'"
        ) from error
    matplotlib.use("Agg")
    from matplotlib import pyplot

    return pyplot


def _course(axis: Any, finding: Finding, first: int, last: int) -> None:
    """Readings from one sample to another, coloured by state, and a labelled line at each state's power."""
    step_h = finding.log.step_s / 3600
    power, state = finding.log.power_kw[first:last], finding.sample_state[first:last]
    keep = _extremes(power, state)
    shown = power[keep]
    highest, lowest = float(np.max(shown, initial=0.1)), float(np.min(shown, initial=0.0))
    if last - first == len(keep):  # every reading is drawn: a line shows which follows which
        axis.plot((first + keep) * step_h, shown, color="#c8c8c8", linewidth=0.6, zorder=0)
    for item in finding.states:
        mine = keep[state[keep] == ORDER.index(item.name)]
        axis.scatter((first + mine) * step_h, power[mine], s=5, color=COLOURS[item.name], linewidths=0, label=item.name)
        axis.axhline(item.power_kw, color=COLOURS[item.name], linewidth=0.8, alpha=0.7)
    places = _apart([item.power_kw for item in finding.states], 0.055 * (highest - lowest))
    for item, place in zip(finding.states, places, strict=True):
        text = f" {item.name} {round(item.power_kw, 2) + 0.0:.2f} kW"
        axis.annotate(
            text, (1.0, place), xycoords=("axes fraction", "data"), va="center", fontsize=8, color=COLOURS[item.name]
        )
    axis.set_xlabel("hours from the start")
    axis.set_ylabel("kW")
    axis.set_xlim(first * step_h, max(last, first + 1) * step_h)
    axis.set_ylim(bottom=min(0.0, 1.05 * lowest))
    axis.grid(alpha=0.25)


def _extremes(power: Any, state: Any) -> Any:
    """The readings to draw: all of them, or the lowest and highest of each column of the picture. Left out: what no state has."""
    pieces = [first + np.flatnonzero(state[first : first + PIECE] >= 0) for first in range(0, len(power), PIECE)]
    if sum(len(piece) for piece in pieces) <= 4 * COLUMNS:
        return np.concatenate(pieces)
    size = max(len(power) // (2 * COLUMNS), 1)
    picked = [
        place
        for piece in pieces
        for chunk in np.array_split(piece, max(len(piece) // size, 1))
        if len(chunk)
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
    sums = np.concatenate([[0], np.cumsum(working, dtype=np.int32)])
    first = int(np.argmax(sums[length:] - sums[:-length]))
    return first, first + length


def _bars(axis: Any, states: list[State]) -> None:
    """Hours and energy of each state as shares of their sums."""
    for row, (values, unit) in enumerate((([s.hours for s in states], "h"), ([s.energy_kwh for s in states], "kWh"))):
        values = [max(value, 0.0) for value in values]  # what is given back over a whole state has no bar
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
