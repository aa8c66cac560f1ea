"""The comparison as tables in the terminal."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from rich.console import Console
from rich.table import Table as Printed
from rich.text import Text

from xlfab.comparison.compare import Comparison
from xlfab.comparison.option_year import DIFFERENCE_COLUMNS
from xlfab.tables.printed import text_of
from xlfab.tables.table import Ref
from xlfab.work.step_margins import BRAKE_MARGINS, SHEAR_MARGINS


def print_comparison(made: Comparison, console: Console) -> None:
    """Print verdicts, the mean part and the year side by side, the difference by cause, and the measures."""
    s = made.job.scenario
    options, others = made.job.options, made.job.options[1:]
    console.rule(f"{s.title} ({s.currency})")
    for table, one in zip(made.verdicts, others, strict=True):
        console.print(Text.assemble((one.name, "bold"), f" against {options[0].name}: {table.value('verdict')[0]}"))
    keys = (
        "mean_part_time_s",
        "mean_setup_part_s",
        "mean_part_energy_kwh",
        "mean_part_cost_cur",
        "running_cost_cur_per_year",
        "energy_kwh",
        "co2_kg_per_year",
    )
    years = [one.year for one in options]
    _print(
        made,
        console,
        "Mean of all parts, and the year",
        [one.name for one in options],
        [[year[key] for year in years] for key in keys],
    )
    equal = ("equal_yearly_cost_cur_per_year", "shown_part_cost_cur")
    rows = [[one.worth.equal_cost[key] for one in options] for key in equal]
    _print(made, console, "All cost, capital included", [one.name for one in options], rows)
    if others:
        rows = [[one.difference[key] for one in others] for key in (*DIFFERENCE_COLUMNS, "running_cost_cur_per_year")]
        _print(made, console, "Yearly difference by cause (positive: saves)", [one.name for one in others], rows)
        rows = [[one.purchase[key] for one in others] for key in ("outlay_cur", "yearly_saving_cur")]
        rows += [
            [table[key] for table in made.verdicts]
            for key in ("saving_doubt_cur", "main_cause", "simple_shown_years", "discounted_shown_years")
        ]
        rows += [
            [table["worth_shown_cur"] for table in made.verdicts],
            [table["worth_doubt_cur"] for table in made.verdicts],
            [table["gain_share"] for table in made.verdicts],
            [table["rate_shown_share"] for table in made.verdicts],
        ]
        _print(made, console, "Purchase", [one.name for one in others], rows)
    _print_checks(made, console)
    _print_failing_steps(made, console)
    console.print(
        "Estimates, not machine settings and not a safety assessment; electricity defaults are judgement until measured.",
        style="dim",
    )


def _print(made: Comparison, console: Console, title: str, names: Sequence[str], rows: Sequence[Sequence[Ref]]) -> None:
    """One table, or several below each other where the terminal is too narrow for all options."""
    most = max(3, (console.width - 46) // 14)
    tables = -(-len(names) // most)
    for number in range(tables):
        part = slice(len(names) * number // tables, len(names) * (number + 1) // tables)
        _print_one(made, console, title if number == 0 else "", names[part], [refs[part] for refs in rows])


def _print_one(
    made: Comparison, console: Console, title: str, names: Sequence[str], rows: Sequence[Sequence[Ref]]
) -> None:
    s = made.job.scenario
    printed = Printed(title=title, title_justify="left", header_style="bold")
    printed.add_column("")
    printed.add_column("Unit")
    for name in names:
        printed.add_column(name, justify="right")
    for refs in rows:
        texts = [text_of(item, s.currency, s.units) for item in refs]
        printed.add_row(
            refs[0].table.columns[refs[0].column].label,
            texts[0][1].replace("{cur}", s.currency),
            *(text for text, _ in texts),
        )
    console.print(printed)


def _print_checks(made: Comparison, console: Console) -> None:
    for owner, table in [
        *((one.stated.value("name")[0], t) for one, t in zip(made.job.machines, made.machine_checks, strict=True)),
        *((one.name, t) for one, t in zip(made.job.options, made.option_checks, strict=True)),
    ]:
        for name, column in table.columns.items():
            if (name.endswith("_check") or name == "balance") and table.value(name)[0] != "OK":
                console.print(Text.assemble(("Check", "bold red"), f" {owner}: {column.label}: {table.value(name)[0]}"))


def _print_failing_steps(made: Comparison, console: Console) -> None:
    """Every step that a machine cannot make, with the margins that fail and by how much."""
    s = made.job.scenario
    for one in made.job.machines:
        t = one.feasible
        margins = BRAKE_MARGINS if one.kind == "press_brake" else SHEAR_MARGINS
        for row in np.flatnonzero(t.value("can_it_be_done") != "OK"):
            for column, words in margins.items():
                if not t.value(column)[row] < 0:
                    continue
                number, unit = text_of(t[column], s.currency, s.units, int(row))
                place = f"{t.value('part')[row]}, step {t.value('step_count')[row]:g} on {one.stated.value('name')[0]}"
                console.print(Text.assemble(("Cannot be done", "bold red"), f" {place}: {words} ({number} {unit})"))


def print_risk(made: Comparison, console: Console) -> None:
    """Print how saving, net present value and payback spread, and how often each option pays."""
    s = made.job.scenario
    for number, one in made.risk.options.items():
        name = made.job.options[number - 1].name
        title = f"{name} against {made.job.options[0].name}: {made.risk.draws:,} draws, seed {made.risk.seed}"
        printed = Printed(title=title, title_justify="left", header_style="bold")
        for heading in ("", "Unit", "P10", "P50", "P90"):
            printed.add_column(heading, justify="left" if heading in ("", "Unit") else "right")
        for label, unit, said in (
            ("Yearly saving", f"{s.currency}/year", one.saving),
            ("Net present value", s.currency, one.worth),
            ("Simple payback", "years", one.payback),
        ):
            parts = [_with_error(getattr(said, key), getattr(said, f"{key}_error")) for key in ("p10", "p50", "p90")]
            printed.add_row(label, unit, *parts)
        console.print(printed)
        target = f"{s.purchase.target_payback_years:g} years"
        console.print(
            f"Net present value above zero in {one.gain[0]:.1%} of the draws (± {one.gain[1]:.1%}); "
            f"paid back within {target} in {one.in_time[0]:.1%} (± {one.in_time[1]:.1%}).\n"
        )


def _with_error(value: float, error: float) -> str:
    if not np.isfinite(value):
        return "not within the study"
    digits = 0 if abs(value) >= 100 else 2
    return f"{value:,.{digits}f}" + (f" ± {error:,.{digits}f}" if np.isfinite(error) else "")
