"""`xlfab new comparison`: ten questions on a terminal, through a pipe, or flags; nothing typed is ever lost."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from xlfab.cli import app
from xlfab.comparison.comparison_questions import QUESTIONS, UNITS
from xlfab.inputs.scenario import Scenario, load

RUN = CliRunner()
NEW = ("new", "comparison")


def made(tmp_path: Path, *flags: str, typed: str = "") -> tuple[Scenario, str]:
    """The scenario that flags and typed answers make, and what was said."""
    done = RUN.invoke(app, [*NEW, str(tmp_path / "shop"), "--no-build", *flags], input=typed, catch_exceptions=False)
    assert done.exit_code == 0, done.output
    return load(tmp_path / "shop"), done.output


def test_ten_questions_after_units_and_money() -> None:
    assert len(QUESTIONS) == 10


@pytest.mark.parametrize(
    ("money", "units"), [("metric EUR", "metric"), ("us USD", "us"), ("metric CHF", "metric"), ("GBP", "metric")]
)
def test_enter_at_every_question_makes_a_sensible_shop(tmp_path: Path, money: str, units: str) -> None:
    shop, _ = made(tmp_path, typed=f"{money}\n" + "\n" * 10)
    assert (shop.units, shop.currency) == (units, money.split()[-1])
    assert [warning.words for warning in shop.warnings] == []
    brake = shop.press_brakes[0]
    assert brake.rated_force_kn == pytest.approx(1000 if units == "metric" else 978.6, rel=0.001)
    assert brake.working_length_mm == pytest.approx(3000 if units == "metric" else 3048)
    assert shop.parts["thickness_mm"][0] == pytest.approx(2.0 if units == "metric" else 1.897, abs=0.001)


def test_a_pipe_answers_in_the_customers_words(tmp_path: Path) -> None:
    answers = (
        "us",
        "Corner Shop",
        "31.50",
        "12 ct",
        "2 x 8",
        "150 tons x 10 ft",
        "hybrid",
        "130,000",
        "stainless 16 ga",
        "20 x 10, 3 bends",
        "30,000 in lots of 50",
    )
    shop, _ = made(tmp_path, typed="\n".join(answers))
    assert (shop.title, shop.currency, shop.workplace.wage_cur_per_h) == ("Corner Shop", "USD", 31.5)
    assert shop.tariff.energy_price_cur_per_kwh == pytest.approx(0.12)
    assert (shop.workplace.calendar_switch, shop.workplace.shifts_count, shop.workplace.shift_h) == (1, 2, 8)
    assert [brake.name for brake in shop.press_brakes] == ["Hydraulic brake", "Servo-hydraulic brake"]
    assert shop.press_brakes[1].drive == "servo-hydraulic (hybrid)" and shop.press_brakes[1].machine_price_cur == 130000
    assert shop.press_brakes[1].working_length_mm == pytest.approx(3048)
    assert shop.parts["material"][0] == "304"
    assert shop.parts["thickness_mm"][0] == pytest.approx(
        0.0625 * 25.4
    )  # gauge 16 of stainless steel, in the package's table of gauges
    assert len(shop.bends["part"]) == 3 and shop.parts["yearly_quantity_count"][0] == 30000


@pytest.mark.parametrize(
    ("number", "wrong", "said"),
    [
        (1, "x" * 200, "one line"), (2, "2400", "far from what is usual"), (2, "a lot", "holds 0 numbers"), (3, "19", "for cents write 19 ct"),
        (4, "4 x 8", "do not fit into a day"), (5, "1000", "2 are needed"), (6, "steam", "must be one of"), (6, "hydraulic", "compared with a hydraulic"),
        (7, "120,000", "can be read as"), (8, "unobtainium 2 mm", "must be one of"), (8, "mild steel 99 ga", "not in the table"),
        (9, "600 x 300, 0 bends", "at least 1"), (10, "0 in lots of 4", "must be"),
    ],
)  # fmt: skip
def test_a_wrong_answer_is_asked_again_at_once(tmp_path: Path, number: int, wrong: str, said: str) -> None:
    lines = [""] * number + [wrong] + [""] * 20
    _, output = made(tmp_path, typed="\n".join(lines))
    assert said in " ".join(output.split())
    question = (UNITS, *QUESTIONS)[number].asked({"units": "metric", "currency": "EUR"})
    assert output.count(question) == 2


def test_flags_answer_and_the_rest_is_asked(tmp_path: Path) -> None:
    flags = (
        "--wage",
        "27",
        "--yearly-quantity",
        "30000",
        "--bends",
        "3",
        "--thickness",
        "14 ga",
        "--energy-price",
        "0.21",
        "--shifts",
        "2",
    )
    shop, output = made(tmp_path, *flags)
    assert shop.workplace.wage_cur_per_h == 27 and "earn" not in output and "shifts a day" not in output
    assert len(shop.bends["part"]) == 3 and shop.parts["yearly_quantity_count"][0] == 30000
    assert shop.parts["thickness_mm"][0] == pytest.approx(0.0747 * 25.4, abs=0.001)


def test_no_question_where_none_is_wanted(tmp_path: Path) -> None:
    _, output = made(tmp_path, "--yes", "--units", "us", typed="never read\n")
    assert "Whose shop" not in output


@pytest.mark.parametrize(
    ("flag", "value", "words"),
    [
        ("--material", "unobtainium", "must be one of"),
        ("--bends", "0", "must be at least 1"),
        ("--wage", "-3", "must be > 0"),
        ("--units", "feet", "must be one of"),
        ("--shifts", "9", "must be"),
    ],
)
def test_a_wrong_flag_is_refused_by_name(tmp_path: Path, flag: str, value: str, words: str) -> None:
    done = RUN.invoke(app, [*NEW, str(tmp_path / "shop"), flag, value])
    said = " ".join(done.output.replace("│", " ").split())
    assert done.exit_code == 2 and words in said and flag in said, said
    assert not (tmp_path / "shop").exists()


def test_nothing_typed_is_lost_when_the_input_breaks_off(tmp_path: Path) -> None:
    done = RUN.invoke(
        app, [*NEW, str(tmp_path / "shop"), "--wage", "28", "--bends", "0"], input="metric EUR\nCorner Shop\n21 ct\n"
    )
    kept = tmp_path / "shop.answers.txt"
    assert done.exit_code == 2
    assert kept.read_text(encoding="utf-8").splitlines()[:3] == ["metric EUR", "Corner Shop", "21 ct"]
    shop, _ = made(tmp_path, "--wage", "28", typed=kept.read_text(encoding="utf-8"))
    assert (shop.title, shop.tariff.energy_price_cur_per_kwh) == ("Corner Shop", 0.21)


def test_it_ends_with_a_workbook_and_names_the_next_step(tmp_path: Path) -> None:
    done = RUN.invoke(app, [*NEW, str(tmp_path / "shop")], input="\n", catch_exceptions=False)
    assert done.exit_code == 0 and (tmp_path / "shop.xlsx").exists()
    assert "Next: xlfab show" in done.output
    again = RUN.invoke(app, [*NEW, str(tmp_path / "other")], input="")
    assert again.exit_code == 0
    taken = RUN.invoke(app, [*NEW, str(tmp_path / "shop")])
    assert "there already" in str(taken.exception)


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_on_a_terminal(tmp_path: Path) -> None:
    import pty

    answers = {
        b"Whose shop": b"Corner Shop",
        b"What does the operator": b"31.5",
        b"Its flat size": b"400 x 200, 3 bends",
    }
    wrong = {b"Which drive": b"steam"}
    process, terminal = pty.fork()
    if process == 0:
        os.execv(sys.executable, [sys.executable, "-m", "xlfab", *NEW, str(tmp_path / "shop"), "--no-build"])
    said = b""
    while True:
        try:
            piece = os.read(terminal, 4096)
        except OSError:  # the other end is closed
            break
        said += piece
        line = said.rsplit(b"\n", 1)[-1]
        if line.endswith(b"]: "):
            asked = next((one for one in wrong if line.startswith(one)), None)
            known = next((answers[one] for one in answers if line.startswith(one)), b"")
            os.write(terminal, (wrong.pop(asked) if asked else known) + b"\n")
    assert os.waitpid(process, 0)[1] == 0, said.decode()
    assert said.count(b"Which drive") == 2 and b"must be one of" in said
    shop = load(tmp_path / "shop")
    assert (shop.title, shop.workplace.wage_cur_per_h, len(shop.bends["part"])) == ("Corner Shop", 31.5, 3)
