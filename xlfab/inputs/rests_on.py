"""On what a shop's figures rest, in a few lines for the terminal: placeholders one by one, everything else counted by basis."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from xlfab.core.arguments import argument
from xlfab.inputs.stated_values import Assumption

PLACEHOLDER = "Placeholder"  # how the source of a value begins that only the user can know


def rests_on(assumptions: Sequence[Assumption], currency: str) -> list[str]:
    """The lines: each placeholder with its span, then the count of the other values by basis."""
    placeholders = [item for item in assumptions if item.source.startswith(PLACEHOLDER)]
    counts = Counter(item.basis for item in assumptions if not item.source.startswith(PLACEHOLDER))
    lines = [
        f"{item.record or item.section}: {argument(item.key).label.lower()} {item.value:,g} {_unit(item.key, currency)} "
        f"({item.low:,g} to {item.high:,g}), a placeholder"
        for item in placeholders
    ]
    return [*lines, "all other figures: " + ", ".join(f"{count} {basis}" for basis, count in counts.most_common())]


def _unit(key: str, currency: str) -> str:
    return argument(key).unit.label.replace("{cur}", currency)
