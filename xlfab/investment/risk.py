"""Doubt: what the answer does when the assumptions move within their low and high values.

A model is any function from named values to named results that takes arrays. Each name is drawn once and used wherever it
stands: a wage once for all machines, a machine's own parameters once for that machine and not once for each part. Triangular
distributions and the plan of the calculation follow JCGM 101, the Monte Carlo supplement to the GUM.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from xlfab.core.arrays import Numbers
from xlfab.core.errors import InputError

Values = Mapping[str, Numbers]
Model = Callable[[dict[str, Numbers]], Values]
GROUPS = 20  # the draws are split into so many groups; how much their answers differ shows the error that is left
BATCH = 50_000  # draws at once: bounds the memory, and changes no number


@dataclass(frozen=True)
class Doubt:
    """A named assumption with its lowest, most likely and highest value."""

    name: str
    low: float
    base: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.base <= self.high:
            raise InputError(f"{self.name}: low {self.low:g}, base {self.base:g} and high {self.high:g} must rise")


@dataclass(frozen=True)
class Swing:
    """A result at the low and the high value of one assumption, all others at base."""

    name: str
    at_low: float
    base: float
    at_high: float

    @property
    def span(self) -> float:
        """How far the result moves; an end without a result moves it as far as can be."""
        ends = (self.at_low, self.base, self.at_high)
        return float("inf") if np.isnan(ends).any() else max(ends) - min(ends)

    @property
    def decides(self) -> bool:
        """True if the answer turns: at one end the result is above zero, at the other it is not."""
        return (self.at_low > 0) != (self.at_high > 0)


@dataclass(frozen=True)
class Spread:
    """What the draws of one result say: nine in ten lie above p10, half above p50, one in ten above p90; each with its error."""

    p10: float
    p50: float
    p90: float
    mean: float
    p10_error: float
    p50_error: float
    p90_error: float
    mean_error: float


def one_at_a_time(model: Model, doubts: Sequence[Doubt], results: Sequence[str]) -> dict[str, list[Swing]]:
    """Move each assumption to its low and its high value alone; for each result the swings, widest first. One call of the model.

    >>> swings = one_at_a_time(lambda v: {"y": v["a"] - 2 * v["b"]}, [Doubt("a", 0, 1, 3), Doubt("b", 0, 1, 2)], ["y"])
    >>> [(swing.name, swing.at_low, swing.at_high) for swing in swings["y"]]
    [('b', 1.0, -3.0), ('a', -2.0, 1.0)]
    """
    rows = 2 * len(doubts) + 1
    values = {doubt.name: np.full(rows, float(doubt.base)) for doubt in doubts}
    for place, doubt in enumerate(doubts):
        values[doubt.name][2 * place + 1 : 2 * place + 3] = doubt.low, doubt.high
    found = model(values)
    return {result: _ranked(doubts, np.broadcast_to(found[result], rows)) for result in results}


def _ranked(doubts: Sequence[Doubt], found: Numbers) -> list[Swing]:
    base, lows, highs = float(found[0]), found[1::2], found[2::2]
    swings = [
        Swing(doubt.name, float(low), base, float(high)) for doubt, low, high in zip(doubts, lows, highs, strict=True)
    ]
    return sorted(swings, key=lambda swing: -swing.span)


def combined_half_width(swings: Sequence[Swing]) -> float:
    """How far a result may be off by all assumptions together, taken as independent: root of the sum of squared half-spans.

    >>> combined_half_width([Swing("a", 0, 3, 6), Swing("b", 7, 3, -1)])
    5.0
    """
    return float(np.sqrt(sum((swing.span / 2) ** 2 for swing in swings)))


class _Stream:
    """The draws of one assumption: a stream of its own, so that another assumption more or less changes none of them."""

    def __init__(self, doubt: Doubt, seed: int, bits: type[np.random.BitGenerator]) -> None:
        self.doubt = doubt
        self.generator = np.random.Generator(bits(np.random.SeedSequence([seed, *doubt.name.encode()])))

    def draw(self, count: int) -> Numbers:
        if self.doubt.low == self.doubt.high:
            return np.full(count, float(self.doubt.base))
        return self.generator.triangular(self.doubt.low, self.doubt.base, self.doubt.high, count)


def monte_carlo(
    model: Model,
    doubts: Sequence[Doubt],
    draws: int = 10_000,
    seed: int = 1,
    bits: type[np.random.BitGenerator] = np.random.PCG64,
    batch: int = BATCH,
    progress: Callable[[int], None] = lambda done: None,
) -> dict[str, Numbers]:
    """All results of the model for many random values of its assumptions.

    `batch` draws at a time bound the memory and change no number;
    `progress` is told the draws done."""
    if draws < GROUPS:
        raise InputError(f"draws = {draws} must be at least {GROUPS}")
    streams = [_Stream(doubt, seed, bits) for doubt in doubts]
    found: list[Values] = []
    for start in range(0, draws, batch):
        count = min(batch, draws - start)
        results = model({stream.doubt.name: stream.draw(count) for stream in streams})
        found.append({name: np.broadcast_to(array, count) for name, array in results.items()})
        progress(start + count)
    return {name: np.concatenate([part[name] for part in found]) for name in found[0]}


def _grouped(drawn: Numbers, statistic: Callable[[Numbers], float]) -> tuple[float, float]:
    """A statistic of all draws, and its standard error from how it differs between groups of draws."""
    answers = np.array([statistic(group) for group in np.array_split(drawn, GROUPS)])
    whole = statistic(drawn)
    if not np.isfinite(answers).all():
        return whole, float("nan")
    return whole, float(np.std(answers, ddof=1) / np.sqrt(GROUPS))


def spread(drawn: Numbers) -> Spread:
    """P10, P50, P90 and mean of the draws with their standard errors; draws without a number count as beyond all others.

    A payback that never comes is such a draw. Where more than one draw in ten has none, P90 is infinite, and so on.
    """
    filled = np.where(np.isnan(drawn), np.inf, drawn)

    def part(share: float) -> tuple[float, float]:
        return _grouped(filled, lambda group: float(np.quantile(group, share, method="inverted_cdf")))

    low, low_error = part(0.1)
    middle, middle_error = part(0.5)
    high, high_error = part(0.9)
    mean, mean_error = _grouped(filled, lambda group: float(np.mean(group)))
    return Spread(low, middle, high, mean, low_error, middle_error, high_error, mean_error)


def chance(true: Iterable[bool] | Numbers) -> tuple[float, float]:
    """Share of draws in which something holds, and its standard error.

    >>> chance([True, True, True, False])
    (0.75, 0.21650635094610965)
    """
    held = np.asarray(true, dtype=bool)
    share = float(held.mean())
    return share, float(np.sqrt(share * (1 - share) / held.size))
