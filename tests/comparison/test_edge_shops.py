"""Edge shops: the headline of each against what was expected, and against a model written from the definition of the verdict."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from comparison.desk_changes import differences
from comparison.edge_base import edge_shop
from comparison.edge_model import reckon

from xlfab.comparison.compare import judge
from xlfab.comparison.estimate import estimate
from xlfab.comparison.random_draws import risk_of

STARTS = {
    "cannot": "Cannot do the work: ",
    "hours": "Does not fit into the hours: ",
    "same": "No difference: ",
    "does not pay": "Does not pay",
    "no winner": "No winner: ",
    "nothing to pay back": "Pays: ",
    "pays at the end": "Pays, but only with what the machines are worth at the end",
    "pays in time": "Pays: ",
    "pays late": "Pays, but later than wanted: ",
}


def _value(text: str) -> Any:
    try:
        return json.loads(text)
    except json.JSONDecodeError:
        return text


def changes_of(text: str) -> dict[str, Any]:
    """The changes of an edge, as `path=value & path=value`."""
    pairs = (pair.split("=", 1) for pair in text.split(" & ") if pair)
    return {path.strip(): _value(value.strip()) for path, value in pairs}


def _rows() -> list[dict[str, str]]:
    with Path(__file__).with_name("edge_shops.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, delimiter=";", quoting=csv.QUOTE_NONE))


EDGES = _rows()


@pytest.mark.parametrize("row", EDGES, ids=[row["edge"] for row in EDGES])
def test_the_headline_at_an_edge(row: dict[str, str], tmp_path: Path) -> None:
    scenario = edge_shop(changes_of(row["changes"]), tmp_path)
    job, risk = estimate(scenario), risk_of(scenario, 200)
    made = judge(job, risk)
    table, option = made.verdicts[0], job.options[1]
    said = str(table.value("verdict")[0])
    model = reckon(scenario, job, 2, risk.options[2].worths)
    assert model.kind == row["expected"], (said, model)
    assert said.startswith(STARTS[row["expected"]]), said
    figures = {
        "outlay": option.purchase.number("outlay_cur"),
        "saving": option.purchase.number("yearly_saving_cur"),
        "worth": option.measures.number("net_present_value_cur"),
        "doubt": table.number("worth_doubt_cur"),
    }
    for name, value in figures.items():
        assert value == pytest.approx(getattr(model, name), rel=1e-9, abs=1e-6), name
    _payback_agrees(table, row["expected"], model.payback, model.outlay)


def _payback_agrees(table: Any, kind: str, payback: float, outlay: float) -> None:
    """No payback beside what is not judged; else that of the model, or words for why there is none."""
    shown = table.value("simple_shown_years")[0]
    if kind in ("cannot", "hours"):
        assert shown == table.value("payback_p10_years")[0] == table.value("in_time_share")[0] == "not judged"
    elif outlay <= 0:
        assert shown == "nothing to pay back"
    elif np.isnan(payback):
        assert str(shown).startswith("longer than ")
    else:
        assert float(shown) == pytest.approx(payback)


def test_there_are_enough_edges_and_every_kind_is_among_them() -> None:
    assert len(EDGES) >= 60 and {row["expected"] for row in EDGES} == set(STARTS)
    assert all(row["why"] for row in EDGES)


@pytest.mark.parametrize("row", EDGES[3:60:28], ids=[row["edge"] for row in EDGES[3:60:28]])
def test_a_cell_changed_at_the_desk_agrees_with_a_fresh_build(row: dict[str, str], tmp_path: Path) -> None:
    """By ironcalc; `python -m comparison.desk_changes` goes through all edges, in LibreOffice too."""
    assert list(differences(changes_of(row["changes"]), tmp_path)) == []
