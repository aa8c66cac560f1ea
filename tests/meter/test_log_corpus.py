"""A sample of the corpus of logs whose truth is known; all of it: python -m log_corpus.run, in this folder."""

import pytest
from log_corpus.cases import first_corpus
from log_corpus.judge import CRASH, SHOULD_READ, WRONG, judge
from log_corpus.run import SEEDS

CASES = list(enumerate(first_corpus()))
SAMPLE = CASES[::8]


@pytest.mark.parametrize(("number", "case"), SAMPLE, ids=[case.name for _, case in SAMPLE])
def test_nothing_is_read_wrongly_without_a_word(number, case):
    outcome = judge(case, SEEDS["first"] + number)
    assert outcome.result not in (WRONG, CRASH, SHOULD_READ), (outcome.faults, outcome.said)


def test_the_corpus_is_large():
    assert len(CASES) >= 200
