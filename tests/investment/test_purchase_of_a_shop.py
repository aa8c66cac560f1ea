"""The purchase in a whole estimate: closed forms put back into it, finance and tax against sums done apart."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy_financial as npf
import pytest

from xlfab.comparison.assumption_swings import doubts_of, model_of, swings
from xlfab.comparison.estimate import Job, estimate
from xlfab.comparison.random_draws import risk_of
from xlfab.core.errors import InputError
from xlfab.inputs.scenario import load
from xlfab.investment.depreciation import macrs_table
from xlfab.investment.risk import monte_carlo, spread

SHOP = load(Path(__file__).resolve().parents[2] / "scenarios" / "demo_shop")


def changed(scenario: Any = SHOP, **sections: dict[str, float]) -> Any:
    """The shop with some values of its sections replaced."""
    return replace(
        scenario, **{name: getattr(scenario, name).model_copy(update=update) for name, update in sections.items()}
    )


def worth(scenario: Any, option: int = 1) -> float:
    return estimate(scenario).options[option].measures.number("net_present_value_cur")


def nothing(value: float) -> bool:
    return abs(value) < 1e-6 * abs(worth(SHOP))


def test_at_the_break_even_wage_and_energy_price_the_purchase_is_worth_nothing():
    used = {"released_value_share": 0.4, "overtime_share": 0.2, "overtime_rate_cur_per_h": 45.0}
    shop = changed(purchase=used)
    found = estimate(shop).options[1].worth.break_even
    for section, key in (("workplace", "wage_cur_per_h"), ("tariff", "energy_price_cur_per_kwh")):
        assert nothing(worth(changed(shop, **{section: {key: found.number(f"break_even_{key}")}})))


def test_the_worth_moves_with_the_parts_as_the_break_even_takes_it():
    """Exact while lots are whole and machines still wait; with more work than hours the point is an approximation."""

    def at(lots: int) -> Any:
        parts = {**SHOP.parts, "yearly_quantity_count": SHOP.parts["lot_size_count"] * lots}
        return estimate(replace(SHOP, parts=parts)).options[1]

    few, more = at(2), at(3)
    assert min(number for one in (few.shear, more.brake) for number in one.year.value("waiting_h_per_year")) > 0
    moved = more.measures.number("net_present_value_cur") - few.measures.number("net_present_value_cur")
    assert moved == pytest.approx(few.worth.break_even.number("parts_present_value_cur") / 2)
    turning = few.worth.break_even
    root = 1 - few.measures.number("net_present_value_cur") / turning.number("parts_present_value_cur")
    assert turning.number("break_even_quantity_count") == pytest.approx(few.year.number("quantity_count") * root)


def test_at_the_break_even_price_difference_the_purchase_is_worth_nothing():
    one = estimate(SHOP).options[1]
    dearer = one.worth.break_even.number("break_even_price_difference_cur") - one.purchase.number("outlay_cur")
    grant = SHOP.options[1].grant_cur - dearer
    options = [item.model_copy(update={"grant_cur": grant}) if item.buy else item for item in SHOP.options]
    assert nothing(worth(replace(SHOP, options=options)))


def test_measures_agree_with_each_other():
    shop = estimate(SHOP)
    for option in shop.options[1:]:
        flows = np.asarray(option.cash_flow.value("flow_cur"))[: int(SHOP.purchase.study_years) + 1]
        rate = SHOP.purchase.discount_rate_share
        found = option.measures
        assert found.number("net_present_value_cur") == pytest.approx(npf.npv(rate, flows))
        assert found.number("modified_internal_rate_share") == pytest.approx(npf.mirr(flows, rate, rate))
        ratio = found.number("savings_to_investment_ratio")
        assert (ratio > 1) == (found.number("net_present_value_cur") > 0)
        assert found.number("adjusted_internal_rate_share") == pytest.approx(
            (1 + rate) * ratio ** (1 / SHOP.purchase.study_years) - 1
        )


def finance(job: Job, option: int = 1) -> tuple[Any, Any]:
    one = job.options[option]
    return one.worth.finance, one.worth.after_tax


def test_nothing_stated_changes_nothing():
    job = estimate(SHOP)
    for option in job.options[1:]:
        np.testing.assert_allclose(option.worth.after_tax.value("net_flow_cur"), option.cash_flow.value("flow_cur"))


def test_a_loan_at_the_discount_rate_changes_flows_and_not_the_worth():
    rate = SHOP.purchase.discount_rate_share
    job = estimate(changed(finance={"loan_share": 0.8, "loan_rate_share": rate, "payments_count": 5}))
    one = job.options[1]
    assert one.worth.net_measures.number("net_present_value_cur") == pytest.approx(
        one.measures.number("net_present_value_cur")
    )
    assert one.worth.after_tax.value("net_flow_cur")[0] == pytest.approx(-0.2 * one.outlay.number("outlay_cur"))


def test_a_loan_longer_than_the_study_is_paid_off_at_its_end():
    rate = SHOP.purchase.discount_rate_share
    job = estimate(changed(finance={"loan_share": 1.0, "loan_rate_share": rate, "payments_count": 15}))
    one = job.options[1]
    assert one.worth.net_measures.number("net_present_value_cur") == pytest.approx(
        one.measures.number("net_present_value_cur")
    )
    assert not np.any(one.worth.after_tax.value("net_flow_cur")[int(SHOP.purchase.study_years) + 1 :])


def test_tax_with_macrs_year_by_year():
    job = estimate(changed(finance={"tax_rate_share": 0.3, "depreciation_method_count": 3.0, "recovery_years": 7.0}))
    own, net = finance(job)
    one, years = job.options[1], int(SHOP.purchase.study_years)
    first_cost = one.outlay.number("outlay_cur") + SHOP.options[1].trade_in_cur
    shares = np.array([0, *macrs_table()[7], *[0] * 30])[: years + 1]
    np.testing.assert_allclose(own.value("tax_depreciation_cur")[: years + 1], first_cost * shares)
    flows = one.cash_flow
    saving = sum(flows.value(f"{what}_saving_cur") for what in ("labour", "energy", "upkeep", "scrap"))[: years + 1]
    taxable = saving - first_cost * shares
    taxable[years] += one.outlay.number("salvage_cur")  # written off to nothing: all of it is gain
    np.testing.assert_allclose(net.value("tax_cur")[: years + 1], 0.3 * taxable)
    np.testing.assert_allclose(
        net.value("net_flow_cur")[: years + 1], flows.value("flow_cur")[: years + 1] - 0.3 * taxable
    )


def test_a_recovery_period_that_the_table_has_not_is_refused():
    with pytest.raises(InputError, match="recovery_years = 8 is not in the MACRS table; known: 3, 5, 7, 10, 15"):
        estimate(changed(finance={"depreciation_method_count": 3.0, "recovery_years": 8.0}))


def test_a_lease_takes_the_place_of_price_and_salvage():
    lease = {"lease_payment_cur_per_year": 21000.0, "payments_count": 6.0, "in_advance_switch": 1.0}
    options = [item.model_copy(update=lease) if number == 1 else item for number, item in enumerate(SHOP.options)]
    one = estimate(replace(SHOP, options=options)).options[1]
    gap = one.worth.after_tax.value("net_flow_cur") - one.cash_flow.value("flow_cur")
    expected = np.zeros(31)
    expected[:6] = -21000
    expected[0] += one.outlay.number("machine_price_cur")
    expected[int(SHOP.purchase.study_years)] -= one.outlay.number("salvage_cur")
    np.testing.assert_allclose(gap, expected)


def test_growth_compounds_with_the_wage():
    flows = estimate(changed(purchase={"growth_share": 0.04})).options[1].cash_flow
    labour = flows.value("labour_saving_cur")
    assert labour[3] == pytest.approx(labour[1] * (1.04 * (1 + SHOP.purchase.wage_escalation_share)) ** 2)


def test_equal_yearly_cost_by_a_finance_library():
    one = estimate(SHOP).options[1]
    brake = next(item for item in SHOP.press_brakes if item.name == "Brake electric")
    rate = SHOP.purchase.discount_rate_share
    owned = -npf.pmt(rate, brake.life_years, brake.machine_price_cur, -brake.salvage_cur)
    item = SHOP.options[1]
    once = -npf.pmt(rate, SHOP.purchase.study_years, item.delivery_cur + item.training_cur - item.trade_in_cur)
    total = owned + once + one.year.number("running_cost_cur_per_year")
    assert one.worth.equal_cost.number("equal_yearly_cost_cur_per_year") == pytest.approx(total)


def test_a_batch_of_variants_is_the_same_as_single_estimates():
    doubts = doubts_of(SHOP)[:40:8]
    batch = {one.name: np.array([one.low, one.base, one.high]) for one in doubts}
    found = model_of(SHOP)(batch)
    for place in range(3):
        single = model_of(SHOP)({name: values[place : place + 1] for name, values in batch.items()})
        for key in found:
            assert np.broadcast_to(found[key], 3)[place] == pytest.approx(float(np.ravel(single[key])[0]), nan_ok=True)


def test_swings_start_from_the_estimate_and_the_widest_comes_first():
    found = swings(SHOP)
    for number, option in enumerate(estimate(SHOP).options[1:], 2):
        worths = found[number].worth
        assert worths[0].base == pytest.approx(option.measures.number("net_present_value_cur"))
        assert [item.span for item in worths] == sorted((item.span for item in worths), reverse=True)


def test_draws_lie_around_the_estimate_and_repeat():
    first, again = risk_of(SHOP, 600, 5), risk_of(SHOP, 600, 5)
    for number, one in first.options.items():
        np.testing.assert_array_equal(one.worths, again.options[number].worths)
        assert one.worth.p10 < one.worth.p50 < one.worth.p90
        assert one.gain[0] == np.mean(one.worths > 0)
    low, high = np.quantile(first.options[2].worths, [0.01, 0.99])
    assert low < worth(SHOP) < high


def test_two_generators_agree_on_the_whole_estimate():
    model, doubts = model_of(SHOP), doubts_of(SHOP)
    one, other = (
        monte_carlo(model, doubts, 3000, seed, bits, batch=500)
        for seed, bits in ((3, np.random.PCG64), (4, np.random.Philox))
    )
    for name in ("saving_2", "worth_2", "worth_3"):
        first, second = spread(one[name]), spread(other[name])
        for share in ("p10", "p50", "p90", "mean"):
            gap = abs(getattr(first, share) - getattr(second, share))
            assert 0 < gap < 4 * np.hypot(getattr(first, f"{share}_error"), getattr(second, f"{share}_error"))


def test_scrap_of_each_machine_goes_into_the_cash_flow() -> None:
    """By hand: the parts that a lot uses up at set-up, times their material, times the lots of a year."""
    shop = SHOP
    first, other = shop.press_brakes
    fewer = [first, other.model_copy(update={"try_out_per_bend_count": first.try_out_per_bend_count - 0.15})]
    job = estimate(replace(shop, press_brakes=fewer))
    data = job.part_data
    saved = 0.15 * data.value("bends_count") * data.value("material_cost_cur") * data.value("lots_per_year_count")
    option = next(one for one in job.options[1:] if one.brake is job.brakes[1])
    assert option.difference.value("try_out_cost_cur_per_year")[0] == pytest.approx(saved.sum(), rel=1e-9)
    same = estimate(shop)
    before = same.options[job.options.index(option)]
    for table, name in (("difference", "running_cost_cur_per_year"), ("purchase", "yearly_saving_cur")):
        more = getattr(option, table).value(name)[0] - getattr(before, table).value(name)[0]
        assert more == pytest.approx(saved.sum(), rel=1e-9)
    growth = shop.purchase.growth_share
    third = option.cash_flow.value("flow_cur")[3] - before.cash_flow.value("flow_cur")[3]
    assert third == pytest.approx(saved.sum() * (1 + growth) ** 2, rel=1e-9)
