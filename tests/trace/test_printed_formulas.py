"""What is known before any cell is stands in no formula; ratios stay exact; long formulas are measured in the longest language."""

from __future__ import annotations

import re

import numpy as np
import pytest

from xlfab.catalogue import CATALOGUE
from xlfab.catalogue import FUNCTIONS as F
from xlfab.core.errors import FormulaError
from xlfab.trace.expression import number, ref, trace, traced
from xlfab.trace.lambda_name import lambda_name, lambda_names
from xlfab.trace.spreadsheet import Spreadsheet, cell_formula, inside_limit, longest, plain
from xlfab.trace.standard_python import standard_python
from xlfab.trace.target import one_by_one

A, B = ref("A1"), ref("B1")


@pytest.mark.parametrize(
    ("formula", "printed"),
    [
        (lambda a, b: 0.0 * 0.0 + a, "A1"),
        (lambda a, b: a + 0.0 * b, "A1"),
        (lambda a, b: a * 1.0 - 0.0, "A1"),
        (lambda a, b: np.where(number(0.0) > 0, a, b), "B1"),
        (lambda a, b: a ** (1 / 3), "A1^(1/3)"),
        (lambda a, b: a * (2 / 3), "A1*(2/3)"),
        (lambda a, b: a * (1 / 8), "A1*0.125"),
        (lambda a, b: a * np.pi, "A1*3.14159265358979"),
        (lambda a, b: np.minimum(a, b) * 2.0, "MIN(A1,B1)*2"),
        (lambda a, b: np.maximum(a - b, 0.0), "MAX(A1-B1,0)"),
        (lambda a, b: 0.0 * (a / b), "0*(A1/B1)"),  # an error value has to stay one
    ],
)
def test_a_formula_says_nothing_that_is_known(formula, printed: str) -> None:
    assert plain(trace(formula, [A, B])) == printed


def test_over_ranges_the_smaller_of_two_is_found_cell_by_cell() -> None:
    root = trace(np.minimum, [A, B])
    assert plain(one_by_one(root)) == "IF(A1<B1,A1,B1)"
    for function in CATALOGUE:
        if not function.spec.is_range:
            arguments = [item.name for item in function.spec.arguments]
            assert "MIN(" not in cell_formula(function, arguments), function
            assert "MIN(" not in lambda_name(function), function


def test_no_formula_has_more_digits_than_a_spreadsheet_keeps() -> None:
    for function in CATALOGUE:
        if not function.spec.is_range:
            text = plain(traced(function, [ref(item.name) for item in function.spec.arguments]))
            for digits in re.findall(r"(?<![\w.])\d+\.?\d*", text):
                assert len(digits.replace(".", "").lstrip("0")) <= 15, (function, digits)


def test_the_limit_is_that_of_the_longest_language() -> None:
    """In German SQRT is WURZEL and IF is WENN: what fits in English may be too long there."""
    text = "IF(SQRT(A1)>1,SUMIF(A1,1,A1),0)"
    assert longest(text) == len("WENN(WURZEL(A1)>1,SUMMEWENN(A1,1,A1),0)")
    many = "+".join(["INT(A1)"] * 1000)
    assert len(many) < 8192 < longest(many)
    with pytest.raises(FormulaError, match="the formula would pass"):
        inside_limit("many", many)


def test_every_function_fits_into_a_name() -> None:
    names = dict(lambda_names(CATALOGUE))
    assert len(names) > 200 and max(map(longest, names.values())) < 8192


def test_other_targets_keep_every_bit() -> None:
    text = standard_python(F["axis_move_time_s"])
    assert "_div(1.0, 3.0)" in text and "0.333" not in text
    assert Spreadsheet().number(1e-5) == "0.00001" and Spreadsheet().number(float("nan")) == "#NUM!"
