"""The time model inside the estimate: guard, rating, set-up in pieces, family, learning, what rules, margins, cut lists."""

import shutil
import tomllib
from pathlib import Path

import numpy as np
import pytest
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.comparison.compare import compare
from xlfab.comparison.estimate import estimate
from xlfab.comparison.speed_claim_curves import claim_of
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.lookup_tables import lookup_table
from xlfab.inputs.machine_records import GuardMode
from xlfab.inputs.scenario import load
from xlfab.work.operator_checks import lift, lifting_of, predetermined
from xlfab.work.sheet_cutting import cutting_of


def shop(folder: Path, *changes: tuple[str, str], file: str = "scenario.toml", name: str = "demo_shop"):
    """The estimate of a copy of a bundled shop with texts replaced in one of its files."""
    if not (folder / name).exists():
        shutil.copytree(bundled(name), folder / name)
    path = folder / name / file
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, f"{old!r} is not in {file}"
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    if file == "scenario.toml":
        tomllib.loads(text)
    return estimate(load(folder / name))


BRAKE = 'name = "Brake hydraulic"\ndrive = "hydraulic"\n'
SHEAR = 'name = "Shear hydraulic"\ndrive = "hydraulic"\n'


@pytest.fixture(scope="module")
def plain():
    return estimate(load(bundled("demo_shop")))


def test_guard_modes_are_the_lines_of_their_table():
    assert tuple(lookup_table("guard_modes")["guard_mode"]) == GuardMode.__args__


def test_slow_closing_takes_all_of_the_opening_at_10_mm_s(tmp_path, plain):
    slow = shop(tmp_path, (BRAKE, BRAKE + 'guard_mode = "hold-to-run slow closing"\n'))
    brake, before = slow.brakes[0], plain.brakes[0]
    opening, speed = brake.stated.number("opening_mm"), min(10.0, brake.stated.number("pressing_speed_mm_s"))
    assert brake.basis.number("closing_gap_mm") == opening
    assert brake.steps.value("closing_time_s") == pytest.approx(opening / speed)
    assert (brake.steps.value("step_time_s") > before.steps.value("step_time_s")).all()


def test_unknown_guard_mode_is_refused(tmp_path):
    with pytest.raises(ScenarioError, match="guard_mode"):
        shop(tmp_path, (BRAKE, BRAKE + 'guard_mode = "none"\n'))


def test_decompression_goes_with_the_force(plain):
    hydraulic, electric = plain.brakes
    share = plain.bend_data.value("largest_force_kn") / hydraulic.stated.number("rated_force_kn")
    full = hydraulic.stated.number("full_decompression_time_s")
    assert hydraulic.steps.value("decompression_time_s") == pytest.approx(full * share)
    assert (electric.steps.value("decompression_time_s") == 0).all()


def test_the_rating_is_used_when_asked_for_and_shown(tmp_path, plain):
    switched = "stroke_rating_switch = 1\nstrokes_per_min = 14\npartial_stroke_switch = 0\n"
    rated = shop(tmp_path, (SHEAR, SHEAR + switched)).shears[0]
    assert rated.basis.value("stroke_basis")[0] == "Strokes a minute on the plate"
    assert rated.steps.value("stroke_time_s") == pytest.approx(60 / 14)  # 4.3 s a full stroke
    assert plain.shears[0].basis.value("stroke_basis")[0] == "Blade travel and speeds"
    assert plain.shears[0].steps.value("stroke_time_s") == pytest.approx(
        plain.shears[0].steps.value("computed_stroke_time_s")
    )


def test_reduced_return_is_never_slower_and_needs_a_stated_flange(tmp_path, plain):
    reduced = shop(tmp_path, (BRAKE, BRAKE + "reduced_return_switch = 1\n")).brakes[0]
    known = plain.bends.value("flange_length_mm") > 0
    now, before = reduced.steps.value("step_time_s"), plain.brakes[0].steps.value("step_time_s")
    assert (now <= before + 1e-12).all() and (now[known] < before[known]).any()
    assert now[~known] == pytest.approx(before[~known])


