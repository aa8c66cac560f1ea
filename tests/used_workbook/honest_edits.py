"""Sixty things that honest users do in LibreOffice, saved as they save: the audit must find nothing, and `read` must take them.

A row inserted or deleted is one finding that names its cause. Run `python tests/used_workbook/honest_edits.py` for the count.
"""

from __future__ import annotations

import json
import re
import socket
import subprocess
from pathlib import Path
from typing import Any

from workbook_file import WorkbookFile
from xlsxwriter.utility import xl_col_to_name

from xlfab.hosts import office_programs

SESSION = Path(__file__).with_name("calc_edits.py")
PYTHON = "/usr/bin/python3"  # Debian's own, for which LibreOffice's `uno` is installed
Steps = list[list[Any]]


class Edits:
    """The edits of one workbook by name: the steps, and how many findings the audit may have (0, or 1 that names the cause)."""

    def __init__(self, path: Path) -> None:
        self.file = WorkbookFile(path)
        self.made: dict[str, tuple[Steps, int]] = {}

    def add(self, name: str, *steps: list[Any], findings: int = 0) -> None:
        """Note an edit."""
        self.made[name] = list(steps), findings

    def value(self, table: str, column: str, row: int, value: Any) -> list[Any]:
        """Typing into a cell of a column."""
        sheet, cell = self.file.place(table, column, row)
        return ["text" if isinstance(value, str) else "value", sheet, cell, value]

    def line(self, table: str, row: int, **values: Any) -> Steps:
        """Filling a row of a list; what is not given is as in the first row, spare values as they stand."""
        steps = []
        for column in self.file.inputs_of(table):
            first = self.file.value(*self.file.place(table, column, 0))
            value = values.get(column, first)
            if value is not None:
                steps.append(self.value(table, column, row, value))
        return steps

    def area(self, table: str) -> tuple[str, str, int, int]:
        """The used rows of a list: sheet, area, its first and last row (from 1)."""
        columns = [self.file.column(table, name) for name in self.file.inputs_of(table)]
        first = columns[0]["row"] + 1
        last = first + columns[0]["used"] - 1
        left, right = min(item["at"] for item in columns), max(item["at"] for item in columns)
        return columns[0]["sheet"], f"{xl_col_to_name(left)}{first}:{xl_col_to_name(right)}{last}", first, last

    def sort(self, table: str, column: str, rising: bool = True) -> list[Any]:
        """Sorting the whole list by a column."""
        sheet, area, _, _ = self.area(table)
        left = min(self.file.column(table, name)["at"] for name in self.file.inputs_of(table))
        return ["sort", sheet, area, self.file.column(table, column)["at"] - left, rising]

    def renamed(self, old: str, new: str, tables: tuple[str, ...]) -> Steps:
        """A part's new name wherever it stands."""
        steps = []
        for table in tables:
            for row, value in enumerate(self.file.list_values(table, "part")):
                if value == old:
                    steps.append(self.value(table, "part", row, new))
        return steps


def quote_edits(path: Path) -> Edits:
    """What an estimator does to a quote."""
    e = Edits(path)
    _quote_figures(e)
    _quote_lists(e)
    _quote_structure(e)
    return e


