"""Files in the manners of various loggers, all invented: what is read must be the same power every time, and doubt is refused."""

import numpy as np
import pandas as pd
import pytest

from xlfab.core.errors import ScenarioError
from xlfab.meter.log_file import read_log
from xlfab.meter.marks import add_marks

POWER = np.concatenate([np.full(40, 0.25), np.full(30, 2.8), np.tile([2.8, 2.8, 6.5, 9.25], 20), np.full(30, 2.8)])
TIMES = pd.date_range("2024-05-31 23:58:00", periods=len(POWER), freq="1s")


def write(tmp_path, text, name="log.csv", encoding="utf-8"):
    """A file with this text."""
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    return path


def rows(*fields, separator=",", comma=False):
    """Lines of a file from columns of texts or numbers."""
    lines = []
    for row in zip(*fields, strict=True):
        parts = [item if isinstance(item, str) else f"{item:.4f}" for item in row]
        parts = [
            p.replace(".", ",") if comma and not isinstance(r, str) else p for p, r in zip(parts, row, strict=True)
        ]
        lines.append(separator.join(parts))
    return "\n".join(lines) + "\n"


def stamps(form):
    """The times in a form."""
    return list(TIMES.strftime(form))


PHASES = (POWER * 0.36, POWER * 0.33, POWER * 0.31)
COUNTER = 1234.5 + np.concatenate([[0.0], np.cumsum(POWER[1:])]) / 3600
STYLES = {
    "iso, comma, kW": "Time,Power [kW]\n" + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER),
    "iso with T and Z, W": "timestamp,P_total_W\n" + rows(stamps("%Y-%m-%dT%H:%M:%SZ"), POWER * 1000),
    "iso with offset": "time,active_power_kW\n" + rows(stamps("%Y-%m-%dT%H:%M:%S+02:00"), POWER),
    "iso with fractions": "time;kW\n" + rows(stamps("%Y-%m-%d %H:%M:%S,000"), POWER, separator=";", comma=True),
    "semicolon, decimal comma, day first": "Datum Uhrzeit;Wirkleistung (kW)\n"
    + rows(stamps("%d.%m.%Y %H:%M:%S"), POWER, separator=";", comma=True),
    "date and time apart": "Date;Time;P [W]\n"
    + rows(stamps("%d.%m.%Y"), stamps("%H:%M:%S"), POWER * 1000, separator=";", comma=True),
    "month first with AM and PM": "Date Time,kW\n" + rows(stamps("%m/%d/%Y %I:%M:%S %p"), POWER),
    "day first with slashes": "Time,kW\n" + rows(stamps("%d/%m/%Y %H:%M:%S"), POWER),
    "tabs": "Time\tP (kW)\n" + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER, separator="\t"),
    "epoch seconds": "epoch,P [W]\n" + rows([str(int(t.timestamp())) for t in TIMES], POWER * 1000),
    "epoch milliseconds": "unix ms,P [kW]\n" + rows([str(int(t.timestamp() * 1000)) for t in TIMES], POWER),
    "elapsed seconds": "elapsed [s],P [kW]\n" + rows([str(n) for n in range(len(POWER))], POWER),
    "elapsed minutes": "t [min];P [kW]\n" + rows([f"{n / 60:.6f}" for n in range(len(POWER))], POWER, separator=";"),
    "clock without a date, past midnight": "Uhrzeit;kW\n" + rows(stamps("%H:%M:%S"), POWER, separator=";"),
    "spreadsheet days": "Time,kW\n" + rows([f"{45443 + (86280 + n) / 86400:.9f}" for n in range(len(POWER))], POWER),
    "three phases": "Time,P1 [kW],P2 [kW],P3 [kW]\n" + rows(stamps("%Y-%m-%d %H:%M:%S"), *PHASES),
    "three phases and their total": "Time;L1 kW;L2 kW;L3 kW;Total kW;Hz\n"
    + rows(stamps("%Y-%m-%d %H:%M:%S"), *PHASES, POWER, np.full(len(POWER), 50.0), separator=";"),
    "counter in kWh": "Time,Energy counter [kWh]\n"
    + "".join(f"{t},{kwh:.7f}\n" for t, kwh in zip(stamps("%Y-%m-%d %H:%M:%S"), COUNTER, strict=True)),
    "lines before the headings": "Device: hall 3\nInterval: 1 s\n\nTime;P sum [kW]\n"
    + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER, separator=";"),
    "units on a line of their own": "Time;P;U\nhh;kW;V\n"
    + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER, np.full(len(POWER), 400.0), separator=";"),
    "thousands and quotes": 'Time;"P [W]"\n'
    + "".join(f'{t};"{w:,.1f}"\n' for t, w in zip(stamps("%Y-%m-%d %H:%M:%S"), POWER * 1000, strict=True)),
    "year first with slashes": "Time,kW\n" + rows(stamps("%Y/%m/%d %H:%M:%S"), POWER),
}


