"""The corpora of lists with known truth: nothing is taken over wrongly without a word, and no list ends in a dead end."""

import pytest
from corpus_count import corpora, outcome

CASES = [(name, case) for name, cases in corpora().items() for case in cases]
LEAST = {"first corpus": 60, "second corpus": 30, "third corpus": 25}
# what cannot be decided from the file alone
REFUSED = {"UTF-16 without a mark"}


@pytest.mark.parametrize(("name", "case"), CASES, ids=lambda value: value if isinstance(value, str) else value.name)
def test_nothing_is_silently_wrong(name, case, tmp_path):
    found = outcome(case, tmp_path)
    assert found.wrong == []
    assert bool(found.refused) == (case.name in REFUSED), found.refused


def test_the_corpora_are_large_enough():
    for name, cases in corpora().items():
        assert len(cases) >= LEAST[name]
        assert len({case.name for case in cases}) == len(cases)