def _quote_figures(e: Edits) -> None:
    e.add("saved as it is")
    e.add("wage", e.value("workplace", "wage_cur_per_h", 0, 27.5))
    e.add("energy price", e.value("tariff", "energy_price_cur_per_kwh", 0, 0.25))
    e.add("margin", e.value("terms", "margin_share", 0, 0.22))
    e.add("overhead", e.value("terms", "overhead_share", 0, 0.1))
    e.add(
        "mark-up in place of margin", e.value("terms", "margin_switch", 0, 0), e.value("terms", "markup_share", 0, 0.3)
    )
    e.add("set-up shown apart", e.value("terms", "spread_switch", 0, 0))
    e.add("quantity breaks", e.value("terms", "break_1_count", 0, 15), e.value("terms", "break_5_count", 0, 600))
    e.add("prices in steps", e.value("terms", "price_step_cur", 0, 0.05), e.value("terms", "minimum_order_cur", 0, 50))
    e.add("lot", e.value("parts", "lot_size_count", 1, 25))
    e.add("thickness", e.value("parts", "thickness_mm", 0, 6), e.value("bends", "die_opening_mm", 0, 50))
    e.add("material price", e.value("materials", "material_price_cur_per_kg", 0, 1.25))
    e.add("price of a machine", e.value("press_brake_1", "machine_price_cur", 0, 92000))
    e.add("lot to try out", e.value("terms", "tried_count", 0, 33))
    e.add("another part tried out", e.value("trial", "part", 0, "GD-11"))
    e.add("a margin tried out", e.value("trial_margins", "margin_share", 3, 0.17))
    e.add(
        "a route by hand",
        e.value("by_hand", "other_lot_cost_cur", 0, 60),
        e.value("by_hand", "other_run_cost_cur", 0, 3.5),
    )
    e.add(
        "a flat size",
        *e.line(
            "flat_sizes",
            0,
            line="Bracket",
            thickness_mm=2.0,
            inside_radius_mm=2.0,
            bend_angle_deg=90.0,
            flange_1_mm=40.0,
            flange_2_mm=30.0,
        ),
    )
    e.add("own formula in an input", ["formula", *e.file.place("parts", "blank_length_mm", 0), "=2*130"])
    e.add("a share typed in per cent", ["formula", *e.file.place("terms", "overhead_share", 0), "=9%"])
    e.add(
        "texts of the page",
        e.value("texts", "customer", 0, "Müller & Söhne GmbH"),
        e.value("texts", "delivery", 0, "Ex works, week 12"),
    )
    e.add("text of two lines", e.value("texts", "shop_address", 0, "Lane 4\n12345 Town"))


def _quote_lists(e: Edits) -> None:
    used = {name: e.file.column(name, "part")["used"] for name in ("parts", "cuts", "bends", "work", "bought")}
    e.add("extra bend", *e.line("bends", used["bends"], part="FR-01", step_count=5.0))
    e.add("extra bend without a number", *e.line("bends", used["bends"], part="FR-01", step_count=4.0))
    e.add(
        "new part",
        *e.line("parts", used["parts"], part="NEW-1", family="NEW-1"),
        *e.line("cuts", used["cuts"], part="NEW-1", step_count=1.0),
        *e.line("bends", used["bends"], part="NEW-1", step_count=2.0),
    )
    lists = ("parts", "cuts", "bends", "work", "bought")
    e.add(
        "part renamed everywhere",
        *e.renamed("FR-02", "FR-02 rev B", lists),
        e.value("parts", "family", 1, "FR-02 rev B"),
    )
    e.add("small letters in the steps", e.value("bends", "part", 0, "fr-01"))
    e.add("bend emptied", *[["clear", *e.file.place("bends", column, 1)] for column in e.file.inputs_of("bends")])
    e.add("parts sorted", e.sort("parts", "part", False))
    e.add("parts sorted by lot", e.sort("parts", "lot_size_count"))
    e.add("bends sorted", e.sort("bends", "bend_length_mm"))
    e.add("work sorted", e.sort("work", "part", False))
    e.add(
        "new work centre",
        *e.line("work_centres", 1, work_centre="Deburring", mean_power_kw=1.0),
        *e.line("work", used["work"], part="FR-02", work_centre="Deburring"),
    )
    e.add("bought in", *e.line("bought", used["bought"], part="FR-02", item="Nut", bought_in_price_cur=0.2))
    e.add(
        "packing", e.value("packing", "package_price_cur", 1, 3), e.value("packing", "parts_per_package_count", 1, 10)
    )
    material = e.file.column("materials", "material")["used"]
    e.add(
        "new material",
        *e.line("materials", material, material="Spring steel"),
        e.value("parts", "material", 1, "Spring steel"),
    )
    e.add("step numbers typed anew", *[e.value("bends", "step_count", row, 10.0 * (row + 1)) for row in range(4)])
    sheet, area, first, last = e.area("parts")
    left, right = area.split(":")[0][0], area.split(":")[1][0]
    e.add(
        "row copied down",
        ["copy", sheet, f"{left}{first}:{right}{first}", f"{left}{last + 1}"],
        e.value("parts", "part", used["parts"], "COPY-1"),
        *e.line("cuts", used["cuts"], part="COPY-1"),
    )


