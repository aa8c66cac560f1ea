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
    target_payback_years: float


class Option(Record):
    """A shear and a press brake to work with, and which of them would be bought."""

    name: Name
    shear: Name
    press_brake: Name
    buy: list[Name]
    delivery_cur: float
    training_cur: float
    trade_in_cur: float
    grant_cur: float

    @model_validator(mode="after")
    def _buys_what_it_uses(self) -> Option:
        used = {self.shear.casefold(), self.press_brake.casefold()}
        wrong = [item for item in self.buy if item.casefold() not in used]
        if wrong:
            raise ValueError(f"buy = {wrong} must name only machines of this option: {self.shear}, {self.press_brake}")
        if len({item.casefold() for item in self.buy}) != len(self.buy):
            raise ValueError(f"buy = {self.buy} must name each machine once")
        return self
