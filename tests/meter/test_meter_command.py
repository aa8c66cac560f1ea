"""The command `xlfab meter`: table, picture, strokes, and powers written into a copy of a scenario."""

import shutil
import tomllib
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
from shops import Shop, logged
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.meter.fill import fill_scenario
from xlfab.meter.log_file import Log
from xlfab.meter.picture import draw
from xlfab.meter.states import find_states

RUN = CliRunner()


@pytest.fixture(scope="module")
def shop_log(tmp_path_factory):
    """A day of an invented shop as a file, and its truth."""
    truth = logged(Shop(61, days=1, gaps=1))
    times = pd.date_range("2024-06-03", periods=len(truth.power_kw), freq="1s").strftime("%d.%m.%Y %H:%M:%S")
    there = np.isfinite(truth.power_kw)
    lines = [f"{t};{p:.4f}".replace(".", ",", 0) for t, p, k in zip(times, truth.power_kw, there, strict=True) if k]
    path = tmp_path_factory.mktemp("logs") / "brake.csv"
    path.write_text("Zeit;Wirkleistung [kW]\n" + "\n".join(lines) + "\n", encoding="utf-8")
    return path, truth


def run(*arguments):
    """Run the command line; what it printed, and its exit."""
    result = RUN.invoke(app, [str(item) for item in arguments])
    return result


def test_table_lines_and_picture(shop_log, tmp_path):
    path, _ = shop_log
    picture = tmp_path / "brake.png"
    result = run("meter", path, "--picture", picture)
    assert result.exit_code == 0, result.output
    for text in (
        "standby",
        "ready",
        "strokes found",
        "ISO 14955-1, which excludes that use",
    ):
        assert text in result.output
    assert picture.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    again = run("meter", path, "--picture", picture)
    assert isinstance(again.exception, ScenarioError) and "is there already" in str(again.exception)


def test_measured_powers_go_into_a_copy_of_the_scenario(shop_log, tmp_path):
    path, truth = shop_log
    before = load(bundled("demo_shop"))
    machine = before.press_brakes[0].name
    to = tmp_path / "measured"
    result = run("meter", path, "--scenario", bundled("demo_shop"), "--machine", machine, "--to", to)
    assert result.exit_code == 0, result.output
    after = load(to)
    assert after.press_brakes[0].ready_power_kw == pytest.approx(truth.truth_kw["ready"], rel=0.03)
    assert after.press_brakes[0].standby_power_kw == pytest.approx(truth.truth_kw["standby"], rel=0.03)
    assert after.press_brakes[1] == before.press_brakes[1]
    powers = ("ready_power_kw", "standby_power_kw")
    measured = [item for item in after.assumptions if item.record == machine and item.key in powers]
    assert {item.basis for item in measured} == {"measured"}
    assert all(item.low < item.value < item.high and "brake.csv" in item.source for item in measured)
    assert load(bundled("demo_shop")).press_brakes[0] == before.press_brakes[0]


def test_comments_and_other_values_are_kept(tmp_path, shop_log):
    source = tmp_path / "shop"
    shutil.copytree(bundled("demo_shop"), source)
    text = (source / "scenario.toml").read_text(encoding="utf-8")
    (source / "scenario.toml").write_text("# a note of the owner\n" + text, encoding="utf-8")
    machine = load(source).press_brakes[1].name
    _, truth = shop_log
    finding = find_states(Log("log", 1.0, truth.power_kw))
    fill_scenario(source, machine.upper(), finding, tmp_path / "copy")
    copied = (tmp_path / "copy" / "scenario.toml").read_text(encoding="utf-8")
    assert copied.startswith("# a note of the owner\n")
    old, new = tomllib.loads(text), tomllib.loads(copied)
    for record in new["press_brake"]:
        if record["name"] == machine:
            assert record["ready_power_kw"]["basis"] == "measured"
        for key in ("standby_power_kw", "ready_power_kw"):
            record.pop(key, None)
    for record in old["press_brake"]:
        for key in ("standby_power_kw", "ready_power_kw"):
            record.pop(key, None)
    assert old == new
    with pytest.raises(ScenarioError, match="is there already"):
        fill_scenario(source, machine, finding, tmp_path / "copy")
    with pytest.raises(ScenarioError, match="there is no machine 'Drill'"):
        fill_scenario(source, "Drill", finding, tmp_path / "other")
    assert not (tmp_path / "other").exists()