def _quote_structure(e: Edits) -> None:
    parts, bends = e.area("parts"), e.area("bends")
    e.add("columns made wider", ["width", parts[0], 1, 6000], ["width", e.file.sheet_of("prices"), 3, 3000])
    e.add("row made higher", ["height", parts[0], parts[2], 1200])
    e.add("another sheet on top", ["active", e.file.sheet_of("costs_1")])
    e.add("note on a cell", ["note", parts[0], f"A{parts[2]}", "ask for the drawing"])
    e.add(
        "own sheet",
        ["new sheet", "My notes"],
        ["formula", "My notes", "A1", f"=${e.file.sheet_of('page')}.A12"],
        ["text", "My notes", "A2", "call on Monday"],
    )
    e.add(
        "own sheet from which a row is deleted",
        ["new sheet", "Mine"],
        ["value", "Mine", "A3", 3],
        ["delete rows", "Mine", 1, 1],
    )
    e.add("bold and filled", ["bold", parts[0], f"B{parts[2]}"], ["fill", parts[0], f"B{parts[2]}", 0xFFFF00])
    e.add("more decimals", ["format", *e.file.place("prices", "price_0_cur", 0), "#,##0.0000"])
    e.add("sheet moved", ["move sheet", e.file.sheet_of("terms"), 0])
    e.add("print area", ["print area", e.file.sheet_of("page"), "A1:L30"])
    e.add("row of spare lines deleted", ["delete rows", parts[0], parts[3] + 2, 1], findings=1)
    e.add("row of a part deleted", ["delete rows", bends[0], bends[2] + 2, 1], findings=1)
    e.add("row put into a list", ["insert rows", parts[0], parts[2] + 2, 1], findings=1)
    e.add("row put in above", ["insert rows", parts[0], 1, 1], findings=1)
    e.add("column put in", ["insert columns", bends[0], 3, 1], findings=1)


def comparison_edits(path: Path) -> Edits:
    """What an owner or a salesperson does to a comparison."""
    e = Edits(path)
    e.add("comparison saved as it is")
    stated = {}
    for item in e.file.record["columns"]:
        if "stated_in" in item:
            stated.setdefault(tuple(item["stated_in"]), item)
    for number, (table, column) in enumerate(sorted(stated), 1):
        sheet, cell = e.file.place(table, column)
        now = e.file.value(sheet, cell)
        change = 1.0 - now if "switch" in column else round(now * 1.04, 6)
        e.add(f"desk {number}: {column}", ["value", sheet, cell, change])
    e.add(
        "two desk rows",
        *[
            ["value", *e.file.place(*one), round(e.file.value(*e.file.place(*one)) * 0.97, 6)]
            for one in sorted(stated)[:2]
        ],
    )
    for table, column, value in (
        ("workplace", "wage_cur_per_h", 30.0),
        ("tariff", "energy_price_cur_per_kwh", 0.31),
        ("purchase", "discount_rate_share", 0.07),
        ("purchase", "study_years", 12.0),
        ("parts", "yearly_quantity_count", 3100.0),
        ("bends", "bend_length_mm", 250.0),
        ("materials", "material_price_cur_per_kg", 1.2),
    ):
        item = e.file.column(table, column)
        place = item.get("stated_in") or (table, column)
        e.add(f"comparison: {column}", ["value", *e.file.place(*place), value])
    e.add("comparison: parts sorted", e.sort("parts", "part", False))
    e.add("comparison: bends sorted", e.sort("bends", "bend_length_mm", False))
    e.add("comparison: machine renamed", e.value("press_brake_1", "name", 0, "Old brake"))
    e.add(
        "comparison: own sheet and note",
        ["new sheet", "Mine"],
        ["formula", "Mine", "A1", "=$Parts.A6"],
        ["note", "Parts", "A6", "seen"],
    )
    e.add(
        "comparison: part renamed everywhere",
        *e.renamed("FR-02", "FR-2", ("parts", "cuts", "bends")),
        e.value("parts", "family", 1, "FR-2"),
    )
    sheet, _, first, _ = e.area("bends")
    e.add("comparison: bend deleted", ["delete rows", sheet, first + 1, 1], findings=1)
    return e


