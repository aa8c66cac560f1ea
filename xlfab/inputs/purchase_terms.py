"""The purchase: how it is judged, and what can be chosen."""

from __future__ import annotations

from pydantic import model_validator

from xlfab.inputs.records import Name, Record


class Purchase(Record):
    """The rates, years and growth with which options are compared."""

    discount_rate_share: float
    study_years: float
    wage_escalation_share: float
    energy_escalation_share: float
    released_value_share: float
    overtime_share: float
    overtime_rate_cur_per_h: float
    outside_work_share: float
    outside_work_cur_per_h: float
    growth_share: float
    target_payback_years: float

    @model_validator(mode="after")
    def _hours_are_used_once(self) -> Purchase:
        used = self.released_value_share + self.overtime_share + self.outside_work_share
        if used > 1 + 1e-12:
            raise ValueError(
                f"released_value_share + overtime_share + outside_work_share = {used:g} must be <= 1: an hour is used once"
            )
        return self


class Finance(Record):
    """How a purchase is paid and taxed; with the defaults neither is counted."""

    loan_share: float
    loan_rate_share: float
    payments_count: float
    tax_rate_share: float
    depreciation_method_count: float
    recovery_years: float
    declining_rate_share: float


class Option(Record):
    """A shear and a press brake to work with, and which of them would be bought."""

    name: Name
    shear: Name
    press_brake: Name
    buy: list[Name]
    delivery_cur: float
    training_cur: float
    tooling_cur: float
    commissioning_cur: float
    trade_in_cur: float
    grant_cur: float
    lease_payment_cur_per_year: float
    payments_count: float
    in_advance_switch: float
    buy_out_cur: float

    @model_validator(mode="after")
    def _buys_what_it_uses(self) -> Option:
        used = {self.shear.casefold(), self.press_brake.casefold()}
        wrong = [item for item in self.buy if item.casefold() not in used]
        if wrong:
            raise ValueError(f"buy = {wrong} must name only machines of this option: {self.shear}, {self.press_brake}")
        if len({item.casefold() for item in self.buy}) != len(self.buy):
            raise ValueError(f"buy = {self.buy} must name each machine once")
        return self
