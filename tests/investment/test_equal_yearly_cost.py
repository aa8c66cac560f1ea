"""Equal yearly cost of an option, by general-purpose finance libraries: bought and kept machines, once-paid sums, what goes."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy_financial as npf
import pytest
import pyxirr
from comparison.edge_base import edge_shop

from xlfab.comparison.estimate import estimate

KEPT = {
    "press_brake.0.resale_now_cur": 30000,
    "press_brake.0.salvage_cur": 5000,
    "shear.0.resale_now_cur": 12000,
    "press_brake.1.salvage_cur": 9000,
    "press_brake.1.life_years": 14,
    "option.1.delivery_cur": 4000,
    "option.1.tooling_cur": 2500,
    "option.1.commissioning_cur": 1500,
    "option.1.trade_in_cur": 26000,
}


def annuity(rate: float, years: float, now: float, end: float) -> float:
    """The same by two libraries: an equal payment for a sum of today less a sum at the end."""
    payment = -npf.pmt(rate, years, now, -end)
    assert pyxirr.pmt(rate, years, now, -end) == pytest.approx(-payment)
    return float(payment)


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Any:
    return estimate(edge_shop(KEPT, tmp_path_factory.mktemp("kept")))


def test_a_kept_machine_costs_what_its_resale_value_falls_by_with_interest(job: Any) -> None:
    rate, years = job.money.terms.number("discount_rate_share"), job.money.terms.number("study_years")
    keep = job.options[0]
    expected = annuity(rate, years, 30000, 5000) + annuity(rate, years, 12000, 0)
    found = keep.worth.equal_cost
    assert found.number("equal_yearly_cost_cur_per_year") == pytest.approx(
        expected + keep.year.number("running_cost_cur_per_year")
    )


def test_a_bought_machine_lasts_its_life_and_the_trade_in_counts_once(job: Any) -> None:
    rate, years = job.money.terms.number("discount_rate_share"), job.money.terms.number("study_years")
    buy = job.options[1]
    bought = annuity(rate, 14, 100000, 9000)
    shear = annuity(rate, years, 12000, 0)
    once = annuity(rate, years, 4000 + 2500 + 1500 - 26000 + 30000, 0)
    found = buy.worth.equal_cost
    total = bought + shear + once + buy.year.number("running_cost_cur_per_year")
    assert found.number("equal_yearly_cost_cur_per_year") == pytest.approx(total)
    assert found.number("equal_part_cost_cur") == pytest.approx(total / 8500)


def test_a_dearer_price_alone_changes_only_the_outlay(tmp_path: Path) -> None:
    first, dearer = (
        estimate(edge_shop({"press_brake.1.machine_price_cur": price}, tmp_path / str(price))).options[1]
        for price in (100000, 120000)
    )
    for column in first.difference.columns:
        if column != "mean_part_cost_cur":  # that one is at the machine-hour rate, for quoting
            assert dearer.difference.number(column) == first.difference.number(column), column
    assert dearer.purchase.number("yearly_saving_cur") == first.purchase.number("yearly_saving_cur")
    assert dearer.purchase.number("outlay_cur") - first.purchase.number("outlay_cur") == 20000


def test_few_parts_cost_more_each_with_capital_and_idle_electricity(tmp_path: Path) -> None:
    few = {f"parts.{n}.{key}": 100 for n in range(3) for key in ("yearly_quantity_count",)}
    many = estimate(edge_shop({}, tmp_path / "many")).options[1].worth.equal_cost
    less = estimate(edge_shop(few, tmp_path / "few")).options[1].worth.equal_cost
    assert less.number("equal_part_cost_cur") > 5 * many.number("equal_part_cost_cur")
