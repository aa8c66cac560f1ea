"""`xlfab read`: the inputs of a used workbook back into a scenario's folder, recomputed, and held against the stored results."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from xlfab.core.console import Printer
from xlfab.core.errors import ScenarioError
from xlfab.core.writing import whole_folder
from xlfab.inputs.one_source import unused_keys

console = Printer()
_SHOWN = 30


def read(
    file: Annotated[Path, typer.Argument(help="A workbook that xlfab built and somebody used, as it was last saved.")],
    to: Annotated[Path, typer.Option(help="New folder for the scenario.")],
) -> None:
    """Read a used workbook back into a scenario, recompute it, and report every result that differs.

    Exit code 0 where all agree, 1 where a stored result differs or an input has no place in a scenario.
    """
    from xlfab.used_workbook.read_back import differences, not_carried, read_inputs

    used, tables = read_inputs(file)
    with whole_folder(to) as place:
        for name, text in folder_texts(used.known, tables).items():
            (place / name).write_text(text, encoding="utf-8")
        job_tables = recomputed(place, used.known, tables)
    found, compared = differences(used, job_tables)
    console.print(f"Scenario: {to}")
    lost = not_carried(used, tables)
    for line in lost:
        console.print(f"Not carried over, a scenario has no place for it: {line}")
    if not found:
        console.print(f"{compared:,} results recomputed: all agree.")
        if lost:
            raise typer.Exit(1)
        return
    table = Table(title=f"{len(found)} of {compared:,} results differ", title_justify="left", title_style="bold")
    for name in ("sheet", "cell", "what", "in the file", "recomputed"):
        table.add_column(name, overflow="fold")
    for item in found[:_SHOWN]:
        cells = (item.sheet, item.cell, item.label, str(item.stored), f"{item.computed}")
        table.add_row(*cells)
    console.print(table)
    console.print(
        "A file that was not recalculated before it was saved shows this too; xlfab audit says what was changed."
    )
    raise typer.Exit(1)


def folder_texts(known: dict[str, Any], tables: dict[str, list[dict[str, Any]]]) -> dict[str, str]:
    """The files of the scenario: what stands in the workbook, and from the record what stands in no cell."""
    from xlfab.inputs import write_folder

    record = known["record"]
    origins = {(one["section"], one["record"], one["key"]): one for one in record["assumptions"]}
    sections = sections_of(record, known["kind"], tables)
    texts = {
        "scenario.toml": write_folder.scenario_text(record["texts"], sections, origins),
        "parts.csv": write_folder.parts_text(_parts(record, tables)),
        "steps.csv": write_folder.steps_text(tables["cuts"], tables["bends"]),
    }
    return texts | (_quote_texts(tables, origins) if known["kind"] == "quote" else {})


def _parts(record: dict[str, Any], tables: dict[str, list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """Parts with a yearly quantity: the workbook's, else the record's, else one lot."""
    yearly = record["yearly"]
    return [
        {"yearly_quantity_count": yearly.get(part["part"], part["lot_size_count"]), **part} for part in tables["parts"]
    ]


def sections_of(record: dict[str, Any], kind: str, tables: dict[str, list[dict[str, Any]]]) -> dict[str, Any]:
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
        for number, item in enumerate(_placed(record, kind, machine, sections), 1):
            stated = tables.get(f"{machine}_{number}", [{}])[0]
            renamed[item["name"]] = str(stated.get("name", item["name"]))
            item.update(stated)
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


def _sellers(
    names: list[str], tables: dict[str, list[dict[str, Any]]], renamed: dict[str, str]
) -> list[dict[str, Any]]:
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


def _quote_texts(tables: dict[str, list[dict[str, Any]]], origins: Any) -> dict[str, str]:
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


def recomputed(folder: Path, known: dict[str, Any], tables: dict[str, list[dict[str, Any]]]) -> list[Any]:
    """Every table of the scenario's own calculation."""
    from xlfab.inputs.scenario import load
    from xlfab.quote.quote_file import load_quote
    from xlfab.quote.quote_job import quote_job
    from xlfab.used_workbook.read_back import tried

    scenario = load(folder)
    if known["kind"] == "quote":
        record = known["record"]
        job = quote_job(scenario, load_quote(folder, scenario), record["option"], record["against"])
        return tried(job, tables)
    if known["kind"] == "comparison":
        from xlfab.comparison.compare import compare
        from xlfab.comparison.comparison_workbook import plan_comparison

        book = plan_comparison(compare(scenario))
        return list({id(table): table for sheet in book.sheets for table, _, _ in sheet.columns}.values())
    raise ScenarioError(f"a workbook of kind '{known['kind']}' cannot be read back")


def add_to(app: Any) -> None:
    """Add the command to the app."""
    app.command()(read)
