"""A small invented shop, and its two workbooks: quick to build, with every kind of list, machine and sheet that the big ones have."""

from __future__ import annotations

import csv
import shutil
from functools import cache
from pathlib import Path
from typing import Any

from xlfab.comparison.compare import compare
from xlfab.comparison.comparison_workbook import plan_comparison
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote
from xlfab.quote.quote_job import quote_job
from xlfab.quote.quote_workbook import plan_quote
from xlfab.workbook.book import Book

PARTS = 5
SPARE = {"parts": 3, "cuts": 4, "bends": 6, "work": 2, "bought": 2, "work_centres": 1, "materials": 1}
COST, NOTE = 91350.75, "Floor price 98437.25, ask Ilse before the fair"
SELLER = f'\n[[seller]]\nname = "Electric brake"\ncost_cur = {COST}\nnote = "{NOTE}"\n'
QUOTE = """[quote]
margin_share = 0.2
overhead_share = 0.08

[texts]
customer = "Invented Housings Ltd"
payment = "30 days net"

[[work_centre]]
name = "Welding"
machine_price_cur = 18000
salvage_cur = 1000
life_years = 8
floor_area_m2 = 9
maintenance_share = 0.04
planned_h_per_year = 900
crew_count = 1
mean_power_kw = 6
"""
LISTS = {
    "work.csv": "part,work_centre,setup_time_min,part_time_s\nFR-01,Welding,10,90\nGD-11,Welding,12,240\n",
    "bought_in.csv": "part,item,bought_in_price_cur,pieces_per_part_count,outside_lot_charge_cur\nGD-12,Hinge,2.4,2,0\n",
    "packing.csv": "part,package_price_cur,parts_per_package_count,tool_price_cur,tool_life_count\nFR-01,4,20,0,1\n",
}


def write_folder(folder: Path, parts: int = PARTS, seller: bool = False) -> Path:
    """The scenario's folder: the first parts of a bundled shop, with a quote and its lists beside them."""
    shutil.copytree(bundled("small_lot_shop"), folder)
    lines = _rows(folder / "parts.csv")[: parts + 1]
    kept = {line[0] for line in lines[1:]}
    steps = _rows(folder / "steps.csv")
    _write(folder / "parts.csv", lines)
    _write(folder / "steps.csv", [steps[0], *(line for line in steps[1:] if line[0] in kept)])
    (folder / "quote.toml").write_text(QUOTE, encoding="utf-8")
    for name, text in LISTS.items():
        (folder / name).write_text(text, encoding="utf-8")
    if seller:
        with (folder / "scenario.toml").open("a", encoding="utf-8") as file:
            file.write(SELLER)
    return folder


def _rows(path: Path) -> list[list[str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def _write(path: Path, rows: list[list[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(rows)


def quote_book(folder: Path, flavour: str = "portable") -> Book:
    """The plan of its quote workbook."""
    scenario = load(folder)
    return plan_quote(quote_job(scenario, load_quote(folder, scenario), spare=SPARE), flavour)


def comparison_book(folder: Path, flavour: str = "portable") -> Book:
    """The plan of its comparison workbook."""
    return plan_comparison(compare(load(folder)), flavour)


def built(place: Path, kind: str, flavour: str = "portable", seller: bool = False) -> Path:
    """A workbook of the small shop, built once for each place: `kind` is quote or comparison."""
    return _built(place, kind, flavour, seller)


@cache
def _built(place: Path, kind: str, flavour: str, seller: bool) -> Path:
    folder = write_folder(place / f"{kind}_{flavour}_{seller}_shop", seller=seller)
    path = place / f"{kind}_{flavour}_{seller}.xlsx"
    plan: Any = quote_book if kind == "quote" else comparison_book
    plan(folder, flavour).save(path)
    return path