@pytest.mark.parametrize("style", STYLES)
def test_every_style_gives_the_same_power(tmp_path, style):
    log = read_log(write(tmp_path, STYLES[style]))
    assert log.step_s == 1
    expected = POWER[1:] if "counter" in style else POWER
    assert log.power_kw == pytest.approx(expected, abs=2e-3)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_encodings(tmp_path, encoding):
    text = "Zeit;Leistung über alles [kW]\n" + rows(stamps("%d.%m.%Y %H:%M:%S"), POWER, separator=";", comma=True)
    assert read_log(write(tmp_path, text, encoding=encoding)).power_kw == pytest.approx(POWER, abs=1e-3)


def test_start_and_time_zone(tmp_path):
    path = write(tmp_path, STYLES["iso with T and Z, W"])
    assert read_log(path, zone="Europe/Vienna").start == pd.Timestamp("2024-06-01 01:58:00", tz="Europe/Vienna")
    local = read_log(write(tmp_path, STYLES["tabs"]), zone="America/Chicago")
    assert local.start == pd.Timestamp("2024-05-31 23:58:00", tz="America/Chicago")


def test_the_hour_set_back_in_autumn_is_no_restart(tmp_path):
    local = pd.date_range("2024-10-27 01:30:00", periods=150, freq="1min", tz="Europe/Vienna").strftime(
        "%Y-%m-%d %H:%M:%S"
    )
    path = write(tmp_path, "Time,kW\n" + rows(list(local), np.full(150, 2.0)))
    for zone in ("", "Europe/Vienna"):
        log = read_log(path, zone=zone)
        assert len(log.power_kw) == 150 and not np.isnan(log.power_kw).any()


def test_gaps_stay_gaps_and_single_rows_are_bridged(tmp_path):
    keep = np.ones(len(POWER), dtype=bool)
    keep[[50, 100]] = False
    keep[60:90] = False
    text = "Time,kW\n" + rows([t for t, k in zip(stamps("%Y-%m-%d %H:%M:%S"), keep, strict=True) if k], POWER[keep])
    log = read_log(write(tmp_path, text))
    assert len(log.power_kw) == len(POWER)
    assert np.isnan(log.power_kw).sum() == 30 and np.isnan(log.power_kw[60:90]).all()
    assert any("1 gaps" in note for note in log.notes)


def test_a_restart_with_its_headings_again(tmp_path):
    half = len(POWER) // 2
    part = [rows([str(n) for n in range(len(piece))], piece) for piece in (POWER[:half], POWER[half:])]
    log = read_log(write(tmp_path, "elapsed s,P [kW]\n" + part[0] + "elapsed s,P [kW]\n" + part[1]))
    assert np.isfinite(log.power_kw).sum() == len(POWER)
    assert any("started again" in note for note in log.notes)
    assert any("1 readings are no number" in limit for limit in log.limits)


def test_a_counter_that_starts_again(tmp_path):
    counter = np.where(np.arange(len(COUNTER)) < 90, COUNTER, COUNTER - COUNTER[90])
    lines = "".join(f"{t};{kwh:.7f}\n" for t, kwh in zip(stamps("%Y-%m-%d %H:%M:%S"), counter, strict=True))
    log = read_log(write(tmp_path, "Time;kWh\n" + lines))
    assert np.nanmax(log.power_kw) < 10
    assert any("started again 1 times" in note for note in log.notes)


