"""What a log tells, written into a copy of a scenario with the rest of its text kept as it is, and a list of what is not carried."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import toml_document
from xlfab.core.writing import whole_copy
from xlfab.meter.demand import highest_mean_kw
from xlfab.meter.habits import LEAST_NIGHTS_H, Habits, habits_of
from xlfab.meter.states import Finding
from xlfab.meter.trust_limits import BLOCKING, DAY_H, MIXED

SCENARIO_FILE = "scenario.toml"
POWERS = {"standby": "standby_power_kw", "ready": "ready_power_kw"}
LEAST_H = 1 / 6  # of a state, before its power is written
SHORT_LOG_SHARE = 0.05  # judgement: a log of less than a day does not show how oil and hall differ between days


@dataclass
class _Copy:
    """The record to write into, and what the lines about it need."""

    record: Any
    finding: Finding
    habits: Habits
    machine: Any  # as it was loaded
    workplace: Any
    done: list[str]

    @property
    def source(self) -> str:
        """Where a value comes from."""
        log = self.finding.log
        start = "" if log.start is None else f", from {log.start:%Y-%m-%d}"
        return f"power log {log.title[:80]}{start}, {log.hours:.1f} h at {log.step_s:g} s"

    def set(self, key: str, value: float, span: tuple[float, float], unit: str, more: str = "") -> None:
        """Put a measured value in place of what the record stated."""
        import tomlkit

        table = tomlkit.inline_table()
        table["value"], table["low"], table["high"] = (round(number, 4) for number in (value, *span))
        table["basis"], table["source"] = "measured", self.source + more
        stem = key.removesuffix("_kw").removesuffix("_min").removesuffix("_share")
        for old in [item for item in self.record if item.rsplit("_", 1)[0] == stem]:
            del self.record[old]
        self.record[key] = table
        self.done.append(f"{key} = {value:.3f} {unit} ({span[0]:.3f} to {span[1]:.3f}), measured".replace("  ", " "))

    def leave(self, what: str, why: str) -> None:
        """Say what the log tells and the scenario does not take."""
        self.done.append(f"not carried: {what}: {why}")


def fill_scenario(scenario: Path, machine: str, finding: Finding, to: Path, auxiliaries: str = "") -> list[str]:
    """Write a copy of a scenario's folder with what the log tells of a machine; returns what was set and what was not carried.

    `auxiliaries` says whether the meter saw the loads that the scenario adds to ready power: "metered" or "apart".
    """
    import tomlkit

    from xlfab.inputs.scenario import load

    blocked = next((limit for limit in finding.limits if any(words in limit for words in BLOCKING)), None)
    if finding.state("ready") is None or blocked:
        raise ScenarioError(
            f"{finding.log.title}: no state is ready for certain, so nothing is written into the scenario"
            + (f" ({blocked})" if blocked else "")
        )
    if not (scenario / SCENARIO_FILE).is_file():
        raise ScenarioError(f"{scenario}: there is no {SCENARIO_FILE} in it")
    document = toml_document(scenario / SCENARIO_FILE)
    record = _machine(document, machine, scenario)
    before = load(scenario)
    machines: list[Any] = [*before.press_brakes, *before.shears]
    known = next(one for one in machines if one.name == record["name"])
    copy = _Copy(record, finding, habits_of(finding), known, before.workplace, [])
    for name, key in POWERS.items():
        _power(copy, name, key)
    _auxiliaries(copy, auxiliaries)
    _left_on(copy)
    _auto_stop(copy)
    _warm_up(copy)
    _not_carried(copy)
    with whole_copy(scenario, to) as place:
        (place / SCENARIO_FILE).write_text(tomlkit.dumps(document), encoding="utf-8", newline="\n")
        load(place)  # the copy must be a sound scenario, or it is not written
    return copy.done


def _machine(document: Any, name: str, scenario: Path) -> Any:
    records = [record for section in ("press_brake", "shear") for record in document.get(section, [])]
    for record in records:
        if str(record.get("name", "")).casefold() == name.casefold():
            return record
    known = ", ".join(f"'{record.get('name')}'" for record in records)
    raise ScenarioError(f"{scenario / SCENARIO_FILE}: there is no machine '{name}'; there are {known}")


def _power(copy: _Copy, name: str, key: str) -> None:
    """A state's power with the span that the year may show, unless it is a mean over what may be different states."""
    state, log = copy.finding.state(name), copy.finding.log
    if state is None:
        copy.leave(key, f"the log shows no {name}")
    elif any(f"count as {name} and {MIXED}" in limit for limit in copy.finding.limits):
        copy.leave(key, f"left as it was: several levels count as {name} and {MIXED}")
    elif state.hours < LEAST_H:
        copy.leave(key, f"only {state.hours * 60:.0f} minutes of {name} in the log; {LEAST_H * 60:.0f} are needed")
    else:
        short = SHORT_LOG_SHARE * state.power_kw if log.hours < DAY_H else 0.0
        low, high = (x if math.isfinite(x) else state.power_kw for x in state.hourly_kw)
        span = (
            max(min(low, state.power_kw) - state.uncertainty_kw - short, 0.0),
            max(high, state.power_kw) + state.uncertainty_kw + short,
        )
        more = f"; ± {state.uncertainty_kw:.3f} kW by the meter, low and high by the hours of the log"
        more += (
            f" and {SHORT_LOG_SHARE:.0%} (judgement) for days that a log of less than a day does not show"
            if short
            else ""
        )
        more += "".join(f"; limit: {limit}" for limit in copy.finding.limits if name in limit)
        copy.set(key, state.power_kw, span, "kW", more)