def save_in_calc(jobs: list[tuple[str, Path, Steps, Path]], folder: Path) -> dict[str, str]:
    """Do every edit in one LibreOffice of its own that loads as a person's does; the names of those that failed, with the reason."""
    with socket.socket() as free:
        free.bind(("localhost", 0))
        port = free.getsockname()[1]
    listed = [{"name": n, "file": f.as_uri(), "steps": s, "target": t.as_uri()} for n, f, s, t in jobs]
    with office_programs.profile(recalculate=False) as user:
        command = [
            office_programs.needed("soffice"),
            f"-env:UserInstallation={user.as_uri()}",
            "--headless",
            "--norestore",
        ]
        accept = f"--accept=socket,host=localhost,port={port};urp"
        with subprocess.Popen([*command, accept], **office_programs.as_owner()) as running:
            try:
                done = subprocess.run(
                    [PYTHON, str(SESSION)], input=json.dumps({"port": port, "jobs": listed}), capture_output=True,
                    text=True, timeout=1200, check=False, env=office_programs.as_owner()["env"],
                )  # fmt: skip
                assert done.returncode == 0, done.stderr
                running.wait(timeout=60)
            finally:
                running.kill()
    return json.loads(done.stdout)


def saved(edits: dict[str, Edits], files: dict[str, Path], folder: Path, names: Any = None) -> dict[str, Path]:
    """The files that LibreOffice saved after each edit."""
    jobs = [
        (name, files[kind], steps, folder / f"{re.sub(r'[^A-Za-z0-9]+', '_', name)}.xlsx")
        for kind, some in edits.items()
        for name, (steps, _) in some.made.items()
        if names is None or name in names
    ]
    failed = save_in_calc(jobs, folder)
    assert not failed, failed
    return {name: target for name, _, _, target in jobs}


def check_all(edits: dict[str, Edits], files: dict[str, Path], folder: Path) -> None:
    """Do every edit in LibreOffice, then count what the audit finds and whether `read` agrees."""
    from typer.testing import CliRunner

    from xlfab.cli import app
    from xlfab.used_workbook.audit import audit

    right = read = 0
    paths = saved(edits, files, folder)
    wanted = {name: number for some in edits.values() for name, (_, number) in some.made.items()}
    for number, (name, path) in enumerate(paths.items()):
        try:
            found = [f"{item.kind} {item.sheet}!{item.cell}: {item.text}" for item in audit(path).findings]
        except ValueError as error:
            found = [f"refused: {error}"] * 9
        result = CliRunner().invoke(app, ["read", str(path), "--to", str(folder / f"read_{number}")])
        good, agrees = len(found) == wanted[name], result.exit_code == 0
        right, read = right + good, read + agrees
        print(
            f"{'ok   ' if good else 'ALARM'} {len(found):4d} read {'ok' if agrees else f'exit {result.exit_code}'}: {name}",
            flush=True,
        )
        for line in found[:3] if not good else []:
            print("        ", line[:200])
        if not agrees:
            print("         read:", repr(result.exception)[:150], "|", " ".join(result.output.split())[:200])
    print(f"audit right in {right} of {len(paths)}, read agrees in {read}")


if __name__ == "__main__":
    import tempfile

    from tiny_shop import built

    place = Path(tempfile.mkdtemp())
    books = {kind: built(place, kind) for kind in ("quote", "comparison")}
    check_all({"quote": quote_edits(books["quote"]), "comparison": comparison_edits(books["comparison"])}, books, place)
