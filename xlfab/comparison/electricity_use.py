"""A machine's electricity by state and by cause over the year, and what the electricity of an option weighs in words."""

from __future__ import annotations

from typing import Any

import numpy as np

from xlfab.catalogue import FUNCTIONS as F
from xlfab.comparison.assumption_swings import OptionSwings, open_assumptions
from xlfab.comparison.estimate import Job, MachineTables, OptionTables
from xlfab.inputs.one_source import unused_keys
from xlfab.investment.risk import combined_half_width
from xlfab.tables.table import Table

# figures of a machine on which its electricity rests
POWER_KEYS = (
    "ready_power_kw",
    "standby_power_kw",
    "auto_stop_share",
    "auto_stop_min",
    "mean_gap_min",
    "warm_up_min",
    "warm_up_power_kw",
    "auxiliary_power_kw",
    "control_on_share",
    "drive_efficiency_share",
    "recovered_share",
    "spring_lift_ratio",
    "ram_mass_kg",
    "force_mean_share",
)
WEAK = ("judgement", "memory")
WEAK_LABEL = "Share of the electricity saving that rests on judgement"
MINOR_SHARE = 0.25  # below this share of the yearly saving, electricity is a minor part


def strokes_of(one: MachineTables, job: Job) -> Table:
    """Each step's moving and processing, and its useful work, over the year."""
    m, steps = one.stated, one.steps
    t = Table(f"strokes_{steps.name}", f"{steps.title}: strokes of the year", steps.rows)
    t.copy("part", steps["part"])
    t.lookup("yearly_quantity_count", "part", job.part_list["yearly_quantity_count"], "part")
    t.lookup("here_switch", "part", one.parts["here_switch"], "part")
    stated, data = (job.bends, None) if one.kind == "press_brake" else (job.cuts, job.cut_data)
    year = (stated["per_part_count"], "yearly_quantity_count", job.workplace["scrap_share"])
    if data is None:
        both = (steps["press_time_s"], steps["bottom_time_s"])
        t.sum("processing_s", *both, label="Pressing and bottom")
        ways = (steps["approach_time_s"], steps["return_time_s"])
        t.sum("moving_s", *ways, label="Approach and return")
        work = steps["work_kj"]
    else:
        down = (steps["blade_travel_mm"], m["cutting_speed_mm_s"], steps["stroke_time_s"])
        t.add("processing_s", lambda way, speed, most: np.minimum(way / speed, most), *down, label="Blade down")
        still = (steps["stroke_time_s"], "processing_s", m["clamp_time_s"], m["shear_dead_time_s"])
        t.add(
            "moving_s",
            lambda stroke, cut, clamp, dead: np.maximum(stroke - cut - clamp - dead, 0.0),
            *still,
            label="Blade up",
        )
        work = data["work_kj"]
    lift = (m["spring_lift_ratio"], m["recovered_share"])
    t.add("net_lift_kj", F["net_lift_kj"], steps["lift_work_kj"], *lift)
    for state in ("moving", "processing"):
        label = f"{state.capitalize()}, hours a year"
        t.add(f"{state}_h_per_year", _yearly, f"{state}_s", *year, label=label)
    t.add("work_kwh", _yearly, work, *year, label="Forming and cutting work, year")
    t.add("net_lift_kwh", _yearly, "net_lift_kj", *year, label="Lift less what comes back, year")
    return t


def _yearly(value: Any, count: Any, quantity: Any, scrap: Any) -> Any:
    """Seconds or kilojoules of a stroke as hours or kilowatt-hours of a year."""
    return value * count * quantity / (1 - scrap) / 3600


def electricity_of(one: MachineTables, strokes: Table) -> Table:
    """Hours and electricity of a machine's year by state, the same electricity by cause, and whether both agree."""
    m, year = one.stated, one.year
    t = Table.record(f"electricity_{one.year.name}", f"Electricity of {one.stated.title.lower()}")
    for state in ("processing", "moving"):
        t.total(f"{state}_h_per_year", strokes[f"{state}_h_per_year"], where=strokes["here_switch"])
    stroke = ("moving_h_per_year", "processing_h_per_year")
    waiting, stop, night = year["waiting_h_per_year"], m["stop_share"], m["control_on_share"]
    t.add("ready_h_per_year", F["ready_h_per_year"], year["busy_h_per_year"], *stroke, waiting, stop, label="Ready")
    t.copy("powered_h_per_year", year["switched_on_h"], label="Switched on")
    t.copy("warm_up_h_per_year", m["warm_up_h_per_year"], label="Warm-up")
    t.add("standby_h_per_year", F["standby_h_per_year"], waiting, stop, "powered_h_per_year", night, label="Standby")
    t.add("off_h_per_year", F["off_h_per_year"], "powered_h_per_year", night, label="Off")
    ready = year["base_power_kw"]
    for state, extra in (("processing", "work_energy_kwh"), ("moving", "lift_energy_kwh")):
        own = (f"{state}_h_per_year", ready, year[extra])
        t.add(f"{state}_kwh", lambda h, kw, kwh: h * kw + kwh, *own, label=f"Electricity {state}")
    for state, power in (("ready", ready), ("standby", m["standby_power_kw"])):
        t.add(f"{state}_kwh", F["state_energy_kwh"], power, f"{state}_h_per_year", label=f"Electricity {state}")
    t.copy("warm_up_kwh", year["warm_up_energy_kwh"], label="Electricity warm-up")
    states = ("processing_kwh", "moving_kwh", "ready_kwh", "standby_kwh", "warm_up_kwh")
    t.sum("states_kwh", *states, label="Sum of the states")
    _causes(t, year, strokes)
    sums = ("states_kwh", "causes_kwh", year["energy_kwh"])
    t.add("balance", _balance, *sums, text=True, label="Sum of causes = sum of states = electricity a year")
    return t