def test_nothing_is_written_where_ready_is_not_certain(tmp_path):
    power = np.concatenate([np.full(7200, 0.4), np.full(7200, 2.5)])
    finding = find_states(Log("log", 1.0, power * (1 + np.random.default_rng(1).normal(0, 0.005, len(power)))))
    with pytest.raises(ScenarioError, match="no state is ready for certain"):
        fill_scenario(bundled("demo_shop"), load(bundled("demo_shop")).press_brakes[0].name, finding, tmp_path / "copy")


def test_a_limit_of_a_power_stands_in_its_source(tmp_path):
    truth = logged(Shop(5004, days=1, ready_drift=0.08))
    finding = find_states(Log("log", truth.step_s, truth.power_kw))
    assert any("ready wanders" in limit for limit in finding.limits)
    machine = load(bundled("demo_shop")).press_brakes[0].name
    fill_scenario(bundled("demo_shop"), machine, finding, tmp_path / "copy")
    found = {(i.record, i.key): i for i in load(tmp_path / "copy").assumptions}
    assert "limit: ready wanders" in found[machine, "ready_power_kw"].source
    assert "limit" not in found[machine, "standby_power_kw"].source


def test_a_mean_of_what_may_be_different_states_is_not_written(tmp_path):
    pieces = [(3600, 0.3), (3600, 0.6), *[(4, 8.0), (20, 2.8)] * 300, (1800, 2.8)]
    power = np.concatenate([np.full(seconds, kw) for seconds, kw in pieces])
    finding = find_states(Log("log", 1.0, power * (1 + np.random.default_rng(3).normal(0, 0.004, len(power)))))
    assert any("count as standby and may be different states" in limit for limit in finding.limits)
    machine = load(bundled("demo_shop")).press_brakes[0]
    done = fill_scenario(bundled("demo_shop"), machine.name, finding, tmp_path / "copy")
    assert any("standby_power_kw: left as it was" in line for line in done)
    copy = next(one for one in load(tmp_path / "copy").press_brakes if one.name == machine.name)
    assert copy.standby_power_kw == machine.standby_power_kw


def test_a_log_with_no_idle_is_refused_and_nothing_is_written(tmp_path):
    rng = np.random.default_rng(8)
    times = pd.date_range("2024-06-03 06:00", periods=1800, freq="10s").strftime("%Y-%m-%d %H:%M:%S")
    lines = [f"{at},{power:.3f}" for at, power in zip(times, rng.uniform(3, 7, 1800), strict=True)]
    log = tmp_path / "restless.csv"
    log.write_text("time,power kW\n" + "\n".join(lines) + "\n", encoding="utf-8")
    result = run("meter", log, "--picture", tmp_path / "picture.png")
    assert result.exit_code != 0
    assert "never at rest" in str(result.exception) and "log some idle time" in str(result.exception)
    assert not (tmp_path / "picture.png").exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--unit", "hp"), "allowed are W, kW, Wh and kWh"),
        (("--meter-share", "3"), "allowed is 0 to 0.2"),
        (("--time-zone", "Middle/Nowhere"), "there is no such zone"),
        (("--decimal", "dot"), "allowed are point (2.8) and comma (2,8)"),
        (("--auxiliaries", "yes"), "allowed are metered and apart"),
        (("--picture", "log.txt"), "must end in .png, .pdf or .svg"),
        (("--scenario", "x"), "belong together"),
        (("--column", "Nothing"), "there is no column"),
    ],
)
def test_wrong_options(shop_log, arguments, message):
    result = run("meter", shop_log[0], *arguments)
    assert isinstance(result.exception, ScenarioError) and message in str(result.exception)


@pytest.mark.parametrize("suffix", [".png", ".pdf", ".svg"])
def test_picture_formats(tmp_path, shop_log, suffix):
    finding = find_states(Log("log", 1.0, shop_log[1].power_kw[: 12 * 3600]))
    draw(finding, tmp_path / f"picture{suffix}")
    assert Path(tmp_path / f"picture{suffix}").stat().st_size > 5000
