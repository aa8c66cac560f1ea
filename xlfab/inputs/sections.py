"""The sections of scenario.toml: texts at the top, single tables, and lists of records with their names."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Any

from xlfab.inputs.defaults import defaults
from xlfab.inputs.drives import drive_named, drives
from xlfab.inputs.faults import Faults, Report, nearest
from xlfab.inputs.one_source import unused_keys
from xlfab.inputs.records import NAME_RULE, AnyRecord, Record, many_tables, name_ok, one_table, read_record
from xlfab.inputs.stated_values import Assumption, Stated, shown

SCENARIO_FILE = "scenario.toml"
TEXTS = ("name", "title", "currency", "units", "note")
SECTIONS = ("workplace", "tariff", "purchase", "finance")
LISTS = ("material", "press_brake", "shear", "option")
EXTRAS = ("feature", "seller")  # lists that may be left out
_CURRENCY = re.compile(r"[^\W\d_]{1,8}|[$€£¥₹₩₺₽₴฿₫₦₱₪]")
_TEXT_RULES: dict[str, tuple[str, Callable[[str], bool]]] = {
    "name": (NAME_RULE, name_ok),
    "title": ("a text of one line, at most 120 long", lambda text: 0 < len(text) <= 120 and text.isprintable()),
    "currency": ("a code or sign such as EUR", lambda text: _CURRENCY.fullmatch(text) is not None),
    "units": ("'metric' or 'us'", lambda text: text in ("metric", "us")),
    "note": ("a text", lambda text: True),
}


class Sections:
    """Reads the sections one by one; faults are booked, assumptions gathered."""

    def __init__(self, raw: Mapping[str, Any], faults: Faults) -> None:
        self.raw = raw
        self.faults = faults
        self.assumptions: list[Assumption] = []
        self.texts = self._texts()
        self.currency = self.texts.get("currency", "EUR")  # any will do once its own fault is booked

    def section(self, section: str, model: type[AnyRecord]) -> AnyRecord | None:
        """Read a single table such as [workplace]; where it is missing, all its values are defaults."""
        report = self.faults.report(SCENARIO_FILE, f"[{section}]")
        return self._record(model, section, one_table(self.raw, section, report), self.currency, report)

    def records(self, section: str, model: type[AnyRecord]) -> list[AnyRecord]:
        """Read a list of tables such as [[press_brake]]."""
        read = []
        for number, raw in enumerate(self._entries(section), start=1):
            name = _name_of(section, raw)
            report = self.faults.report(
                SCENARIO_FILE, f"[[{section}]] {name!r}" if name else f"[[{section}]] no. {number}"
            )
            applies_to = name if section == "material" else _drive_of(raw)
            read.append(self._record(model, section, raw, applies_to, report))
        return [item for item in read if item is not None]

    def names(self, *sections: str) -> list[str]:
        """The names that the lists state, good records or not."""
        return [name for section in sections for raw in self._entries(section) if (name := _name_of(section, raw))]

    def check_names(self) -> None:
        """Names must differ, lists must not be empty, and options must name machines that are there."""
        for section in (*LISTS, *EXTRAS):
            report = self.faults.report(SCENARIO_FILE, f"[[{section}]]")
            tables = many_tables(self.raw, section, report)
            if section in LISTS and not tables and not self.raw.get(section):
                report("", "is missing: state at least one")
        for group in (("material",), ("press_brake", "shear"), ("option",), ("feature",), ("seller",)):
            self._no_name_twice(group)
        self._options_name_machines()
        machines = self.names("shear", "press_brake")
        for name in self.names("seller"):
            if name.casefold() not in {item.casefold() for item in machines}:
                report = self.faults.report(SCENARIO_FILE, f"[[seller]] {name!r}")
                report("", f"is no machine of this scenario; {nearest(name, machines, 'known machine')}")

    def check_one_source(self, workplace: Record | None) -> None:
        """A machine must not state what the workplace's calendar or timer puts out of use, or needs to count."""
        for section in ("press_brake", "shear"):
            for raw in self._entries(section):
                report = self.faults.report(SCENARIO_FILE, f"[[{section}]] {_name_of(section, raw)!r}")
                for key, reason in unused_keys(workplace.model_dump() if workplace else {}, raw).items():
                    report(f"{key} = {shown(raw[key])}", reason)

    def _record(
        self, model: type[AnyRecord], section: str, raw: Mapping[str, Any], applies_to: str, report: Report
    ) -> AnyRecord | None:
        filling: dict[str, Stated] = {} if section in EXTRAS else defaults(section, applies_to)
        record, origin = read_record(model, section, raw, filling, self.currency, report)
        self.assumptions += origin
        return record

    def _entries(self, section: str) -> list[dict[str, Any]]:
        return many_tables(self.raw, section, lambda place, text: None)  # faults are booked by check_names

    def _texts(self) -> dict[str, str]:
        report = self.faults.report(SCENARIO_FILE)
        known = (*TEXTS, *SECTIONS, *LISTS, *EXTRAS)
        for key in self.raw:
            if key not in known:
                report(key, f"is not known at the top of the file; {nearest(key, known)}")
        given = {"units": "metric", "note": "", **{key: self.raw[key] for key in TEXTS if key in self.raw}}
        given.setdefault("title", given.get("name", ""))
        texts = {}
        for key, (rule, good) in _TEXT_RULES.items():
            value = given.get(key)
            if isinstance(value, str) and good(value.strip()):
                texts[key] = value.strip()
            elif key in self.raw or key in ("name", "currency"):
                report(
                    key if value is None else f"{key} = {shown(value)}",
                    f"{'is missing; it ' if value is None else ''}must be {rule}",
                )
        return texts

    def _no_name_twice(self, group: tuple[str, ...]) -> None:
        seen: dict[str, str] = {}
        for section in group:
            for name in self.names(section):
                if name.casefold() in seen:
                    report = self.faults.report(SCENARIO_FILE, f"[[{section}]] {name!r}")
                    report(
                        "",
                        f"the name stands twice (also in [[{seen[name.casefold()]}]]); upper and lower case are the same",
                    )
                seen[name.casefold()] = section

    def _options_name_machines(self) -> None:
        for raw in self._entries("option"):
            report = self.faults.report(SCENARIO_FILE, f"[[option]] {_name_of('option', raw)!r}")
            for section in ("shear", "press_brake"):
                wanted, names = raw.get(section), self.names(section)
                if isinstance(wanted, str) and wanted.strip().casefold() not in {name.casefold() for name in names}:
                    report(f"{section} = {wanted!r}", f"is not known; {nearest(wanted, names, f'known {section}')}")


def _drive_of(raw: Mapping[str, Any]) -> str:
    """The drive family; where it is wrong its own fault is booked, and any family shows what else is missing."""
    drive = drive_named(raw.get("drive"))
    return drive if drive in drives() else next(iter(drives()))


def _name_of(section: str, raw: Mapping[str, Any]) -> str:
    name = raw.get("material" if section == "material" else "name")
    return name.strip() if isinstance(name, str) else ""
