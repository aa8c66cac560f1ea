"""Functions are found by the words of the trade, in British and US spelling, and by near misses."""

from __future__ import annotations

import pytest

from xlfab import reference
from xlfab.catalogue import CATALOGUE, FUNCTIONS
from xlfab.core.errors import InputError
from xlfab.core.search_words import topics
from xlfab.hosts import naming


@pytest.mark.parametrize(
    ("word", "first"),
    [
        ("irr", "internal_rate_share"),
        ("npv", "net_present_value_now_cur"),
        ("annuity", "annuity_cur_per_year"),
        ("tonnage", "air_bend_force_kn"),
        ("backgauge", "gauge_step_time_s"),
        ("back gage", "gauge_step_time_s"),
        ("labor", "labour_rate_cur_per_h"),
        ("wiping", "v_die_force_factor_kn"),
        ("setup", "press_brake_setup_time_min"),
        ("Set-up", "press_brake_setup_time_min"),
        ("payback", "simple_payback_years"),
        ("springback", "air_bend_penetration_mm"),
        ("flat length", "flat_length_change_mm"),
        ("light curtain", "safety_distance_mm"),
        ("K-factor", "flat_length_change_mm"),
    ],
)
def test_a_word_finds_its_function_first(word: str, first: str) -> None:
    assert reference.search(word)[0].spec.name == first


def test_every_function_is_found_by_its_own_name() -> None:
    for one in CATALOGUE:
        assert reference.find(one.spec.cell_name) is one
        assert one in reference.search(one.spec.name)


@pytest.mark.parametrize(("slip", "word"), [("tonage", "tonnage"), ("paybak", "payback"), ("bakgauge", "backgauge")])
def test_a_slip_is_answered_with_near_words(slip: str, word: str) -> None:
    assert word in reference.nearest_words(slip)


def test_nothing_is_found_for_nothing() -> None:
    assert reference.search("  ") == [] and reference.search("zzzz") == []
    with pytest.raises(InputError, match="no function 'zzzz'"):
        reference.find("zzzz")


def test_questions_name_functions_that_exist_and_open_the_reference() -> None:
    for topic in topics():
        assert topic.question.endswith("?") and topic.words and set(topic.functions) <= set(FUNCTIONS), topic
    assert reference.document().index("I want to know") < reference.document().index("### FAB_")


def test_the_help_of_a_host_names_other_words_where_there_is_room() -> None:
    assert "Also: IRR" in naming.description(FUNCTIONS["internal_rate_share"].spec)
    assert all(len(naming.description(one.spec)) <= naming.TEXT_LIMIT for one in CATALOGUE)
