"""Records of a scenario: what all of them share, and reading one from its table with defaults filled in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated, Any, Self, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, ValidationError, ValidationInfo, field_validator

from xlfab.core.arguments import ARGUMENTS
from xlfab.core.errors import InputError
from xlfab.inputs.faults import Report
from xlfab.inputs.stated_values import Assumption, Stated, allowed, out_of_bounds, read_stated, resolve_key, shown

_NAME = re.compile(r"[^\W_][\w .\-]{0,59}")
NAME_RULE = "a text of letters, digits, space . _ - that starts with a letter or digit, at most 60 long"


def name_ok(text: str) -> bool:
    """True if a text can name a part, a machine, a material or an option."""
    return _NAME.fullmatch(text) is not None


def _check_name(text: str) -> str:
    if not name_ok(text.strip()):
        raise ValueError(f"must be {NAME_RULE}")
    return text.strip()


Name = Annotated[str, AfterValidator(_check_name)]


class Record(BaseModel):
    """A record whose numeric fields are vocabulary names: the bounds are the vocabulary's."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=False, allow_inf_nan=False)

    @field_validator("*")
    @classmethod
    def _inside_bounds(cls, value: Any, info: ValidationInfo) -> Any:
        name = info.field_name or ""
        problem = out_of_bounds(value, name) if name in ARGUMENTS else ""
        if problem:
            raise ValueError(problem)
        return value

    def _not_above(self, smaller: str, larger: str) -> Self:
        """Refuse a record in which one field is above another that bounds it."""
        first, second = getattr(self, smaller), getattr(self, larger)
        if first > second:
            raise ValueError(f"{smaller} = {first:g} must be <= {larger} = {second:g}")
        return self


AnyRecord = TypeVar("AnyRecord", bound=Record)


def one_table(raw: Mapping[str, Any], section: str, report: Report) -> dict[str, Any]:
    """The keys of a single table such as [workplace]; a fault and no keys where something else stands under its name."""
    found = raw.get(section, {})
    if isinstance(found, dict):
        return found
    report("", f"must be one table: write [{section}] once and keys below it")
    return {}


def many_tables(raw: Mapping[str, Any], section: str, report: Report) -> list[dict[str, Any]]:
    """The tables of a list such as [[press_brake]]; a fault where something else stands among them."""
    found = raw.get(section, [])
    tables = [entry for entry in found if isinstance(entry, dict)] if isinstance(found, list) else []
    if not isinstance(found, list) or len(tables) < len(found):
        report("", f"must be a list of tables: write [[{section}]] above each")
    return tables


def read_record(
    model: type[AnyRecord],
    section: str,
    raw: Mapping[str, Any],
    filling: Mapping[str, Stated],
    currency: str,
    report: Report,
) -> tuple[AnyRecord | None, list[Assumption]]:
    """Read one table of the scenario; faults are reported, and then there is no record."""
    texts, stated, faulty = _read_keys(model, raw, currency, report)
    for name in model.model_fields:
        if name not in ARGUMENTS or name in stated or name in faulty:
            continue
        if name in filling:
            stated[name] = filling[name]
        else:
            report(name, f"is missing and has no default; state it: {allowed(name, currency)}")
            faulty.add(name)
    record = _build(model, {**texts, **{name: item.value for name, item in stated.items()}}, faulty, report)
    title = texts.get("name", texts.get("material", ""))
    origin = [
        Assumption(section, str(title), name, item.value, item.low, item.high, item.basis, item.source, item.common)
        for name, item in stated.items()
    ]
    return record, origin


def _read_keys(
    model: type[Record], raw: Mapping[str, Any], currency: str, report: Report
) -> tuple[dict[str, Any], dict[str, Stated], set[str]]:
    texts: dict[str, Any] = {}
    stated: dict[str, Stated] = {}
    faulty: set[str] = set()
    for key, value in raw.items():
        name = ""
        try:
            name, written = resolve_key(key, model.model_fields)
            if name in texts or name in stated:
                raise InputError(f"says the same as another key of this record: keep one of them ({name})")
            if name in ARGUMENTS:
                stated[name] = read_stated(value, name, written, currency)
            else:
                texts[name] = value
        except InputError as error:
            report(f"{key} = {shown(value)}", str(error))
            faulty.add(name)
    return texts, stated, faulty


def _build(model: type[AnyRecord], given: dict[str, Any], faulty: set[str], report: Report) -> AnyRecord | None:
    try:
        record = model.model_validate(given)
    except ValidationError as error:
        for item in error.errors():
            place = ".".join(str(part) for part in item["loc"])
            if item["type"] == "missing":
                if place not in faulty:
                    report(place, "is missing")
                continue
            message = item["msg"].removeprefix("Value error, ").replace("Input should be", "must be")
            report(f"{place} = {shown(item['input'])}" if place else "", message)
        return None
    return None if faulty else record