def test_a_second_press_step_costs_time_force_and_work(tmp_path, plain):
    old = "BR-101,4,bend,180,90,24,0,0,0,0,1,60"
    head = "per_part_count,flange_length_mm"
    both = (head, head + ",force_multiple_ratio,second_travel_mm"), (old, old + ",4,2")
    path = tmp_path / "demo_shop"
    shutil.copytree(bundled("demo_shop"), path)
    lines = (path / "steps.csv").read_text().splitlines()
    for change in both:
        lines = [line.replace(*change) for line in lines]
    lines = [line if line.count(",") == 13 else line + ",," for line in lines]
    (path / "steps.csv").write_text("\n".join(lines))
    job = estimate(load(path))
    row = int(np.flatnonzero(job.bends.value("part") == "BR-101")[0])
    brake, before = job.brakes[0], plain.brakes[0]
    speed, dwell = (brake.stated.number(key) for key in ("pressing_speed_mm_s", "second_dwell_time_s"))
    assert brake.steps.value("second_press_time_s")[row] == pytest.approx(2 / speed + dwell)
    assert job.bend_data.value("largest_force_kn")[row] == pytest.approx(4 * job.bend_data.value("bend_force_kn")[row])
    assert brake.steps.value("work_kj")[row] > before.steps.value("work_kj")[row]
    assert np.delete(brake.steps.value("step_time_s"), row) == pytest.approx(
        np.delete(before.steps.value("step_time_s"), row)
    )


def test_what_rules_adds_up_to_every_step_and_to_the_year(plain):
    for one in plain.machines:
        parts = sum(one.rules.value(f"{who}_ruled_s") for who in ("ram", "gauge", "operator"))
        assert parts == pytest.approx(one.rules.value("step_time_s"))
        shares = [one.rules_year.number(f"{who}_share") for who in ("ram", "gauge", "operator")]
        assert sum(shares) == pytest.approx(1)
        quantity = plain.part_list.value("yearly_quantity_count")
        hours = (one.parts.value("normal_time_s") * quantity).sum() / 3600
        assert one.rules_year.number("all_h_per_year") == pytest.approx(hours)


def test_a_family_shares_its_set_up(tmp_path, plain):
    shutil.copytree(bundled("demo_shop"), tmp_path / "demo_shop")
    path = tmp_path / "demo_shop" / "parts.csv"
    head, *lines = path.read_text().splitlines()
    members = ("BR-101", "BR-102", "BR-103")
    path.write_text("\n".join([head + ",family", *(f"{x},{'brackets' * x.startswith(members)}" for x in lines)]))
    job = estimate(load(tmp_path / "demo_shop"))
    share = job.workplace.number("shared_setup_share")
    before, now = (one.brakes[0].setup.value("setup_time_min")[:4] for one in (plain, job))
    assert now[:3] == pytest.approx(before[:3] * (1 - share * 2 / 3))
    assert now[3] == pytest.approx(before[3])


def test_learning_and_the_form_of_the_allowance(tmp_path, plain):
    job = shop(tmp_path, ("[workplace]\n", "[workplace]\nlearning_rate_share = 0.9\nallowance_day_switch = 1\n"))
    ratio, lots = job.part_data.value("learning_ratio"), job.part_list.value("lot_size_count")
    assert (ratio[lots < 30] > 1).all() and (np.diff(ratio[np.argsort(lots)]) <= 1e-12).all()
    assert (plain.part_data.value("learning_ratio") == 1).all()
    stated = job.workplace.number("allowance_share")
    assert job.workplace.number("allowance_on_work_share") == pytest.approx(stated / (1 - stated))


