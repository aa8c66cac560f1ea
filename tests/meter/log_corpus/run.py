"""Run a corpus and print its table: python -m log_corpus.run [first|second] [word of a case], in tests/meter."""

from __future__ import annotations

import sys
from collections import Counter

from .cases import CORPORA
from .judge import RIGHT, judge

SEEDS = {"first": 100, "second": 9_000}


def main(which: str = "first", word: str = "") -> None:
    """Judge all cases; one line for each that is not simply right."""
    cases = CORPORA[which]()
    count: Counter[str] = Counter()
    for number, case in enumerate(cases):
        if word and word not in case.name:
            continue
        outcome = judge(case, SEEDS[which] + number)
        count[outcome.result] += 1
        if outcome.result != RIGHT or word:
            print(f"{outcome.result:24} {case.name}: {'; '.join(outcome.faults)}")
            if word or outcome.result not in ("right",):
                for line in outcome.said:
                    print(f"{'':26}- {line[:240]}")
    print(dict(count), sum(count.values()))


if __name__ == "__main__":
    main(*sys.argv[1:])
