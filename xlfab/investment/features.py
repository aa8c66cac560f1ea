"""What each optional feature is worth: rows of parameters that it changes, switched on alone and switched off last.

The rows are `features.csv` beside this file; users add their own. A feature's worth depends on what else is there: alone
it may save a second that another feature saves too. So both ends are shown.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from importlib.resources import files

import numpy as np

from xlfab.core.arrays import Numbers
from xlfab.core.errors import InputError
from xlfab.investment.risk import Model

_HOW: dict[str, Callable[[Numbers, float], Numbers]] = {
    "set": lambda now, value: np.full_like(now, value),
    "times": lambda now, value: now * value,
    "plus": lambda now, value: now + value,
}


@dataclass(frozen=True)
class Change:
    """One parameter that a feature changes, and how: set to a value, times a value, plus a value."""

    machine: str
    parameter: str
    how: str
    value: float
    low: float
    high: float
    basis: str
    note: str = ""

    def __post_init__(self) -> None:
        if self.how not in _HOW:
            raise InputError(f"{self.parameter}: a feature can {', '.join(_HOW)}, not '{self.how}'")

    def applied(self, now: Numbers) -> Numbers:
        """The parameter with the feature switched on."""
        return _HOW[self.how](now, self.value)


@dataclass(frozen=True)
class Feature:
    """A feature with a name and all that it changes."""

    name: str
    changes: tuple[Change, ...]


@dataclass(frozen=True)
class Worth:
    """What a feature changes in each result: alone, added after those above it, and taken away last."""

    name: str
    alone: dict[str, float] = field(default_factory=dict)
    in_order: dict[str, float] = field(default_factory=dict)
    last: dict[str, float] = field(default_factory=dict)


def features_from(rows: Iterable[Mapping[str, str]], place: str) -> list[Feature]:
    """Features from table rows; several rows of one name are one feature. `place` is named in messages."""
    found: dict[str, list[Change]] = {}
    for number, row in enumerate(rows, start=2):
        try:
            value, low, high = (float(row[key]) for key in ("value", "low", "high"))
            words = row["basis"], row.get("note", "")
            change = Change(row["machine"], row["parameter"], row["how"], value, low, high, *words)
        except (KeyError, TypeError, ValueError) as error:
            raise InputError(f"{place}, line {number}: {error}") from error
        found.setdefault(row["feature"], []).append(change)
    return [Feature(name, tuple(changes)) for name, changes in found.items()]


def common_features() -> list[Feature]:
    """The features that come with xlfab.

    >>> [change.parameter for change in common_features()[0].changes]
    ['partial_stroke_switch']
    """
    text = files("xlfab.investment").joinpath("features.csv").read_text(encoding="utf-8")
    return features_from(csv.DictReader(text.splitlines()), "features.csv")


def _switched(
    values: Mapping[str, float], features: Sequence[Feature], on: Numbers, key: Callable[[Change], str]
) -> dict[str, Numbers]:
    """The model's values, one row for each way of switching the features on."""
    table = {name: np.full(len(on), float(value)) for name, value in values.items()}
    for column, feature in enumerate(features):
        for change in feature.changes:
            name = key(change)
            if name not in table:
                raise InputError(f"feature '{feature.name}' changes {name}, which this calculation has not")
            table[name] = np.where(on[:, column], change.applied(table[name]), table[name])
    return table


def feature_worth(
    model: Model,
    values: Mapping[str, float],
    features: Sequence[Feature],
    results: Sequence[str],
    key: Callable[[Change], str] = lambda change: change.parameter,
) -> list[Worth]:
    """What each feature changes in each result. `values` are without any feature; `key` names a change's value in them.

    One call of the model: nothing on; each alone; the first one, two, three ... on; all but each.
    """
    count = len(features)
    alone, in_order, but_one = np.eye(count), np.tri(count), 1 - np.eye(count)
    on = np.vstack([np.zeros((1, count)), alone, in_order, but_one]).astype(bool)
    found = model(_switched(values, features, on, key))
    worth = [Worth(feature.name) for feature in features]
    for result in results:
        rows = np.broadcast_to(found[result], len(on))
        nothing, each, upto, without = (
            rows[0],
            rows[1 : count + 1],
            rows[count + 1 : 2 * count + 1],
            rows[2 * count + 1 :],
        )
        steps = np.diff(np.concatenate([[nothing], upto]))
        for place, item in enumerate(worth):
            item.alone[result] = float(each[place] - nothing)
            item.in_order[result] = float(steps[place])
            item.last[result] = float(upto[-1] - without[place])
    return worth
