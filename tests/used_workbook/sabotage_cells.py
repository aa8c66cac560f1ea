"""Sabotages of formulas, inputs and lists."""

from __future__ import annotations

import re
from collections.abc import Callable

from sabotage_base import COMPARISON, QUOTE, Place, Sabotage, comparison, quote, rewritten, typed
from workbook_file import WorkbookFile
from xlsxwriter.utility import xl_rowcol_to_cell

# --- formulas ---------------------------------------------------------------------------------------------------------
typed("constant over a price", QUOTE, "prices", "price_0_cur", 1, 12.5)
typed("constant over a check", QUOTE, "checks_all", "all_checks", 0, "OK")
typed("text over a cost", QUOTE, "costs_1", "run_cost_cur", 2, "as agreed")
typed("formula deleted", QUOTE, "prices", "overhead_0_cur", 3, None)
typed("constant over a payback", COMPARISON, "checks_all", "all_checks", 0, "OK")
typed("zero over a cost line", QUOTE, "costs_1", "material_cost_cur", 0, 0)
typed("constant over a machine rate", QUOTE, "work_centres", "work_centre_rate_cur_per_h", 0, 20)
rewritten("five per cent on top", QUOTE, "prices", "price_1_cur", 0, lambda f: f"({f})*1.05")
rewritten("a cent on top", QUOTE, "prices", "price_2_cur", 1, lambda f: f"({f})+0.01")
rewritten("always OK", QUOTE, "checks_prices", "price_check", 0, lambda f: f'IF(1=1,"OK",{f})')
rewritten(
    "one row off",
    QUOTE,
    "costs_1",
    "run_cost_cur",
    1,
    lambda f: re.sub(r"\$([A-Z]+)(\d+)", lambda m: f"${m[1]}{int(m[2]) + 1}", f, count=1),
)
rewritten(
    "sum cut short",
    QUOTE,
    "totals",
    "pieces_cost_cur",
    0,
    lambda f: re.sub(r":\$([A-Z]+)\$?(\d+)", lambda m: f":${m[1]}{int(m[2]) - 1}", f, count=1),
)
rewritten("sign turned", QUOTE, "prices", "cost_0_cur", 2, lambda f: f"-({f})")
rewritten(
    "reference broken", QUOTE, "costs_1", "brake_cost_cur", 1, lambda f: re.sub(r"\$[A-Z]+\d+", "#REF!", f, count=1)
)
rewritten("rounded inside", QUOTE, "prices", "unit_0_price_cur", 0, lambda f: f"ROUND({f},0)")
rewritten("errors made zero", QUOTE, "costs_1", "shear_cost_cur", 0, lambda f: f"IFERROR({f},0)")
rewritten("text result of a verdict", COMPARISON, "checks_all", "all_checks", 0, lambda f: '"OK"')


@quote
def digit_of_a_constant_changed(file: WorkbookFile) -> Place:
    for item in file.record["columns"]:
        if "formula" in item and item["used"] and re.search(r"(?<![A-Z0-9_.$§])[0-9]+\.[0-9]+", item["formula"]):
            place = file.place(item["table"], item["column"])
            before = file.formula(*place)
            after = re.sub(r"(?<![A-Z0-9_.$])([0-9]+\.[0-9])", lambda m: f"{m[1]}9", before, count=1)
            if after != before:
                return file.put(*place, "=" + after)
    raise AssertionError("no formula holds a constant with a point")


@quote
def page_cell_typed_over(file: WorkbookFile) -> Place:
    return file.put(*file.place("page", "price_0_cur", 0), 9.99)


@comparison
def result_cell_typed_over(file: WorkbookFile) -> Place:
    cell = file.record["cells"][4]
    return file.put(cell["sheet"], xl_rowcol_to_cell(cell["row"], cell["at"]), 12.5)


@comparison
def result_cell_points_elsewhere(file: WorkbookFile) -> Place:
    cell = next(item for item in file.record["cells"] if "&" not in item["formula"])
    moved = re.sub(r"(\d+)$", lambda m: str(int(m[1]) + 1), cell["formula"])
    return file.put(cell["sheet"], xl_rowcol_to_cell(cell["row"], cell["at"]), moved)


