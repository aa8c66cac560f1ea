"""US customary units: the US demo shop against the same shop converted by pint, and conversion factors against their definitions."""

from __future__ import annotations

import csv
import re

import numpy as np
import pint
import pytest

from xlfab.core.units import UNITS, factor
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load

# US ending, its unit for pint, metric ending, its unit for pint
PAIRS = [
    ("cur_per_lb", "1/pound", "cur_per_kg", "1/kg"),
    ("cur_per_ft2", "1/foot**2", "cur_per_m2", "1/m**2"),
    ("s_per_ft", "s/foot", "s_per_m", "s/m"),
    ("lb_per_kwh", "pound", "kg_per_kwh", "kg"),
    ("lb_per_in3", "pound/inch**3", "kg_per_m3", "kg/m**3"),
    ("in_s", "inch/s", "mm_s", "mm/s"),
    ("ft2", "foot**2", "m2", "m**2"),
    ("tonf", "2000*pound_force", "kn", "kN"),
    ("ksi", "1000*pound_force/inch**2", "mpa", "MPa"),
    ("lb", "pound", "kg", "kg"),
    ("ft", "foot", "mm", "mm"),
    ("in", "inch", "mm", "mm"),
]
PINT = pint.UnitRegistry()


def converted(name: str) -> tuple[str, float]:
    """The metric name of a US name and the factor, by pint alone."""
    for us, us_unit, metric, metric_unit in PAIRS:
        if name.endswith("_" + us):
            return name[: -len(us)] + metric, float(PINT(us_unit).to(metric_unit).magnitude)
    return name, 1.0


def test_the_us_shop_equals_its_metric_twin(tmp_path):
    """Independent path: names and numbers are rewritten by pint before xlfab sees them."""
    source = bundled("demo_shop_us")
    lines = []
    for line in (source / "scenario.toml").read_text(encoding="utf-8").splitlines():
        match = re.match(r"(\w+) = (.*)", line)
        if match and converted(match[1])[0] != match[1]:
            name, by = converted(match[1])
            text = match[2].split('"', 1)
            numbers = re.sub(r"\d+\.?\d*", lambda number, by=by: repr(float(number[0]) * by), text[0])
            line = f"{name} = {numbers}" + "".join('"' + rest for rest in text[1:])
        lines.append(line)
    (tmp_path / "scenario.toml").write_text("\n".join(lines), encoding="utf-8")
    for file in ("parts.csv", "steps.csv"):
        rows = list(csv.reader((source / file).read_text(encoding="utf-8").splitlines()))
        names = [converted(name) for name in rows[0]]
        with (tmp_path / file).open("w", encoding="utf-8", newline="") as out:
            writer = csv.writer(out)
            writer.writerow([name for name, _ in names])
            for row in rows[1:]:
                writer.writerow(
                    [
                        cell if by == 1 or not cell else repr(float(cell) * by)
                        for cell, (_, by) in zip(row, names, strict=True)
                    ]
                )
    us, metric = load(source), load(tmp_path)
    assert not any(re.match(r"\w+_(in|in_s|ft|ft2|lb|ksi|tonf|lb_per_in3) =", line) for line in lines)
    for table in ("parts", "bends", "cuts", "materials"):
        for name, values in getattr(us, table).items():
            twin = getattr(metric, table)[name]
            if values.dtype == object:
                assert list(values) == list(twin)
            else:
                np.testing.assert_allclose(values, twin, rtol=1e-13, atol=0)
    for mine, twin in zip(us.assumptions, metric.assumptions, strict=True):
        assert (mine.section, mine.record, mine.key, mine.basis, mine.source) == (
            twin.section, twin.record, twin.key, twin.basis, twin.source,
        )  # fmt: skip
        assert (mine.value, mine.low, mine.high) == pytest.approx((twin.value, twin.low, twin.high), rel=1e-13)


# Exact definitions (inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s²), from memory of the 1959 agreement and of
# NIST SP 811; everything else follows by arithmetic.
INCH, POUND, GRAVITY = 25.4, 0.45359237, 9.80665


@pytest.mark.parametrize(
    ("us", "metric", "expected"),
    [
        ("in", "mm", INCH),
        ("ft", "m", 12 * INCH / 1000),
        ("in_s", "mm_s", INCH),
        ("lb", "kg", POUND),
        ("lbf", "n", POUND * GRAVITY),
        ("tonf", "kn", 2 * POUND * GRAVITY),
        ("ksi", "mpa", 1000 * POUND * GRAVITY / INCH**2),
        ("psi", "bar", POUND * GRAVITY / INCH**2 * 10),
        ("lb_per_in3", "kg_per_m3", POUND / (INCH / 1000) ** 3),
        ("ft2", "m2", (12 * INCH / 1000) ** 2),
        ("s_per_ft", "s_per_m", 1000 / (12 * INCH)),
        ("cur_per_lb", "cur_per_kg", 1 / POUND),
        ("kftlbf", "kj", POUND * GRAVITY * 12 * INCH / 1000),
        ("gal", "l", 231 * INCH**3 / 1e6),
    ],
)
def test_factors_follow_from_the_definitions(us, metric, expected):
    assert factor(us, metric) == pytest.approx(expected, rel=1e-13)


def test_every_us_partner_turns_into_its_metric_unit_and_back():
    for suffix, unit in UNITS.items():
        if unit.us_suffix:
            assert factor(suffix, unit.us_suffix) * factor(unit.us_suffix, suffix) == pytest.approx(1, rel=1e-14)
