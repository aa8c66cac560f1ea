"""What rules the cycle: the part of ram, gauge and operator in every step and in the year, and what a faster one would save."""

from __future__ import annotations

from xlfab.catalogue import FUNCTIONS as F
from xlfab.tables.table import Ref, Table

RULERS = {"ram": "ram or blade", "gauge": "gauge", "operator": "operator"}


def study() -> Table:
    """Settings of the study that belong to no machine."""
    t = Table.record("study", "Settings of the study")
    t.put("faster_share", 0.1, label="What if ram, gauge or operator were faster by")
    t.put("force_holds_from_ratio", 5.0, label="Force formula holds from a die opening over thickness of")
    t.put("force_holds_to_ratio", 20.0, label="Force formula holds to a die opening over thickness of")
    return t


def rules_on(
    number: int,
    kind: str,
    machine: Table,
    on: Table,
    steps: Table,
    data: Table,
    parts: Table,
    of: Table,
    parts_on: Table,
) -> Table:
    """For each step of a machine: seconds that go through ram, gauge and operator, and what each would save if faster."""
    title = f"What rules, {kind.replace('_', ' ')} {number}"
    t = Table(f"rules_{kind}_{number}", title, on.rows)
    t.copy("part", steps["part"])
    t.copy("step_count", steps["step_count"], label="Step")
    t.copy("step_time_s", on["step_time_s"])
    overlap: Ref = machine["overlap_switch"]
    up: Ref | float = machine["return_overlap_switch"] if kind == "press_brake" else 0.0
    down = on["ram_down_time_s"] if kind == "press_brake" else on["blade_s"]
    release: Ref | float = on["ram_release_time_s"] if kind == "press_brake" else 0.0
    wait, gauge, reposition = on["gauge_wait_s"], on["gauge_time_s"], data["reposition_time_s"]
    t.add("ram_ruled_s", F["ram_ruled_time_s"], down, release, wait, overlap, up, label="Through the ram")
    t.add("gauge_ruled_s", F["gauge_ruled_time_s"], gauge, wait, label="Through the gauge")
    t.add("operator_ruled_s", F["operator_ruled_time_s"], reposition, wait, overlap, label="Through the operator")
    rest = (gauge, reposition, overlap, up, of["faster_share"])
    t.add("ram_saves_s", F["saved_by_ram_s"], down, release, *rest, label="Faster ram saves")
    t.add("gauge_saves_s", F["saved_by_gauge_s"], release, *rest, label="Faster gauge saves")
    t.add("operator_saves_s", F["saved_by_operator_s"], release, *rest, label="Faster operator saves")
    t.lookup("here_switch", "part", parts_on["here_switch"], "part")
    t.lookup("yearly_quantity_count", "part", parts["yearly_quantity_count"], "part")
    t.times("yearly_steps_count", steps["per_part_count"], "yearly_quantity_count", label="Steps a year")
    for who in RULERS:
        for what, label in (("ruled", f"Through the {who}, year"), ("saves", f"Faster {who} saves, year")):
            name = f"{who}_{what}_h_per_year"
            t.times(name, f"{who}_{what}_s", "yearly_steps_count", label=label)
    return t


def rules_year(number: int, kind: str, rules: Table, parts_on: Table, of: Table) -> Table:
    """The year of a machine: hours and shares that go through ram, gauge and operator (loading is the operator's)."""
    t = Table.record(f"rules_year_{kind}_{number}", f"What rules the year, {kind.replace('_', ' ')} {number}")
    for who, word in RULERS.items():
        ruled = rules[f"{who}_ruled_h_per_year"]
        t.total(f"{who}_steps_h_per_year", ruled, label=f"Steps through the {word}", where=rules["here_switch"])
    ends = parts_on["ends_h_per_year"]
    t.total("ends_h_per_year", ends, label="Load, unload and stack", where=parts_on["here_switch"])
    t.sum(
        "operator_h_per_year",
        "operator_steps_h_per_year",
        "ends_h_per_year",
        label="Operator in all",
    )
    every = ("ram_steps_h_per_year", "gauge_steps_h_per_year", "operator_h_per_year")
    t.sum("all_h_per_year", *every, label="Hours in all, without allowance and set-up")
    for who, column in zip(RULERS, every, strict=True):
        t.share(f"{who}_share", column, "all_h_per_year", label=f"Share through the {RULERS[who]}")
    for who, word in RULERS.items():
        saves = rules[f"{who}_saves_h_per_year"]
        label = f"A faster {word} saves in the steps"
        t.total(f"{who}_saves_h_per_year", saves, label=label, where=rules["here_switch"])
    t.sum("faster_ratio", 1.0, of["faster_share"], label="Pace of a faster operator")
    faster = ("ends_h_per_year", of["faster_share"])
    label = "A faster operator saves at load, unload and stack"
    t.times("ends_saves_h_per_year", *faster, over=["faster_ratio"], label=label)
    saved = ("operator_saves_h_per_year", "ends_saves_h_per_year")
    t.sum("operator_all_saves_h_per_year", *saved, label="A faster operator saves in all")
    return t


def effectiveness(number: int, kind: str, machine: Table, parts_on: Table, workplace: Table) -> Table:
    """OEE of a machine as planned, with the names of ISO 22400-2."""
    t = Table.record(f"oee_{kind}_{number}", f"Effectiveness as planned, {kind.replace('_', ' ')} {number}")
    here = parts_on["here_switch"]
    t.total("run_h_per_year", parts_on["run_h_per_year"], label="Running with allowance and scrap", where=here)
    t.total("setup_h_per_year", parts_on["setup_h_per_year"], label="Set-up", where=here)
    hours = {"actual_production_time_h": "run_h_per_year", "actual_setup_time_h": "setup_h_per_year"}
    for name, source in hours.items():
        t.copy(name, source)
    t.copy("planned_busy_time_h", machine["planned_h_per_year"])
    t.sum("actual_processing_time_h", "actual_production_time_h", "actual_setup_time_h")
    t.add("availability_share", F["availability_share"], "actual_production_time_h", "planned_busy_time_h")
    t.sum("with_allowance_ratio", 1.0, workplace["allowance_on_work_share"], label="Time with allowance over work")
    t.times("effectiveness_share", 1.0, over=["with_allowance_ratio"])
    t.difference("quality_share", 1.0, workplace["scrap_share"])
    t.add(
        "oee_share",
        F["oee_share"],
        "availability_share",
        "effectiveness_share",
        "quality_share",
        label="OEE index as planned",
    )
    t.add("setup_share", F["setup_share"], "actual_setup_time_h", "actual_processing_time_h", label="Setup ratio")
    return t
