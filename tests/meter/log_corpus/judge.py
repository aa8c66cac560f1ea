"""What came of a log: right, asked, refused, said with a limit, or silently wrong."""

from __future__ import annotations

import re
import tempfile
import tomllib
import traceback
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.meter.demand import highest_mean_kw
from xlfab.meter.fill import fill_scenario
from xlfab.meter.log_file import read_log
from xlfab.meter.states import Finding, find_states

from .case import Case
from .logger import Truth
from .writing import write

RIGHT, ASKED, REFUSED, SAID, WRONG, CRASH = "right", "asked", "refused", "said", "silently wrong", "traceback"
SHOULD_READ = "refused, should be read"
WORKING = ("working", "moving", "processing", "production")


@dataclass
class Outcome:
    """A case's class, with the faults found and what the program said."""

    case: str
    result: str
    faults: list[str]
    said: list[str]
    inside: dict[str, bool]


def judge(case: Case, seed: int, folder: Path | None = None) -> Outcome:
    """Write the log, read it, compare with the truth."""
    with tempfile.TemporaryDirectory() as place:
        readings = case.make(seed)
        path = write(folder or Path(place), case.name, readings, case.style, seed)
        asked: list[str] = []
        for answer in ({}, *case.answers):
            try:
                finding = find_states(read_log(path, **answer))
            except ScenarioError as error:
                asked.append(str(error))
                continue
            except Exception:
                return Outcome(case.name, CRASH, [traceback.format_exc()[-1500:]], asked, {})
            return _judged(case, finding, readings.truth, asked)
    if case.must_read:
        return Outcome(case.name, SHOULD_READ, [], asked, {})
    return Outcome(
        case.name, ASKED if len(asked) == 1 and "--" in asked[0] and not case.answers else REFUSED, [], asked, {}
    )


def _judged(case: Case, finding: Finding, truth: Truth, asked: list[str]) -> Outcome:
    said = [*finding.limits, *finding.log.notes]
    faults, inside = compare(finding, truth, case.judge)
    wrong = written(finding, truth) if case.judge else []
    if wrong:
        return Outcome(case.name, WRONG, [*wrong, *faults], asked + said, inside)
    if not faults:
        return Outcome(case.name, ASKED if asked else RIGHT, [], asked + said, inside)
    told = not case.sound and any(re.search(case.words, line, re.IGNORECASE) for line in said)
    return Outcome(case.name, SAID if told else WRONG, faults, asked + said, inside)


def compare(finding: Finding, truth: Truth, what: tuple[str, ...]) -> tuple[list[str], dict[str, bool]]:
    """Faults of a finding against the truth, and which intervals hold the truth."""
    faults: list[str] = []
    inside: dict[str, bool] = {}
    names = {state.name for state in finding.states}
    total = sum(truth.hours.values())
    if "powers" in what:
        for state in finding.states:
            faults += _power(state, truth, names, inside, total)
        ready_found = finding.state("ready") is not None or "production" in names
        if truth.hours.get("ready", 0) > 0.03 * total and not ready_found:
            faults.append("ready not found")
        if truth.hours.get("standby", 0) > 0.05 * total and "standby" not in names and finding.log.step_s < 600:
            faults.append("standby not found")
    if "energy" in what:
        found = sum(state.energy_kwh for state in finding.states)
        if abs(found - truth.energy_kwh) > 0.02 * truth.energy_kwh + 0.002 * total:
            faults.append(f"energy {found:.3f} for {truth.energy_kwh:.3f} kWh")
        peak = highest_mean_kw(finding.log, 15.0)
        low, high = truth.quarter_kw
        if np.isfinite(peak) and np.isfinite(low) and not 0.97 * low - 0.02 <= peak <= 1.03 * high + 0.02:
            faults.append(f"quarter hour {peak:.3f} for {low:.3f} to {high:.3f} kW")
    if "hours" in what:
        faults += _hours(finding, truth, total)
    if "strokes" in what and np.isfinite(finding.stroke_kj) and truth.strokes:
        if abs(finding.stroke_count - truth.strokes) > 0.03 * truth.strokes + 1:
            faults.append(f"{finding.stroke_count:.0f} strokes for {truth.strokes}")
        inside["stroke_kj"] = abs(finding.stroke_kj - truth.stroke_kj) <= finding.stroke_uncertainty_kj
        if abs(finding.stroke_kj - truth.stroke_kj) > max(
            2 * finding.stroke_uncertainty_kj, 0.05 * abs(truth.stroke_kj)
        ):
            faults.append(f"{finding.stroke_kj:.2f} ± {finding.stroke_uncertainty_kj:.2f} kJ for {truth.stroke_kj:.2f}")
    return faults, inside


def written(finding: Finding, truth: Truth) -> list[str]:
    """What would be written into a scenario as measured and is not so: worse than anything that is only printed."""
    with tempfile.TemporaryDirectory() as place:
        try:
            fill_scenario(bundled("demo_shop"), "Brake hydraulic", finding, Path(place) / "copy")
        except ScenarioError as error:
            return (
                []
                if "no state is ready" in str(error) or "must not be above" in str(error)
                else [f"not written: {error}"]
            )
        text = (Path(place) / "copy" / "scenario.toml").read_text(encoding="utf-8")
    record = next(one for one in tomllib.loads(text)["press_brake"] if one["name"] == "Brake hydraulic")
    faults = []
    for name in ("standby", "ready"):
        value = record.get(f"{name}_power_kw")
        known = truth.power_kw.get(name)
        if not isinstance(value, dict) or "power log" not in value["source"]:
            continue
        if known is None or not value["low"] - 0.004 <= known <= value["high"] + 0.004:
            faults.append(f"written: {name} {value['low']} to {value['high']} for {known}")
    share = record.get("control_on_share")
    if share and truth.hours.get("off", 0) + truth.hours.get("standby", 0) > 10:
        known = truth.hours.get("standby", 0) / (truth.hours.get("off", 0) + truth.hours.get("standby", 0))
        if not share["low"] - 0.05 <= known <= share["high"] + 0.05:
            faults.append(f"written: control left on {share['low']} to {share['high']} for {known:.3f}")
    return faults


def _power(state: Any, truth: Truth, names: set[str], inside: dict[str, bool], total: float) -> list[str]:
    name = "ready" if state.name == "warm-up" and "warm-up" not in truth.power_kw else state.name
    known = truth.power_kw.get("working" if name in WORKING else name)
    if known is None:
        return [f"'{name}' found, which never was"] if state.hours > 0.02 * total else []
    if name in ("moving", "processing", "production"):
        return []
    error = abs(state.power_kw - known)
    inside[name] = error <= state.uncertainty_kw
    if error > max(1.5 * state.uncertainty_kw, 0.03 * known, 0.006):
        return [f"{name} {state.power_kw:.3f} ± {state.uncertainty_kw:.3f} for {known:.3f} kW"]
    return []


def _hours(finding: Finding, truth: Truth, total: float) -> list[str]:
    """Hours within 3 percent and half a percent of the log; warm-up may count as ready, production holds ready too."""
    names = {state.name for state in finding.states}
    groups = [("off",), ("standby",), ("warm-up", "ready", *WORKING)]
    if "production" not in names:
        groups += [("warm-up", "ready"), WORKING]
    faults = []
    for group in groups:
        found = sum(state.hours for state in finding.states if state.name in group)
        known = sum(truth.hours.get(name, 0.0) for name in set(group) if name in truth.hours)
        if abs(found - known) > 0.03 * known + 0.005 * total:
            faults.append(f"{'/'.join(group[:2])} {found:.3f} h for {known:.3f}")
    return faults
