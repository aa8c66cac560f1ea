"""Measured powers written into a copy of a scenario, with the rest of its text kept as it is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from xlfab.core.errors import ScenarioError
from xlfab.core.reading import read_text
from xlfab.core.writing import whole_copy
from xlfab.meter.states import Finding
from xlfab.meter.trust_limits import MIXED

SCENARIO_FILE = "scenario.toml"
KEYS = {"standby": "standby_power_kw", "ready": "ready_power_kw"}


def fill_scenario(scenario: Path, machine: str, finding: Finding, to: Path) -> list[str]:
    """Write a copy of a scenario's folder in which a machine has the measured powers; returns what was set."""
    import tomlkit
    from tomlkit.exceptions import ParseError

    from xlfab.inputs.scenario import load

    if finding.state("ready") is None or any("ready or standby" in limit for limit in finding.limits):
        raise ScenarioError(
            f"{finding.log.title}: no state is ready for certain, so nothing is written into the scenario"
        )
    if not (scenario / SCENARIO_FILE).is_file():
        raise ScenarioError(f"{scenario}: there is no {SCENARIO_FILE} in it")
    try:
        document = tomlkit.parse(read_text(scenario / SCENARIO_FILE))
    except ParseError as error:
        raise ScenarioError(f"{scenario / SCENARIO_FILE}: {error}") from error
    record = _machine(document, machine, scenario)
    done = [_set_or_not(record, key, finding, name) for name, key in KEYS.items() if finding.state(name) is not None]
    with whole_copy(scenario, to) as place:
        (place / SCENARIO_FILE).write_text(tomlkit.dumps(document), encoding="utf-8", newline="\n")
        load(place)  # the copy must be a sound scenario, or it is not written
    return done


def _machine(document: Any, name: str, scenario: Path) -> Any:
    records = [record for section in ("press_brake", "shear") for record in document.get(section, [])]
    for record in records:
        if str(record.get("name", "")).casefold() == name.casefold():
            return record
    known = ", ".join(f"'{record.get('name')}'" for record in records)
    raise ScenarioError(f"{scenario / SCENARIO_FILE}: there is no machine '{name}'; there are {known}")


def _set_or_not(record: Any, key: str, finding: Finding, name: str) -> str:
    """Write a state's power, unless it is a mean over what may be different states."""
    if any(f"count as {name} and {MIXED}" in limit for limit in finding.limits):
        return f"{key} left as it was: several levels count as {name} and {MIXED}"
    return _set(record, key, finding, name)


def _set(record: Any, key: str, finding: Finding, name: str) -> str:
    import tomlkit

    state = finding.state(name)
    assert state is not None
    start = "" if finding.log.start is None else f", from {finding.log.start:%Y-%m-%d}"
    value = tomlkit.inline_table()
    value["value"] = round(state.power_kw, 4)
    value["low"] = round(max(state.power_kw - state.uncertainty_kw, 0.0), 4)
    value["high"] = round(state.power_kw + state.uncertainty_kw, 4)
    value["basis"] = "measured"
    value["source"] = (
        f"power log {finding.log.title}{start}, {finding.log.hours:.1f} h at {finding.log.step_s:g} s"
        + "".join(f"; limit: {limit}" for limit in finding.limits if name in limit)
    )
    for old in [item for item in record if item.removesuffix("_kw").removesuffix("_w") == key.removesuffix("_kw")]:
        del record[old]
    record[key] = value
    return f"{key} = {state.power_kw:.3f} ± {state.uncertainty_kw:.3f} kW (measured)"
