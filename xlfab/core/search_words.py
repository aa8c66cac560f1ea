"""Questions that people have, the functions that answer them, and the trade's words by which they look for them.

The table is `search_words.csv` beside this file. Several words stand for one function in different shops and countries; the
program's own word is in the function's name, the others are here.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class Topic:
    """A question, the functions that answer it, and the words by which it is looked for."""

    question: str
    functions: tuple[str, ...]
    words: tuple[str, ...]


@cache
def topics() -> tuple[Topic, ...]:
    """The topics in the order in which people meet them.

    >>> topics()[0].question, topics()[0].words[0]
    ('How much force does a bend take?', 'tonnage')
    """
    text = Path(__file__).with_name("search_words.csv").read_text(encoding="utf-8")
    return tuple(
        Topic(row["question"], tuple(row["functions"].split()), tuple(word.strip() for word in row["words"].split(";")))
        for row in csv.DictReader(text.splitlines())
    )


@cache
def words_of(name: str) -> tuple[str, ...]:
    """The words by which a function is looked for; none for a function that no question names.

    >>> words_of("internal_rate_share")[0]
    'IRR'
    """
    found = [word for topic in topics() if name in topic.functions for word in topic.words]
    return tuple(dict.fromkeys(found))