def test_uneven_steps_are_put_on_a_grid(tmp_path):
    rng = np.random.default_rng(2)
    seconds = np.arange(len(POWER)) + rng.uniform(-0.2, 0.2, len(POWER))
    log = read_log(write(tmp_path, "t [s],P [kW]\n" + rows([f"{s:.3f}" for s in seconds - seconds[0]], POWER)))
    assert log.energy_kwh == pytest.approx(POWER.sum() / 3600, rel=0.02)


def test_power_factor_and_apparent_power(tmp_path):
    text = "Time;P [kW];PF\n" + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER, np.full(len(POWER), 0.4), separator=";")
    assert read_log(write(tmp_path, text)).apparent_kva == pytest.approx(POWER / 0.4, rel=1e-3)
    text = "Time;P [kW];S [kVA]\n" + rows(stamps("%Y-%m-%d %H:%M:%S"), POWER, POWER * 2, separator=";")
    assert read_log(write(tmp_path, text)).apparent_kva == pytest.approx(POWER * 2, rel=1e-3)


def test_stroke_counter_and_stroke_file(tmp_path):
    count = np.cumsum(POWER > 9)
    text = "Time;P [kW];Stroke count\n" + rows(
        stamps("%Y-%m-%d %H:%M:%S"), POWER, [str(n) for n in count], separator=";"
    )
    log = read_log(write(tmp_path, text))
    assert log.strokes.sum() == 20
    marks = write(
        tmp_path, "stroke\n" + "\n".join(np.array(stamps("%Y-%m-%d %H:%M:%S"))[POWER > 9]) + "\n", "marks.txt"
    )
    log.strokes = None
    add_marks(log, marks)
    assert log.strokes.sum() == 20 and np.flatnonzero(log.strokes).tolist() == np.flatnonzero(POWER > 9).tolist()


STAMPS = stamps("%Y-%m-%d %H:%M:%S")
MINUTES = [f"2024-05-{1 + n // 96:02d} {n % 96 // 4:02d}:{n % 4 * 15:02d}:00" for n in range(400)]
REFUSED = {
    "no unit": ("Time,Power\n" + rows(STAMPS, POWER), "has no unit"),
    "no power": ("Time,U [V],I [A]\n" + rows(STAMPS, POWER, POWER), "real power"),
    "apparent power alone": ("Time,S [kVA]\n" + rows(STAMPS, POWER), "real power"),
    "several loads": ("Time,Press [kW],Shear [kW]\n" + rows(STAMPS, POWER, POWER), "name yours with --column"),
    "no headings": (rows(STAMPS, POWER, POWER), "no headings"),
    "no numbers": ("some text\nof no use\n", "no rows"),
    "strange time": (
        "Time,kW\n" + rows([f"{n}th of May 1" for n in range(len(POWER))], POWER),
        "no rows|not in a form",
    ),
    "too coarse": ("Time,kW\n" + rows(MINUTES, np.full(400, 2.0)), "too coarse"),
    "clamps the wrong way": ("Time,kW\n" + rows(STAMPS, -POWER), "the wrong way"),
    "counter too coarse": (
        "Time,kWh\n" + "".join(f"{t},{kwh:.1f}\n" for t, kwh in zip(STAMPS, COUNTER, strict=True)),
        "too coarse",
    ),
    "counter that falls": (
        "Time,kWh\n" + "".join(f"{t},{kwh:.4f}\n" for t, kwh in zip(STAMPS, COUNTER[::-1], strict=True)),
        "no counter",
    ),
    "bad cells": (
        "Time,kW\n" + rows(STAMPS, ["---" if n % 3 else "2.5" for n in range(len(POWER))]),
        "hold no time or no number",
    ),
    "empty": ("", "0 bytes"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_doubt_is_refused(tmp_path, what):
    text, message = REFUSED[what]
    with pytest.raises(ScenarioError, match=message):
        read_log(write(tmp_path, text))


def test_a_named_column_and_unit_settle_it(tmp_path):
    path = write(tmp_path, REFUSED["no unit"][0])
    assert read_log(path, unit="kW").power_kw == pytest.approx(POWER, abs=1e-3)
    path = write(tmp_path, REFUSED["several loads"][0])
    assert read_log(path, columns=("Shear [kW]",)).power_kw == pytest.approx(POWER, abs=1e-3)
    with pytest.raises(ScenarioError, match="there is no column 'Brake'"):
        read_log(path, columns=("Brake",))
