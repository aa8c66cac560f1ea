"""Where hosts cannot agree to 1e-12, and why. What is not listed here must agree."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Limit:
    """A function in some hosts: how far they may differ, and the reason. Results below a size that means nothing may be left out."""

    function: str
    host: str  # a part of the host's name; empty for all
    tolerance: float
    reason: str
    negligible: float = 0.0


LIMITS: tuple[Limit, ...] = (
    Limit(
        "internal_rate_share",
        "",
        1e-9,
        "it is a root search: a spreadsheet's own IRR stops nearer or farther from the root than Python's search",
    ),
    Limit(
        "wright_lot_time_s",
        "",
        1e-10,
        "for a small lot after hundreds of millions of units it is the difference of two nearly equal powers; hosts round the logarithm to "
        "base 2 in the exponent differently in its last digit, which that difference enlarges",
    ),
    Limit(
        "declining_balance_depreciation_cur",
        "ironcalc",
        1e-12,
        "ironcalc takes two numbers as equal when they lie within about 1e-16 of each other, also near 0: a depreciation of 1e-30 of a "
        "currency unit, in the 96th year of a negative outlay, comes out as 0. Results below 1e-15 are left out of its figure",
        negligible=1e-15,
    ),
)


def limit_of(function: str, host: str) -> Limit | None:
    """The limit that holds for a function in a host, if there is one."""
    return next((one for one in LIMITS if one.function == function and one.host in host), None)
