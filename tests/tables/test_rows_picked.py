"""Totals over the rows with a switch on, and the value at the least: an error value in a row that is left out does no harm."""

from __future__ import annotations

import numpy as np
import pytest

from xlfab.tables.table import Rows, Table


def _list(batch: bool) -> Table:
    t = Table("list", "List", Rows("list", 4))
    t.put("part", np.array(["a", "b", "c", "d"], dtype=object))
    t.put("here_switch", np.array([1.0, 0.0, 1.0, 1.0]))
    worth = np.array([2.0, np.nan, 3.0, -4.0])
    t.put("worth_cur", np.stack([worth, 2 * worth]) if batch else worth)
    t.put("margin_mm", np.array([5.0, 1.0, -2.0, -2.0]))
    return t


@pytest.mark.parametrize("batch", [False, True])
def test_a_total_over_switched_rows(batch: bool) -> None:
    source = _list(batch)
    t = Table.record("sum", "Sum")
    t.total("worth_cur", source["worth_cur"], where=source["here_switch"])
    assert np.ravel(t.value("worth_cur")).tolist() == ([1.0, 2.0] if batch else [1.0])


def test_the_first_row_in_which_a_column_is_least() -> None:
    source = _list(False)
    t = Table.record("least", "Least")
    t.at_least("worst_part", source["part"], "margin_mm")
    t.at_least("worst_cur", source["worth_cur"], "margin_mm")
    assert t.value("worst_part")[0] == "c" and t.number("worst_cur") == 3.0


def test_nothing_is_least_in_an_empty_list() -> None:
    source = Table("list", "List", Rows("list", 0))
    source.put("part", np.array([], dtype=object))
    source.put("margin_mm", np.array([]))
    t = Table.record("least", "Least")
    t.at_least("worst_part", source["part"], "margin_mm")
    t.at_least("worst_mm", source["margin_mm"], "margin_mm")
    assert t.value("worst_part")[0] == "" and t.number("worst_mm") == 0.0
