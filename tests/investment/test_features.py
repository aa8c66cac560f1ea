"""Features: sums and limits that hold whatever the numbers are, and a case worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import InputError
from xlfab.investment.features import Change, Feature, common_features, feature_worth, features_from


def change(parameter: str, how: str, value: float) -> Change:
    return Change("press_brake", parameter, how, value, value, value, "judgement")


def seconds(values):
    """Set-up and gauge time: what two features save of one time is not the sum of what each saves."""
    wait = np.where(values["overlap_switch"] > 0.5, 0.0, values["gauge_time_s"])
    return {"time_s": values["first_setup_min"] * 60 + wait, "energy_kwh": values["gauge_time_s"] * 0.01}


VALUES = {"first_setup_min": 10.0, "gauge_time_s": 4.0, "overlap_switch": 0.0}
FEATURES = [
    Feature("clamping", (change("first_setup_min", "times", 0.5),)),
    Feature("fast gauge", (change("gauge_time_s", "plus", -3),)),
    Feature("overlap", (change("overlap_switch", "set", 1),)),
]


def test_alone_in_order_and_last_by_hand():
    worth = {item.name: item for item in feature_worth(seconds, VALUES, FEATURES, ["time_s", "energy_kwh"])}
    assert worth["clamping"].alone["time_s"] == -300
    assert worth["fast gauge"].alone["time_s"] == -3
    assert worth["fast gauge"].last["time_s"] == 0  # the overlap already hides the gauge
    assert worth["overlap"].alone["time_s"] == -4
    assert worth["overlap"].in_order["time_s"] == -1
    assert worth["fast gauge"].last["energy_kwh"] == pytest.approx(-0.03)


def test_steps_in_order_add_up_to_all_features():
    worth = feature_worth(seconds, VALUES, FEATURES, ["time_s"])
    everything = seconds(
        {"first_setup_min": np.array(5.0), "gauge_time_s": np.array(1.0), "overlap_switch": np.array(1.0)}
    )
    nothing = seconds({name: np.array(value) for name, value in VALUES.items()})
    assert sum(item.in_order["time_s"] for item in worth) == float(everything["time_s"] - nothing["time_s"])


def test_common_features_change_known_parameters_and_say_on_what_they_rest():
    names = [feature.name for feature in common_features()]
    assert len(names) == len(set(names)) >= 10
    for feature in common_features():
        for item in feature.changes:
            assert item.low <= item.value <= item.high
            assert item.basis in ("judgement", "derived")
            known = ARGUMENTS.get(item.parameter)
            if known is not None and known.usual is not None:
                after = float(item.applied(np.array(known.usual[1])))
                assert known.accepts(after, after)


def test_bad_rows_name_the_line():
    row = {
        "feature": "x",
        "machine": "shear",
        "parameter": "opening_mm",
        "how": "times",
        "value": "half",
        "low": "0",
        "high": "1",
        "basis": "judgement",
    }
    with pytest.raises(InputError, match=r"mine\.csv, line 2"):
        features_from([row], "mine.csv")
    with pytest.raises(InputError, match="not 'halve'"):
        features_from([{**row, "value": "1", "how": "halve"}], "mine.csv")
    with pytest.raises(InputError, match="which this calculation has not"):
        feature_worth(seconds, VALUES, [Feature("y", (change("opening_mm", "set", 1),))], ["time_s"])
