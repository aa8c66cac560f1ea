"""Rules check units when a column is added, compute what they print, and refuse what does not fit."""

from __future__ import annotations

import inspect
import sys
from collections import Counter
from typing import Any

import numpy as np
import pytest

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.core.errors import InputError
from xlfab.core.unit_products import factor_of
from xlfab.core.units import UNITS
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.tables.row_rules import Unchecked
from xlfab.tables.rules import Rows
from xlfab.tables.table import Table
from xlfab.workbook.book import Book

UNCHECKED_LINES = (
    111  # lines that add a number by a plain function; it only goes down, and at 0 such columns are refused
)


def shop() -> Table:
    t = Table("work", "Work", Rows("work", 3))
    t.put("part", np.array(["A", "B", "C"], dtype=object))
    t.put("time_s", np.array([36.0, 0.0, 90.0]))
    t.put("setup_min", np.array([5.0, 10.0, 0.0]))
    t.put("yearly_quantity_count", np.array([100.0, 200.0, 0.0]))
    t.put("power_kw", np.array([2.0, 4.0, 0.5]))
    t.put("price_cur_per_kwh", np.array([0.2, 0.2, 0.3]))
    t.put("thickness_mm", np.array([1.0, 2.0, 3.0]))
    t.put("used_switch", np.array([1.0, 0.0, 1.0]))
    return t


def values(t: Table, name: str) -> list[float]:
    return [float(value) for value in t.value(name)]


def test_products_turn_units_by_themselves() -> None:
    t = shop()
    t.times("year_h_per_year", "time_s", "yearly_quantity_count")
    t.times("energy_kwh", "power_kw", "year_h_per_year")
    t.times("energy_kj", "power_kw", "time_s")
    t.times("cost_cur", "energy_kwh", "price_cur_per_kwh")
    t.times("setup_s", "setup_min")
    t.times("speed_mm_s", "thickness_mm", over=["time_s"])
    assert values(t, "year_h_per_year") == [1.0, 0.0, 0.0]
    assert values(t, "energy_kwh") == [2.0, 0.0, 0.0]
    assert values(t, "energy_kj") == [72.0, 0.0, 45.0]
    assert values(t, "cost_cur") == [0.4, 0.0, 0.0]
    assert values(t, "setup_s") == [300.0, 600.0, 0.0]


@pytest.mark.parametrize(
    ("add", "words"),
    [
        (lambda t: t.sum("both_s", "time_s", "setup_min"), "in min does not go into one in s"),
        (lambda t: t.difference("rest_mm", "thickness_mm", "time_s"), "s does not make mm"),
        (lambda t: t.times("energy_kwh", "power_kw", "power_kw"), "kW x kW does not make kWh"),
        (lambda t: t.times("cost_cur", "power_kw", "yearly_quantity_count"), "does not make currency"),
        (lambda t: t.share("part_share", "time_s", "power_kw"), "s / kW does not make share"),
        (lambda t: t.copy("length_mm", "time_s"), "s does not make mm"),
        (lambda t: t.sum("length_mm", "part", "thickness_mm"), "part is text"),
        (lambda t: t.switched("chosen_s", "used_switch", "time_s", "thickness_mm"), "mm does not make s"),
    ],
)
def test_what_does_not_fit_is_refused_by_name(add: Any, words: str) -> None:
    with pytest.raises(InputError, match=words):
        add(shop())


def test_choices_shares_and_differences() -> None:
    t = shop()
    t.switched("chosen_s", "used_switch", "time_s", 7.0)
    t.share("mean_ratio", "time_s", "time_s")
    t.excess("above_s", "time_s", 40.0)
    t.larger("most_s", "time_s", 40.0)
    t.smaller("least_s", "time_s", 40.0)
    t.apart("apart_s", "time_s", 40.0)  # type: ignore[arg-type]
    t.above("filled_count", "time_s", "setup_min")
    assert values(t, "chosen_s") == [36.0, 7.0, 90.0]
    assert values(t, "mean_ratio") == [1.0, 0.0, 1.0]
    assert values(t, "above_s") == [0.0, 0.0, 50.0]
    assert values(t, "most_s") == [40.0, 40.0, 90.0]
    assert values(t, "least_s") == [36.0, 0.0, 40.0]
    assert values(t, "apart_s") == [4.0, 40.0, 50.0]
    assert values(t, "filled_count") == [2.0, 1.0, 1.0]


def test_a_blank_input_gives_an_error_value_and_not_nought() -> None:
    t = shop()
    t.times("energy_kj", "power_kw", "time_s")
    book = Book("Test", "EUR")
    book.sheet("Work", "Work").table(t)
    text = book.grid.formula(t, t.columns["energy_kj"])
    assert text.startswith("IF(ISNUMBER(") and text.endswith(",#NUM!)")


def test_units_make_each_other() -> None:
    """By the definitions of the SI: 1 kWh is 3,600 kJ, 1 N·m is 1 J, 1 MPa is 1 N/mm²."""
    unit = UNITS.__getitem__
    assert factor_of([unit("kw"), unit("h")], [], unit("kj")) == 3600
    assert factor_of([unit("kn"), unit("mm")], [], unit("j")) == 1
    assert factor_of([unit("mpa"), unit("mm2")], [], unit("n")) == 1
    assert factor_of([unit("kn")], [unit("mm")], unit("kn_per_m")) == 1000
    assert factor_of([unit("cur_per_kg"), unit("kg")], [unit("count")], unit("cur")) == 1
    with pytest.raises(InputError, match="does not make"):
        factor_of([unit("cur_per_h"), unit("kg")], [], unit("cur"))


def test_numbers_by_plain_functions_only_get_fewer(monkeypatch: pytest.MonkeyPatch) -> None:
    lines: Counter[str] = Counter()
    first = Unchecked.__init__

    def counted(self: Unchecked, *args: Any, **named: Any) -> None:
        first(self, *args, **named)
        frame: Any = sys._getframe(1)
        while frame and "/tables/" in inspect.getfile(frame):
            frame = frame.f_back
        lines[f"{inspect.getfile(frame).split('xlfab/')[-1]}:{frame.f_lineno}"] += 1

    monkeypatch.setattr(Unchecked, "__init__", counted)
    scenario = load(bundled("small_lot_shop"))
    plan_comparison(compare(scenario))
    assert len(lines) <= UNCHECKED_LINES, sorted(lines)
    lines.clear()
    plan_quote(quote_job(scenario, load_quote(bundled("small_lot_shop"), scenario)))
    assert not [line for line in lines if line.startswith("quote/")], sorted(lines)