def _auxiliaries(copy: _Copy, said: str) -> None:
    """Loads that the meter saw are in ready power already and must not be added a second time."""
    stated = float(copy.machine.auxiliary_power_kw)
    if not stated:
        return
    if said not in ("metered", "apart"):
        raise ScenarioError(
            f"the scenario adds {stated:g} kW of auxiliaries to the ready power of '{copy.machine.name}'; say whether the meter saw them: "
            "--auxiliaries metered (they are in the measured power and are set to 0) or --auxiliaries apart (they hang on another feed and stay)"
        )
    if said == "metered":
        copy.set(
            "auxiliary_power_kw", 0.0, (0.0, 0.0), "kW", "; the meter saw the auxiliaries: they are in the ready power"
        )


def _left_on(copy: _Copy) -> None:
    """Nights and days off spent in standby in place of off."""
    habits = copy.habits
    if habits.nights_h < LEAST_NIGHTS_H:
        copy.leave(
            "control_on_share", f"the log has {habits.nights_h:.0f} h outside work; {LEAST_NIGHTS_H:.0f} are needed"
        )
        return
    low, high = habits.left_on_span()
    share = habits.left_on_share
    told = f"; {habits.nights_standby_h:.1f} of {habits.nights_h:.1f} h outside work in standby"
    copy.set("control_on_share", share, (min(low, share), max(high, share)), "", told)


def _auto_stop(copy: _Copy) -> None:
    minutes = copy.habits.stops_itself_min
    if not math.isfinite(minutes):
        copy.leave("auto_stop", "the log does not show that the machine stops itself after one and the same time")
    elif copy.workplace.timer_switch == 1:
        span = (min(copy.habits.stop_min), max(copy.habits.stop_min))
        copy.set("auto_stop_min", minutes, span, "min", f"; {len(copy.habits.stop_min)} stops")
    else:
        copy.leave(
            f"auto-stop after {minutes:.1f} min",
            f"[workplace] timer_switch = 0, so auto_stop_share = {copy.machine.auto_stop_share:g} counts; set timer_switch = 1 to use it",
        )


def _warm_up(copy: _Copy) -> None:
    state, habits = copy.finding.state("warm-up"), copy.habits
    if state is None or not habits.warm_ups:
        return
    minutes = habits.warm_up_h * 60 / habits.warm_ups
    if copy.workplace.calendar_switch == 1:
        wide = (state.power_kw - 2 * state.uncertainty_kw, state.power_kw + 2 * state.uncertainty_kw)
        copy.set("warm_up_power_kw", state.power_kw, wide, "kW")
        copy.set(
            "warm_up_min",
            minutes,
            (0.5 * minutes, 1.5 * minutes),
            "min",
            f"; {habits.warm_ups} warm-ups; low and high judgement",
        )
    else:
        copy.leave(
            f"warm-up of {minutes:.0f} min at {state.power_kw:.2f} kW",
            "[workplace] calendar_switch = 0 counts no warm-up; set it to 1 to use it",
        )


def _not_carried(copy: _Copy) -> None:
    """Hours, the 15-minute maximum and the energy of a stroke: the scenario works them out from its own work."""
    finding, habits = copy.finding, copy.habits
    copy.leave(
        f"{habits.on_h:.1f} h switched on in {habits.days:.1f} days",
        "a year's hours follow from the scenario (powered_h_per_year, or the calendar); compare them",
    )
    peak = highest_mean_kw(finding.log, 15.0)
    if math.isfinite(peak):
        copy.leave(
            f"highest 15-minute mean of {peak:.2f} kW", "the scenario works its own out from the work; compare them"
        )
    if math.isfinite(finding.stroke_kj):
        copy.leave(
            f"{finding.stroke_kj:.2f} ± {finding.stroke_uncertainty_kj:.2f} kJ a stroke above ready",
            "the scenario works it out from bends and drive; compare them",
        )
