"""The whole quote of a scenario on one shear and one press brake: all tables, in the order in which they are calculated."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from xlfab.core.errors import InputError
from xlfab.quote.price_tables import ASKED, bought_in, costs, prices
from xlfab.quote.quote_checks import machine_limits, overall, price_checks
from xlfab.quote.quote_inputs import NO_SPARE, QuoteInputs, quote_inputs
from xlfab.quote.quoted_machine import QuotedMachine, quoted_machine
from xlfab.quote.what_if import by_hand, routes, trial, trial_margins
from xlfab.tables.table import Table
from xlfab.work.shop_work import needs


@dataclass
class Route:
    """The machines of an option, and the cost of each part on them."""

    name: str
    shear: QuotedMachine
    brake: QuotedMachine
    costs: Table

    @property
    def machines(self) -> tuple[QuotedMachine, QuotedMachine]:
        """Shear and press brake."""
        return self.shear, self.brake


@dataclass
class QuoteJob:
    """Every table of a quote."""

    scenario: Any
    quote: Any
    stated: QuoteInputs
    part_data: Table
    cut_data: Table
    bend_data: Table
    first: Route
    other: Route | None
    prices: Table
    totals: Table
    trial: Table
    trial_margins: Table
    by_hand: Table
    routes: Table | None
    checks: list[Table]
    overall_check: Table

    @property
    def roads(self) -> list[Route]:
        """The route quoted, and the one it is held against if any."""
        return [self.first, self.other] if self.other else [self.first]

    def tables(self) -> list[Table]:
        """All tables."""
        found = [
            *self.stated.tables(),
            *self.checks,
            *(item for item in vars(self).values() if isinstance(item, Table)),
        ]
        for road in self.roads:
            found += [road.costs, *(item for one in road.machines for item in one.tables())]
        return found


def quote_job(
    scenario: Any, quote: Any, option: str = "", against: str = "", spare: Mapping[str, int] = NO_SPARE
) -> QuoteJob:
    """Lay out and evaluate the quote on the machines of an option (the first, unless named), held against another if named.

    `spare` adds rows to fill in.
    """
    made = quote_inputs(scenario, quote, spare)
    figures = needs(made.parts, made.materials, made.workplace, made.bends, made.cuts, made.lookups)
    bought_in(made.bought, made.parts, made.terms)
    first = _route(1, scenario, _option(scenario, option), made, figures)
    other = _route(2, scenario, _option(scenario, against), made, figures) if against else None
    price = prices(made.parts, first.costs, made.bought, made.packing, made.terms)
    totals = _totals(made.parts, price, first.costs)
    tried = trial(made.parts, price, first.costs)
    both = routes(made.parts, first.costs, other.costs) if other else None
    checks = [*(machine_limits(one, scenario.units) for one in first.machines), price_checks(price)]
    owners = [*(str(one.stated.value("name")[0]) for one in first.machines), "Prices"]
    tries = (tried, trial_margins(tried), by_hand(tried))
    job = QuoteJob(
        scenario, quote, made, *figures, first, other, price, totals, *tries, both, checks, overall(checks, owners)
    )
    for table in job.tables():
        table.evaluate()
    return job


def _route(number: int, scenario: Any, option: Any, made: QuoteInputs, figures: tuple[Table, Table, Table]) -> Route:
    """A shear and a press brake together, and what each part costs on them."""
    data, cut_data, bend_data = figures
    common = (made.parts, data, made.workplace, made.tariff)
    rest = (made.lookups, common, made.terms)
    shear = quoted_machine(number, "shear", _by_name(scenario.shears, option.shear), made.cuts, cut_data, *rest)
    item = _by_name(scenario.press_brakes, option.press_brake)
    brake = quoted_machine(number, "press_brake", item, made.bends, bend_data, *rest)
    shop = (made.workplace, made.terms)
    cost = costs(number, made.parts, data, shear.parts, brake.parts, made.work, made.packing, shop)
    return Route(option.name, shear, brake, cost)


def _option(scenario: Any, name: str) -> Any:
    names = {item.name.casefold(): item for item in scenario.options}
    if name and name.casefold() not in names:
        known = ", ".join(item.name for item in scenario.options)
        raise InputError(f"'{name}' is no option of the scenario; it has {known}")
    return names[name.casefold()] if name else scenario.options[0]


def _by_name(machines: Any, name: str) -> Any:
    return next(item for item in machines if item.name == name)


def _totals(part_list: Table, price: Table, cost: Table) -> Table:
    """The order at the lots asked: what it costs, what it brings."""
    for what in ("cost", "price"):
        lines = (f"{what}_{ASKED}_cur", part_list["lot_size_count"])
        price.times(f"order_{what}_cur", *lines, label=f"Order: {what}")
    t = Table.record("totals", "Order at the lots asked")
    t.total("pieces_cost_cur", price["order_cost_cur"], label="Cost of the pieces")
    t.total("setup_cost_cur", cost["shown_total_cur"], label="Cost of set-ups shown apart")
    t.total("pieces_price_cur", price["order_price_cur"], label="Price of the pieces")
    t.total("setup_price_cur", cost["setup_price_cur"], label="Price of set-ups shown apart")
    t.sum("order_cost_cur", "pieces_cost_cur", "setup_cost_cur", label="Order: cost")
    t.sum("order_price_cur", "pieces_price_cur", "setup_price_cur", label="Order: price")
    t.difference("order_gain_cur", "order_price_cur", "order_cost_cur", label="Order: price less cost")
    both = ("order_gain_cur", "order_price_cur")
    t.share("order_margin_share", *both, label="Order: margin (0 while nothing is priced)")
    return t
