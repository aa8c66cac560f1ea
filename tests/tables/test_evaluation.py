"""Columns worked out when asked for: in blocks of any size, alone or together, one case or a batch, the values are the same."""

from __future__ import annotations

import numpy as np
import pytest

from xlfab.catalogue import FUNCTIONS as F
from xlfab.comparison.estimate import estimate
from xlfab.core.errors import InputError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.tables import blocks
from xlfab.tables.keys import rows_of
from xlfab.tables.plan import fill
from xlfab.tables.rules import Ref, Rows
from xlfab.tables.table import Table

SHOP = load(bundled("demo_shop"))
VARIANTS = {
    ("workplace", "", "wage_cur_per_h"): np.array([22.0, 25.0, 31.0]),
    ("press_brake", SHOP.press_brakes[0].name, "approach_speed_mm_s"): np.array([90.0, 100.0, 120.0]),
    ("material", SHOP.materials["material"][0], "tensile_strength_mpa"): np.array([340.0, 370.0, 420.0]),
}


def tables_of(job) -> list[Table]:
    """Every table that an estimate holds, in its own order."""
    found: list[Table] = []
    waiting = [job]
    while waiting:
        item = waiting.pop(0)
        if isinstance(item, Table):
            found.append(item)
        elif isinstance(item, list | dict):
            waiting.extend(item.values() if isinstance(item, dict) else item)
        elif hasattr(item, "__dataclass_fields__"):
            waiting.extend(value for name, value in vars(item).items() if name != "scenario")
    return found


def columns_of(job) -> list[Ref]:
    return [Ref(table, name) for table in tables_of(job) for name in table.columns]


def values_of(job) -> list:
    return [ref.table.value(ref.column) for ref in columns_of(job)]


def assert_same(found: list, expected: list) -> None:
    """Text alike, numbers up to the order in which they were added."""
    for one, other in zip(found, expected, strict=True):
        if other.dtype == np.float64:
            np.testing.assert_allclose(one, other, rtol=1e-12)
        elif other.dtype == object:  # figures or words: a rate near zero is as sure as one plus the rate
            assert one.shape == other.shape
            for first, second in zip(one.flat, other.flat, strict=True):
                assert first == (second if isinstance(second, str) else pytest.approx(second, rel=1e-12, abs=1e-14))
        else:
            np.testing.assert_array_equal(one, other)


@pytest.mark.parametrize("variants", [None, VARIANTS], ids=["one case", "batch"])
@pytest.mark.parametrize("block", [7, 200])
def test_small_blocks_give_the_same_values(monkeypatch, variants, block):
    expected = values_of(estimate(SHOP, variants))
    monkeypatch.setattr(blocks, "BLOCK", block)
    assert_same(values_of(estimate(SHOP, variants)), expected)


@pytest.mark.parametrize("block", [7, 8192])
def test_all_columns_at_once_give_the_same_values(monkeypatch, block):
    expected = values_of(estimate(SHOP))
    monkeypatch.setattr(blocks, "BLOCK", block)
    job = estimate(SHOP)
    fill(columns_of(job))
    assert_same([ref.known for ref in columns_of(job)], expected)


def test_each_variant_equals_its_own_estimate():
    batch = estimate(SHOP, VARIANTS).options[1].parts.value("part_cost_cur")
    for number in range(3):
        alone = estimate(SHOP, {key: values[number : number + 1] for key, values in VARIANTS.items()})
        np.testing.assert_allclose(batch[number], alone.options[1].parts.value("part_cost_cur")[0], rtol=1e-13)


def big_table(count: int) -> Table:
    table = Table("cuts", "Cuts", Rows("cuts", count))
    table.put("shear_strength_mpa", np.linspace(100, 600, count))
    table.put("thickness_mm", np.linspace(0.5, 6, count))
    table.put("cut_length_mm", np.linspace(10, 3000, count))
    table.add("parallel_force_kn", F["parallel_shear_force_kn"], *table.columns, label="Force")
    table.add("twice_kn", lambda force: 2 * force, "parallel_force_kn", label="Twice")
    return table


def test_only_what_is_asked_for_is_worked_out_and_kept():
    table = big_table(3 * blocks.BLOCK + 5)
    record = Table.record("all", "All")
    record.total("sum_kn", table["twice_kn"], label="Sum")
    stated = table.known["shear_strength_mpa"] * table.known["thickness_mm"] * table.known["cut_length_mm"]
    assert record.number("sum_kn") == pytest.approx(2 * stated.sum() / 1000, rel=1e-12)
    assert not {"parallel_force_kn", "twice_kn"} & set(table.known)
    np.testing.assert_allclose(table.value("twice_kn"), stated / 500, rtol=1e-15)
    assert "parallel_force_kn" not in table.known


def test_a_value_outside_its_range_spoils_its_own_row_only():
    table = big_table(2 * blocks.BLOCK)
    table.known["thickness_mm"] = table.known["thickness_mm"].copy()
    table.known["thickness_mm"][[3, blocks.BLOCK + 1]] = -1.0, np.nan
    bad = np.flatnonzero(np.isnan(table.value("twice_kn")))
    assert bad.tolist() == [3, blocks.BLOCK + 1]


def test_no_rows_give_no_values():
    table = big_table(0)
    assert table.value("twice_kn").shape == (0,)


def test_a_key_that_is_not_there_is_named():
    parts = Table("parts", "Parts", Rows("parts", 2))
    parts.put("part", np.array(["A", "B"], dtype=object))
    parts.put("thickness_mm", np.array([1.0, 2.0]))
    steps = Table("steps", "Steps", Rows("steps", 3))
    steps.put("part", np.array(["B", "C", "A"], dtype=object))
    steps.lookup("thickness_mm", "part", parts["thickness_mm"], "part")
    with pytest.raises(InputError, match=r"steps\.part: parts has no 'C'"):
        steps.value("thickness_mm")


@pytest.mark.parametrize("order", ["rising", "rising with gaps", "shuffled", "falling"])
def test_rows_of_keys_in_any_order(order):
    random = np.random.default_rng(5)
    keys = np.array([f"part {number}" for number in range(500)], dtype=object)
    rows = {
        "rising": np.repeat(np.arange(500), 3),
        "rising with gaps": np.repeat(np.flatnonzero(random.random(500) < 0.5), 2),
        "shuffled": random.integers(0, 500, 2000),
        "falling": np.arange(499, -1, -1),
    }[order]
    assert rows_of(keys, keys[rows]).tolist() == rows.tolist()
