"""The folder of a scenario from a used workbook: what stands in its cells, and from its record what stands in no cell."""

from __future__ import annotations

from typing import Any

from xlfab.inputs.one_source import unused_keys
from xlfab.inputs.stated_values import STATED
from xlfab.used_workbook.read_back import ReadInputs

Tables = dict[str, list[dict[str, Any]]]
Where = tuple[str, str, str]  # section, record, key


def folder_texts(read: ReadInputs, private: bool = True) -> dict[str, str]:
    """The files by name; without what is private if asked."""
    from xlfab.inputs import write_folder

    known, tables = read.used.known, read.tables
    record = known.record.model_dump()
    sections = sections_of(record, known.kind, tables)
    origins = _origins(record, known.kind, tables)
    origins |= _spans(read, sections, origins)
    if not private:
        sections["seller"] = []
    texts = {
        "scenario.toml": write_folder.scenario_text(record["texts"], sections, origins),
        "parts.csv": write_folder.parts_text(_parts(record, tables)),
        "steps.csv": write_folder.steps_text(tables["cuts"], tables["bends"]),
    }
    return texts | (_quote_texts(tables, origins) if known.kind == "quote" else {})


def _origins(record: dict[str, Any], kind: str, tables: Tables) -> dict[Where, dict[str, Any]]:
    """What each stated value rests on, under the names that machines and options have now."""
    names = {
        (section, old): new
        for section in ("shear", "press_brake")
        for old, new in _renamed(record, kind, tables, section)
    }
    for number, item in enumerate(record["sections"]["option"], 1):
        names["option", item["name"]] = tables.get(f"option_{number}", [{}])[0].get("name", item["name"])
    found = {}
    for one in record["assumptions"]:
        name = names.get((one["section"], one["record"]), one["record"])
        found[one["section"], name, one["key"]] = one
    return found


def _spans(
    read: ReadInputs, sections: dict[str, Any], origins: dict[Where, dict[str, Any]]
) -> dict[Where, dict[str, Any]]:
    """Between which values a figure of the desk may lie, as it stands there; a changed figure rests on its user's word."""
    found = {}
    for (table, key), (low, high) in read.spans.items():
        section, _, number = table.rpartition("_")
        entry = sections[section][int(number) - 1] if number.isdigit() else sections[table]
        where = section if number.isdigit() else table, str(entry.get("name", "")), key
        if key not in entry:
            continue  # a switch in the workbook has put it out of use
        before, value = origins.get(where), entry[key]
        same = before is not None and abs(before["value"] - value) <= 1e-9 * max(abs(value), 1e-9)
        origin = before if before is not None and same else {"basis": STATED, "source": ""}
        found[where] = {**origin, "value": value, "low": low, "high": high}
    return found


def _parts(record: dict[str, Any], tables: Tables) -> list[dict[str, Any]]:
    """Parts with a yearly quantity: the workbook's, else the record's, else one lot."""
    yearly = record["yearly"]
    return [
        {"yearly_quantity_count": yearly.get(part["part"], part["lot_size_count"]), **part} for part in tables["parts"]
    ]


def sections_of(record: dict[str, Any], kind: str, tables: Tables) -> dict[str, Any]:
    """The sections of scenario.toml: the record's, with what the workbook says over it."""
    sections: dict[str, Any] = {}
    for key, value in record["sections"].items():
        sections[key] = value if isinstance(value, list) else dict(value)
    for key in ("workplace", "tariff", "purchase", "finance"):
        if key in tables:
            sections[key].update(tables[key][0])
    renamed: dict[str, str] = {}
    for machine in ("shear", "press_brake"):
        sections[machine] = [dict(item) for item in sections[machine]]
        renamed |= dict(_renamed({**record, "sections": sections}, kind, tables, machine))
        for number, item in enumerate(_placed(record, kind, machine, sections), 1):
            item.update(tables.get(f"{machine}_{number}", [{}])[0])
        for item in sections[machine]:
            for key in unused_keys(sections["workplace"], item):
                del item[key]  # a switch in the workbook has put it out of use
    sections["option"] = [dict(item) for item in sections["option"]]
    for number, item in enumerate(sections["option"], 1):
        item.update({key: value for key, value in tables.get(f"option_{number}", [{}])[0].items() if key in item})
        for key in ("shear", "press_brake"):
            item[key] = renamed.get(item[key], item[key])
        item["buy"] = [renamed.get(name, name) for name in item["buy"]]
    sections["material"] = tables["materials"]
    sections["feature"] = record.get("features", [])
    sections["seller"] = _sellers(record.get("sellers", []), tables, renamed)
    return sections


def _renamed(record: dict[str, Any], kind: str, tables: Tables, machine: str) -> list[tuple[str, str]]:
    """The names of the machines of a kind, before and now."""
    placed = enumerate(_placed(record, kind, machine, record["sections"]), 1)
    return [(one["name"], str(tables.get(f"{machine}_{n}", [{}])[0].get("name", one["name"]))) for n, one in placed]


def _sellers(names: list[str], tables: Tables, renamed: dict[str, str]) -> list[dict[str, Any]]:
    """What the seller's sheet says, if the workbook has one."""
    rows = [(name, tables.get(f"seller_{number}", [{}])[0]) for number, name in enumerate(names, 1)]
    return [
        {
            "name": renamed.get(name, name),
            "cost_cur": row["seller_cost_cur"],
            "note": "" if row["note"] == "-" else row["note"],
        }
        for name, row in rows
        if row
    ]


def _placed(record: dict[str, Any], kind: str, machine: str, sections: dict[str, Any]) -> list[dict[str, Any]]:
    """The machines in the order of their columns in the workbook: all of them, or in a quote those of its options."""
    if kind != "quote":
        return list(sections[machine])
    options = {item["name"]: item for item in sections["option"]}
    names = [options[name][machine] for name in (record["option"], record["against"]) if name]
    return [next(item for item in sections[machine] if item["name"] == name) for name in names]


def _quote_texts(tables: Tables, origins: Any) -> dict[str, str]:
    from xlfab.inputs import write_folder
    from xlfab.quote.quote_file import BOUGHT_COLUMNS, PACKING_COLUMNS, WORK_COLUMNS

    centres = [{"name": item["work_centre"], **item} for item in tables["work_centres"]]
    for item in centres:
        del item["work_centre"]
    packing = [{"part": part["part"], **item} for part, item in zip(tables["parts"], tables["packing"], strict=True)]
    lists = {
        "work.csv": (WORK_COLUMNS, tables["work"]),
        "bought_in.csv": (BOUGHT_COLUMNS, tables["bought"]),
        "packing.csv": (PACKING_COLUMNS, packing),
    }
    texts = {name: write_folder.list_text(*item) for name, item in lists.items() if item[1]}
    return texts | {"quote.toml": write_folder.quote_text(tables["terms"][0], tables["texts"][0], centres, origins)}
