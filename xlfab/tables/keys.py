"""Where the keys of one column stand in another: the rows behind look-ups, totals and counts."""

from __future__ import annotations

import itertools
import operator
from typing import Any

import numpy as np

from xlfab.core.errors import InputError
from xlfab.tables.rules import Ref


def places(keys: Ref, wanted: Ref) -> Any:
    """In which row of the one column each key of the other stands; found once for each pair of columns."""
    keys_in, wanted_in = keys.known, wanted.known
    found = wanted.table.rows.places
    pair = id(keys_in), id(wanted_in)
    if pair not in found:
        try:
            place = rows_of(keys_in, wanted_in)
        except KeyError as error:
            raise InputError(f"{wanted.table.name}.{wanted.column}: {keys.table.name} has no {error}") from error
        found[pair] = keys_in, wanted_in, place  # the arrays are kept with it so that their ids stay theirs
    return found[pair][2]


def rows_of(keys: Any, wanted: Any) -> Any:
    """The row of each wanted key. Equal keys mostly stand together, so each run of them is looked for once.

    >>> rows_of(np.array(["a", "b", "c"]), np.array(["a", "a", "c", "b"]))
    array([0, 0, 2, 1])
    """
    if keys is wanted:
        return np.arange(len(keys))
    starts = np.ones(len(wanted), dtype=bool)
    starts[1:] = wanted[1:] != wanted[:-1]
    known, runs = keys.tolist(), wanted[starts].tolist()
    try:  # keys are mostly wanted in the order in which they stand: then each is among the next to come, and needs no hashing
        passed = map(operator.indexOf, itertools.repeat(iter(known)), runs)
        rows = np.cumsum(np.fromiter(passed, np.intp, len(runs)) + 1) - 1
    except ValueError:
        row_of = dict(zip(known, range(len(known)), strict=True))
        rows = np.fromiter(map(row_of.__getitem__, runs), np.intp, len(runs))
    return np.repeat(rows, np.diff(np.flatnonzero(starts), append=len(wanted)))


def first_rows(keys: Any) -> Any:
    """The row in which each key of a column stands first; upper and lower case are the same.

    >>> first_rows(np.array(["a", "b", "A"], dtype=object))
    array([0, 1, 0])
    """
    first: dict[str, int] = {}
    return np.array([first.setdefault(str(key).casefold(), row) for row, key in enumerate(keys)], dtype=np.intp)
