"""The record of how a workbook was built, as a schema: whoever reads one gets checked types and bounds, or a refusal."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

Row = int  # rows and columns are counted from 0
Value = float | str | None


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Choices(_Part):
    """The column from which an input is chosen."""

    table: str
    column: str


class ColumnRecord(_Part):
    """One column of a table: where it stands, and what is known of its cells."""

    table: str
    column: str
    label: str
    heading: str = ""  # over it, where that is not its label
    sheet: str
    row: int = Field(ge=0, le=1_048_575)
    at: int = Field(ge=0, le=16_383)
    count: int = Field(ge=0, le=1_048_576)
    used: int = Field(ge=0, le=1_048_576)
    listed: bool = Field(alias="list")
    rows: str = ""  # the set of rows that its table shares with others
    scale: float = Field(gt=0, allow_inf_nan=False)
    text: bool
    private: bool = False
    key: tuple[str, str] | None = None  # the column whose filling makes a row count
    format: str = "General"
    formula: str = ""  # with marks where row numbers go; empty for an input or a figure worked out when built
    stated_in: tuple[str, str] | None = None
    fixed: bool = False
    built: list[Value] = Field(default_factory=list)  # of an input or fixed column, as shown
    spare: Value = None
    choices: Choices | list[str] | None = None
    bounds: tuple[float, float, bool, bool, str] | None = Field(default=None, alias="range")
    usual: tuple[float, float] | None = None
    allowed: str = ""

    @property
    def stated(self) -> bool:
        """True if the user states it."""
        return not self.formula and not self.fixed

    @property
    def place(self) -> tuple[str, str]:
        """Table and column."""
        return self.table, self.column


class ShownCell(_Part):
    """A cell that shows what stands elsewhere."""

    sheet: str
    row: int = Field(ge=0, le=1_048_575)
    at: int = Field(ge=0, le=16_383)
    formula: str
    format: str = "General"


class ScenarioRecord(_Part):
    """What of a scenario stands in no cell: names, options, and on what each value rests."""

    texts: dict[str, str]
    sections: dict[str, dict[str, Any] | list[dict[str, Any]]]
    assumptions: list[dict[str, Any]]
    features: list[dict[str, Any]] = Field(default_factory=list)
    sellers: list[str] = Field(default_factory=list)  # what they cost stands on the seller's sheet alone
    option: str = ""
    against: str = ""
    draws: int = Field(default=0, ge=0, le=10_000_000)  # of the random figures; 0 in a quote
    seed: int = Field(default=1, ge=0)
    yearly: dict[str, float] = Field(default_factory=dict)


class BuildRecord(_Part):
    """All of it."""

    form: int
    version: str
    kind: Literal["comparison", "quote"]
    flavour: str
    system: Literal["metric", "us"]
    currency: str
    paper: Literal["A4", "Letter"] = "A4"
    sheets: list[str]
    protected: list[str] = Field(default_factory=list)
    folded: dict[str, tuple[list[int], list[int]]] = Field(default_factory=dict)
    names: dict[str, str]
    columns: list[ColumnRecord]
    cells: list[ShownCell]
    texts: dict[str, list[tuple[int, int, float | str]]] = Field(default_factory=dict)  # long ones as a short checksum
    record: ScenarioRecord
