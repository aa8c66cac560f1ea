"""What each optional feature is worth on an option's two machines, counted from machines that have none of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.comparison.estimate import estimate
from xlfab.core.arrays import Numbers
from xlfab.core.errors import InputError
from xlfab.investment.features import Change, Feature, Worth, common_features, feature_worth
from xlfab.tables.plan import fill
from xlfab.work.machine_year import CAUSES

HOURS = tuple(f"{cause}_h_per_year" for cause in (*CAUSES, "setup"))
RESULTS = ("time_h_per_year", "energy_kwh_per_year", "cost_cur_per_year")


@dataclass(frozen=True)
class FeatureStudy:
    """The features of one option: what each is worth, which of them its machines have, and the cost with none of them."""

    worth: list[Worth]
    there: dict[str, bool]
    cost_without: float


def known_features(scenario: Any) -> list[Feature]:
    """The features that come with xlfab, then the user's own; one of the same name takes the place of the common one."""
    own = [_own(item) for item in scenario.features]
    names = {item.name.casefold() for item in own}
    return [*(item for item in common_features() if item.name.casefold() not in names), *own]


def _own(item: Any) -> Feature:
    return Feature(item.name, tuple(Change(**change.model_dump()) for change in item.changes))


def features_of(scenario: Any, number: int) -> FeatureStudy:
    """The features on the machines of an option (counted from 1)."""
    option = scenario.options[number - 1]
    machines = {
        "shear": next(item for item in scenario.shears if item.name == option.shear),
        "press_brake": next(item for item in scenario.press_brakes if item.name == option.press_brake),
    }
    records = {**machines, "workplace": scenario.workplace}
    there: dict[str, bool] = {}
    values: dict[str, float] = {}
    features = known_features(scenario)
    _check_names(records, [feature.name for feature in features])
    for change in [change for feature in features for change in feature.changes]:
        _key(change, records)  # refuses what is not there, before anything is looked up
    for feature in features:
        has = _has(feature, records)
        there[feature.name] = has
        for change in feature.changes:
            key = _key(change, records)
            now = values.get(key, getattr(records[change.machine], change.parameter))
            values[key] = _without(change, now) if has else now
    found = feature_worth(_model(scenario, number), values, features, RESULTS, lambda change: _key(change, records))
    nothing = _model(scenario, number)({key: np.array([value]) for key, value in values.items()})
    return FeatureStudy(found, there, float(np.ravel(nothing["cost_cur_per_year"])[0]))


def _check_names(records: dict[str, Any], known: list[str]) -> None:
    """A machine's features must be known ones."""
    for record in records.values():
        for name in getattr(record, "features", []):
            if name.casefold() not in {item.casefold() for item in known}:
                raise InputError(f"{record.name}: feature '{name}' is not known; known: {', '.join(known)}")


def _key(change: Change, records: dict[str, Any]) -> str:
    record = records.get(change.machine)
    if record is None or not hasattr(record, change.parameter):
        raise InputError(f"a feature changes {change.parameter} of '{change.machine}', which is not known there")
    return f"{change.machine}|{getattr(record, 'name', '')}|{change.parameter}"


def _has(feature: Feature, records: dict[str, Any]) -> bool:
    """True if a machine is stated to have the feature, or its switch is on already."""
    named = {name.casefold() for record in records.values() for name in getattr(record, "features", [])}
    switches = [item for item in feature.changes if item.how == "set" and item.machine != "workplace"]
    return feature.name.casefold() in named or any(
        getattr(records[item.machine], item.parameter) >= item.value for item in switches
    )


def _without(change: Change, now: float) -> float:
    """A parameter as it would be without a feature that is there."""
    if change.how == "set":
        return 0.0
    return now / change.value if change.how == "times" else now - change.value


def _model(scenario: Any, number: int) -> Any:
    def model(values: dict[str, Numbers]) -> dict[str, Numbers]:
        variants: dict[tuple[str, str, str], Any] = {}
        for name, array in values.items():
            section, record, key = name.split("|")
            variants[section, record, key] = array
        year = estimate(scenario, variants).options[number - 1].year
        fill([year[column] for column in (*HOURS, "energy_kwh", "running_cost_cur_per_year")])

        def one(column: str) -> Numbers:
            return np.asarray(year.value(column))[..., 0]

        return {
            "time_h_per_year": np.sum([one(column) for column in HOURS], axis=0),
            "energy_kwh_per_year": one("energy_kwh"),
            "cost_cur_per_year": one("running_cost_cur_per_year"),
        }

    return model
