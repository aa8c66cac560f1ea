"""Numbers as people type them: read rightly, asked about, or refused with a reason; never guessed."""

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from xlfab.core.numbers import LONGEST, TwoReadings, Unreadable, column_mark, decimal_number, finite, number_column

REFUSED = [  # common practice, no source: each of these was seen in a list or typed by mistake, and is no number
    *("1_5", "50-", "1,00,000", "nan", "inf", "-inf", "1e5000", "5²", "½", "１２", "12 mm", "--5", "+", "."),
    *(
        ",",
        "e5",
        "0x10",
        "1 20",
        "1 2345",
        "12'34",
        "1'234 567",
        "5-3",
        "5/8",
        "#NUM!",
        "TRUE",
        "",
        " ",
        "(5)",
        "1.234.56",
    ),
    *("1.2.3", "1,2,3"),
]


@pytest.mark.parametrize("text", REFUSED)
@pytest.mark.parametrize("decimal", [".", ",", None])
def test_what_is_no_number_is_refused(text: str, decimal: str | None) -> None:
    with pytest.raises(Unreadable):
        decimal_number(text, decimal)


@pytest.mark.parametrize(("text", "mark"), [("0,125", "."), ("0.125", ","), ("1.5", ","), ("1,5", "."), ("12.34", ",")])
def test_the_other_mark_is_no_thousand_where_no_group_of_three_follows(text: str, mark: str) -> None:
    with pytest.raises(Unreadable, match="no thousands"):
        decimal_number(text, mark)


@given(st.integers(-(10**12), 10**12), st.sampled_from([",", "_"]))
def test_grouped_as_python_writes_it(number: int, separator: str) -> None:
    # Source: the format specification of Python ("," and "_" group thousands), an independent writer of such texts
    text = format(number, separator)
    for mark, other in ((".", text.replace(separator, ",")), (",", text.replace(separator, "."))):
        assert decimal_number(other, mark) == number
    assert decimal_number(text.replace(separator, " ")) == decimal_number(text.replace(separator, "\u202f")) == number


@given(st.floats(-1e15, 1e15, allow_nan=False), st.booleans())
def test_written_with_either_mark_it_comes_back_the_same(number: float, comma: bool) -> None:
    text = repr(number)
    assert decimal_number(text.replace(".", ",") if comma else text, "," if comma else ".") == number


@given(st.text(max_size=60))
def test_any_text_is_a_finite_number_or_refused(text: str) -> None:
    for mark in (".", ",", None):
        try:
            value = decimal_number(text, mark)
        except Unreadable:
            continue
        assert math.isfinite(value)


def test_two_readings_are_asked_about() -> None:
    with pytest.raises(TwoReadings, match=r"1\.234 or as 1234") as found:
        decimal_number("1.234")
    assert found.value.readings == (1.234, 1234.0)
    assert decimal_number("1.234", ".") == 1.234
    assert decimal_number("1.234", ",") == 1234


def test_a_column_proves_its_mark_or_asks() -> None:
    assert number_column(["1.234", "2,5"]).values == [1234.0, 2.5]
    asked = number_column(["12", "1.234", "3.456"])
    assert (asked.decimal, asked.open_question, sorted(asked.faults)) == (None, "1.234", [1, 2])
    assert asked.values[0] == 12.0
    assert column_mark(["0.5", "0,5"]) == "?"
    assert sorted(number_column(["0.5", "0,5", "1.234"]).faults) == [2]
    assert "without" in number_column(["1,234"], grouped=False, decimal=".").faults[0]


def test_length_is_bounded_before_anything_looks() -> None:
    start = time.process_time()
    for text in ("1" * 1_000_000, "1," * 500_000, " " * 1_000_000 + "x", "1" * (LONGEST + 1)):
        with pytest.raises(Unreadable, match="characters"):
            decimal_number(text)
        number_column([text] * 3)
    assert time.process_time() - start < 1


@pytest.mark.parametrize("raw", [True, None, "5", [1], float("nan"), float("inf"), 10**400])
def test_a_value_that_is_no_finite_number_is_refused(raw: object) -> None:
    with pytest.raises(Unreadable):
        finite(raw)
