"""Break-even and the making of cash flows. Marks: S seen, M from memory, C computed."""

from __future__ import annotations

import pytest
from scipy.optimize import brentq

from xlfab.core.errors import RangeError
from xlfab.investment.appraisal import net_present_value_now_cur
from xlfab.investment.break_even import (
    break_even_price_difference_cur,
    break_even_quantity_count,
    break_even_ratio,
)
from xlfab.investment.cash_flow import combined_escalation_share, escalated_cur, released_labour_value_cur
from xlfab.investment.life_cycle import uniform_present_value_ratio


def test_break_even_quantity_of_a_published_example():
    # R. Panneerselvam, Engineering Economics, example 1.1 (S, worked-example transcription): 20,000 units
    assert break_even_quantity_count(2000000, 200, 100) == 20000


def test_no_break_even_is_no_number():
    with pytest.raises(RangeError, match="no break-even"):
        break_even_quantity_count(1000, 5, 5)
    with pytest.raises(RangeError, match="no break-even"):
        break_even_ratio(-5000, -1000 / 3)  # only a negative wage would do


def worth(outlay: float, hours: float, wage: float, kwh: float, price: float) -> float:
    yearly = hours * wage + kwh * price
    return net_present_value_now_cur(0.06, [-outlay, *[yearly] * 10])


def test_closed_forms_are_the_roots_a_library_finds():
    outlay, hours, wage, kwh, price = 60000.0, 250.0, 24.0, 9000.0, 0.2
    now = worth(outlay, hours, wage, kwh, price)
    factor = uniform_present_value_ratio(0.06, 10)
    wage_root = brentq(lambda x: worth(outlay, hours, x, kwh, price), 0.1, 500, xtol=1e-9)
    assert wage * break_even_ratio(now, hours * wage * factor) == pytest.approx(wage_root)
    price_root = brentq(lambda x: worth(outlay, hours, wage, kwh, x), 0.001, 50, xtol=1e-9)
    assert price * break_even_ratio(now, kwh * price * factor) == pytest.approx(price_root)
    outlay_root = brentq(lambda x: worth(x, hours, wage, kwh, price), 0, 1e6, xtol=1e-9)
    assert break_even_price_difference_cur(outlay, now) == pytest.approx(outlay_root)


def test_released_hours_are_worth_what_the_owner_states():
    assert released_labour_value_cur(50000, 40000, 25, 0, 0, 40, 0, 55) == 0
    assert released_labour_value_cur(50000, 40000, 25, 1, 0, 40, 0, 55) == 10000
    assert released_labour_value_cur(40000, 50000, 25, 0, 0, 40, 0, 55) == -10000  # more hours cost their wage
    with pytest.raises(RangeError, match="more than 1"):
        released_labour_value_cur(50000, 40000, 25, 0.2, 0.4, 40, 0.5, 55)


def test_growth_and_escalation_compound():
    together = escalated_cur(1000, combined_escalation_share(0.05, 0.03), 4)
    assert together == pytest.approx(1000 * 1.05**3 * 1.03**3)