# --- inputs -----------------------------------------------------------------------------------------------------------
typed("wage 2400", QUOTE, "workplace", "wage_cur_per_h", 0, 2400)
typed("wage 2400 in the comparison", COMPARISON, "workplace", "wage_cur_per_h", 0, 2400)
typed("negative thickness", QUOTE, "parts", "thickness_mm", 1, -2)
typed("text for a number", QUOTE, "parts", "lot_size_count", 2, "10")
typed("number as text with a comma", QUOTE, "parts", "blank_length_mm", 0, "260,0")
typed("empty input", QUOTE, "bends", "die_opening_mm", 1, None)
typed("unknown material", QUOTE, "parts", "material", 1, "Unobtainium")
typed("unknown part in the steps", QUOTE, "bends", "part", 0, "Nobody")
typed("margin of one", QUOTE, "terms", "margin_share", 0, 1.0)
typed("thickness in micrometres", QUOTE, "parts", "thickness_mm", 0, 50)
typed("switch of a half", QUOTE, "press_brake_1", "overlap_switch", 0, 0.5)
typed("price of the machine ten times", COMPARISON, "press_brake_2", "machine_price_cur", 0, 1_300_000)


def key_changed(name: str, table: str, column: str, row: int, change: Callable[[str], str]) -> None:
    """A sabotage of a name in a list of the quote."""

    def sabotage(file: WorkbookFile) -> Place:
        place = file.place(table, column, row)
        return file.put(*place, change(file.value(*place)))

    QUOTE[name] = sabotage


key_changed("trailing space in a part", "parts", "part", 1, lambda name: name + " ")
key_changed("leading space in a part", "parts", "part", 2, lambda name: " " + name)
key_changed("trailing space in a step's part", "bends", "part", 2, lambda name: name + " ")
key_changed("no-break space in a part", "parts", "part", 0, lambda name: name + "\u00a0")


@quote
def name_doubled(file: WorkbookFile) -> Place:
    return file.type("parts", "part", 2, file.value(*file.place("parts", "part", 0)))


@quote
def part_renamed_without_its_steps(file: WorkbookFile) -> Place:
    file.type("parts", "part", 0, "FR-99")
    return file.place("cuts", "part", 0)


@quote
def part_one_row_below_the_list(file: WorkbookFile) -> Place:
    for column in file.inputs_of("parts"):
        value = file.value(*file.place("parts", column, 0))
        file.type("parts", column, file.column("parts", "part")["count"], "NEW-1" if column == "part" else value)
    return file.place("parts", "part", file.column("parts", "part")["count"])


@comparison
def part_below_the_list_of_the_comparison(file: WorkbookFile) -> Place:
    return file.type("parts", "part", file.column("parts", "part")["count"], "NEW-1")


@quote
def values_without_a_name(file: WorkbookFile) -> Place:
    return file.type("parts", "thickness_mm", file.column("parts", "part")["used"] + 1, 3)


def sorted_in_part(name: str, kind: dict[str, Sabotage], table: str, columns: Callable[[list[str]], list[str]]) -> None:
    """A sabotage that sorts some columns of a list and leaves the others."""

    def sabotage(file: WorkbookFile) -> Place:
        for column in columns(file.inputs_of(table)):
            values = file.list_values(table, column)
            turned = values[::-1]
            for row, value in enumerate(turned):
                file.type(table, column, row, value)
        return file.column(table, "part")["sheet"], ""

    kind[name] = sabotage


sorted_in_part(
    "parts sorted without their lots", QUOTE, "parts", lambda names: [n for n in names if n != "lot_size_count"]
)
sorted_in_part("names sorted alone", QUOTE, "parts", lambda names: ["part"])
sorted_in_part("sizes sorted alone", COMPARISON, "parts", lambda names: ["blank_length_mm", "blank_width_mm"])
sorted_in_part(
    "bends sorted without the angle", QUOTE, "bends", lambda names: [n for n in names if n != "bend_length_mm"]
)