def test_a_part_that_cannot_be_made_is_named_everywhere(tmp_path, plain):
    assert all(record.value("can_it_be_made").tolist().count("OK") == 47 for record in (plain.options[0].parts,))
    job = shop(tmp_path, ("BR-104,Motor bracket,S235JR,6", "BR-104,Motor bracket,1.4301,10"), file="parts.csv")
    row = int(np.flatnonzero(job.part_list.value("part") == "BR-104")[0])
    said = job.options[0].parts.value("can_it_be_made")
    assert said[row].startswith("Cannot be made") and (np.delete(said, row) == "OK").all()
    made = compare(job.scenario)
    machines, overall = made.machine_checks, made.overall_check
    told = "BR-104, step 1: sheet too thick or too strong by 5.0 mm (and 2 more steps)"
    assert overall.value("all_checks")[0].startswith(f"Shear hydraulic: Can the work be done: {told}")
    assert machines[0].number("thickness_margin_mm") < 0 and machines[0].value("work_check")[0].startswith(told)
    its_shear, own_shear = (one.value("verdict")[0] for one in made.verdicts)
    assert its_shear.startswith(
        "Cannot do the work: Brake electric: BR-104, step 4: force too small at this length by "
    )
    assert own_shear.startswith(f"Cannot do the work: Shear electric: {told}")
    assert made.verdicts[0].value("simple_shown_years")[0] == "not judged"
    lost = job.part_list.value("yearly_quantity_count")[row]
    assert job.options[0].year.number("quantity_count") == plain.options[0].year.number("quantity_count") - lost
    printed = CliRunner().invoke(app, ["show", str(tmp_path / "demo_shop")]).stdout
    assert "Cannot be done" in printed and "BR-104, step 4 on Brake hydraulic" in printed


def test_identical_brakes_make_no_claim_come_true(tmp_path):
    job = estimate(load(bundled("demo_shop")))
    same = claim_of(job.brakes[0], job.brakes[0])
    assert (same.readings.value("less_time_share") == 0).all()
    assert (same.readings.value("more_parts_word") == "does not hold").all()
    claim = claim_of(*job.brakes)
    less, more = claim.readings.value("less_time_share"), claim.readings.value("more_parts_share")
    assert more == pytest.approx(less / (1 - less))
    words = claim.readings.value("more_parts_word")
    assert {"holds", "does not hold"} <= set(words)  # both sides of the claim are shown


def test_cut_lists_of_the_demo_shop(plain):
    cutting = cutting_of(plain)
    assert cutting is not None
    assert cutting.plan.value("blanks_on_sheet_share") == pytest.approx(
        cutting.plan.value("sheet_use_share"), abs=0.001
    )
    sheet = cutting.per_sheet[0]
    assert (sheet.value("gauge_way_mm") <= sheet.value("written_way_mm")).all()
    ordered = cutting.ordered[0]
    times = np.bincount(np.unique(ordered.value("part"), return_inverse=True)[1], weights=ordered.value("line_time_s"))
    assert np.sort(times) == pytest.approx(np.sort(sheet.value("sheet_time_s")))
    result = CliRunner().invoke(app, ["cuts", "demo_shop"], env={"COLUMNS": "130"})
    assert result.exit_code == 0 and "BR-101 / 3" in result.stdout


def test_the_sheet_plan_takes_the_place_of_the_stated_use(plain):
    """AL-602, by hand: 11 x 6 blanks; the sheet use as stated is left alone and no longer counts."""
    row = list(plain.part_list.value("part")).index("AL-602")
    stated = {key: plain.part_list.value(key)[row] for key in plain.part_list.columns if key.endswith("_mm")}
    by_hand = 66 * stated["blank_length_mm"] * stated["blank_width_mm"]
    by_hand /= stated["sheet_length_mm"] * stated["sheet_width_mm"]
    data = plain.part_data
    assert data.value("used_sheet_use_share")[row] == pytest.approx(by_hand, rel=1e-12)
    gross = data.value("blank_mass_kg")[row] / by_hand
    rest = gross - data.value("blank_mass_kg")[row]
    price, back = (data.value(key)[row] for key in ("material_price_cur_per_kg", "offcut_price_cur_per_kg"))
    assert data.value("material_cost_cur")[row] == pytest.approx(gross * price - rest * back, rel=1e-12)
    switches = plain.part_list.value("sheet_plan_switch")
    left_alone = plain.part_list.value("sheet_use_share")[switches == 0]
    assert (data.value("used_sheet_use_share")[switches == 0] == left_alone).all()


