"""The verdict once more, from its definition and not from the program: physical figures and draws go in, a class of verdict comes out.

Definitions: cannot do the work: a machine that the option brings is short of a limit for a part; does not fit: more busy hours than
hours. Else net present value against its doubt, the distance within which 8 draws in 10 lie of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy_financial as npf


@dataclass(frozen=True)
class Reckoned:
    """What the model finds of one option."""

    kind: str
    outlay: float
    saving: float
    worth: float
    doubt: float
    payback: float


def _yearly_cost(scenario: Any, option: Any) -> tuple[float, float, float]:
    """Labour, electricity, all else of an option's year, from hours and kilowatt-hours."""
    w, tariff = scenario.workplace, scenario.tariff
    labour = electricity = other = 0.0
    machines = {item.name: item for item in (*scenario.shears, *scenario.press_brakes)}
    first = scenario.options[0]
    for kind, one in (("shear", option.shear), ("press_brake", option.brake)):
        item, year = machines[str(one.stated.value("name")[0])], one.year
        people = sum(year.number(f"{cause}_h_per_year") for cause in ("ram", "gauge", "operator", "setup"))
        paid = people * w.wage_cur_per_h * (1 + w.burden_share)
        labour += paid
        electricity += year.number("energy_kwh") * tariff.energy_price_cur_per_kwh * (1 + tariff.tax_share)
        switched_on = item.powered_h_per_year + max(0.0, year.number("busy_h_per_year") - item.powered_h_per_year)
        demand = year.number("energy_kwh") / switched_on * tariff.peak_share
        electricity += demand * tariff.demand_price_cur_per_kw * 12
        other += machines[getattr(first, kind)].machine_price_cur * item.maintenance_share
        other += item.floor_area_m2 * w.space_price_cur_per_m2 + item.machine_price_cur * item.insurance_share
        other += item.downtime_h_per_year * w.downtime_cur_per_h + year.number("try_out_cost_cur_per_year")
        busy = year.number("busy_h_per_year")
        beyond = min(max(busy - item.powered_h_per_year, 0.0), w.extra_h_per_year)
        other += paid * beyond / busy * w.extra_wage_share if busy else 0.0
    return labour, electricity, other


def _outlay(scenario: Any, item: Any) -> tuple[float, float]:
    machines = {one.name: one for one in (*scenario.shears, *scenario.press_brakes)}
    price = sum(machines[name].machine_price_cur for name in item.buy)
    once = item.delivery_cur + item.training_cur + item.tooling_cur + item.commissioning_cur
    salvage = sum(machines[name].salvage_cur for name in item.buy)
    return price + once - item.trade_in_cur - item.grant_cur, salvage


def _short(scenario: Any, option: Any) -> bool:
    """Whether a machine that the first option has not is too short or too weak: lengths and sheets as stated, force as worked out."""
    first = scenario.options[0]
    brake = next(one for one in scenario.press_brakes if one.name == str(option.brake.stated.value("name")[0]))
    shear = next(one for one in scenario.shears if one.name == str(option.shear.stated.value("name")[0]))
    short = False
    if brake.name != first.press_brake:
        short |= bool((scenario.bends["bend_length_mm"] > brake.working_length_mm).any())
        short |= bool((option.brake.feasible.value("needed_force_kn") > brake.rated_force_kn).any())
        short |= bool((option.brake.steps.value("ram_travel_mm") > brake.stroke_length_mm).any())
        short |= bool((option.brake.feasible.value("tool_load_kn_per_m") > brake.tool_rating_kn_per_m).any())
        short |= bool((option.brake.feasible.value("needed_daylight_mm") > brake.daylight_mm).any())
    if shear.name != first.shear:
        short |= bool((scenario.cuts["cut_length_mm"] > shear.blade_length_mm).any())
        short |= bool(
            (
                option.shear.feasible.value("thickness_limit_mm")
                < option.shear.feasible.value("thickness_limit_mm") - option.shear.feasible.value("thickness_margin_mm")
            ).any()
        )
    return short


def _flows(scenario: Any, first: tuple[float, ...], other: tuple[float, ...], outlay: float, salvage: float) -> Any:
    """Cash flows without and with salvage, and the saving of the first year."""
    p, w = scenario.purchase, scenario.workplace
    rate = w.wage_cur_per_h * (1 + w.burden_share)
    hours = (first[0] - other[0]) / rate
    worth = (
        p.released_value_share * rate
        + p.overtime_share * p.overtime_rate_cur_per_h
        + p.outside_work_share * p.outside_work_cur_per_h
    )
    labour = hours * worth if hours > 0 else hours * rate
    energy, rest = first[1] - other[1], first[2] - other[2]
    years = np.arange(1, int(p.study_years) + 1)
    grow = (1 + p.growth_share) * (1 + p.wage_escalation_share)
    savings = labour * grow ** (years - 1) + energy * (1 + p.energy_escalation_share) ** (years - 1)
    savings = savings + rest * (1 + p.wage_escalation_share) ** (years - 1)
    back = np.concatenate([[-outlay], savings])
    whole = back.copy()
    whole[-1] += salvage
    return back, whole, labour + energy + rest


def _payback(back: Any) -> float:
    """Years until what was laid out has come back, evenly within a year."""
    out = np.cumsum(back)
    if out[0] >= 0 or out[-1] < 0:
        return float("nan")
    year = int(np.argmax(out >= 0))
    return year - 1 + -out[year - 1] / back[year]


def reckon(scenario: Any, job: Any, number: int, drawn: Any) -> Reckoned:
    """The class of verdict on an option (counted from 1), with the figures behind it."""
    one, first = job.options[number - 1], job.options[0]
    item, item_first = scenario.options[number - 1], scenario.options[0]
    spent, left = _outlay(scenario, item)
    spent_first, left_first = _outlay(scenario, item_first)
    outlay, salvage = spent - spent_first, left - left_first
    back, whole, saving = _flows(scenario, _yearly_cost(scenario, first), _yearly_cost(scenario, one), outlay, salvage)
    worth = float(npf.npv(scenario.purchase.discount_rate_share, whole))
    doubt = float(np.quantile(np.abs(np.asarray(drawn) - worth), 0.8))
    payback = _payback(back)
    kind = _kind(scenario, one, (outlay, saving, salvage), worth, doubt, payback)
    return Reckoned(kind, outlay, saving, worth, doubt, payback)


def _kind(
    scenario: Any, one: Any, money: tuple[float, float, float], worth: float, doubt: float, payback: float
) -> str:
    outlay, saving, salvage = money
    if _short(scenario, one):
        return "cannot"
    for machine in (one.shear, one.brake):
        if (
            machine.year.number("busy_h_per_year")
            > machine.stated.number("powered_h_per_year") + scenario.workplace.extra_h_per_year
        ):
            return "hours"
    if abs(outlay) + abs(saving) + abs(salvage) == 0:
        return "same"
    if worth + doubt < 0:
        return "does not pay"
    if worth - doubt <= 0:
        return "no winner"
    if outlay <= 0:
        return "nothing to pay back"
    if np.isnan(payback):
        return "pays at the end"
    return "pays in time" if payback <= scenario.purchase.target_payback_years else "pays late"
