"""What a scenario may add: the user's own optional features, and what only the seller knows."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, model_validator

from xlfab.inputs.records import Name, Record
from xlfab.inputs.stated_values import STATED


class FeatureChange(BaseModel):
    """One parameter that a feature changes: set to a value, times a value, plus a value."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    machine: Literal["press_brake", "shear", "workplace"]
    parameter: str
    how: Literal["set", "times", "plus"]
    value: float
    low: float
    high: float
    basis: str
    note: str = ""

    @model_validator(mode="before")
    @classmethod
    def _without_a_span(cls, raw: Any) -> Any:
        if isinstance(raw, dict):
            return {"low": raw.get("value"), "high": raw.get("value"), "basis": STATED, **raw}
        return raw

    @model_validator(mode="after")
    def _rises(self) -> FeatureChange:
        if not self.low <= self.value <= self.high:
            raise ValueError(f"low = {self.low:g}, value = {self.value:g}, high = {self.high:g} must rise")
        return self


def _one_line(value: Any) -> Any:
    return " ".join(value.split()) if isinstance(value, str) else value


class OwnFeature(Record):
    """A feature of the user's own."""

    name: Name
    changes: list[FeatureChange]


class SellerNote(Record):
    """What a machine costs the seller, and notes: shown on a sheet of its own, and never in a customer's copy."""

    name: Name
    cost_cur: float
    note: Annotated[str, BeforeValidator(_one_line)] = ""