def test_the_sheet_plan_needs_a_sheet(tmp_path):
    parts = (bundled("demo_shop") / "parts.csv").read_text(encoding="utf-8").splitlines()
    bare = next(line for line in parts if line.startswith("BR-103"))
    with pytest.raises(ScenarioError, match=r"line 4, column sheet_plan_switch.*asks for a sheet_length_mm that holds"):
        shop(tmp_path, (bare, bare + "1"), file="parts.csv")


def test_press_steps_are_known_by_name(tmp_path):
    """Coining is 8 times the air bend's force: common practice, no source."""
    steps = (bundled("demo_shop") / "steps.csv").read_text(encoding="utf-8").splitlines()
    text = "\n".join([f"{steps[0]},force_multiple_ratio", *(f"{line}," for line in steps[1:])])
    bend = f"{steps[4]},"
    shutil.copytree(bundled("demo_shop"), tmp_path / "demo_shop")
    place = tmp_path / "demo_shop" / "steps.csv"
    place.write_text(text.replace(bend, f"{bend}Coining", 1), encoding="utf-8")
    job = estimate(load(tmp_path / "demo_shop"))
    assert job.bends.value("force_multiple_ratio")[0] == 8 and (job.bends.value("force_multiple_ratio")[1:] == 1).all()
    place.write_text(text.replace(bend, f"{bend}coyning", 1), encoding="utf-8")
    with pytest.raises(ScenarioError, match="line 5, column force_multiple_ratio: 'coyning'"):
        load(tmp_path / "demo_shop")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("BR-999,1,100,200,0,1", "line 10, column part: 'BR-999' is not known"),
        ("BR-103,1,100,200,0,1", "has a cut list and no sheet"),
        ("BR-101,1,-5,200,0,1", "gauge_position_mm"),
        ("BR-101,11,5,200,0,1", "pass_count"),
    ],
)
def test_poor_cut_lists_are_refused(tmp_path, line, said):
    shutil.copytree(bundled("demo_shop"), tmp_path / "demo_shop")
    with (tmp_path / "demo_shop" / "cut_lists.csv").open("a") as file:
        file.write(line + "\n")
    with pytest.raises(ScenarioError) as refused:
        load(tmp_path / "demo_shop")
    assert said in str(refused.value) and "cut_lists.csv" in str(refused.value)


def test_stopwatch_command(tmp_path):
    path = tmp_path / "readings.csv"
    path.write_text(
        "blank_length_mm,blank_width_mm,blank_mass_kg,observed_time_s\n"
        "300,200,1,6\n1000,500,6,11\n2000,1000,30,27\n500,400,9,10.2\n2500,300,5,14\n700,700,12,13\n"
    )
    result = CliRunner().invoke(app, ["stopwatch", str(path), "--kind", "stack"])
    assert result.exit_code == 0 and "6 readings" in result.stdout
    lines = [line for line in result.stdout.splitlines() if line.startswith(("[", "stack_"))]
    stated = tomllib.loads("\n".join(lines))["workplace"]
    assert list(stated) == ["stack_base_s", "stack_size_s_per_m", "stack_mass_s_per_kg"]
    assert stated["stack_base_s"]["basis"] == "measured"


def test_operator_cross_checks(plain):
    limit = lift()
    assert 0 < limit.number("weight_limit_kg") < 23
    lifting = lifting_of(plain.part_list, plain.part_data, limit)
    mass, index = plain.part_data.value("blank_mass_kg"), lifting.value("lifting_index_ratio")
    assert index == pytest.approx(mass / limit.number("weight_limit_kg"))
    words, crew = lifting.value("lifting_word"), plain.part_data.value("crew_count")
    assert set(words[(crew == 1) & (index > 1)]) <= {"above 1: have it assessed"}
    assert predetermined(plain.part_list, plain.part_data).value("difference_share")[0] == "enter TMU"
