"""What the log tells, as a table for the terminal and lines of text."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.meter.demand import highest_mean_kw
from xlfab.meter.states import Finding

WINDOW_MIN = 15.0

ADVICE = (
    "Measuring advice (the idea of ISO 14955-2): log real power of the whole machine, at 1 s, over a week with idle time in it; "
    "to compare two machines let both do identical work under identical conditions and state the uncertainty. "
    "This is a measurement of one machine, not a comparison after ISO 14955-1, which excludes that use."
)


def table(finding: Finding) -> Any:
    """States with power, hours, energy and power factor."""
    from rich.table import Table
    from rich.text import Text

    grid = Table(title=Text(f"States in {finding.log.title[:100]}"))
    grid.add_column("state")
    for heading in ("kW", "± kW", "hours", "kWh", "share of kWh", "power factor"):
        grid.add_column(heading, justify="right")
    total = sum(state.energy_kwh for state in finding.states)
    for state in finding.states:
        factor = "" if state.power_factor is None else f"{state.power_factor:.2f}"
        share = state.energy_kwh / total if total else 0.0
        grid.add_row(
            state.name,
            _fixed(state.power_kw, 3),
            f"{state.uncertainty_kw:.3f}",
            f"{state.hours:.2f}",
            _fixed(state.energy_kwh, 2),
            f"{_fixed(100 * share, 1)}%",
            factor,
        )
    grid.add_section()
    hours = sum(state.hours for state in finding.states)
    grid.add_row("all", f"{total / hours:.3f}", "", f"{hours:.2f}", f"{total:.2f}", "100.0%", "")
    return grid


def _fixed(value: float, digits: int) -> str:
    """A number without the sign that rounding leaves at zero."""
    return f"{round(value, digits) + 0.0:.{digits}f}"


def lines(finding: Finding, meter_share: float) -> list[str]:
    """Strokes, demand, notes and limits, one sentence each."""
    log = finding.log
    start = "" if log.start is None else f" from {log.start:%Y-%m-%d %H:%M}"
    result = [
        f"{log.hours:.2f} h of readings, one every {log.step_s:g} s{start}; ± is 95 %, with {meter_share:.1%} for the meter itself."
    ]
    if np.isfinite(finding.stroke_kj):
        how = "marked" if finding.strokes_marked else "found"
        result.append(
            f"{finding.stroke_count:.0f} strokes {how}: {finding.stroke_kj:.2f} ± {finding.stroke_uncertainty_kj:.2f} kJ each above ready power."
        )
    peak = highest_mean_kw(log, WINDOW_MIN)
    if np.isfinite(peak):
        result.append(f"Highest {WINDOW_MIN:g}-minute mean: {peak:.2f} kW.")
    if finding.spikes:
        result.append(
            f"{finding.spikes} single readings far above all others were left out; their energy is in no state."
        )
    result += [note[:1].upper() + note[1:] + "." for note in log.notes]
    result += [f"Limit: {limit}." for limit in finding.limits]
    return [*result, ADVICE]