def _causes(t: Table, year: Table, strokes: Table) -> None:
    here = strokes["here_switch"]
    idle = (year["waiting_energy_kwh"], year["ready_energy_kwh"])
    t.sum("idle_kwh", *idle, label="Idle: ready, standby, warm-up")
    t.total("work_kwh", strokes["work_kwh"], label="Forming and cutting", where=here)
    t.total("net_lift_kwh", strokes["net_lift_kwh"], label="Lifting, less what comes back", where=here)
    losses = (year["work_energy_kwh"], year["lift_energy_kwh"], "work_kwh", "net_lift_kwh")
    t.add("losses_kwh", lambda a, b, c, d: a + b - c - d, *losses, label="Losses of the drive")
    causes = ("idle_kwh", "work_kwh", "net_lift_kwh", "losses_kwh")
    t.sum("causes_kwh", *causes, label="Sum of the causes")


def _balance(states: Any, causes: Any, year: Any) -> Any:
    apart = np.maximum(np.abs(states - year), np.abs(causes - year))
    return np.where(apart <= 1e-9 * (1 + np.abs(year)), "OK", "The sums differ")


def weight_of(number: int, one: OptionTables, job: Job, swings: OptionSwings) -> Table:
    """How much of an option's yearly saving is electricity, how sure that is, and on what it rests."""
    t = Table.record(f"electricity_weight_{number}", f"Electricity in option {number}")
    rate, price = one.shear.rate["labour_rate_cur_per_h"], job.tariff["mean_energy_price_cur_per_kwh"]
    t.add("labour_second_kj", F["labour_second_kj"], rate, price, label="Electricity worth a second of labour")
    saving, total = one.purchase["energy_saving_cur"], one.purchase["yearly_saving_cur"]
    t.copy("energy_saving_cur", saving, label="Electricity saving, first year")
    t.add(
        "energy_part_share",
        lambda part, whole: np.where(np.abs(whole) > 0, part / np.where(np.abs(whole) > 0, whole, 1.0), 0.0),
        saving,
        total,
        label="Electricity as a share of the yearly saving",
    )
    own = [swing for swing in swings.saving if swing.name.rsplit("|", 1)[-1] in POWER_KEYS]
    note = "From the low and high values of power and efficiency, one at a time, when the workbook was built"
    t.fix("energy_doubt_cur", combined_half_width(own), "Uncertainty of that electricity saving (±)", note)
    groups = open_assumptions(job.scenario)
    unmeasured = [swing for swing in own if any(item.basis in WEAK for item in groups[swing.name])]
    label = "Part of it from values on judgement or memory (±)"
    t.fix("weak_doubt_cur", combined_half_width(unmeasured), label, note)
    t.add("weak_share", _open_share, "weak_doubt_cur", "energy_saving_cur", label=WEAK_LABEL)
    weak, known = _basis(one, job)
    note = "Counted when the workbook was built: ready, standby, auto-stop, efficiency, lift of the machines compared"
    t.fix("weak_count", float(weak), "Power and efficiency figures on judgement or memory", note)
    t.fix("known_count", float(known), "Such figures in all", note)
    t.add("weight", _weight, "energy_saving_cur", total, "energy_doubt_cur", "weak_count", text=True, label="In words")
    return t


def _open_share(doubt: Any, saving: Any) -> Any:
    return np.where(saving == 0, 0.0, np.minimum(doubt / np.where(saving == 0, 1.0, np.abs(saving)), 1.0))


def _basis(one: OptionTables, job: Job) -> tuple[int, int]:
    first = job.options[0]
    names = {str(item.stated.value("name")[0]) for option in (first, one) for item in (option.shear, option.brake)}
    stated = job.scenario.workplace.model_dump()
    used = set(POWER_KEYS) - set(unused_keys(stated, dict.fromkeys(POWER_KEYS, True)))
    figures = [item for item in job.scenario.assumptions if item.record in names and item.key in used]
    return sum(item.basis in WEAK for item in figures), len(figures)


def _weight(saving: Any, total: Any, doubt: Any, weak: Any) -> Any:
    """Minor part first; then no winner inside the uncertainty; then on what the rest stands."""
    minor = np.abs(saving) < MINOR_SHARE * np.abs(total)
    unsure = np.abs(saving) <= doubt
    rests = np.where(
        weak > 0,
        "Electricity is a large part of the saving, and it rests on judgement: measure both machines first.",
        "Electricity is a large part of the saving.",
    )
    little = np.where(
        unsure,
        "Electricity is a minor part of the saving, and no winner on electricity: inside its uncertainty.",
        "Electricity is a minor part of the saving: seconds, set-ups and maintenance weigh more.",
    )
    nothing = np.where(
        saving > 0,
        "Electricity saves something, but nothing is saved in all.",
        "Electricity costs more, and nothing is saved in all.",
    )
    large = np.where(unsure, "No winner on electricity: its difference is inside its uncertainty.", rests)
    weighed = np.where(total > 0, np.where(minor, little, large), nothing)
    return np.where(saving == 0, "Nothing differs in electricity.", weighed)
